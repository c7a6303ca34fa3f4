//! The girth of a garment at any height: a level line through every piece, as often as the piece goes round.
//!
//! A piece has its levels where its body lines lie; between them heights go in proportion to the body, beyond them by
//! the mm. The line is straight: on a flared piece the cloth along its curve is a little longer.

use kurbo::{Point, Vec2};

use super::across::cloth_through;
use super::{MeasuringError, Reading, ReadingPart};
use crate::body::Body;
use crate::garment::{Garment, times_on_tape};
use crate::geometry::curve::Line;
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Frame, Piece, Placement, Role};
use crate::seams::{Way, stretches_between};
use crate::tolerance::{JOINING, MEASURING};
use crate::units::Mm;

/// Share of a piece's depth that its edge may sag beyond a level that it ends at (common practice, no source).
const SAG: f64 = 0.1;

/// Share of the line at an edge that must be cloth to be measured straight.
const STRAIGHT_ENOUGH: f64 = 0.98;

/// A level line on a piece: a point, and its direction to the right.
struct LevelLine {
    at: Point,
    right: Vec2,
}

pub(super) fn read(
    garment: &Garment,
    body: &Body,
    level: Level,
    below: Mm,
) -> Result<Reading, MeasuringError> {
    if !below.0.is_finite() {
        return Err(MeasuringError::NotFinite);
    }
    let pieces: Vec<&Piece> = garment
        .pieces
        .iter()
        .map(|piece| &**piece)
        .filter(|piece| in_outer_layer(garment, piece) && frames(level).contains(&frame_of(piece)))
        .collect();
    let mut parts = Vec::new();
    let mut standing = Vec::new();
    for piece in pieces {
        let Some(line) = line_on(piece, body, level, below) else {
            continue;
        };
        let times = times(piece, body, level, below);
        match side_of(piece, &line) {
            Lies::Across => parts.extend(straight(piece, &line, times)),
            Lies::Below => parts.extend(at_edge(piece, body, level, below, &line, times)),
            Lies::Above => standing.extend(at_edge(piece, body, level, below, &line, times)),
            Lies::Elsewhere => {}
        }
    }
    // Where a bodice ends and a skirt begins the skirt is measured; a bodice without one is measured at its edge.
    if parts.is_empty() {
        parts = standing;
    }
    if parts.is_empty() {
        return Err(MeasuringError::NoCloth { level, below });
    }
    Ok(Reading {
        length: Mm(parts.iter().map(|part| part.length.0 * part.times).sum()),
        right_and_up: None,
        parts,
    })
}

/// Shell copies; those of any layer in a garment that has no shell.
fn in_outer_layer(garment: &Garment, piece: &Piece) -> bool {
    let has_shell = garment
        .pieces
        .iter()
        .any(|piece| piece.copies_in(Role::Shell) > 0);
    !has_shell || piece.copies_in(Role::Shell) > 0
}

fn frame_of(piece: &Piece) -> Option<Frame> {
    match piece.placement {
        Placement::Framed(frame) => Some(frame),
        Placement::Follows(_) => None,
    }
}

/// The parts of the body that have a level.
fn frames(level: Level) -> &'static [Option<Frame>] {
    match level {
        Level::Nape | Level::ShoulderPoint | Level::Across | Level::Bust | Level::Floor => {
            &[Some(Frame::Torso)]
        }
        Level::Waist | Level::Hip | Level::Knee => &[Some(Frame::Torso), Some(Frame::Leg)],
        Level::Crotch | Level::Ankle => &[Some(Frame::Leg)],
        Level::CapTop | Level::Underarm | Level::Elbow | Level::Wrist => &[Some(Frame::Arm)],
        Level::Brow | Level::Crown => &[Some(Frame::Head)],
    }
}

/// A tape round one arm or one leg meets the copies of one side.
fn times(piece: &Piece, body: &Body, level: Level, below: Mm) -> f64 {
    let height = body.height_of(level).0 - below.0;
    match frame_of(piece) {
        Some(Frame::Arm) => times_on_tape(piece, Measure::UpperArmGirth),
        Some(Frame::Leg) if height <= body.height_of(Level::Crotch).0 => {
            times_on_tape(piece, Measure::ThighGirth)
        }
        _ => piece.times_round(),
    }
}

fn ends(piece: &Piece, line: &BodyLine) -> Option<(Point, Point)> {
    let (a, b) = piece.point_at(&line.from).zip(piece.point_at(&line.to))?;
    Some(if a.x <= b.x { (a, b) } else { (b, a) })
}

/// Where a height lies on a piece.
fn line_on(piece: &Piece, body: &Body, level: Level, below: Mm) -> Option<LevelLine> {
    let wanted = body.height_of(level).0 - below.0;
    let mut levels: Vec<(f64, Point, Point)> = piece
        .body_lines
        .iter()
        .filter_map(|line| {
            let (a, b) = ends(piece, line)?;
            Some((body.height_of(line.level).0, a, b))
        })
        .collect();
    levels.sort_by(|x, y| x.0.total_cmp(&y.0));
    let near = |x: &&(f64, Point, Point)| (x.0 - wanted).abs();
    // The level itself, when it crosses the piece: exactly so far below its own line.
    let own = piece
        .body_lines
        .iter()
        .find(|line| line.level == level)
        .and_then(|line| ends(piece, line));
    if let Some((a, b)) = own {
        return Some(lowered(a, b, below.0));
    }
    let (lower, upper) = (
        levels.iter().rfind(|l| l.0 <= wanted),
        levels.iter().find(|l| l.0 >= wanted),
    );
    match (lower, upper) {
        (Some(low), Some(high)) if high.0 - low.0 > MEASURING.0 => {
            let share = (wanted - low.0) / (high.0 - low.0);
            let (a, b) = (low.1.lerp(high.1, share), low.2.lerp(high.2, share));
            Some(lowered(a, b, 0.0))
        }
        _ => {
            let nearest = levels.iter().min_by(|x, y| near(x).total_cmp(&near(y)))?;
            Some(lowered(nearest.1, nearest.2, nearest.0 - wanted))
        }
    }
}

/// The line through two points, so far below them.
fn lowered(a: Point, b: Point, by: f64) -> LevelLine {
    let way = b - a;
    let right = if way.hypot() > JOINING.0 {
        way / way.hypot()
    } else {
        Vec2::new(1.0, 0.0)
    };
    let up = Vec2::new(-right.y, right.x);
    LevelLine {
        at: a.midpoint(b) - up * by,
        right,
    }
}

/// How a piece lies to a level line.
#[derive(PartialEq)]
enum Lies {
    Across,
    Below,
    Above,
    Elsewhere,
}

fn side_of(piece: &Piece, line: &LevelLine) -> Lies {
    let up = Vec2::new(-line.right.y, line.right.x);
    let heights = piece.outline.edges().iter().flat_map(|edge| {
        (0..=8)
            .map(|i| edge.line.at(f64::from(i) / 8.0))
            .map(|p| (p - line.at).dot(up))
            .collect::<Vec<_>>()
    });
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), h| {
        (low.min(h), high.max(h))
    });
    let play = (SAG * (high - low)).max(JOINING.0);
    if low > JOINING.0 || high < -JOINING.0 {
        Lies::Elsewhere
    } else if high <= play {
        Lies::Below
    } else if low >= -play {
        Lies::Above
    } else {
        Lies::Across
    }
}

fn straight(piece: &Piece, line: &LevelLine, times: f64) -> Vec<ReadingPart> {
    cloth_through(piece, line.at, line.right)
        .into_iter()
        .map(|(a, b)| ReadingPart {
            piece: piece.name.clone(),
            line: Line::straight(a, b),
            length: Mm((b - a).hypot()),
            times,
        })
        .collect()
}

/// A piece that begins or ends at the level: measured straight where its edge is straight, else along its edge.
fn at_edge(
    piece: &Piece,
    body: &Body,
    level: Level,
    below: Mm,
    line: &LevelLine,
    times: f64,
) -> Vec<ReadingPart> {
    let wanted = body.height_of(level).0 - below.0;
    let own = piece.body_lines.iter().find(|own| {
        (own.level == level && below.0.abs() <= JOINING.0)
            || (body.height_of(own.level).0 - wanted).abs() <= JOINING.0
    });
    let found = straight(piece, line, times);
    let Some(own) = own else {
        return found;
    };
    let chord = ends(piece, own).map_or(0.0, |(a, b)| (b - a).hypot());
    let cloth: f64 = found.iter().map(|part| part.length.0).sum();
    if cloth >= STRAIGHT_ENOUGH * chord {
        return found;
    }
    let copy = crate::piece::Copy {
        side: crate::piece::Side::Whole,
        role: Role::Shell,
    };
    let Ok(along) = stretches_between(piece, copy, &own.from, &own.to, Way::Shorter) else {
        return found;
    };
    along
        .into_iter()
        .filter_map(|stretch| {
            let edge = piece.outline.edge(&stretch.edge)?;
            let length = edge.line.length() * (stretch.to - stretch.from).abs();
            Some(ReadingPart {
                piece: piece.name.clone(),
                line: edge.line.between(stretch.from, stretch.to)?,
                length: Mm(length),
                times,
            })
        })
        .collect()
}
