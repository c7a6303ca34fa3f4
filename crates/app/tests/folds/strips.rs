//! Joined strips, tiers and bias strips.

use super::*;

#[test]
fn joins_keep_off_the_places_that_are_typed() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "400 mm");
    type_over(&mut harness, "Fullness of the strip", "1");
    click(&mut harness, "Ends: as cut");
    type_over(&mut harness, "Allowance at a join", "5 mm");
    type_over(&mut harness, "Usable width of the cloth", "300 mm");
    // Two segments of up to 295 mm (5 mm go into the join): the join lies in the middle, unless something is there.
    let join = |harness: &Harness<'_, Window>| -> f64 {
        let words = said(harness, "Joins at ");
        let mm = words
            .trim_start_matches("Joins at ")
            .trim_end_matches(" mm.");
        mm.parse().unwrap_or_else(|_| panic!("{words}"))
    };
    let at = join(&harness);
    assert!(
        (at - 200.0).abs() >= 10.0,
        "{at}: off centre front by 10 mm"
    );
    click(&mut harness, "Let go of free place 1");
    assert!((join(&harness) - 200.0).abs() < 0.5);
    click(&mut harness, "Keep joins off a place");
    type_over(&mut harness, "Free place 1", "bow");
    type_over(&mut harness, "Free place 1: at", "180 mm");
    type_over(&mut harness, "Free place 1: by", "60 mm");
    let at = join(&harness);
    assert!((240.0..=295.0).contains(&at), "{at}");
    // More than can be kept free: it is made, and told.
    type_over(&mut harness, "Free place 1: by", "150 mm");
    assert!(
        harness
            .query_by_label_contains("from bow; no way")
            .is_some()
    );
}

/// Text that was put on the clipboard in the last frame.
fn copied(harness: &Harness<'_, Window>) -> String {
    let mut commands = harness.output().platform_output.commands.iter();
    commands
        .find_map(|command| match command {
            egui::OutputCommand::CopyText(text) => Some(text.clone()),
            _ => None,
        })
        .expect("something was copied")
}

/// Clicks without waiting for the frames after.
fn click_once(harness: &mut Harness<'_, Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run();
    harness.get_by_label(label).click();
    harness.step();
}

#[test]
fn tiers_and_bias_figures_are_copied_and_printed_as_they_are_told() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    click(&mut harness, "Strips for: Tiers");
    type_over(&mut harness, "Edge above the first tier", "200 mm");
    type_over(&mut harness, "Times as long, tier by tier", "1.5; 2");
    click_once(&mut harness, "Copy the tiers");
    // 200 x 1.5 = 300, 300 x 2 = 600.
    assert_eq!(
        copied(&harness),
        "Tier 1: 300 mm of cloth to 200 mm\nTier 2: 600 mm of cloth to 300 mm"
    );
    let file = std::env::temp_dir().join(format!("petitoile-tiers-{}.pdf", std::process::id()));
    click(&mut harness, "Print the tiers\u{2026}");
    type_over(&mut harness, "File", &file.display().to_string());
    if harness.query_by_label("Write here").is_some() {
        click(&mut harness, "Write here");
    }
    let pdf = std::fs::read(&file).unwrap();
    std::fs::remove_file(&file).unwrap();
    assert!(pdf.starts_with(b"%PDF"));
    click(&mut harness, "Strips for: Bias, binding, piping");
    type_over(&mut harness, "Width when sewn", "5 mm");
    click_once(&mut harness, "Copy the bias figures");
    let lines = copied(&harness);
    // Twice its width (sewing teaching page, secondary).
    assert!(
        lines.starts_with("Cut the binding 10 mm wide.\n"),
        "{lines}"
    );
    assert_eq!(lines.lines().count(), 5, "{lines}");
    assert!(
        harness
            .query_by_label("Print the bias figures\u{2026}")
            .is_some()
    );
}

#[test]
fn pleats_of_a_strip_that_are_too_shallow_to_press_are_made_wider_with_one_click() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    click(&mut harness, "Drawn in by: knife pleats");
    type_over(&mut harness, "Visible width of a pleat", "2 mm");
    let words = said(&harness, "Take pleats of ");
    click(&mut harness, &words);
    assert!(harness.query_by_label_contains("Take pleats of ").is_none());
    type_over(&mut harness, "Visible width of a pleat", "40 mm");
    assert!(
        harness
            .query_by_label_contains("Too shallow to press")
            .is_none()
    );
}

/// Length along the cloth and width across it of a piece as it is cut: length of the strip, width of the whole strip.
fn cut_size(harness: &Harness<'_, Window>, piece: &str) -> (f64, f64) {
    let worked = harness.state().session.work.done.clone().unwrap();
    let mut pieces = worked.finished.pieces.iter();
    let piece = pieces.find(|p| p.piece.name == piece).unwrap();
    let size = kurbo::Shape::bounding_box(&piece.cut);
    let halves = if piece.fold.is_some() { 2.0 } else { 1.0 };
    (size.width(), size.height() * halves)
}

/// Nothing about the ruffle is unusable.
fn no_trouble(harness: &Harness<'_, Window>) {
    let worked = harness.state().session.work.done.clone().unwrap();
    for finding in &worked.findings {
        let unusable = finding.gravity == petitoile_core::finding::Gravity::Unusable;
        let here = finding.place.piece.as_deref() == Some("ruffle");
        assert!(!(unusable && here), "{finding}");
    }
}

#[test]
fn a_ruffle_folded_double_is_cut_as_long_and_as_wide_as_its_strip_was_reckoned() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "300 mm");
    type_over(&mut harness, "Width of the strip", "30 mm");
    click(&mut harness, "Long edges: folded double");
    type_over(&mut harness, "Allowance where it is sewn on", "4 mm");
    click(&mut harness, "Ends: as cut");
    // 2 x 30 + 2 x 4 wide, 2 x 300 long (geometry).
    assert!(
        harness
            .query_by_label_contains("30 mm wide; cut 68 mm wide")
            .is_some()
    );
    click(&mut harness, "Make it a piece");
    no_trouble(&harness);
    let (long, wide) = cut_size(&harness, "ruffle");
    assert!(
        (long - 600.0).abs() < 1e-3 && (wide - 68.0).abs() < 1e-3,
        "{long} x {wide}"
    );
    let fold = lengths(&harness, "ruffle", "lower edge").1;
    assert!((fold - 600.0).abs() < 1e-3, "{fold} of fold");
    // It prints: half the strip, to be laid on the fold.
    let session = &harness.state().session;
    let sheet = whole_way::drawn(session.work.done.as_ref().unwrap(), session.shown().unit);
    let printed = sheet.pieces.iter().find(|p| p.name == "ruffle").unwrap();
    assert!(printed.bounds.width() > 600.0);
}

#[test]
fn a_ruffle_sewn_on_at_both_edges_is_gathered_at_both() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "300 mm");
    click(&mut harness, "Long edges: both sewn on");
    click(&mut harness, "Make it a piece");
    no_trouble(&harness);
    let session = &harness.state().session;
    let ruffle = session.on_table().unwrap().piece("ruffle").unwrap().clone();
    let edges: Vec<&str> = ruffle.fullness.iter().map(|op| op.edge.as_str()).collect();
    assert_eq!(edges, ["upper edge", "lower edge"]);
    for edge in edges {
        let (sewn, cloth) = lengths(&harness, "ruffle", edge);
        assert!(
            (sewn - 300.0).abs() < 1e-3 && (cloth - 600.0).abs() < 1e-3,
            "{edge}"
        );
    }
    let worked = harness.state().session.work.done.clone().unwrap();
    let at = worked
        .filled
        .pieces
        .iter()
        .position(|p| p.name == "ruffle")
        .unwrap();
    assert_eq!(worked.filled.lines[at].len(), 4, "two rows at each edge");
    // Changed at one edge, it changes at both: it stays one strip.
    click(&mut harness, "Work on: Fullness on an edge");
    choose(&mut harness, "ruffle", "upper edge");
    type_over(&mut harness, "Times as long", "1.5");
    for edge in ["upper edge", "lower edge"] {
        let cloth = lengths(&harness, "ruffle", edge).1;
        assert!((cloth - 450.0).abs() < 1e-3, "{edge}: {cloth}");
    }
    let session = &harness.state().session;
    let ruffle = session.on_table().unwrap().piece("ruffle").unwrap();
    assert!(ruffle.fullness[0].is_across_from(&ruffle.fullness[1]));
}

#[test]
fn the_piece_of_a_strip_is_cut_as_wide_and_long_as_its_tally_says_whatever_the_allowance() {
    for (on, seam) in [("This fitting", "3 mm"), ("The garment", "11 mm")] {
        let mut harness = folds("side", "hem");
        click(&mut harness, &format!("Folds on: {on}"));
        click(&mut harness, "Work on: Joined strips");
        type_over(&mut harness, "Length of the strip", "200 mm");
        type_over(&mut harness, "Width of the strip", "30 mm");
        type_over(&mut harness, "Allowance where it is sewn on", seam);
        click(&mut harness, "Ends: sewn in");
        click(&mut harness, "Make it a piece");
        no_trouble(&harness);
        let mm: f64 = seam.trim_end_matches(" mm").parse().unwrap();
        // One seam, one hem of 2 x 5 mm; twice as full, both ends sewn in (geometry).
        let told = format!("cut {} mm wide", 30.0 + mm + 10.0);
        assert!(harness.query_by_label_contains(&told).is_some(), "{told}");
        let (long, wide) = cut_size(&harness, "ruffle");
        assert!((wide - (40.0 + mm)).abs() < 1e-3, "{on}: {wide} wide");
        assert!(
            (long - (400.0 + 2.0 * mm)).abs() < 1e-3,
            "{on}: {long} long"
        );
    }
}
