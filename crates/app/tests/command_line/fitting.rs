//! Check, measure and adapt.

use super::*;

#[test]
fn a_check_tells_what_fits() {
    let folder = Folder::new();
    let ran = folder.run(&["check", "jacket.petitoile"]).worked();
    for words in [
        "Adapted to:",
        "Result:",
        "Fitting:",
        "Demands:",
        "Findings",
        "To cut:",
        "Print:",
    ] {
        assert!(ran.out.contains(words), "{words} is not in: {}", ran.out);
    }
    let report = folder.run(&["check", "jacket.petitoile", "--json"]).json();
    assert_eq!(
        report["garment"],
        demos::first().unwrap().garments[0].name.as_str()
    );
    for list in ["demands", "ease", "findings"] {
        assert!(report[list].is_array(), "{list}");
    }
}

#[test]
fn measuring_gives_every_edge_and_every_seam() {
    let folder = Folder::new();
    let project = demos::first().unwrap();
    let garment = &project.garments[0];
    let measures = folder
        .run(&["measure", "jacket.petitoile", "--json"])
        .json();
    let edges: usize = garment
        .pieces
        .iter()
        .map(|piece| piece.outline.edges().len())
        .sum();
    assert_eq!(measures["edges"].as_array().unwrap().len(), edges);
    assert_eq!(
        measures["seams"].as_array().unwrap().len(),
        garment.seams.len()
    );
    for row in measures["edges"].as_array().unwrap() {
        let piece = garment.piece(row["piece"].as_str().unwrap()).unwrap();
        let length = piece
            .outline
            .edge(row["edge"].as_str().unwrap())
            .unwrap()
            .line
            .length();
        assert!(
            (row["source"].as_f64().unwrap() - length).abs() < 1e-9,
            "{row}"
        );
    }
    let text = folder.run(&["measure", "jacket.petitoile"]).worked().out;
    for seam in &garment.seams {
        assert!(text.contains(&seam.name), "{}", seam.name);
    }
}

#[test]
fn adapting_adds_a_fitting_and_leaves_the_file_alone() {
    let folder = Folder::new();
    let before = folder.read("jacket.petitoile");
    let report = folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "play-36",
            "--out",
            "small.petitoile",
            "--json",
        ])
        .json();
    assert_eq!(folder.read("jacket.petitoile"), before);
    let project = folder.project("small.petitoile");
    let name = report["fitting"].as_str().unwrap();
    assert_eq!(project.fitting(name).unwrap().body.key, "play-36");
    // The name that was printed finds it again.
    folder
        .run(&["check", "small.petitoile", "--fitting", name])
        .worked();
}

#[test]
fn adapting_into_the_same_file_keeps_the_version_before() {
    let folder = Folder::new();
    let before = folder.read("jacket.petitoile");
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "PLAY-36",
            "--out",
            "jacket.petitoile",
        ])
        .worked();
    assert_eq!(folder.read("jacket.petitoile.before"), before);
    assert_ne!(folder.read("jacket.petitoile"), before);
}

#[test]
fn adapting_to_the_same_body_again_leaves_the_fitting_that_is_there_alone() {
    let folder = Folder::new();
    let adapt = |more: &[&str]| {
        let mut words = vec!["adapt", "jacket.petitoile", "--to", "play-36"];
        words.extend(["--out", "jacket.petitoile"]);
        words.extend(more);
        folder.run(&words).worked().out
    };
    adapt(&[]);
    let first = folder.project("jacket.petitoile");
    let name = first.fittings.last().unwrap().name.clone();
    // A choice the maker made in the meantime, which a replaced fitting would lose.
    let change = FittingEdit::SetDemand(
        first.garments[0].tape_lines[0].name.clone(),
        Some(DemandChoice {
            measure: Some(Mm(123.0)),
            ..DemandChoice::default()
        }),
    );
    let edit = Edit::Fitting {
        fitting: name.clone(),
        change,
    };
    let chosen = first.edited(&edit).unwrap();
    folder.put("jacket.petitoile", project_file::write(&chosen).unwrap());
    let (second, third) = (format!("{name} (2)"), format!("{name} (3)"));
    let said = adapt(&[]);
    assert!(said.contains(&format!("Fitting: {second}\n")), "{said}");
    let said = adapt(&["--from-fitting", &name]);
    assert!(said.contains(&format!("Fitting: {third}\n")), "{said}");
    let after = folder.project("jacket.petitoile");
    assert_eq!(after.fittings[..chosen.fittings.len()], chosen.fittings[..]);
    let names: Vec<&str> = after
        .fittings
        .iter()
        .skip(chosen.fittings.len())
        .map(|fitting| fitting.name.as_str())
        .collect();
    assert_eq!(names, [second.as_str(), third.as_str()]);
}

/// The shell itself is the judge: it runs the line that was suggested, and nothing else.
#[cfg(unix)]
#[test]
fn the_command_that_is_suggested_can_be_given_to_a_shell_whatever_the_names_are() {
    let folder = Folder::new();
    let shown = folder.run(&["bodies", "--show", "play-45"]).worked().out;
    let name = "O'Hara's $HOME `touch owned` $(touch owned) ; touch owned & 100 %!";
    folder.put("mine.ron", shown.replace("45 cm play doll", name));
    let out = "it's $(touch owned).petitoile";
    let said = folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "mine.ron",
            "--out",
            out,
        ])
        .worked()
        .out;
    let line = said.lines().last().unwrap().trim();
    let program = Path::new(env!("CARGO_BIN_EXE_petitoile"));
    let old = std::env::var("PATH").unwrap();
    let path = format!("{}:{old}", program.parent().unwrap().display());
    let ran = Command::new("sh")
        .args(["-c", line])
        .current_dir(&folder.0)
        .env("PATH", path)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let ran = Ran::of(&ran).worked();
    assert!(ran.out.contains(name), "{line}: {}", ran.out);
    assert!(folder.read("it's $(touch owned).pdf").starts_with(b"%PDF"));
    assert!(!folder.0.join("owned").exists(), "{line}");
}

#[test]
fn the_choices_of_a_fitting_are_taken_over_to_another_body() {
    let folder = Folder::new();
    let project = demos::first().unwrap();
    let like = project.fittings[0].clone();
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "jointed-60",
            "--from-fitting",
            &like.name,
            "--out",
            "big.petitoile",
        ])
        .worked();
    let big = folder.project("big.petitoile");
    let taken = big
        .fittings
        .iter()
        .rfind(|fitting| fitting.body.key == "jointed-60")
        .unwrap();
    assert_eq!(taken.allowances, like.allowances);
    assert_eq!(taken.cloths, like.cloths);
    assert_eq!(taken.ease, like.ease);
}

#[test]
fn a_body_file_is_as_good_as_a_built_in_body() {
    let folder = Folder::new();
    let shown = folder.run(&["bodies", "--show", "play-45"]).worked().out;
    folder.put(
        "mine.ron",
        shown
            .replace("play-45", "my-own")
            .replace("45 cm play doll", "Rosalind"),
    );
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "mine.ron",
            "--out",
            "x.petitoile",
        ])
        .worked();
    let project = folder.project("x.petitoile");
    assert!(
        project
            .fittings
            .iter()
            .any(|fitting| fitting.body.key == "my-own")
    );
}

#[test]
fn every_body_in_the_list_can_be_typed() {
    let folder = Folder::new();
    let list = folder.run(&["bodies", "--json"]).json();
    let keys: Vec<&str> = list
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["key"].as_str().unwrap())
        .collect();
    assert!(
        keys.len() >= 15,
        "adults, children and nine doll classes: {keys:?}"
    );
    let text = folder.run(&["bodies"]).worked().out;
    for key in keys {
        assert!(
            text.lines()
                .any(|line| line.split_whitespace().next() == Some(key)),
            "{key}"
        );
        folder.run(&["bodies", "--show", key]).worked();
    }
}

#[test]
fn a_garment_too_narrow_to_close_ends_with_1_and_is_written_all_the_same() {
    let folder = Folder::new();
    let demo = demos::first().unwrap();
    let like = demo.fittings[0].clone();
    let tape_lines = &demo.garment(&like.garment).unwrap().tape_lines;
    let bust = tape_lines
        .iter()
        .find(|line| line.measure == Measure::BustGirth)
        .unwrap();
    let half = Mm(like.body.mm(Measure::BustGirth).0 / 2.0);
    let choice = DemandChoice {
        measure: Some(half),
        ..DemandChoice::default()
    };
    let change = FittingEdit::SetDemand(bust.name.clone(), Some(choice));
    let edit = Edit::Fitting {
        fitting: like.name.clone(),
        change,
    };
    let project = demo.edited(&edit).unwrap();
    folder.put("narrow.petitoile", project_file::write(&project).unwrap());
    let with = |words: &[&str]| {
        let mut all = on_file(words, "narrow.petitoile");
        all.extend(["--fitting", &like.name]);
        let ran = folder.run(&all);
        assert_eq!(ran.code, Some(1), "{ran:?}");
        assert!(ran.err.is_empty());
        ran.out
    };
    let said = with(&["check", "FILE"]);
    let things = said.matches("  UNUSABLE: ").count();
    let noun = if things == 1 { "thing" } else { "things" };
    assert!(
        said.contains(&format!(
            "\nResult: {things} {noun} must be changed first (see findings)\n"
        )),
        "{said}"
    );
    assert!(0 < things && !said.contains("Fits:"), "{said}");
    assert!(with(&["print", "FILE", "--out", "narrow.pdf"]).contains("UNUSABLE"));
    assert!(folder.read("narrow.pdf").starts_with(b"%PDF"));
    with(&["measure", "FILE"]);
}

#[test]
fn a_garment_that_can_be_sewn_and_worn_ends_with_0() {
    let folder = Folder::new();
    let (_, skirts) = demos::ALL
        .iter()
        .find(|(name, _)| *name == "sunday-skirts")
        .unwrap();
    folder.put("skirts.petitoile", skirts);
    let ran = folder.run(&["check", "skirts.petitoile"]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    assert!(!ran.out.contains("UNUSABLE"));
    assert_eq!(
        ran.out.lines().nth(1),
        Some("Result: can be sewn as it is"),
        "{}",
        ran.out
    );
}
