//! The tape, girths, pins.

use egui::Key;
use kurbo::Point;
use petitoile::session::On;
use petitoile_core::Mm;
use petitoile_core::measuring::Measurement;
use petitoile_core::pins::{Pin, PinnedTo};

use crate::bench::{BOTH, Bench, near};

fn pins(bench: &Bench) -> Vec<Pin> {
    bench.0.state().session.project().pins.clone()
}

#[test]
fn an_edge_is_measured_pinned_follows_a_change_and_is_unpinned() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Tape", "front");
        let at = bench.on_edge("front", "hem", 0.4);
        bench.click(at);
        let length = |bench: &Bench| {
            let piece = bench.piece("front");
            piece.outline.edge("hem").unwrap().line.length()
        };
        let show = |mm: f64| petitoile_core::LengthUnit::Millimetre.show(Mm(mm));
        assert!(bench.shows(&format!("front, hem: {}", show(length(&bench)))));
        bench.press("Pin it");
        assert_eq!(pins(&bench).len(), 1, "{}", bench.message());
        let is_on = matches!(
            (on, &pins(&bench)[0].on),
            (On::Garment, PinnedTo::Garment(_)) | (On::Fitting, PinnedTo::Fitting(_))
        );
        assert!(is_on, "{:?}", pins(&bench)[0].on);
        let before = length(&bench);
        let longer = petitoile_core::alteration::Alteration::MoveEdge {
            edge: petitoile_core::edge::EdgeRef::new("front", "front seam"),
            outwards: Mm(7.0),
        };
        bench.ask(petitoile::command::Command::Alter(longer));
        let now = length(&bench);
        assert!(
            (now - before).abs() > 1.0,
            "{before} {now} {}",
            bench.message()
        );
        assert!(bench.shows(&show(now)), "the pin reads {}", show(now));
        bench.press("Unpin front, hem");
        assert_eq!(pins(&bench), []);
    }
}

#[test]
fn edges_of_several_pieces_are_added_up() {
    let mut bench = Bench::of("sunday-skirts", On::Garment);
    bench.press("Tape");
    let hem = |bench: &Bench, name: &str| {
        let piece = bench.piece(name);
        piece.outline.edge("hem").unwrap().line.length()
    };
    let whole: f64 = ["front", "side", "back"]
        .iter()
        .map(|name| hem(&bench, name))
        .sum();
    for name in ["front", "side", "back"] {
        let at = bench.on_edge(name, "hem", 0.4);
        bench.hold_shift(name != "front");
        bench.click(at);
    }
    bench.hold_shift(false);
    let show = petitoile_core::LengthUnit::Millimetre.show(Mm(whole));
    assert!(bench.shows(&format!("Together {show}")), "{show}");
    bench.press("Pin it");
    assert!(matches!(&pins(&bench)[0].measures, Measurement::Sum(all) if all.len() == 3));
}

#[test]
fn from_point_to_point_the_tape_reads_the_straight_line() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Tape", "back");
        bench.press("Tape: point to point");
        let middle = bench.piece("back").outline.bounds().center();
        let (a, b) = (middle, middle + kurbo::Vec2::new(-12.0, 9.0));
        let (from, to): (Point, Point) = (a, b);
        let (at, end) = (bench.screen("back", from), bench.screen("back", to));
        bench.click(at);
        bench.click(end);
        bench.press("Pin it");
        let pin = pins(&bench).remove(0);
        let body = bench.garment().made_for.clone();
        let reading = pin.measures.read(&bench.garment(), &body).unwrap();
        assert!((reading.length.0 - 15.0).abs() < 1.5, "{reading:?}");
        let (right, up) = reading.right_and_up.unwrap();
        assert!(near(right.0.hypot(up.0), reading.length.0));
        bench.undo();
        assert_eq!(pins(&bench), []);
    }
}

#[test]
fn the_girth_follows_the_line_that_is_dragged_and_stands_beside_that_of_the_body() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Girth", "front");
        bench.pick("Girth counted from", "Hip");
        let girth = |bench: &Bench, below: f64| {
            let session = &bench.0.state().session;
            let body = match on {
                On::Garment => bench.garment().made_for.clone(),
                On::Fitting => session.fitting().unwrap().body.clone(),
            };
            let measures = Measurement::Girth {
                level: petitoile_core::measure::Level::Hip,
                below: Mm(below),
            };
            let reading = measures.read(&bench.garment(), &body).unwrap();
            petitoile_core::LengthUnit::Millimetre.show(reading.length)
        };
        let at_hip = girth(&bench, 0.0);
        assert!(bench.shows(&format!(
            "Girth at the hip: {at_hip}; hip girth of the body"
        )));
        bench.type_over("Below the level", "20 mm");
        let lower = girth(&bench, 20.0);
        assert!(bench.shows(&format!("Girth 20 mm below the hip: {lower}")));
        assert_ne!(at_hip, lower);
        bench.key(Key::ArrowDown);
        assert!(bench.shows("Girth 21 mm below the hip"));
        let scale = bench.0.state().session.view.scale as f32;
        let at = bench.handle("Girth 21 mm below the hip");
        bench.drag(at, at + egui::vec2(0.0, 10.0 * scale));
        assert!(
            bench.shows("Girth 31 mm below the hip"),
            "dragged 10 mm down"
        );
        bench.press("Pin it");
        assert_eq!(pins(&bench).len(), 1);
        assert_eq!(bench.steps(), 1, "only the pin is a step");
    }
}
