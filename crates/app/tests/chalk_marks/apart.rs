//! A side panel that looks the same turned over, between a front and a back.

use std::sync::Arc;

use kurbo::Point;
use petitoile_core::edge::Edge;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::{Copy, Piece, Role, Side};
use petitoile_core::project::Project;
use petitoile_core::seams::{Seam, Stretch};

use crate::bench::{BOTH, Bench};
use crate::common::project;

const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

fn panel(like: &Piece, name: &str, corners: [(f64, f64); 4]) -> Arc<Piece> {
    let corner = corners.map(Point::from);
    let names = ["hem", "right", "waist", "left"];
    let edge = |i: usize| Edge::seam(names[i], Line::straight(corner[i], corner[(i + 1) % 4]));
    Arc::new(Piece {
        name: name.to_owned(),
        outline: Outline::new((0..4).map(edge).collect()).unwrap(),
        body_lines: Vec::new(),
        notches: Vec::new(),
        copies: vec![WHOLE],
        ..like.clone()
    })
}

fn seam(like: &Seam, name: &str, a: (&str, &str), b: (&str, &str)) -> Seam {
    let side = |(piece, edge): (&str, &str), from, to| {
        vec![Stretch {
            piece: piece.to_owned(),
            copy: WHOLE,
            edge: edge.to_owned(),
            from,
            to,
        }]
    };
    Seam {
        name: name.to_owned(),
        a: side(a, 0.0, 1.0),
        b: side(b, 1.0, 0.0),
        ..like.clone()
    }
}

/// The side panel leans by 1.5 mm: too little for an eye.
fn nearly_alike() -> Project {
    let mut project = project();
    let mut garment = (*project.garments[0]).clone();
    let (like, sewn) = (garment.pieces[2].clone(), garment.seams[0].clone());
    let strip = [(0.0, 0.0), (70.0, 0.0), (70.0, 80.0), (0.0, 80.0)];
    let side = [(0.0, -1.5), (60.0, 0.0), (50.0, 80.0), (10.0, 80.0)];
    garment.pieces = vec![
        panel(&like, "Side", side),
        panel(&like, "Front", strip),
        panel(&like, "Back", strip),
    ];
    garment.seams = vec![
        seam(&sewn, "front side", ("Side", "left"), ("Front", "right")),
        seam(&sewn, "back side", ("Side", "right"), ("Back", "left")),
    ];
    garment.tape_lines.clear();
    project.garments = vec![Arc::new(garment)];
    project
}

#[test]
fn a_panel_that_could_be_set_the_wrong_way_round_gets_its_notches_in_one_click() {
    for on in BOTH {
        let mut bench = Bench::with(nearly_alike(), on);
        bench.press("Tell apart");
        bench.click_handle("Side: notches that tell its sides apart");
        assert_eq!(bench.steps(), 1, "{on:?} {}", bench.message());
        let kinds = |bench: &Bench, piece: &str| {
            let piece = bench.piece(piece);
            piece.notches.iter().map(|n| n.kind).collect::<Vec<_>>()
        };
        assert_eq!(kinds(&bench, "Front"), [NotchKind::Single], "{on:?}");
        assert_eq!(kinds(&bench, "Back"), [NotchKind::Double], "{on:?}");
        assert_eq!(kinds(&bench, "Side").len(), 2);
        assert!(bench.shows("No piece can be set the wrong way round"));
        bench.undo();
        assert_eq!(kinds(&bench, "Side"), []);
    }
}
