//! Small garments of straight-sided pieces: shared by the tests beside the code and by those that see it from outside.
//!
//! Whoever takes it says where the nouns are: `use petitoile_core as house;`, inside the crate `use crate as house;`.
#![allow(
    dead_code,
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "tests; each program takes what it needs"
)]

use std::sync::Arc;

use kurbo::Point;

use super::house::body::{Body, BodyKind};
use super::house::edge::{Edge, Finish, FinishStretch};
use super::house::garment::Garment;
use super::house::geometry::curve::Line;
use super::house::geometry::outline::Outline;
use super::house::piece::{Copy, Frame, Piece, Placement, Role, Side};
use super::house::seams::{Relation, Seam, SeamKind, Stretch};

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

/// A piece with these edges, each named with the corner where it starts. Cut once.
pub fn polygon(name: &str, corners: &[(&str, (f64, f64))]) -> Piece {
    let at = |i: usize| Point::from(corners[i % corners.len()].1);
    let edges = (0..corners.len())
        .map(|i| Edge::seam(corners[i].0, Line::straight(at(i), at(i + 1))))
        .collect();
    Piece {
        name: name.to_owned(),
        outline: Outline::new(edges).unwrap(),
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

/// Four corners, counter-clockwise from the lower left: edges hem, right, waist, left. Cut once.
pub fn four(name: &str, corners: [(f64, f64); 4]) -> Piece {
    let [a, b, c, d] = corners;
    polygon(name, &[("hem", a), ("right", b), ("waist", c), ("left", d)])
}

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
