//! `petitoile lay` and `petitoile print --lay-plan`: the plan that is saved, what is said of it, exit codes.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;

use super::*;

/// Puts a copy of the jacket there whose offcuts are rectangles of this size, one for each cloth.
fn with_cloth(folder: &Folder, name: &str, wide: f64, long: f64) {
    let mut project = demos::first().unwrap();
    let of_cloth = |i: usize, cloth: &str| {
        let mut offcut = Offcut::clone(&project.offcuts[0]);
        offcut.name = format!("cloth {i}");
        offcut.cloth = cloth.to_owned();
        offcut.outline = [(0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long)]
            .map(Point::from)
            .to_vec();
        offcut.blemishes.clear();
        offcut.margin = Mm(2.0);
        Arc::new(offcut)
    };
    let cloths: Vec<String> = project.fittings[0]
        .cloths
        .values()
        .map(|c| c.name.clone())
        .collect();
    let offcuts: Vec<Arc<Offcut>> = cloths
        .iter()
        .enumerate()
        .map(|(i, c)| of_cloth(i, c))
        .collect();
    project.offcuts = offcuts;
    folder.put(name, project_file::write(&project).unwrap());
}

#[test]
fn the_demo_jacket_is_laid_on_its_offcuts_saved_and_printed() {
    let folder = Folder::new();
    let ran = folder.run(&[
        "lay",
        "jacket.petitoile",
        "--steps",
        "3000",
        "--out",
        "laid.petitoile",
    ]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    for words in [
        "Lay plan of",
        "lie on",
        "to the edge across the grain",
        "Saved in laid.petitoile",
    ] {
        assert!(ran.out.contains(words), "{words} is not in: {}", ran.out);
    }
    assert!(ran.err.contains("steps: "), "progress: {}", ran.err);
    let plan = folder.project("laid.petitoile").fittings[0]
        .lay_plan
        .clone()
        .unwrap();
    assert_eq!((plan.seed, plan.steps), (1, 3000));
    assert!(
        folder.project("jacket.petitoile").fittings[0]
            .lay_plan
            .is_none()
    );
    // The program finds nothing wrong with what it saved.
    let checked = folder.run(&["check", "laid.petitoile"]).worked();
    assert!(!checked.out.contains("on the cloth"), "{}", checked.out);
    for (how, out) in [("to-scale", "scale.pdf"), ("true-size", "size.pdf")] {
        let ran = folder.run(&["print", "laid.petitoile", "--lay-plan", how, "--out", out]);
        assert_eq!(ran.code, Some(0), "{ran:?}");
        assert!(ran.out.contains("lay plan of"), "{}", ran.out);
        assert!(folder.read(out).starts_with(b"%PDF"));
    }
}

#[test]
fn same_seed_and_steps_give_the_same_plan() {
    let folder = Folder::new();
    let plan = |seed: &str| {
        let out = format!("{seed}.petitoile");
        folder
            .run(&[
                "lay",
                "jacket.petitoile",
                "--seed",
                seed,
                "--steps",
                "150",
                "--trials",
                "0",
                "--out",
                &out,
            ])
            .worked();
        folder.project(&out).fittings[0].lay_plan.clone().unwrap()
    };
    let once = plan("7");
    assert_eq!(once, plan("7"));
    assert_ne!(once.placed, plan("8").placed);
}

#[test]
fn the_json_of_a_lay_plan_gives_places_in_mm() {
    let folder = Folder::new();
    with_cloth(&folder, "roomy.petitoile", 900.0, 900.0);
    let laid = folder.run(&["lay", "roomy.petitoile", "--steps", "200", "--json"]);
    assert_eq!(laid.code, Some(0), "{laid:?}");
    let laid = laid.json();
    assert_eq!(laid["complete"], true);
    assert_eq!(laid["placed"], laid["of"]);
    assert_eq!(laid["not_laid"].as_array().unwrap().len(), 0);
    assert!(laid["why"].is_null() && laid["saved"].is_null());
    let parts = laid["parts"].as_array().unwrap();
    assert_eq!(parts.len() as u64, laid["of"].as_u64().unwrap());
    for (i, part) in parts.iter().enumerate() {
        assert_eq!(part["number"], i + 1);
        assert!(
            part["across"].as_f64().unwrap() >= 2.0 - 1e-3,
            "the margin: {part}"
        );
        assert!(part["along"].as_f64().unwrap() >= 2.0 - 1e-3, "{part}");
    }
}

#[test]
fn cloth_that_is_not_enough_is_told_with_a_proof_and_what_would_help() {
    let folder = Folder::new();
    with_cloth(&folder, "scant.petitoile", 200.0, 200.0);
    let laid = folder.run(&[
        "lay",
        "scant.petitoile",
        "--steps",
        "100",
        "--trials",
        "60",
        "--json",
    ]);
    assert_eq!(laid.code, Some(1), "{laid:?}");
    let laid = laid.json();
    assert_eq!(laid["complete"], false);
    assert!(!laid["not_laid"].as_array().unwrap().is_empty());
    let why = &laid["why"];
    assert!(
        why["verdict"].as_str().unwrap().starts_with("Impossible"),
        "{why}"
    );
    assert!(!why["misses"].as_array().unwrap().is_empty());
    let text = folder.run(&["lay", "scant.petitoile", "--steps", "100", "--trials", "20"]);
    assert_eq!(text.code, Some(1));
    assert!(
        text.out.contains("Do not lie:") && text.out.contains("Impossible:"),
        "{}",
        text.out
    );
}

#[test]
fn the_length_to_buy_is_told_for_a_width() {
    let folder = Folder::new();
    let bought = folder.run(&[
        "lay",
        "jacket.petitoile",
        "--width",
        "90 cm",
        "--steps",
        "150",
        "--json",
    ]);
    assert_eq!(bought.code, Some(0), "{bought:?}");
    let bought = bought.json();
    assert_eq!(bought["width"], 900.0);
    assert_eq!(bought["margin"], 10.0);
    let length = bought["length"].as_f64().unwrap();
    assert!((100.0..2000.0).contains(&length), "{length}");
    let text = folder.run(&[
        "lay",
        "jacket.petitoile",
        "--width",
        "90 cm",
        "--steps",
        "150",
    ]);
    assert!(
        text.out.contains("to buy") && text.out.contains("900 mm"),
        "{}",
        text.out
    );
    let narrow = folder.run(&[
        "lay",
        "jacket.petitoile",
        "--width",
        "60 mm",
        "--steps",
        "50",
    ]);
    assert_eq!(narrow.code, Some(1), "{narrow:?}");
    assert!(
        narrow.out.contains("wider than the cloth allows"),
        "{}",
        narrow.out
    );
}

#[test]
fn what_cannot_be_laid_is_bad_input_in_one_line() {
    let folder = Folder::new();
    let mut bare = demos::first().unwrap();
    bare.offcuts.clear();
    folder.put("bare.petitoile", project_file::write(&bare).unwrap());
    folder
        .run(&["lay", "bare.petitoile"])
        .refused(&["bare.petitoile", "add an offcut"]);
    folder
        .run(&["lay", "jacket.petitoile", "--width", "wide"])
        .refused(&["wide", "is not a length"]);
    folder
        .run(&["lay", "nowhere.petitoile"])
        .refused(&["nowhere.petitoile"]);
    folder
        .run(&["lay", "jacket.petitoile", "--fitting", "moon"])
        .refused(&["moon"]);
    folder
        .run(&[
            "lay",
            "jacket.petitoile",
            "--width",
            "900",
            "--cloth",
            "velvet",
        ])
        .refused(&["nothing to lay"]);
    folder
        .run(&["print", "jacket.petitoile", "--lay-plan", "--out", "x.pdf"])
        .refused(&["has no lay plan", "petitoile lay"]);
    let both = folder.run(&[
        "lay",
        "jacket.petitoile",
        "--width",
        "900",
        "--out",
        "x.petitoile",
    ]);
    assert_eq!(both.code, Some(2));
}
