//! Tools that make, cut, join, rename and take out pieces.

use egui_kittest::kittest::Queryable;
use petitoile::session::On;

use crate::bench::{BOTH, Bench, SMOCK, on_both, same};

/// Across the front body, from its fold to its side seam.
fn cut_line(bench: &mut Bench) {
    bench.take("Cut in two", "front body");
    for (edge, fraction) in [("centre front", 0.5), ("side seam", 0.5)] {
        let at = bench.on_edge("front body", edge, fraction);
        bench.click(at);
    }
    bench.type_over("Name of the other part", "front skirt");
    bench.type_over("Name of the seam", "waist seam");
}

#[test]
fn a_piece_is_cut_in_two_with_a_seam_between_and_joined_again() {
    on_both(SMOCK, |bench| {
        let area = bench.piece("front body").outline.area();
        cut_line(bench);
        bench.press("Cut it in two");
        assert!(bench.has("front skirt"), "{}", bench.message());
        assert!(
            bench
                .garment()
                .seams
                .iter()
                .any(|seam| seam.name == "waist seam")
        );
        bench.take("Join pieces", "front body");
        bench.press("waist seam, seam");
        bench.type_over("Name of the joined piece", "front body");
        bench.press("Join them");
        assert!(!bench.has("front skirt"), "{}", bench.message());
        let joined = bench.piece("front body").outline.area();
        assert!((joined - area).abs() < 0.05, "{joined} {area}");
    });
}

#[test]
fn a_cut_is_bent_by_dragging_its_middle() {
    on_both(SMOCK, |bench| {
        cut_line(bench);
        bench.type_over("Bent by", "3 mm");
        bench.press("Cut it in two");
        let skirt = bench.piece("front skirt");
        let body = bench.piece("front body");
        let bent = |edges: &[petitoile_core::edge::Edge]| {
            edges.iter().filter(|edge| !edge.line.is_straight()).count()
        };
        assert!(bent(skirt.outline.edges()) > 0 && bent(body.outline.edges()) > 0);
    });
}

#[test]
fn a_style_line_gives_to_one_piece_what_it_takes_from_the_other() {
    on_both(SMOCK, |bench| {
        let width = |bench: &Bench, piece: &str| bench.length(piece, "hem");
        let before = (width(bench, "front body"), width(bench, "back body"));
        bench.take("Style line", "front body");
        bench.press("side seam, seam");
        bench.type_over("Wider at the start", "2 mm");
        bench.type_over("Wider at the end", "2 mm");
        bench.press("Move the seam line");
        let after = (width(bench, "front body"), width(bench, "back body"));
        assert_eq!(bench.steps(), 1, "{}", bench.message());
        let (front, back) = (after.0 - before.0, after.1 - before.1);
        assert!(
            front.abs() > 1.5 && same(front, -back) || (front + back).abs() < 0.3,
            "{front} {back}"
        );
    });
}

#[test]
fn pieces_are_copied_renamed_and_taken_out() {
    on_both(SMOCK, |bench| {
        bench.take("Copy piece", "cuff");
        bench.press("cuff, whole piece");
        bench.type_over("Name of the copy", "pocket");
        bench.press("Add the copy");
        assert_eq!(bench.piece("pocket").outline, bench.piece("cuff").outline);
        bench.take("Rename piece", "pocket");
        bench.press("pocket, whole piece");
        bench.type_over("New name", "patch");
        bench.press("Rename the piece");
        assert!(
            bench.has("patch") && !bench.has("pocket"),
            "{}",
            bench.message()
        );
        bench.take("Take out piece", "patch");
        bench.press("patch, whole piece");
        bench.press("Take it out");
        assert!(!bench.has("patch"), "{}", bench.message());
        assert_eq!(bench.steps(), 3);
    });
}

#[test]
fn a_name_that_is_taken_is_told_and_changes_nothing() {
    for on in BOTH {
        let mut bench = Bench::of(SMOCK, on);
        bench.take("Rename piece", "cuff");
        bench.press("cuff, whole piece");
        bench.type_over("New name", "sleeve");
        assert!(
            bench.message().contains("sleeve already"),
            "{}",
            bench.message()
        );
        bench.press("Rename the piece");
        assert_eq!(bench.steps(), 0);
    }
}

#[test]
fn a_facing_takes_its_turn_of_cloth_from_the_cloth() {
    on_both(SMOCK, |bench| {
        bench.take("Facing", "front yoke");
        bench.press("neckline of front yoke, edge");
        bench.type_over("Depth", "12 mm");
        bench.press("Make the facing");
        assert!(bench.has("front yoke facing"), "{}", bench.message());
    });
}

#[test]
fn a_lining_is_made_inside_the_piece() {
    on_both(SMOCK, |bench| {
        bench.take("Lining", "back body");
        bench.press("back body, whole piece");
        bench.press("Make the lining");
        assert!(bench.has("back body lining"), "{}", bench.message());
    });
}

#[test]
fn a_binding_is_as_long_as_its_edge() {
    on_both(SMOCK, |bench| {
        bench.take("Binding", "front yoke");
        bench.press("neckline of front yoke, edge");
        bench.press("Make the binding");
        assert!(bench.has("front yoke binding"), "{}", bench.message());
    });
}

#[test]
fn a_gusset_is_set_into_a_corner() {
    on_both(SMOCK, |bench| {
        bench.take("Gusset", "sleeve");
        bench.press("corner at the start of underarm back of sleeve");
        bench.type_over("Length of its sides", "8 mm");
        bench.type_over("Opens by", "5 mm");
        bench.press("Make the gusset");
        assert!(bench.has("sleeve gusset"), "{}", bench.message());
    });
}

#[test]
fn the_cut_line_is_bent_at_its_handle_before_it_is_cut() {
    let mut bench = Bench::of(SMOCK, On::Garment);
    cut_line(&mut bench);
    assert!(bench.window.query_by_label("Bend the cut").is_some());
    bench.drag_by("Bend the cut", 0.0, -20.0);
    assert_eq!(bench.steps(), 1, "{}", bench.message());
}
