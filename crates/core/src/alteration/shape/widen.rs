//! Width added at an edge, tapering from one end to the other.

use kurbo::{CubicBez, Vec2};

use super::edges::edge_at;
use super::kept::Reshaped;
use crate::alteration::AlterationError;
use crate::alteration::moves::{finite, follow, index_of, slide};
use crate::geometry::curve::{Line, direction_on};
use crate::piece::Piece;
use crate::units::Mm;

/// Moves an edge outwards, by one amount at its start and another at its end; its corners slide along the neighbours.
pub(super) fn widen(
    piece: &Piece,
    name: &str,
    at_start: Mm,
    at_end: Mm,
) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, name)?;
    if crate::alteration::shape::kept::dart_of(piece, name).is_some() {
        return Err(AlterationError::DartLeg(name.to_owned()));
    }
    let (first, last) = (finite(at_start.0)?, finite(at_end.0)?);
    let edges = piece.outline.edges();
    let count = edges.len();
    if count < 3 {
        return Err(AlterationError::Refused(format!(
            "{name} has no two neighbours to move along; split the outline into at least 3 edges first"
        )));
    }
    let edge = edge_at(piece, index, name)?;
    let before = edge_at(piece, (index + count - 1) % count, name)?;
    let after = edge_at(piece, (index + 1) % count, name)?;
    let line = &edge.line;
    let start = slide(line.direction(0.0), before.line.direction(1.0), first);
    let end = slide(line.direction(1.0), after.line.direction(0.0), last);
    let lines = edges.iter().enumerate().map(|(i, edge)| {
        if i == index {
            parallel(line, (first, last), start, end)
        } else if i == (index + count - 1) % count {
            Some(follow(&edge.line, Vec2::ZERO, start))
        } else if i == (index + 1) % count {
            Some(follow(&edge.line, end, Vec2::ZERO))
        } else {
            Some(edge.line.clone())
        }
    });
    let lines: Option<Vec<Line>> = lines.collect();
    Reshaped::with_lines(piece, lines.ok_or(AlterationError::Crosses)?)
}

/// A line moved sideways by one amount at its start and another at its end, its ends slipping along it to their new
/// corners; every cubic keeps its shape.
pub(in crate::alteration) fn parallel(
    line: &Line,
    (first, last): (f64, f64),
    start: Vec2,
    end: Vec2,
) -> Option<Line> {
    if line.is_straight() {
        return Some(Line::straight(line.start() + start, line.end() + end));
    }
    let length = line.length();
    let (slip, slip_end) = (start.dot(line.direction(0.0)), end.dot(line.direction(1.0)));
    let shift = |fraction: f64, direction: Vec2| {
        let along = slip * (1.0 - fraction) + slip_end * fraction;
        let out = first * (1.0 - fraction) + last * fraction;
        direction * along - direction.turn_90() * out
    };
    let mut along = 0.0;
    let mut moved = Vec::new();
    for cubic in line.cubics() {
        let from = along / length;
        along += Line::from_cubics(&[cubic])?.length();
        let (p0, p3) = (
            cubic.p0 + shift(from, direction_on(&cubic, 0.0)),
            cubic.p3 + shift(along / length, direction_on(&cubic, 1.0)),
        );
        let chord = (cubic.p3 - cubic.p0).hypot();
        let scale = if chord > 0.0 {
            (p3 - p0).hypot() / chord
        } else {
            1.0
        };
        moved.push(CubicBez::new(
            p0,
            p0 + (cubic.p1 - cubic.p0) * scale,
            p3 + (cubic.p2 - cubic.p3) * scale,
            p3,
        ));
    }
    Line::from_cubics(&moved)
}
