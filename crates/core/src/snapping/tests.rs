#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::edge::OutlinePoint;
use crate::measure::Level;
use crate::piece::{BodyLine, Frame, Placement};
use crate::ready_shapes::{OnFold, rectangle};
use crate::units::Mm;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// A front of 100 x 200 mm that lies 50 mm to the right on the table, its left edge the fold, a waist line half way.
fn scene() -> Scene {
    let outline = rectangle(Point::ORIGIN, Mm(200.0), Mm(200.0), OnFold::Half).unwrap();
    let piece = Piece {
        name: "Front".to_owned(),
        outline,
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("fold", 0.5),
            to: OutlinePoint::new("right side", 0.5),
        }],
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        fullness: Vec::new(),
        copies: Vec::new(),
        face: Default::default(),
    };
    Scene {
        pieces: vec![(Arc::new(piece), Vec2::new(50.0, 0.0))],
        grid: 5.0,
        ..Scene::default()
    }
}

fn only(change: impl FnOnce(&mut Snapping)) -> Snapping {
    let mut to = Snapping::OFF;
    change(&mut to);
    to
}

fn check(scene: &Scene, pointer: Point, to: Snapping, at: Point, words: &str) {
    let snap = snap(scene, pointer, 5.0, to).unwrap_or_else(|| panic!("nothing at {pointer:?}"));
    assert!((snap.at - at).hypot() < 1e-6, "{snap:?}");
    assert_eq!(snap.words, words);
}

#[test]
fn a_corner_within_reach_wins_over_everything() {
    let all = Snapping {
        grid: true,
        ..Snapping::default()
    };
    check(
        &scene(),
        p(153.0, 202.0),
        all,
        p(150.0, 200.0),
        "corner of Front",
    );
}

#[test]
fn an_edge_is_met_at_its_nearest_place() {
    check(
        &scene(),
        p(147.0, 33.0),
        only(|to| to.edges = true),
        p(150.0, 33.0),
        "on right side of Front",
    );
}

#[test]
fn square_to_the_line_before_is_90_degrees() {
    let scene = Scene {
        start: Some(Start {
            at: p(10.0, 10.0),
            before: Some(Vec2::new(3.0, 4.0)),
        }),
        ..Scene::default()
    };
    let pointer = p(10.0, 10.0) + Vec2::new(-40.0, 30.0) + Vec2::new(1.0, 1.0);
    let snap = snap(&scene, pointer, 5.0, Snapping::default()).unwrap();
    assert_eq!(snap.words, "square to the line before");
    assert!((snap.at - p(10.0, 10.0)).dot(Vec2::new(3.0, 4.0)).abs() < 1e-9);
}

#[test]
fn a_line_from_an_edge_leaves_square_to_it_and_a_line_to_an_edge_meets_it_square() {
    let to = only(|to| to.squares = true);
    let mut from = scene();
    from.start = Some(Start {
        at: p(150.0, 60.0),
        before: None,
    });
    check(
        &from,
        p(90.0, 62.0),
        to,
        p(90.0, 60.0),
        "square to right side of Front",
    );
    let mut towards = scene();
    towards.start = Some(Start {
        at: p(300.0, 44.0),
        before: None,
    });
    let to = Snapping { edges: true, ..to };
    check(
        &towards,
        p(152.0, 46.0),
        to,
        p(150.0, 44.0),
        "square to right side of Front, on right side of Front",
    );
}

#[test]
fn level_with_one_point_and_below_another_meet() {
    let points = vec![
        NamedPoint {
            at: p(0.0, 80.0),
            words: "first point".to_owned(),
        },
        NamedPoint {
            at: p(60.0, 300.0),
            words: "point 2".to_owned(),
        },
    ];
    let scene = Scene {
        points,
        ..Scene::default()
    };
    check(
        &scene,
        p(62.0, 77.0),
        Snapping::default(),
        p(60.0, 80.0),
        "level with first point, below point 2",
    );
}

#[test]
fn body_lines_and_the_fold_run_on_beyond_the_piece() {
    check(
        &scene(),
        p(400.0, 103.0),
        only(|to| to.body_lines = true),
        p(400.0, 100.0),
        "waist line of Front",
    );
    check(
        &scene(),
        p(53.0, -70.0),
        only(|to| to.fold = true),
        p(50.0, -70.0),
        "fold of Front",
    );
}

#[test]
fn the_grid_is_last_and_only_where_it_is_wanted() {
    let far = p(-302.0, -203.0);
    assert_eq!(snap(&scene(), far, 5.0, Snapping::default()), None);
    check(
        &scene(),
        far,
        only(|to| to.grid = true),
        p(-300.0, -205.0),
        "grid",
    );
    assert_eq!(snap(&scene(), far, 5.0, Snapping::OFF), None);
}

#[test]
fn a_corner_that_is_moved_snaps_neither_to_itself_nor_to_its_own_edges() {
    let mut scene = scene();
    scene.moving = Some(p(150.0, 200.0));
    let to = only(|to| {
        to.points = true;
        to.edges = true;
    });
    assert_eq!(snap(&scene, p(149.0, 197.0), 5.0, to), None);
    check(&scene, p(149.0, 3.0), to, p(150.0, 0.0), "corner of Front");
}

#[test]
fn nothing_out_of_reach_is_snapped_to() {
    let mut scene = scene();
    scene.start = Some(Start {
        at: p(17.0, -31.0),
        before: Some(Vec2::new(1.0, 0.3)),
    });
    let all = Snapping {
        grid: true,
        ..Snapping::default()
    };
    for i in 0..400 {
        let pointer = p(
            f64::from(i % 20) * 13.7 - 40.0,
            f64::from(i / 20) * 14.3 - 40.0,
        );
        if let Some(snap) = snap(&scene, pointer, 5.0, all) {
            assert!(
                (snap.at - pointer).hypot() <= 5.0 + 1e-9,
                "{pointer:?} {snap:?}"
            );
            assert!(!snap.words.is_empty());
        }
    }
}

#[test]
fn the_nearest_edge_is_told_with_the_fraction_along_it() {
    let scene = scene();
    let piece = &scene.pieces[0].0;
    let (name, fraction, distance) = edge_near(piece, p(97.0, 50.0), 5.0).unwrap();
    assert_eq!(name, "right side");
    assert!((fraction - 0.25).abs() < 1e-6 && (distance - 3.0).abs() < 1e-6);
    assert_eq!(edge_near(piece, p(50.0, 100.0), 5.0), None);
    assert!(edge_near(piece, p(50.0, 90.0), f64::INFINITY).is_some());
}
