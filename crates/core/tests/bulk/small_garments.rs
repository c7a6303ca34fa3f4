//! Small garments for the tests: rectangles with the edges hem, right, waist, left.

use std::sync::Arc;

use kurbo::Point;
use petitoile_core::adapt::as_drawn;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::edge::{Edge, Finish, FinishStretch};
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::fill;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::piece::{Copy, Frame, Piece, Placement, Role, Side};
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch};

pub const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

pub fn strip(name: &str, width: f64, depth: f64) -> Piece {
    let p = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)].map(Point::from);
    let side = |name: &str, a: usize, b: usize| Edge::seam(name, Line::straight(p[a], p[b]));
    Piece {
        name: name.to_owned(),
        outline: Outline::new(vec![
            side("hem", 0, 1),
            side("right", 1, 2),
            side("waist", 2, 3),
            side("left", 3, 0),
        ])
        .unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies: vec![WHOLE],
    }
}

pub fn finished_with(mut piece: Piece, edge: &str, finish: Finish) -> Piece {
    let edges = piece.outline.edges().iter().cloned().map(|mut e| {
        if e.name == edge {
            e.finish = vec![FinishStretch {
                from: 0.0,
                to: 1.0,
                finish,
            }];
        }
        e
    });
    piece.outline = Outline::new(edges.collect()).unwrap();
    piece
}

pub fn stretch(piece: &str, edge: &str, from: f64, to: f64) -> Stretch {
    Stretch {
        piece: piece.to_owned(),
        copy: WHOLE,
        edge: edge.to_owned(),
        from,
        to,
    }
}

pub fn seam(name: &str, a: Vec<Stretch>, b: Vec<Stretch>, relation: Relation) -> Seam {
    Seam {
        name: name.to_owned(),
        a,
        b,
        mirrored: false,
        relation,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    }
}

pub fn garment(pieces: Vec<Piece>, seams: Vec<Seam>) -> Garment {
    Garment {
        name: "Smock".to_owned(),
        made_for: Arc::new(Body::new("somebody", BodyKind::Doll)),
        pieces: pieces.into_iter().map(Arc::new).collect(),
        seams,
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: Default::default(),
        included_allowance: Default::default(),
    }
}

/// The garment as drawn, steps 3 and 4 done, with the allowances of a doll of 45 cm.
pub fn finished(garment: Garment) -> Finished {
    let fitting = Fitting::new(
        "Smock for the doll",
        garment.name.clone(),
        garment.made_for.clone(),
    );
    let adapted = as_drawn(&Arc::new(garment), &Arc::new(fitting)).unwrap();
    finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome
}
