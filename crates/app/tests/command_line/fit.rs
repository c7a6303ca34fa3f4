//! `petitoile fit`: ease, dressing, layers and bulk.

use super::*;

#[test]
fn the_fit_of_a_jacket_tells_body_underneath_garment_and_ease() {
    let folder = Folder::new();
    let ran = folder.run(&["fit", "jacket.petitoile"]).worked();
    for words in [
        "body",
        "underneath",
        "garment",
        "% on the source",
        "Handbooks:",
        "proposal of our own",
        "Findings",
    ] {
        assert!(ran.out.contains(words), "{words} is not in: {}", ran.out);
    }
}

#[test]
fn the_json_of_a_fit_adds_up() {
    let folder = Folder::new();
    let report = folder.run(&["fit", "jacket.petitoile", "--json"]).json();
    let checked = folder.run(&["check", "jacket.petitoile", "--json"]).json();
    let rows = report["ease"]["rows"].as_array().unwrap();
    assert_eq!(rows.len(), checked["ease"].as_array().unwrap().len());
    let layers: f64 = report["ease"]["layers_underneath"]
        .as_array()
        .unwrap()
        .iter()
        .map(|t| t.as_f64().unwrap())
        .sum();
    assert!(layers > 0.0, "the demo jacket is worn over something");
    for (row, other) in rows.iter().zip(checked["ease"].as_array().unwrap()) {
        let mm = |key: &str| row[key].as_f64().unwrap();
        assert_eq!(row["name"], other["name"]);
        assert!((mm("garment") - mm("body") - mm("ease")).abs() < 1e-9);
        assert!((mm("ease") - other["target"]["ease"].as_f64().unwrap()).abs() < 1e-9);
        assert!((mm("ease") - mm("underneath") - mm("own_cloth") - mm("room")).abs() < 1e-9);
        if row["girth"] == true {
            let cloth = other["cloth"].as_f64().unwrap();
            assert!(
                (mm("underneath") + mm("own_cloth") - cloth).abs() < 1e-9,
                "{row}"
            );
            let expected = std::f64::consts::TAU * layers * mm("share");
            assert!((mm("underneath") - expected).abs() < 1e-9, "{row}");
        }
    }
}

#[test]
fn girths_are_listed_along_the_body_with_the_hem() {
    let folder = Folder::new();
    let skirts = demos::named("sunday-skirts").unwrap();
    folder.put("skirts.petitoile", project_file::write(&skirts).unwrap());
    let report = folder.run(&["fit", "skirts.petitoile", "--json"]).json();
    let limbs = report["ease"]["along"].as_array().unwrap();
    let trunk = limbs.iter().find(|limb| limb["limb"] == "trunk").unwrap();
    let points = trunk["points"].as_array().unwrap();
    let point = |name: &str| points.iter().find(|point| point["name"] == name).unwrap();
    let (waist, hem) = (point("waist"), point("hem"));
    assert!(hem["garment"].as_f64() > waist["garment"].as_f64());
    assert!(hem["height"].as_f64() < waist["height"].as_f64());
    assert!(hem["body"].is_null() && !waist["body"].is_null());
}

#[test]
fn a_fitting_is_put_beside_another_and_its_garment_on_another_body() {
    let folder = Folder::new();
    let other = demos::first().unwrap().fittings[1].name.clone();
    let asked = [
        "fit",
        "jacket.petitoile",
        "--beside",
        other.as_str(),
        "--on",
        "fashion-40",
        "--json",
    ];
    let report = folder.run(&asked).json();
    let beside = &report["ease"]["beside"];
    assert_eq!(beside["columns"].as_array().unwrap().len(), 3);
    assert_eq!(beside["columns"][1]["fitting"], other.as_str());
    let rows = beside["rows"].as_array().unwrap();
    let bust = rows.iter().find(|row| row["name"] == "bust").unwrap();
    assert_eq!(bust["cells"][0]["body_percent"], 100.0);
    assert!(bust["cells"][2]["body_percent"].as_f64().unwrap() < 100.0);
    let text = folder.run(&asked[..asked.len() - 1]).worked();
    assert!(text.out.contains("Beside"), "{}", text.out);
}

#[test]
fn a_fitting_or_body_that_is_not_there_is_bad_input() {
    let folder = Folder::new();
    for asked in [
        ["fit", "jacket.petitoile", "--beside", "nobody"],
        ["fit", "jacket.petitoile", "--on", "nobody"],
        ["fit", "jacket.petitoile", "--fitting", "nobody"],
    ] {
        folder.run(&asked).refused(&["nobody"]);
    }
}
