//! An edge raised by different amounts along its length: how a waist edge is levelled over a pad.

use kurbo::{CubicBez, Point, Vec2};

use super::edges::edge_at;
use super::kept::{Reshaped, dart_of};
use crate::alteration::AlterationError;
use crate::alteration::moves::{finite, follow, index_of};
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::units::Mm;

/// Raises an edge, square to nothing but along its neighbours: each corner runs on along the edge it shares the corner
/// with, and the places between them in directions that turn evenly from one corner's to the other's. So the opposite
/// edge (a hem) stays where it is, and two pieces raised alike at a shared seam still fit there. Beside a dart the corner rises
/// square to the edge, so that the dart keeps its width.
///
/// `by` are the amounts at evenly spaced places from the start of the edge to its end, two at least.
pub(super) fn raise(piece: &Piece, name: &str, by: &[Mm]) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, name)?;
    if dart_of(piece, name).is_some() {
        return Err(AlterationError::DartLeg(name.to_owned()));
    }
    let by: Vec<f64> = by.iter().map(|by| finite(by.0)).collect::<Result<_, _>>()?;
    let edges = piece.outline.edges();
    let count = edges.len();
    let (Some(first), Some(last)) = (by.first(), by.last()) else {
        return Err(too_few(name, 0));
    };
    if by.len() < 2 || count < 3 {
        return Err(too_few(name, by.len()));
    }
    let line = &edge_at(piece, index, name)?.line;
    let before = edge_at(piece, (index + count - 1) % count, name)?;
    let after = edge_at(piece, (index + 1) % count, name)?;
    // Along the leg of a dart its mouth would open wider: there the corner rises square to the edge, both legs alike.
    let square = |at: f64| -line.direction(at).turn_90();
    let way = |leg: &str, along: Vec2, at: f64| match dart_of(piece, leg) {
        Some(_) => square(at),
        None => along,
    };
    let from = way(&before.name, before.line.direction(1.0), 0.0);
    let to = way(&after.name, -after.line.direction(0.0), 1.0);
    let raised = raised(line, &by, from, to).ok_or(AlterationError::Crosses)?;
    let lines = edges.iter().enumerate().map(|(i, edge)| {
        if i == index {
            raised.clone()
        } else if i == (index + count - 1) % count {
            follow(&edge.line, Vec2::ZERO, from * *first)
        } else if i == (index + 1) % count {
            follow(&edge.line, to * *last, Vec2::ZERO)
        } else {
            edge.line.clone()
        }
    });
    Reshaped::with_lines(piece, lines.collect())
}

fn too_few(name: &str, given: usize) -> AlterationError {
    AlterationError::Refused(format!(
        "{name} is raised at {given} places; give two or more, on a piece of at least 3 edges"
    ))
}

/// The line through the raised places, with the directions it has there.
fn raised(line: &Line, by: &[f64], from: Vec2, to: Vec2) -> Option<Line> {
    let steps = by.len().checked_sub(1)?;
    let share = |i: usize| i as f64 / steps as f64;
    let way = |i: usize| {
        let mixed = from * (1.0 - share(i)) + to * share(i);
        let size = mixed.hypot();
        if size > 1e-9 { mixed / size } else { from }
    };
    let shifts: Vec<Vec2> = by.iter().enumerate().map(|(i, by)| way(i) * *by).collect();
    let length = line.length();
    let point = |i: usize| -> Option<Point> { Some(line.at(share(i)) + *shifts.get(i)?) };
    // How the place moves on while the edge is walked from end to end.
    let tangent = |i: usize| -> Option<Vec2> {
        let (low, high) = (i.saturating_sub(1), (i + 1).min(steps));
        let slope = (*shifts.get(high)? - *shifts.get(low)?) / (share(high) - share(low));
        Some(line.direction(share(i)) * length + slope)
    };
    let third = 1.0 / (3.0 * steps as f64);
    let cubics: Option<Vec<CubicBez>> = (0..steps)
        .map(|i| {
            let (a, b) = (point(i)?, point(i + 1)?);
            Some(CubicBez::new(
                a,
                a + tangent(i)? * third,
                b - tangent(i + 1)? * third,
                b,
            ))
        })
        .collect();
    Line::from_cubics(&cubics?)
}
