//! `petitoile fit`: what an outfit does to one of its garments.

use super::*;

fn sunday(fitting: &str) -> (Value, String) {
    let folder = Folder::new();
    let (_, text) = demos::ALL
        .iter()
        .find(|(name, _)| *name == "sunday-on-the-quay")
        .unwrap();
    folder.put("quay.petitoile", text);
    let words = ["fit", "quay.petitoile", "--fitting", fitting];
    let json = folder.run(&[&words[..], &["--json"]].concat()).json();
    let text = folder.run(&words).worked().out;
    (json, text)
}

#[test]
fn fit_tells_what_lies_under_a_garment_girth_by_girth() {
    let (json, text) = sunday("jacket");
    let outfit = &json["layers"]["outfits"][0];
    assert_eq!(outfit["outfit"], "Sunday on the quay");
    assert_eq!(outfit["layers"].as_array().unwrap().len(), 4);
    let girths = outfit["girths"].as_array().unwrap();
    let mm = |value: &Value| value.as_f64().unwrap();
    for girth in girths {
        let adds: f64 = girth["layers"]
            .as_array()
            .unwrap()
            .iter()
            .map(|layer| mm(&layer["adds"]))
            .sum();
        let room = mm(&girth["garment"])
            - mm(&girth["body"])
            - adds
            - mm(&girth["pads"])
            - mm(&girth["own_cloth"]);
        assert!((room - mm(&girth["room"])).abs() < 1e-9, "{girth}");
    }
    let waist = girths.iter().find(|g| g["name"] == "waist").unwrap();
    assert_eq!(waist["layers"].as_array().unwrap().len(), 3);
    assert!(text.contains("Worn in Sunday on the quay: smock, underskirt, Sunday skirt, jacket"));
}

#[test]
fn fit_tells_of_pads_ends_and_hidden_seams() {
    let (json, text) = sunday("Sunday skirt");
    let outfit = &json["layers"]["outfits"][0];
    let pad = &outfit["pads"][0];
    assert_eq!(pad["name"], "hip roll");
    // 12 mm at 20 mm below the waist: sqrt(144 + 400) - 20.
    let longer = outfit["longer"].as_f64().unwrap();
    assert!(
        (longer - (544.0_f64.sqrt() - 20.0)).abs() < 1e-9,
        "{longer}"
    );
    assert_eq!(outfit["raised"], 0.0);
    let ends = outfit["ends"].as_array().unwrap();
    assert!(
        ends.iter()
            .any(|end| end["layer"] == "underskirt" && end["end"] == "hem")
    );
    for seam in outfit["seams"].as_array().unwrap() {
        let (length, covered) = (
            seam["length"].as_f64().unwrap(),
            seam["covered"].as_f64().unwrap(),
        );
        assert!((0.0..=length + 1e-9).contains(&covered), "{seam}");
    }
    assert!(
        text.contains("Way down over the pads: 3.3 mm longer"),
        "{text}"
    );
    let (_, smock) = sunday("smock");
    assert!(
        smock.contains("Hidden, may be pieced or sewn by machine:"),
        "{smock}"
    );
}
