//! Places on a piece in the words of the cutter: a corner, a height, the point nearest to another.

use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveNearest, Point};

use crate::edge::OutlinePoint;
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::tolerance::MEASURING;

/// Fraction of a line's length at the place nearest to a point.
pub(super) fn nearest_fraction(line: &Line, to: Point) -> f64 {
    let accuracy = MEASURING.0 * 1e-3;
    let (mut best, mut before, mut at) = (f64::INFINITY, 0.0, 0.0);
    for cubic in line.cubics() {
        let near = cubic.nearest(to, accuracy * 1e-3);
        if near.distance_sq < best {
            best = near.distance_sq;
            at = before
                + if near.t <= 0.0 {
                    0.0
                } else {
                    cubic.subsegment(0.0..near.t).arclen(accuracy)
                };
        }
        before += cubic.arclen(accuracy);
    }
    if before > 0.0 {
        (at / before).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// Fraction of a line's length where it first comes to the height `y`; `None` when it never does.
pub(super) fn fraction_at_height(line: &Line, y: f64) -> Option<f64> {
    const STEPS: u32 = 32;
    for cubic in line.cubics() {
        for step in 0..STEPS {
            let (mut low, mut high) = (
                f64::from(step) / f64::from(STEPS),
                f64::from(step + 1) / f64::from(STEPS),
            );
            let above = |t: f64| cubic.eval(t).y - y;
            if above(low) * above(high) > 0.0 {
                continue;
            }
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if above(low) * above(middle) <= 0.0 {
                    high = middle
                } else {
                    low = middle
                }
            }
            return Some(nearest_fraction(line, cubic.eval(f64::midpoint(low, high))));
        }
    }
    None
}

impl Piece {
    /// The place on an edge nearest to a point.
    pub(super) fn on(&self, edge: &str, at: Point) -> Option<OutlinePoint> {
        Some(OutlinePoint::new(
            edge,
            nearest_fraction(&self.outline.edge(edge)?.line, at),
        ))
    }

    /// The place where an edge comes to a height.
    pub(super) fn at_height(&self, edge: &str, y: f64) -> Option<OutlinePoint> {
        Some(OutlinePoint::new(
            edge,
            fraction_at_height(&self.outline.edge(edge)?.line, y)?,
        ))
    }

    /// The corner of an edge that it shares with a neighbour.
    pub(super) fn corner(&self, edge: &str, neighbour: &str) -> Option<OutlinePoint> {
        let at = self.outline.index_of(edge)?;
        let edges = self.outline.edges();
        let before = if at == 0 {
            edges.last()?
        } else {
            edges.get(at - 1)?
        };
        let after = edges.get(at + 1).or_else(|| edges.first())?;
        if before.name == neighbour {
            Some(OutlinePoint::new(edge, 0.0))
        } else {
            (after.name == neighbour).then(|| OutlinePoint::new(edge, 1.0))
        }
    }
}

/// A place on a piece, in the words of the cutter.
#[derive(Debug, Clone, Copy)]
pub(super) enum At<'a> {
    /// The corner of the first edge that it shares with the second.
    Corner(&'a str, &'a str),
    /// Where the edge comes to this height.
    Height(&'a str, f64),
    /// The place on the edge nearest to the point.
    Near(&'a str, Point),
}
