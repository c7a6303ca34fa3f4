//! Closed forms, folding by numbers, and laws.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod closed_forms;
mod drawn_in;
mod folded;
mod laws;

use super::*;
use crate::body::Measured;
use crate::edge::{Edge, FinishStretch};
use crate::geometry::crossing::self_crossings;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::geometry::parallel::{FIT, right_of};
use crate::piece::{Dart, DartPress, Follow, FollowRule, Piece, Placement};
use kurbo::{
    Affine, BezPath, CubicBez, ParamCurve, ParamCurveNearest, PathSeg, Point, Shape, Vec2,
};
use proptest::prelude::*;
use std::collections::BTreeMap;

pub(crate) fn piece(edges: Vec<Edge>) -> Piece {
    let rule = FollowRule::Detail;
    Piece {
        name: "piece".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Follows(Follow {
            length: rule.clone(),
            depth: rule,
        }),
        body_lines: vec![],
        darts: vec![],
        notches: vec![],
        marks: vec![],
        grainline: None,
        face: Default::default(),
        fullness: vec![],
        copies: vec![],
    }
}

/// Straight edges "0", "1", ... between the corners, with their finishes.
pub(crate) fn straight_piece(corners: &[(f64, f64)], finishes: &[Finish]) -> Piece {
    let n = corners.len();
    piece(
        (0..n)
            .map(|i| {
                Edge::finished(
                    i.to_string(),
                    Line::straight(corners[i].into(), corners[(i + 1) % n].into()),
                    finishes[i % finishes.len()],
                )
            })
            .collect(),
    )
}

fn circle(r: f64, clockwise_hole: bool) -> Vec<CubicBez> {
    let k = 0.552_284_749_830_793_6 * r;
    let quarter = CubicBez::new((r, 0.0), (r, k), (k, r), (0.0, r));
    let list: Vec<CubicBez> = (0..4)
        .map(|i| Affine::rotate(f64::from(i) * std::f64::consts::FRAC_PI_2) * quarter)
        .collect();
    if clockwise_hole {
        crate::geometry::parallel::turned_round(&list)
    } else {
        list
    }
}

fn plan(seam: f64) -> AllowancePlan {
    AllowancePlan {
        seam: Mm(seam),
        ..AllowancePlan::default()
    }
}

fn kinds(cut: &CutLine) -> Vec<CornerKind> {
    cut.corners.iter().map(|c| c.kind).collect()
}

pub(crate) fn distance(path: &BezPath, p: Point) -> f64 {
    path.segments()
        .map(|s: PathSeg| s.nearest(p, 1e-9).distance_sq)
        .fold(f64::INFINITY, f64::min)
        .sqrt()
}

fn corner_points(cut: &CutLine) -> Vec<Point> {
    cut.chain.iter().map(|c| c.p0).collect()
}

fn has_corner(cut: &CutLine, p: (f64, f64)) -> bool {
    corner_points(cut)
        .iter()
        .any(|c| (*c - Point::from(p)).hypot() < 1e-6)
}

const RECTANGLE: [(f64, f64); 4] = [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)];
