//! Notches: small marks on the cut line that meet when a seam is sewn.

use kurbo::{CubicBez, Line as Stroke, ParamCurve, ParamCurveArclen, Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::geometry::curve::{Line, direction_on};
use crate::geometry::parallel::{Spot, at_spot, meets_line, right_of};
use crate::tolerance::MEASURING;

/// A mark on an edge that meets its like on the mate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Notch {
    /// Edge that carries it.
    pub edge: String,
    /// Fraction of the edge's length, 0 to 1.
    pub fraction: f64,
    /// Single is read as front, double as back (handbook practice), triple as centre back.
    pub kind: NotchKind,
}

/// How many strokes a notch has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum NotchKind {
    /// One stroke.
    Single,
    /// Two strokes.
    Double,
    /// Three strokes.
    Triple,
}

/// Strokes of a notch on a cut line: from the cut line inwards, square to it, `depth` long.
///
/// `stitch` is the edge's stitch line; each stroke starts where its place on the stitch line, carried square outwards, meets
/// the cut line. The strokes of a double or triple notch lie [`stroke_spacing`] apart on the stitch line, the notch's place in
/// their middle.
pub fn strokes(stitch: &Line, notch: &Notch, cut: &[CubicBez], depth: f64) -> Vec<Stroke> {
    let lengths: Vec<f64> = stitch
        .cubics()
        .map(|c| c.arclen(MEASURING.0 * 1e-3))
        .collect();
    let length: f64 = lengths.iter().sum();
    if length <= 0.0 || !notch.fraction.is_finite() {
        return Vec::new();
    }
    let count = notch.kind.strokes();
    let spacing = stroke_spacing(depth);
    (0..count)
        .filter_map(|i| {
            let shift = spacing * (f64::from(i) - f64::from(count - 1) / 2.0);
            let along = (notch.fraction * length + shift).clamp(0.0, length);
            let (c, t) = located(stitch, &lengths, along)?;
            stroke_from(c.eval(t), right_of(direction_on(&c, t)), cut, depth)
        })
        .collect()
}

/// The cubic, and the parameter on it, that lies this far along a line whose cubics have these lengths.
fn located(line: &Line, lengths: &[f64], along: f64) -> Option<(CubicBez, f64)> {
    let mut rest = along;
    let mut found = None;
    for (c, length) in line
        .cubics()
        .zip(lengths)
        .filter(|(_, length)| **length > 0.0)
    {
        if rest < *length {
            let t = if rest <= 0.0 {
                0.0
            } else {
                c.inv_arclen(rest, MEASURING.0 * 1e-3)
            };
            return Some((c, t));
        }
        rest -= *length;
        found = Some((c, 1.0));
    }
    found
}

/// How far the strokes of a double or triple notch lie apart: two thirds of their length (common practice, no source).
pub fn stroke_spacing(depth: f64) -> f64 {
    depth * 2.0 / 3.0
}

/// A stroke where the ray from a point first meets the cut line.
pub(crate) fn stroke_from(from: Point, out: Vec2, cut: &[CubicBez], depth: f64) -> Option<Stroke> {
    let far = |spot: &Spot| (at_spot(cut, *spot) - from).dot(out);
    let spot = meets_line(cut, from, right_of(out))
        .into_iter()
        .filter(|spot| far(spot) > -MEASURING.0)
        .min_by(|a, b| far(a).total_cmp(&far(b)))?;
    let start = at_spot(cut, spot);
    let along = cut.get(spot.cubic).map(|c| direction_on(c, spot.t))?;
    Some(Stroke::new(start, start - right_of(along) * depth))
}

impl NotchKind {
    /// Its name: "single".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Single => "single",
            Self::Double => "double",
            Self::Triple => "triple",
        }
    }

    /// How many strokes it has.
    pub fn strokes(self) -> u32 {
        match self {
            Self::Single => 1,
            Self::Double => 2,
            Self::Triple => 3,
        }
    }
}
