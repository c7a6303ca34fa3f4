//! Small garments for tests.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use std::sync::Arc;

use kurbo::Point;

use crate::adapt::Adapted;
use crate::body::{Body, BodyKind};
use crate::edge::{Edge, Finish, FinishStretch};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::{Copy, Frame, Piece, Placement, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};

/// Four corners, counter-clockwise from the lower left: edges hem, right, waist, left. Cut once.
pub fn four(name: &str, corners: [(f64, f64); 4]) -> Piece {
    let p = corners.map(Point::from);
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

pub const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};
pub const LEFT: Copy = Copy {
    side: Side::Left,
    role: Role::Shell,
};
pub const RIGHT: Copy = Copy {
    side: Side::Right,
    role: Role::Shell,
};

/// A rectangle with those edges.
pub fn strip(name: &str, width: f64, depth: f64) -> Piece {
    four(
        name,
        [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)],
    )
}

/// The same piece with one finish over a whole edge.
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

pub fn doll(name: &str) -> Body {
    Body::new(name, BodyKind::Doll)
}

pub fn garment(pieces: Vec<Piece>, seams: Vec<Seam>) -> Garment {
    Garment {
        name: "Smock".to_owned(),
        made_for: Arc::new(doll("somebody")),
        pieces: pieces.into_iter().map(Arc::new).collect(),
        seams,
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: Default::default(),
        included_allowance: Default::default(),
    }
}

/// A garment as it comes out of step 2 when the body is the one it was made for.
pub fn adapted(garment: Garment, body: Body) -> Adapted {
    let pieces = garment.pieces.clone();
    let fitting = Fitting::new("Smock for the doll", garment.name.clone(), Arc::new(body));
    let garment = Arc::new(garment);
    Adapted {
        made: garment.clone(),
        garment,
        fitting: Arc::new(fitting),
        pieces,
        demands: Vec::new(),
        tape_lines: Vec::new(),
        ease: Vec::new(),
        findings: Vec::new(),
        steps: 0,
    }
}

/// The same garment after steps 3 and 4.
pub fn finished(adapted: Adapted) -> crate::finish::Finished {
    let filled = crate::fullness::fill(&Arc::new(adapted)).outcome;
    crate::finish::finish(&Arc::new(filled)).outcome
}
