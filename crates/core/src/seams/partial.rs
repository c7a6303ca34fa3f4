//! Partial seams: from this dot round to that one, over as many edges as lie between.

use kurbo::{ParamCurveNearest, Point};

use super::Stretch;
use crate::edge::OutlinePoint;
use crate::piece::{Copy, MarkKind, Piece};
use crate::tolerance::{JOINING, MEASURING};
use crate::units::Mm;

/// Which way round an outline is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// As it is drawn, counter-clockwise: the piece lies on the left.
    Drawn,
    /// Against it: the piece lies on the right.
    Against,
    /// Whichever of the two is shorter.
    Shorter,
    /// Whichever of the two is longer.
    Longer,
}

/// Why there is nothing to sew between two places.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PartialError {
    /// An edge that is not there.
    #[error("{piece} has no edge called {edge}; choose the place again")]
    NoEdge {
        /// The piece.
        piece: String,
        /// The edge.
        edge: String,
    },
    /// Both places are the same.
    #[error("{0}: both ends of the stretch lie in the same place; choose another end")]
    Nothing(String),
    /// A fold lies between.
    #[error(
        "{piece}: {edge} lies between and is cut on the fold; sew the other way round, or up to the fold"
    )]
    Fold {
        /// The piece.
        piece: String,
        /// The folded edge.
        edge: String,
    },
}

/// The stretches from one place on an outline round to another, in sewing order; dart legs between are left out.
///
/// # Errors
/// [`PartialError`] when an edge is not there, both places are one, or a fold lies between.
///
/// # Example
/// From a dot on the side seam round the corner to a dot on the hem: two stretches.
pub fn stretches_between(
    piece: &Piece,
    copy: Copy,
    from: &OutlinePoint,
    to: &OutlinePoint,
    way: Way,
) -> Result<Vec<Stretch>, PartialError> {
    let drawn = || walk(piece, copy, from, to);
    let against = || walk(piece, copy, to, from).map(turned);
    match way {
        Way::Drawn => drawn(),
        Way::Against => against(),
        Way::Shorter | Way::Longer => match (drawn(), against()) {
            (Ok(drawn), Ok(against)) => {
                let shorter_against = length(piece, &against) < length(piece, &drawn);
                let take_against = shorter_against == (way == Way::Shorter);
                Ok(if take_against { against } else { drawn })
            }
            (Err(PartialError::Fold { .. }), Ok(found))
            | (Ok(found), Err(PartialError::Fold { .. })) => Ok(found),
            (Err(why), _) | (_, Err(why)) => Err(why),
        },
    }
}

/// A side of a seam walked from its other end.
fn turned(stretches: Vec<Stretch>) -> Vec<Stretch> {
    let turn = |stretch: Stretch| Stretch {
        from: stretch.to,
        to: stretch.from,
        ..stretch
    };
    stretches.into_iter().rev().map(turn).collect()
}

fn length(piece: &Piece, stretches: &[Stretch]) -> f64 {
    let one = |s: &Stretch| {
        let edge = piece.outline.edge(&s.edge)?;
        Some(edge.line.length() * (s.to - s.from).abs())
    };
    stretches.iter().filter_map(one).sum()
}

/// Counter-clockwise from one place to another.
fn walk(
    piece: &Piece,
    copy: Copy,
    from: &OutlinePoint,
    to: &OutlinePoint,
) -> Result<Vec<Stretch>, PartialError> {
    let index = |at: &OutlinePoint| {
        piece
            .outline
            .index_of(&at.edge)
            .ok_or_else(|| PartialError::NoEdge {
                piece: piece.name.clone(),
                edge: at.edge.clone(),
            })
    };
    let (first, last) = (index(from)?, index(to)?);
    let (start, end) = (from.fraction.clamp(0.0, 1.0), to.fraction.clamp(0.0, 1.0));
    let edges = piece.outline.edges();
    // On one edge the way leads once round when its end lies before its start.
    let steps = if first == last && start <= end {
        0
    } else if last > first {
        last - first
    } else {
        last + edges.len() - first
    };
    let mut found = Vec::new();
    for (number, edge) in edges.iter().cycle().skip(first).take(steps + 1).enumerate() {
        let low = if number == 0 { start } else { 0.0 };
        let high = if number == steps { end } else { 1.0 };
        let is_leg = piece
            .darts
            .iter()
            .any(|dart| dart.leg_in == edge.name || dart.leg_out == edge.name);
        if is_leg || edge.line.length() * (high - low) <= MEASURING.0 {
            continue;
        }
        if edge.is_fold() {
            return Err(PartialError::Fold {
                piece: piece.name.clone(),
                edge: edge.name.clone(),
            });
        }
        found.push(Stretch {
            piece: piece.name.clone(),
            copy,
            edge: edge.name.clone(),
            from: low,
            to: high,
        });
    }
    if found.is_empty() {
        return Err(PartialError::Nothing(piece.name.clone()));
    }
    Ok(found)
}

/// The place on an outline that is nearest to a point of its drawing, and how far off it is.
pub fn place_near(piece: &Piece, point: Point) -> Option<(OutlinePoint, Mm)> {
    let mut nearest: Option<(OutlinePoint, f64)> = None;
    for edge in piece.outline.edges() {
        let whole = edge.line.length();
        let mut before = 0.0;
        for cubic in edge.line.cubics() {
            let length = kurbo::ParamCurveArclen::arclen(&cubic, MEASURING.0 * 1e-3);
            let found = cubic.nearest(point, JOINING.0 * 1e-3);
            let off = found.distance_sq.sqrt();
            if nearest.as_ref().is_none_or(|(_, best)| off < *best) {
                let part = kurbo::ParamCurve::subsegment(&cubic, 0.0..found.t);
                let along = before + kurbo::ParamCurveArclen::arclen(&part, MEASURING.0 * 1e-3);
                let fraction = if whole > 0.0 {
                    (along / whole).min(1.0)
                } else {
                    0.0
                };
                nearest = Some((OutlinePoint::new(&edge.name, fraction), off));
            }
            before += length;
        }
    }
    nearest.map(|(at, off)| (at, Mm(off)))
}

impl Piece {
    /// Where a dot stands for its place on the outline: the nearest place on it, and how far the dot lies from it.
    pub fn dot_on_outline(&self, name: &str) -> Option<(OutlinePoint, Mm)> {
        let dot = self.marks.iter().find_map(|mark| match mark.kind {
            MarkKind::Dot(at) if mark.name == name => Some(at),
            _ => None,
        })?;
        place_near(self, dot)
    }
}
