//! Going round an outline: from one place to another, counter-clockwise, bit by bit.

use crate::alteration::AlterationError;
use crate::edge::OutlinePoint;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::Piece;
use crate::tolerance::JOINING;

/// A place on an outline: the number of an edge and a fraction of it, below 1. A corner is the start of its edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub edge: usize,
    pub at: f64,
}

/// A bit of an edge, walked counter-clockwise.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Way {
    pub edge: usize,
    pub from: f64,
    pub to: f64,
    pub line: Line,
}

/// The spot of a place; one within [`JOINING`] of a corner is that corner.
pub(super) fn spot(piece: &Piece, at: &OutlinePoint) -> Result<Spot, AlterationError> {
    let missing = || AlterationError::NoEdge(at.edge.clone());
    let number = piece.outline.index_of(&at.edge).ok_or_else(missing)?;
    let edge = piece.outline.edge(&at.edge).ok_or_else(missing)?;
    if !at.fraction.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    let length = edge.line.length();
    let beyond = (-at.fraction).max(at.fraction - 1.0) * length;
    if beyond > JOINING.0 {
        return Err(AlterationError::Refused(format!(
            "{} is {length:.1} mm long, and the place lies {beyond:.1} mm beyond its end",
            at.edge
        )));
    }
    let count = piece.outline.edges().len();
    let along = at.fraction * length;
    Ok(if length - along <= JOINING.0 {
        Spot {
            edge: (number + 1) % count,
            at: 0.0,
        }
    } else if along <= JOINING.0 {
        Spot {
            edge: number,
            at: 0.0,
        }
    } else {
        Spot {
            edge: number,
            at: at.fraction,
        }
    })
}

/// The way round from one spot to another; once all round when they are the same.
pub(super) fn round(outline: &Outline, from: Spot, to: Spot) -> Vec<Way> {
    let count = outline.edges().len();
    let mut bits = Vec::new();
    if from.edge == to.edge && from.at < to.at {
        bits.push((from.edge, from.at, to.at));
    } else {
        bits.push((from.edge, from.at, 1.0));
        let steps = (to.edge + count - from.edge) % count;
        let steps = if steps == 0 { count } else { steps };
        bits.extend((1..steps).map(|i| ((from.edge + i) % count, 0.0, 1.0)));
        bits.push((to.edge, 0.0, to.at));
    }
    bits.into_iter()
        .filter(|(_, from, to)| from < to)
        .filter_map(|(edge, from, to)| {
            let whole = &outline.edges().get(edge)?.line;
            let line = if from <= 0.0 && to >= 1.0 {
                whole.clone()
            } else {
                whole.between(from, to)?
            };
            Some(Way {
                edge,
                from,
                to,
                line,
            })
        })
        .collect()
}

/// How far a spot lies along the outline from the start of its first edge, mm.
pub(super) fn along(outline: &Outline, spot: Spot) -> f64 {
    let before: f64 = outline
        .edges()
        .iter()
        .take(spot.edge)
        .map(|edge| edge.line.length())
        .sum();
    let own = outline
        .edges()
        .get(spot.edge)
        .map_or(0.0, |edge| edge.line.length());
    before + own * spot.at
}

/// Several lines end to end as one; straight ones that run on become one stroke. Ends up to [`JOINING`] apart are drawn together.
pub(super) fn one_line<'a>(lines: impl Iterator<Item = &'a Line>) -> Option<Line> {
    let mut points: Vec<kurbo::Point> = Vec::new();
    for line in lines {
        let skip = usize::from(!points.is_empty());
        points.extend(line.points().iter().skip(skip));
    }
    let whole = Line::new(points).ok()?;
    let (a, b) = (whole.start(), whole.end());
    let chord = (b - a).hypot();
    if whole.is_straight() && (whole.length() - chord).abs() <= 1e-9 {
        return Some(Line::straight(a, b));
    }
    Some(whole)
}
