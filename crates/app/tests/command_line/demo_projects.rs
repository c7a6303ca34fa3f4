//! The demo, the demos in the folder, and the table of redrafts.

use super::*;

#[test]
fn the_demo_makes_its_files_without_a_display_and_ends_well() {
    let folder = Folder::new();
    let ran = folder.run(&["demo", "--out", "made"]);
    assert!(matches!(ran.code, Some(0 | 1)), "{ran:?}");
    assert!(ran.err.contains("no display"), "{}", ran.err);
    assert_eq!(ran.err.lines().count(), 1);
    let made = |name: &str| folder.read(&format!("made/{name}"));
    assert!(made("harbour-jacket.pdf").starts_with(b"%PDF"));
    assert!(
        String::from_utf8(made("harbour-jacket.svg"))
            .unwrap()
            .contains("mm\"")
    );
    assert_eq!(
        folder.project("made/harbour-jacket.petitoile"),
        demos::first().unwrap()
    );
    let text = String::from_utf8(made("report.txt")).unwrap();
    assert!(ran.out.starts_with(&text), "the same report on the screen");
    let report: Value = serde_json::from_slice(&made("report.json")).unwrap();
    assert_eq!(report["usable"], ran.code == Some(0));
    assert!(report["copies"].as_u64().unwrap() >= 12);
    assert!(report["print"]["pages"].as_u64().unwrap() >= 1);
    // Again: its own files are replaced, not more.
    assert_eq!(folder.run(&["demo", "--out", "made"]).code, ran.code);
}

#[test]
fn the_demo_goes_into_the_folder_it_names_when_none_is_given() {
    let folder = Folder::new();
    let ran = folder.run(&["demo", "--json"]);
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(report["usable"], ran.code == Some(0), "{ran:?}");
    assert!(folder.0.join("petitoile-demo/harbour-jacket.pdf").is_file());
}

#[test]
fn a_window_that_cannot_open_does_not_spoil_the_demo() {
    let folder = Folder::new();
    // A display is named, but no screen answers there.
    let ran = Ran::of(
        &folder
            .command(&["demo"])
            .env("DISPLAY", ":9876")
            .output()
            .unwrap(),
    );
    let without = folder.run(&["demo"]);
    assert_eq!(ran.code, without.code, "{ran:?}");
    assert_eq!(ran.out, without.out);
    assert_eq!(
        ran.err
            .lines()
            .filter(|line| line.starts_with("petitoile: "))
            .count(),
        1,
        "{}",
        ran.err
    );
    assert!(folder.0.join("petitoile-demo/harbour-jacket.pdf").is_file());
}

#[test]
fn a_good_file_without_a_display_is_told_in_one_line_and_ends_well() {
    let folder = Folder::new();
    for words in [&[][..], &["jacket.petitoile"]] {
        let ran = folder.run(words);
        assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""), "{ran:?}");
        assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
        assert!(
            ran.err.contains("no display here") && ran.err.contains("--help"),
            "{}",
            ran.err
        );
    }
    folder.put("broken.petitoile", "(petitoile: 1, project: (");
    folder
        .run(&["broken.petitoile"])
        .refused(&["broken.petitoile", "line 1"]);
    folder
        .run(&["nothing.petitoile"])
        .refused(&["nothing.petitoile", "no such file"]);
}

#[test]
fn the_redraft_table_has_every_draft_for_six_bodies_or_more() {
    let folder = Folder::new();
    let rows = folder.run(&["redraft", "--json"]).json();
    let rows = rows.as_array().unwrap();
    for case in petitoile_core::redraft::CASES {
        let of_case = rows.iter().filter(|row| row["draft"] == case.name).count();
        assert!(of_case >= 6, "{}: {of_case}", case.name);
    }
    for row in rows {
        for way in ["adapted", "estimated", "one_factor", "across_along"] {
            let max = row[way]["max"].as_f64().unwrap();
            assert!(
                max.is_finite() && row[way]["rms"].as_f64().unwrap() <= max,
                "{row}"
            );
        }
    }
    let text = folder.run(&["redraft"]).worked().out;
    for case in petitoile_core::redraft::CASES {
        assert!(text.contains(case.name), "{}", case.name);
    }
}

/// Every demo: opens, and each of its fittings is checked, measured, printed and exported.
#[test]
fn every_demo_goes_the_whole_way() {
    let folder = Folder::new();
    assert!(demos::ALL.len() >= 3, "jacket, skirts, smock");
    for (name, text) in demos::ALL {
        folder.put("demo.petitoile", text);
        let project = folder.project("demo.petitoile");
        assert!(!project.fittings.is_empty(), "{name}");
        for (place, fitting) in project.fittings.iter().enumerate() {
            let with = |words: &[&str]| {
                let mut all = on_file(words, "demo.petitoile");
                all.extend(["--fitting", &fitting.name, "--json"]);
                folder.run(&all).json()
            };
            let report = with(&["check", "FILE"]);
            // The first is the one a maker sees first; a worse doll for the same garment may need her hand.
            let usable = report["usable"].as_bool().unwrap();
            assert!(
                usable || 0 < place,
                "{name}, {}: {:#}",
                fitting.name,
                report["findings"]
            );
            assert_eq!(with(&["measure", "FILE"])["fitting"], fitting.name.as_str());
            let print = with(&["print", "FILE", "--paper", "letter", "--out", "demo.pdf"]);
            assert!(
                print["print"]["pages"].as_u64().unwrap() >= 1,
                "{name}, {}",
                fitting.name
            );
            with(&["export", "FILE", "--out", "demo.svg"]);
        }
    }
}

#[test]
fn the_demos_in_the_folder_are_the_ones_in_the_program() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects");
    let mut there: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    there.sort();
    let mut known: Vec<&str> = demos::ALL.iter().map(|(name, _)| *name).collect();
    known.sort_unstable();
    assert_eq!(there, known);
}
