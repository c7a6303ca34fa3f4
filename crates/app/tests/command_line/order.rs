//! `petitoile order`: the steps with place, hand or machine and reason; exit codes.

use super::*;

#[test]
fn the_order_of_a_jacket_is_told_step_by_step() {
    let folder = Folder::new();
    let ran = folder.run(&["order", "jacket.petitoile"]).worked();
    for words in [
        "Making order of",
        "bagged",
        "1. cut out",
        "sew shoulder, right",
        "turn collar",
        "(in one go)",
        "close front",
        "by",
        "because",
    ] {
        assert!(ran.out.contains(words), "{words} is not in: {}", ran.out);
    }
}

#[test]
fn the_json_of_an_order_names_what_comes_before_each_step() {
    let folder = Folder::new();
    let order = folder.run(&["order", "jacket.petitoile", "--json"]).json();
    assert_eq!(order["feasible"], true);
    assert_eq!(order["lining"], "bagged");
    let steps = order["steps"].as_array().unwrap();
    let mut seen: Vec<&str> = Vec::new();
    for (i, step) in steps.iter().enumerate() {
        assert_eq!(step["number"], i + 1);
        for before in step["after"].as_array().unwrap() {
            assert!(seen.contains(&before.as_str().unwrap()), "{step}");
        }
        let round = step["lies"] == "in the round";
        assert_eq!(step["girth"].is_number(), round, "{step}");
        assert!(["hand", "machine"].contains(&step["by"].as_str().unwrap()));
        assert!(!step["why"].as_str().unwrap().is_empty(), "{step}");
        seen.push(step["key"].as_str().unwrap());
    }
    assert!(30 < steps.len());
}

#[test]
fn a_fitting_that_is_not_there_is_bad_input() {
    let folder = Folder::new();
    let ran = folder.run(&["order", "jacket.petitoile", "--fitting", "moon"]);
    assert_eq!(ran.code, Some(2), "{ran:?}");
    assert_eq!(ran.err.lines().count(), 1);
    assert_eq!(folder.run(&["order", "nowhere.petitoile"]).code, Some(2));
}
