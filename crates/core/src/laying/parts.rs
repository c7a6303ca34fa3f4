//! A shape cut in parts along straight seams, each part with its allowance.
//!
//! Beyond a seam every part gets a strip of cloth as wide as the allowance and as long as the seam, its ends cut square to
//! it: what sticks out at the ends is trimmed once the seam is sewn. So the parts together are larger than the whole by
//! twice the allowance times the length of the seams, and sewn together they are the whole again.

use kurbo::{Line, Point, Vec2};

use super::LayShape;
use crate::geometry::closed::{area, counter_clockwise, crosses_itself, sides, split, tidied};
use crate::lay_plan::{Piecing, PiecingKind};
use crate::tolerance::JOINING;
use crate::units::{LengthUnit, Mm};

/// Why a shape cannot be cut in these parts.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PartsError {
    /// A seam that does not cross the shape.
    #[error(
        "{piece}: the middle of the new seam lies outside the piece; the piece was altered, choose anew how it is cut"
    )]
    Outside {
        /// Name of the piece.
        piece: String,
    },
    /// Seams that meet each other.
    #[error("{piece}: two new seams meet each other; keep them apart")]
    Meet {
        /// Name of the piece.
        piece: String,
    },
    /// An allowance that would overlap its own part.
    #[error(
        "{piece}: beside the new seam there is no room for {} of allowance; move the seam, or make its allowance narrower",
        LengthUnit::Millimetre.show(*.allowance)
    )]
    NoRoom {
        /// Name of the piece.
        piece: String,
        /// The allowance.
        allowance: Mm,
    },
    /// An allowance that is none.
    #[error("{piece}: the allowance of the new seam is {0}; it must be between 0 and 100 mm", LengthUnit::Millimetre.show(*.allowance))]
    Allowance {
        /// Name of the piece.
        piece: String,
        /// The allowance.
        allowance: Mm,
    },
}

/// Widest allowance of a new seam, mm.
const WIDEST: f64 = 100.0;

/// A part on the way: its corners, and its sides that are new seams.
struct Part {
    corners: Vec<Point>,
    seams: Vec<(usize, Point, Point)>,
}

/// The new seams as they are sewn, from cut line to cut line, in the order of [`Piecing::lines`].
///
/// # Errors
/// [`PartsError`] when a seam does not cross the shape, or meets another one.
pub fn seam_lines(whole: &LayShape, piecing: &Piecing) -> Result<Vec<Line>, PartsError> {
    Ok(cut_apart(whole, piecing)?.1)
}

/// The parts of a shape, each with the allowance of the piecing along its new seams.
///
/// Halves and segments come from left to right as drawn (from the top, where they lie under one another), of a patched
/// piece the main part comes first, then the patches in the order of the seams.
///
/// # Errors
/// [`PartsError`] when a seam does not cross the shape, meets another one, or has no room for its allowance.
pub fn parts(whole: &LayShape, piecing: &Piecing) -> Result<Vec<LayShape>, PartsError> {
    let piece = || piecing.of.piece.clone();
    let allowance = piecing.allowance;
    if !(0.0..=WIDEST).contains(&allowance.0) {
        return Err(PartsError::Allowance {
            piece: piece(),
            allowance,
        });
    }
    let (mut parts, lines) = cut_apart(whole, piecing)?;
    sort(&mut parts, piecing.kind, &lines);
    parts
        .iter()
        .map(|part| {
            let outline = part
                .with_allowance(allowance.0)
                .ok_or_else(|| PartsError::Meet { piece: piece() })?;
            if crosses_itself(&outline).is_some() {
                return Err(PartsError::NoRoom {
                    piece: piece(),
                    allowance,
                });
            }
            Ok(LayShape {
                outline,
                fold: None,
                ..whole.clone()
            })
        })
        .collect()
}

/// The parts without allowance, and the seams between them.
fn cut_apart(whole: &LayShape, piecing: &Piecing) -> Result<(Vec<Part>, Vec<Line>), PartsError> {
    let piece = || piecing.of.piece.clone();
    let mut parts = vec![Part {
        corners: counter_clockwise(whole.outline.clone()),
        seams: Vec::new(),
    }];
    let mut lines = Vec::new();
    for (number, (a, b)) in piecing.lines.iter().enumerate() {
        let middle = a.midpoint(*b);
        let found = parts
            .iter()
            .enumerate()
            .find_map(|(i, part)| split(&part.corners, middle, *b - *a).map(|split| (i, split)));
        let Some((i, split)) = found else {
            return Err(PartsError::Outside { piece: piece() });
        };
        let (from, to) = split.cut;
        let old = parts.swap_remove(i);
        for (corners, seam) in [
            (split.left, (number, from, to)),
            (split.right, (number, to, from)),
        ] {
            let has = |seam: &(usize, Point, Point)| place_of(&corners, seam.1, seam.2).is_some();
            let mut seams: Vec<_> = old.seams.iter().copied().filter(has).collect();
            seams.push(seam);
            parts.push(Part { corners, seams });
        }
        lines.push(Line::new(from, to));
    }
    // Every seam has to lie whole in two parts: else another one cut across it.
    let sides: usize = parts.iter().map(|part| part.seams.len()).sum();
    if sides != 2 * lines.len() {
        return Err(PartsError::Meet { piece: piece() });
    }
    Ok((parts, lines))
}

/// The number of the side that runs from one of these points to the other.
fn place_of(corners: &[Point], from: Point, to: Point) -> Option<usize> {
    let near = |p: Point, q: Point| (p - q).hypot() <= JOINING.0;
    sides(corners).position(|(a, b)| near(a, from) && near(b, to))
}

impl Part {
    /// Its outline with a strip this wide beyond every seam; `None` when a seam is no side of it.
    fn with_allowance(&self, allowance: f64) -> Option<Vec<Point>> {
        let mut places = Vec::new();
        for (_, from, to) in &self.seams {
            places.push((place_of(&self.corners, *from, *to)?, *from, *to));
        }
        let mut outline = Vec::with_capacity(self.corners.len() + 2 * places.len());
        for (i, corner) in self.corners.iter().enumerate() {
            outline.push(*corner);
            if let Some((_, from, to)) = places.iter().find(|(place, _, _)| *place == i)
                && allowance > 0.0
            {
                let along = (*to - *from) / (*to - *from).hypot();
                let out = Vec2::new(along.y, -along.x) * allowance;
                outline.extend([*from + out, *to + out]);
            }
        }
        Some(tidied(&outline))
    }

    fn middle(&self) -> Vec2 {
        let count = self.corners.len().max(1) as f64;
        let sum = |sum: Vec2, p: &Point| sum + p.to_vec2();
        self.corners.iter().fold(Vec2::ZERO, sum) / count
    }
}

fn sort(parts: &mut [Part], kind: PiecingKind, lines: &[Line]) {
    match kind {
        PiecingKind::Patch => {
            let largest = parts
                .iter()
                .map(|part| area(&part.corners))
                .fold(0.0, f64::max);
            let first_seam = |part: &Part| {
                let is_main = area(&part.corners) >= largest;
                let seam = part.seams.iter().map(|(number, _, _)| *number).min();
                (!is_main, seam)
            };
            parts.sort_by_key(first_seam);
        }
        PiecingKind::AlongFold | PiecingKind::Strip => {
            let Some(line) = lines.first() else { return };
            let across = across(*line);
            let at = |part: &Part| part.middle().dot(across);
            parts.sort_by(|a, b| at(a).total_cmp(&at(b)));
        }
    }
}

/// Square to a seam: to the right as drawn, or down where the seam lies level.
pub(super) fn across(line: Line) -> Vec2 {
    let along = line.p1 - line.p0;
    let across = Vec2::new(along.y, -along.x);
    let size = along.hypot();
    let level = across.x.abs() <= JOINING.0 * size;
    if (level && across.y > 0.0) || (!level && across.x < 0.0) {
        -across
    } else {
        across
    }
}
