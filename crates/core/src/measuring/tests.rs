#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::alteration::{Alteration, Bit, Carried};
use crate::body::Measured;
use crate::check::samples::{LEFT, RIGHT, doll, finished_with, four, garment, strip};
use crate::drafts::wardrobe::{gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket};
use crate::edge::{Edge, Finish};
use crate::edit::Edit;
use crate::garment::tape_measure;
use crate::geometry::outline::Outline;
use crate::measure::Measure;
use crate::piece::{BodyLine, Mark};
use crate::pins::{Pin, PinnedTo};
use crate::project::Project;

fn woman() -> Arc<Body> {
    Arc::new(doll("a woman").with(Measure::Height, Measured::own_tape(Mm(1628.0))))
}

fn on(edge: &str, fraction: f64) -> PiecePoint {
    PiecePoint::On(OutlinePoint::new(edge, fraction))
}

fn between(from: PiecePoint, to: PiecePoint) -> Measurement {
    Measurement::Between {
        piece: "Front".to_owned(),
        from,
        to,
    }
}

fn across(from: PiecePoint, to: PiecePoint) -> Measurement {
    Measurement::Across {
        piece: "Front".to_owned(),
        from,
        to,
    }
}

fn reads(garment: &Garment, what: &Measurement) -> f64 {
    what.read(garment, &woman()).unwrap().length.0
}

/// 100 mm wide, 60 mm high, a dart of 20 mm in the middle of the waist, 30 mm deep.
fn darted() -> Piece {
    let p = |x, y| Point::new(x, y);
    let side = |name: &str, a, b| Edge::seam(name, Line::straight(a, b));
    Piece {
        outline: Outline::new(vec![
            side("hem", p(0.0, 0.0), p(100.0, 0.0)),
            side("right", p(100.0, 0.0), p(100.0, 60.0)),
            side("waist right", p(100.0, 60.0), p(60.0, 60.0)),
            side("leg in", p(60.0, 60.0), p(50.0, 30.0)),
            side("leg out", p(50.0, 30.0), p(40.0, 60.0)),
            side("waist left", p(40.0, 60.0), p(0.0, 60.0)),
            side("left", p(0.0, 60.0), p(0.0, 0.0)),
        ])
        .unwrap(),
        ..strip("Front", 1.0, 1.0)
    }
}

#[test]
fn edges_stretches_and_straight_lines_are_measured() {
    let front = garment(vec![strip("Front", 30.0, 40.0)], Vec::new());
    let edge = EdgeRef::new("Front", "right");
    assert_eq!(reads(&front, &Measurement::Edge(edge.clone())), 40.0);
    let stretch = |from, to| Measurement::Stretch {
        edge: edge.clone(),
        from,
        to,
    };
    assert!((reads(&front, &stretch(0.75, 0.25)) - 20.0).abs() < 1e-9);
    let slanting = between(on("hem", 0.0), on("waist", 0.0));
    let reading = slanting.read(&front, &woman()).unwrap();
    assert_eq!(reading.length, Mm(50.0), "3-4-5");
    assert_eq!(reading.right_and_up, Some((Mm(30.0), Mm(40.0))));
    let sum = Measurement::Sum(vec![Measurement::Edge(edge.clone()), stretch(0.0, 0.5)]);
    assert!((reads(&front, &sum) - 60.0).abs() < 1e-9);
    insta::assert_snapshot!(sum.name(), @"Front, right + Front, right, 0 to 50 %");
    insta::assert_snapshot!(slanting.name(), @"Front: hem at 0 % to waist at 0 %");
}

#[test]
fn a_dart_is_no_cloth() {
    let front = garment(vec![darted()], Vec::new());
    // 45 mm up the dart is open by 10 mm.
    let level = across(on("left", 0.25), on("right", 0.75));
    let reading = level.read(&front, &woman()).unwrap();
    assert!((reading.length.0 - 90.0).abs() < 1e-6, "{reading:?}");
    assert_eq!(reading.parts.len(), 2);
    // Along the waist itself the mouth is left out, below the tip nothing is.
    assert!((reads(&front, &across(on("left", 0.0), on("right", 1.0))) - 80.0).abs() < 1e-6);
    assert!((reads(&front, &across(on("left", 0.75), on("right", 0.25))) - 100.0).abs() < 1e-6);
    assert!((reads(&front, &between(on("left", 0.25), on("right", 0.75))) - 100.0).abs() < 1e-9);
}

#[test]
fn a_point_is_taken_from_what_lies_under_the_pointer() {
    let mut front = strip("Front", 100.0, 60.0);
    front.marks.push(Mark {
        name: "bust point".to_owned(),
        kind: MarkKind::Dot(Point::new(40.0, 30.0)),
    });
    let near = |x, y| PiecePoint::near(&front, Point::new(x, y), Mm(3.0));
    assert_eq!(
        near(41.0, 31.0),
        Some(PiecePoint::Dot("bust point".to_owned()))
    );
    let Some(PiecePoint::On(hem)) = near(25.0, 1.5) else {
        panic!("the hem is near")
    };
    assert!(hem.edge == "hem" && (hem.fraction - 0.25).abs() < 1e-9);
    assert_eq!(near(150.0, 20.0), None);
    let inside = near(25.0, 45.0).unwrap();
    assert!((inside.at(&front).unwrap() - Point::new(25.0, 45.0)).hypot() < 1e-6);
    // It stays a quarter of the way across when the piece becomes twice as wide.
    let wide = strip("Front", 200.0, 60.0);
    assert!((inside.at(&wide).unwrap() - Point::new(50.0, 45.0)).hypot() < 1e-6);
}

/// Half a front on the fold and a pair of backs, 60 mm from waist to hip, flaring by 10 mm each on the way.
fn skirt() -> Garment {
    let levels = |mut piece: Piece| {
        for (level, fraction) in [(Level::Waist, 1.0), (Level::Hip, 0.0)] {
            piece.body_lines.push(BodyLine {
                level,
                from: OutlinePoint::new("left", 1.0 - fraction),
                to: OutlinePoint::new("right", fraction),
            });
        }
        piece
    };
    let front = four(
        "Front",
        [(0.0, 0.0), (80.0, 0.0), (70.0, 60.0), (0.0, 60.0)],
    );
    let back = four("Back", [(0.0, 0.0), (85.0, 0.0), (75.0, 60.0), (0.0, 60.0)]);
    let back = Piece {
        copies: vec![RIGHT, LEFT],
        ..back
    };
    garment(
        vec![
            levels(finished_with(front, "left", Finish::Fold)),
            levels(back),
        ],
        Vec::new(),
    )
}

fn girth(level: Level, below: f64) -> Measurement {
    Measurement::Girth {
        level,
        below: Mm(below),
    }
}

#[test]
fn a_girth_at_any_height_adds_up_folds_and_pairs() {
    let at = |level, below| reads(&skirt(), &girth(level, below));
    assert!((at(Level::Waist, 0.0) - 290.0).abs() < 1e-6);
    assert!((at(Level::Waist, 30.0) - 310.0).abs() < 1e-6);
    assert!((at(Level::Waist, 60.0) - 330.0).abs() < 1e-6);
    assert!((at(Level::Hip, -15.0) - 320.0).abs() < 1e-6);
    assert_eq!(skirt().pieces.len(), 2);
    // Between two levels heights go in proportion to the body: half way from waist to hip is half way down the piece.
    let body = woman();
    let half = (body.height_of(Level::Waist) - body.height_of(Level::Hip)).0 / 2.0;
    let mut bare = skirt();
    for piece in &mut bare.pieces {
        Arc::make_mut(piece)
            .body_lines
            .retain(|line| line.level == Level::Hip || line.level == Level::Waist);
    }
    let from_bust = (body.height_of(Level::Bust) - body.height_of(Level::Waist)).0 + half;
    assert!((reads(&bare, &girth(Level::Bust, from_bust)) - 310.0).abs() < 1e-6);
}

#[test]
fn a_girth_where_no_cloth_lies_says_so() {
    let why = |what: Measurement| what.read(&skirt(), &woman()).unwrap_err().to_string();
    insta::assert_snapshot!(why(girth(Level::Waist, -5.0)), @"no piece lies 5.0 mm above the waist; choose a height where there is cloth");
    insta::assert_snapshot!(why(girth(Level::Waist, 61.0)), @"no piece lies 61.0 mm below the waist; choose a height where there is cloth");
    insta::assert_snapshot!(why(girth(Level::Elbow, 0.0)), @"no piece lies at the elbow; choose a height where there is cloth");
    insta::assert_snapshot!(why(girth(Level::Waist, f64::NAN)), @"a place to measure from is not a number; measure again");
}

#[test]
fn what_is_gone_is_named() {
    let why = |what: Measurement| what.read(&skirt(), &woman()).unwrap_err().to_string();
    insta::assert_snapshot!(why(Measurement::Edge(EdgeRef::new("Yoke", "hem"))), @"there is no piece called Yoke any more; measure again");
    insta::assert_snapshot!(why(Measurement::Edge(EdgeRef::new("Front", "neckline"))), @"there is no edge Front, neckline any more; measure again");
    insta::assert_snapshot!(why(between(on("neckline", 0.0), on("hem", 0.0))), @"there is no edge Front, neckline any more; measure again");
    insta::assert_snapshot!(why(between(PiecePoint::Dot("pocket".to_owned()), on("hem", 0.0))), @"Front has no dot called pocket any more; measure again");
    insta::assert_snapshot!(why(between(on("hem", f64::NAN), on("hem", 0.0))), @"a place to measure from is not a number; measure again");
    insta::assert_snapshot!(why(Measurement::Sum(Vec::new())), @"nothing is measured yet; choose an edge or two points");
}

/// The garments' own tape lines are laid by their builders; the girth at their level must read the same.
#[test]
fn the_girth_at_a_level_is_what_the_tape_line_there_reads() {
    let jacket = harbour_jacket(&woman()).unwrap();
    let gored = gored_sunday_skirt(&woman()).unwrap();
    let half_circle = half_circle_sunday_skirt(&woman()).unwrap();
    for (garment, tape, level) in [
        (&jacket, "bust", Level::Bust),
        (&gored, "waist", Level::Waist),
        (&gored, "hip", Level::Hip),
        (&half_circle, "waist", Level::Waist),
    ] {
        let line = garment.tape_lines.iter().find(|t| t.name == tape).unwrap();
        let told =
            tape_measure(line, &garment.pieces).unwrap().0 + line.overlap.0 - line.lacing_gap.0;
        let read = reads(garment, &girth(level, 0.0));
        assert!(
            (told - read).abs() < 0.01 * told,
            "{}, {tape}: {told} {read}",
            garment.name
        );
    }
}

fn pin(on: PinnedTo) -> Edit {
    Edit::PutPin(Pin {
        name: "side".to_owned(),
        on,
        measures: Measurement::Edge(EdgeRef::new("Front", "right")),
    })
}

fn project() -> Project {
    Project {
        garments: vec![Arc::new(skirt())],
        ..Project::default()
    }
}

#[test]
fn a_pin_stays_and_reads_what_the_piece_measures_now() {
    let pinned = project()
        .edited(&pin(PinnedTo::Garment("Smock".to_owned())))
        .unwrap();
    let read = |project: &Project| {
        let pin = project.pin("side").unwrap();
        let garment = project.pinned_garment(pin).unwrap();
        pin.measures
            .read(garment, &garment.made_for)
            .map(|r| r.length.0)
    };
    let before = read(&pinned).unwrap();
    let longer = pinned
        .edited(&Edit::Alter {
            garment: "Smock".to_owned(),
            alteration: Alteration::MoveEdge {
                edge: EdgeRef::new("Front", "hem"),
                outwards: Mm(6.0),
            },
        })
        .unwrap();
    assert!((read(&longer).unwrap() - before * 1.1).abs() < 1e-6);
    let out = longer.edited(&Edit::RemovePin("side".to_owned())).unwrap();
    assert_eq!(out.pins, Vec::new());
    insta::assert_snapshot!(out.edited(&Edit::RemovePin("side".to_owned())).unwrap_err(), @"there is no pin called side");
    let gone = pinned
        .edited(&Edit::RemoveGarment("Smock".to_owned()))
        .unwrap();
    assert_eq!(gone.pins, Vec::new(), "a garment goes with its pins");
    insta::assert_snapshot!(project().edited(&pin(PinnedTo::Fitting("doll".to_owned()))).unwrap_err(), @"there is no fitting called doll");
    let wild = Edit::PutPin(Pin {
        name: "wild".to_owned(),
        on: PinnedTo::Garment("Smock".to_owned()),
        measures: between(on("hem", 3.0), on("hem", 0.0)),
    });
    insta::assert_snapshot!(project().edited(&wild).unwrap_err(), @"pin wild: a place on an edge cannot be 3.00; it must be between -0.00 and 1.00");
    let unit = crate::units::LengthUnit::Millimetre;
    insta::assert_snapshot!(pin(PinnedTo::Fitting("doll".to_owned())).words(unit), @"pin side");
    insta::assert_snapshot!(Edit::RemovePin("side".to_owned()).words(unit), @"take out pin side");
    assert_eq!(pinned.check_references(), Ok(()));
    let mut stray = pinned.clone();
    stray.pins[0].on = PinnedTo::Fitting("doll".to_owned());
    insta::assert_snapshot!(stray.check_references().unwrap_err(), @"pin side: there is no fitting called doll; put it back or take it out of pin side");
}

#[test]
fn a_pinned_edge_that_is_cut_in_two_is_measured_over_both() {
    let edge = |piece: &str, edge: &str| EdgeRef::new(piece, edge);
    let carried = Carried::default().with_edge(
        edge("Front", "right"),
        vec![
            Bit::new((0.0, 0.4), edge("Front", "right"), (0.0, 1.0)),
            Bit::new((0.4, 1.0), edge("Yoke", "right"), (0.0, 1.0)),
        ],
    );
    assert_eq!(
        Measurement::Edge(edge("Front", "right")).followed(&carried),
        Measurement::Sum(vec![
            Measurement::Edge(edge("Front", "right")),
            Measurement::Edge(edge("Yoke", "right")),
        ])
    );
    let apart = between(on("right", 0.2), on("right", 0.9));
    assert_eq!(
        apart.followed(&carried),
        apart,
        "it says that its place is gone when it is read"
    );
    let Measurement::Between {
        piece,
        from: PiecePoint::On(from),
        ..
    } = between(on("right", 0.7), on("right", 1.0)).followed(&carried)
    else {
        panic!("still from point to point")
    };
    assert!(piece == "Yoke" && (from.fraction - 0.5).abs() < 1e-9);
}

proptest! {
    #[test]
    fn cloth_across_a_piece_and_what_is_cut_out_of_it_make_the_whole_line(height in 0.5..59.5_f64) {
        let front = garment(vec![darted()], Vec::new());
        let share = height / 60.0;
        let read = reads(&front, &across(on("left", 1.0 - share), on("right", share)));
        let open = (20.0 * (height - 30.0) / 30.0).max(0.0);
        prop_assert!((read + open - 100.0).abs() < 1e-6, "{read} {open}");
    }
}
