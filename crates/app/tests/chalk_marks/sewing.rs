//! Sewing by hand: an edge, its proposed mate, a row of edges, part of an edge from dot to dot.

use egui::Key;
use petitoile::session::On;
use petitoile_core::seams::{Relation, Seam};

use crate::bench::{BOTH, Bench};

fn seam(bench: &Bench, name: &str) -> Option<Seam> {
    let garment = bench.garment();
    garment.seams.iter().find(|s| s.name == name).cloned()
}

/// A demo with one of its seams unpicked.
fn without(demo: &str, on: On, name: &str) -> (Bench, Seam) {
    let mut bench = Bench::of(demo, on);
    let was = seam(&bench, name).unwrap();
    bench.ask(petitoile::command::Command::Alter(
        petitoile_core::alteration::Alteration::Seam(
            petitoile_core::alteration::SeamChange::Unpick {
                seam: name.to_owned(),
            },
        ),
    ));
    assert_eq!(seam(&bench, name), None, "{}", bench.message());
    (bench, was)
}

#[test]
fn the_proposed_mate_of_a_side_seam_is_taken_with_enter() {
    for on in BOTH {
        let (mut bench, was) = without("harbour-jacket", on, "side seam");
        bench.take("Sew", "front");
        let at = bench.on_edge("front", "side seam", 0.4);
        bench.click(at);
        assert!(
            bench.shows("Second side: back, side seam"),
            "{}",
            bench.message()
        );
        let steps = bench.steps();
        bench.key(Key::Enter);
        assert_eq!(bench.steps(), steps + 1, "{}", bench.message());
        let now = seam(&bench, "side seam").unwrap();
        assert_eq!((&now.a, &now.b), (&was.a, &was.b));
        assert_eq!((now.mirrored, now.relation), (true, Relation::Equal));
        bench.undo();
        assert_eq!(seam(&bench, "side seam"), None);
    }
}

#[test]
fn another_edge_than_the_proposed_one_is_clicked_and_the_seam_gets_a_name() {
    let (mut bench, _) = without("sunday-skirts", On::Garment, "front seam");
    bench.press("Sew");
    let at = bench.on_edge("front", "front seam", 0.4);
    bench.click(at);
    let other = bench.on_edge("side", "back seam", 0.4);
    bench.click(other);
    bench.type_over("Name of the new seam", "wrong on purpose");
    bench.press("Sew it");
    let now = seam(&bench, "wrong on purpose").unwrap_or_else(|| panic!("{}", bench.message()));
    assert_eq!(now.b[0].edge, "back seam");
    assert!(
        now.b[0].from > now.b[0].to,
        "mates are walked from opposite ends"
    );
    assert!(
        matches!(now.relation, Relation::Eased(_)),
        "{:?}",
        now.relation
    );
    assert!(bench.last_step().contains("wrong on purpose"));
}

#[test]
fn edges_in_a_row_are_added_with_shift() {
    let (mut bench, was) = without("sunday-skirts", On::Fitting, "waistband");
    bench.press("Sew");
    for (name, number) in [("front", 0), ("side", 1), ("back", 2)] {
        let at = bench.on_edge(name, "waist", 0.45);
        bench.hold_shift(number > 0);
        bench.click(at);
    }
    bench.hold_shift(false);
    bench.pick("Piece", "waistband");
    bench.pick("Edge", "waist edge");
    bench.press("Take waist edge");
    bench.press("Sew it");
    let now = bench.garment().seams.last().unwrap().clone();
    assert_eq!(now.a, was.b, "the row in sewing order");
    assert_eq!(now.b, was.a);
}

#[test]
fn from_dot_round_to_dot_only_part_of_the_edges_is_sewn() {
    for on in BOTH {
        let (mut bench, _) = without("sunday-skirts", on, "front seam");
        bench.take("Dot", "front");
        for (edge, fraction) in [("front seam", 0.25), ("front seam", 0.75)] {
            let at = bench.on_edge("front", edge, fraction);
            bench.click(at);
        }
        bench.press("Sew");
        bench.press("Sew: from place to place");
        for fraction in [0.25, 0.75] {
            let at = bench.on_edge("front", "front seam", fraction);
            bench.click(at);
        }
        bench.take("Sew", "side");
        for fraction in [0.75, 0.25] {
            let at = bench.on_edge("side", "front seam", fraction);
            bench.click(at);
        }
        bench.press("Sew it");
        let now = bench.garment().seams.last().unwrap().clone();
        assert_eq!(now.name, "front seam", "{}", bench.message());
        let part = (now.a[0].to - now.a[0].from).abs();
        assert!((part - 0.5).abs() < 0.03, "{now:?}");
        assert_eq!((now.a.len(), now.b.len()), (1, 1));
    }
}

#[test]
fn escape_puts_down_what_was_picked() {
    let (mut bench, _) = without("harbour-jacket", On::Fitting, "side seam");
    bench.take("Sew", "front");
    let at = bench.on_edge("front", "side seam", 0.4);
    bench.click(at);
    let steps = bench.steps();
    bench.key(Key::Escape);
    bench.key(Key::Enter);
    assert_eq!(bench.steps(), steps);
    assert!(!bench.shows("First side:"));
}
