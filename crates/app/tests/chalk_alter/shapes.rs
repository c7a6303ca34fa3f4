//! Tools that change the outline of one piece.

use petitoile::session::On;

use crate::bench::{BOTH, Bench, SMOCK, on_both, same};

#[test]
fn an_edge_becomes_straight_with_one_click() {
    on_both(SMOCK, |bench| {
        bench.take("Straighten", "front body");
        bench.press("armscye of front body, edge");
        let piece = bench.piece("front body");
        assert!(piece.outline.edge("armscye").unwrap().line.is_straight());
        assert_eq!(bench.steps(), 1);
    });
}

#[test]
fn the_pointer_does_the_same_as_the_handle() {
    let mut bench = Bench::of(SMOCK, On::Garment);
    bench.take("Straighten", "front body");
    let at = bench.on_edge("front body", "armscye", 0.3);
    bench.click(at);
    assert!(
        bench
            .piece("front body")
            .outline
            .edge("armscye")
            .unwrap()
            .line
            .is_straight()
    );
}

#[test]
fn an_edge_is_split_where_it_is_typed_and_joined_again_at_the_corner() {
    on_both(SMOCK, |bench| {
        let length = bench.length("front body", "side seam");
        bench.take("Split edge", "front body");
        let at = bench.on_edge("front body", "side seam", 0.3);
        bench.click(at);
        bench.type_over("Share of the edge", "40 %");
        bench.type_over("Name of the second part", "slit");
        bench.press("Split the edge");
        assert!(
            same(bench.length("front body", "side seam"), 0.4 * length),
            "{}",
            bench.message()
        );
        assert!(same(bench.length("front body", "slit"), 0.6 * length));
        bench.take("Join edges", "front body");
        bench.press("corner at the start of slit of front body");
        assert!(same(bench.length("front body", "side seam"), length));
        assert_eq!(bench.steps(), 2);
    });
}

#[test]
fn an_edge_gets_another_name_and_its_seam_keeps_to_it() {
    on_both(SMOCK, |bench| {
        bench.take("Rename edge", "front body");
        bench.press("side seam of front body, edge");
        bench.type_over("New name", "left side");
        bench.press("Rename the edge");
        assert!(
            bench
                .piece("front body")
                .outline
                .edge("left side")
                .is_some(),
            "{}",
            bench.message()
        );
        let garment = bench.garment();
        let sewn = garment
            .seams
            .iter()
            .flat_map(|seam| seam.a.iter().chain(&seam.b));
        let mut sewn = sewn.filter(|s| s.piece == "front body" && s.edge == "left side");
        assert!(sewn.next().is_some(), "the side seam still names its edge");
    });
}

#[test]
fn a_corner_becomes_smooth() {
    on_both(SMOCK, |bench| {
        bench.take("Smooth", "sleeve");
        bench.press("corner at the start of underarm back of sleeve");
        assert_eq!(bench.steps(), 1, "{}", bench.message());
    });
}

#[test]
fn an_edge_is_brought_to_a_typed_length() {
    on_both(SMOCK, |bench| {
        let wanted = bench.length("front yoke", "shoulder") + 4.0;
        bench.take("Set length", "front yoke");
        bench.press("shoulder of front yoke, edge");
        bench.type_over("Length", &format!("{wanted} mm"));
        bench.press("Set the length");
        let length = bench.length("front yoke", "shoulder");
        assert!(
            same(length, wanted),
            "{length} {wanted}: {}",
            bench.message()
        );
    });
}

#[test]
fn width_is_added_by_dragging_one_end_of_an_edge_outwards() {
    on_both(SMOCK, |bench| {
        let before = bench.length("front body", "hem");
        bench.take("Add width", "front body");
        bench.press("side seam of front body, edge");
        let end = "Width at the end of side seam";
        bench.drag_by(end, -12.0, 0.0);
        assert_eq!(bench.steps(), 1, "{}", bench.message());
        let after = bench.length("front body", "hem");
        let at_start = before - after;
        assert!(
            at_start.abs() < 13.0 && bench.last_step().contains("front body"),
            "{at_start}"
        );
    });
}

#[test]
fn a_stretch_moves_by_typed_lengths() {
    on_both(SMOCK, |bench| {
        bench.take("Move stretch", "front body");
        let (a, b) = (
            bench.on_edge("front body", "side seam", 0.3),
            bench.on_edge("front body", "side seam", 0.7),
        );
        bench.click(a);
        bench.click(b);
        bench.type_over("To the right", "-3 mm");
        bench.press("Move it");
        assert_eq!(bench.steps(), 1, "{}", bench.message());
    });
}

/// Across the front body, from its fold to its side seam.
fn across(bench: &mut Bench) {
    for (edge, fraction) in [("centre front", 0.5), ("side seam", 0.5)] {
        let at = bench.on_edge("front body", edge, fraction);
        bench.click(at);
    }
}

#[test]
fn a_piece_becomes_longer_by_exactly_what_is_typed() {
    on_both(SMOCK, |bench| {
        let height = |bench: &Bench| bench.piece("front body").outline.bounds().height();
        let before = height(bench);
        bench.take("Lengthen", "front body");
        across(bench);
        bench.type_over("Longer by", "12 mm");
        bench.press("Lengthen here");
        let by = height(bench) - before;
        assert!((by - 12.0).abs() < 1.5, "{by}: {}", bench.message());
    });
}

#[test]
fn a_piece_becomes_longer_at_a_body_line() {
    on_both(SMOCK, |bench| {
        let height = |bench: &Bench| bench.piece("sleeve").outline.bounds().height();
        let before = height(bench);
        bench.take("Lengthen at level", "sleeve");
        bench.press("sleeve, whole piece");
        bench.type_over("Longer by", "5 mm");
        bench.press("Lengthen there");
        let by = height(bench) - before;
        assert!((by - 5.0).abs() < 0.5, "{by}: {}", bench.message());
    });
}

#[test]
fn a_slash_is_spread_even_and_hinged_by_exactly_what_is_typed() {
    on_both(SMOCK, |bench| {
        bench.take("Slash and spread", "sleeve");
        let (top, hem) = (
            bench.on_edge("sleeve", "cap front", 0.5),
            bench.on_edge("sleeve", "hem", 0.5),
        );
        let before = bench.length("sleeve", "hem");
        bench.click(hem);
        bench.click(top);
        bench.press("Spread: hinged at the end");
        bench.type_over("Wider by", "14 mm");
        bench.press("Spread it");
        let by = bench.length("sleeve", "hem") - before;
        assert!((by - 14.0).abs() < 1.0, "{by}: {}", bench.message());
    });
}

#[test]
fn the_amount_of_a_spread_is_dragged_at_its_handle_and_escape_gives_it_up() {
    for on in BOTH {
        let mut bench = Bench::of(SMOCK, on);
        bench.take("Slash and spread", "sleeve");
        for (edge, fraction) in [("hem", 0.5), ("cap front", 0.5)] {
            let at = bench.on_edge("sleeve", edge, fraction);
            bench.click(at);
        }
        assert!(
            bench.window.state().session.is_trying(),
            "{}",
            bench.message()
        );
        bench.key(egui::Key::Escape);
        assert!(!bench.window.state().session.is_trying());
        assert_eq!(bench.steps(), 0);
        for (edge, fraction) in [("hem", 0.5), ("cap front", 0.5)] {
            let at = bench.on_edge("sleeve", edge, fraction);
            bench.click(at);
        }
        bench.drag_by("How much wider", 4.0, 0.0);
        assert_eq!(bench.steps(), 1, "{}", bench.message());
    }
}

#[test]
fn a_piece_is_mirrored_turned_and_turned_back_to_its_grain() {
    on_both(SMOCK, |bench| {
        bench.take("Mirror", "sleeve");
        bench.press("sleeve, whole piece");
        bench.press("Mirror it");
        bench.take("Turn", "sleeve");
        bench.press("sleeve, whole piece");
        bench.type_over("Counter-clockwise by", "30");
        bench.press("Turn it");
        bench.take("Turn to grain", "sleeve");
        bench.press("sleeve, whole piece");
        assert_eq!(bench.steps(), 3, "{}", bench.message());
    });
}

#[test]
fn a_piece_on_the_fold_is_opened_out_to_its_whole_width() {
    on_both(SMOCK, |bench| {
        let width = |bench: &Bench| bench.piece("front body").outline.bounds().width();
        let half = width(bench);
        bench.take("Open out", "front body");
        bench.press("front body, whole piece");
        assert!(same(width(bench), 2.0 * half), "{}", bench.message());
    });
}

#[test]
fn enter_finishes_what_typed_numbers_prepared() {
    let mut bench = Bench::of(SMOCK, On::Fitting);
    bench.take("Set length", "front yoke");
    bench.press("shoulder of front yoke, edge");
    bench.type_over("Length", "40 mm");
    assert_eq!(
        bench.steps(),
        0,
        "the Enter that takes the number over finishes nothing"
    );
    bench.key(egui::Key::Enter);
    assert_eq!(bench.steps(), 1, "{}", bench.message());
}
