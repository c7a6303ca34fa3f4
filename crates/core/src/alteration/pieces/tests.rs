#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod cutting;
mod joining;
mod listing;
mod made;

use std::sync::Arc;

use kurbo::Point;

use super::*;
use crate::alteration::Alteration;
use crate::check::samples::{
    LEFT, RIGHT, WHOLE, finished_with, four, garment, seam, stretch, strip,
};
use crate::edge::EdgeRef;
use crate::edge::{Edge, Finish};
use crate::garment::tape_measure;
use crate::geometry::outline::Outline;
use crate::measure::{Level, Measure};
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Dart, DartPress, Mark, MarkKind};
use crate::seams::Relation;
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::LengthUnit;

fn done(garment: &Garment, change: PiecesChange) -> Altered {
    change.applied(garment).unwrap()
}

fn refused(garment: &Garment, change: PiecesChange) -> String {
    change.applied(garment).unwrap_err().to_string()
}

fn the<'a>(garment: &'a Garment, piece: &str) -> &'a Piece {
    garment.piece(piece).unwrap()
}

fn at(edge: &str, fraction: f64) -> OutlinePoint {
    OutlinePoint::new(edge, fraction)
}

fn cut(from: OutlinePoint, to: OutlinePoint) -> PiecesChange {
    PiecesChange::Cut {
        piece: "Front".to_owned(),
        from,
        to,
        through: None,
        name: "Side front".to_owned(),
        seam: "princess".to_owned(),
    }
}

fn girth(name: &str, parts: Vec<(&str, OutlinePoint, OutlinePoint)>) -> TapeLine {
    TapeLine {
        name: name.to_owned(),
        measure: Measure::BustGirth,
        share: 1.0,
        kind: TapeKind::Girth,
        parts: parts
            .into_iter()
            .map(|(piece, a, b)| TapePart {
                piece: piece.to_owned(),
                path: TapePath::Across(a, b),
            })
            .collect(),
        hold: Hold::Auto,
        overlap: crate::units::Mm(0.0),
        lacing_gap: crate::units::Mm(0.0),
    }
}

/// How far the points of one outline lie from another at most, mm.
fn apart(one: &Outline, other: &Outline) -> f64 {
    use kurbo::ParamCurveNearest;
    let path = other.path();
    let distance = |p: Point| {
        let near = path.segments().map(|s| s.nearest(p, 1e-9).distance_sq);
        near.fold(f64::INFINITY, f64::min).sqrt()
    };
    let mut most: f64 = 0.0;
    for edge in one.edges() {
        for i in 0..=20 {
            most = most.max(distance(edge.line.at(f64::from(i) / 20.0)));
        }
    }
    most
}

fn names(piece: &Piece) -> Vec<&str> {
    let mut names: Vec<&str> = piece
        .outline
        .edges()
        .iter()
        .map(|e| e.name.as_str())
        .collect();
    names.sort_unstable();
    names
}
