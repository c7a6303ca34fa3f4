//! What two pages show alike is kept once.

use petitoile_core::kurbo::{Affine, BezPath, PathEl, Point};

use super::cells::Cells;
use super::nearby::look;
use crate::bring_in::{BringInError, FoundLine, FoundPoint, FoundText, Pace};

/// A thing in the joined sheet and the page it comes from.
pub(super) struct From<T> {
    pub page: usize,
    pub thing: T,
}

/// How many were left out, and how far the farthest of them lay from the one kept, mm.
#[derive(Default, Clone, Copy)]
pub(super) struct Dropped {
    pub count: usize,
    pub off: f64,
}

/// Leaves out whole lines that an earlier page shows too.
pub(super) fn lines(
    all: Vec<From<FoundLine>>,
    tolerance: f64,
    pace: &Pace<'_>,
) -> Result<(Vec<From<FoundLine>>, Dropped), BringInError> {
    let count = all.len();
    let mut kept: Vec<(From<FoundLine>, u64)> = Vec::new();
    let mut cells: Cells<usize> = Cells::new(2.0 * tolerance);
    let mut dropped = Dropped::default();
    for (number, line) in all.into_iter().enumerate() {
        if number % 256 == 0 {
            pace.step(number, count)?;
        }
        let look = look(&line.thing);
        let corner = line.thing.path.control_box().origin();
        let double = cells
            .near(corner)
            .filter_map(|index| kept.get(index))
            .filter(|(other, its)| {
                other.page != line.page && *its == look && other.thing.closed == line.thing.closed
            })
            .filter_map(|(other, _)| apart(&other.thing.path, &line.thing.path))
            .find(|off| *off < tolerance);
        if let Some(off) = double {
            dropped.count += 1;
            dropped.off = dropped.off.max(off);
        } else {
            cells.put(corner, kept.len());
            kept.push((line, look));
        }
    }
    Ok((kept.into_iter().map(|(line, _)| line).collect(), dropped))
}

/// The farthest that two paths of the same kind of steps lie apart; `None` when their steps differ.
fn apart(a: &BezPath, b: &BezPath) -> Option<f64> {
    let (a, b) = (a.elements(), b.elements());
    if a.len() != b.len() {
        return None;
    }
    let mut off = 0.0_f64;
    let mut see = |p: &Point, q: &Point| off = off.max(p.distance(*q));
    for (a, b) in a.iter().zip(b) {
        match (a, b) {
            (PathEl::MoveTo(p), PathEl::MoveTo(q)) | (PathEl::LineTo(p), PathEl::LineTo(q)) => {
                see(p, q);
            }
            (PathEl::QuadTo(p, r), PathEl::QuadTo(q, s)) => {
                see(p, q);
                see(r, s);
            }
            (PathEl::CurveTo(p, r, t), PathEl::CurveTo(q, s, u)) => {
                see(p, q);
                see(r, s);
                see(t, u);
            }
            (PathEl::ClosePath, PathEl::ClosePath) => {}
            _ => return None,
        }
    }
    Some(off)
}

/// Leaves out texts that an earlier page shows too.
pub(super) fn texts(all: Vec<From<FoundText>>) -> (Vec<FoundText>, usize) {
    const NEAR: f64 = 1.0;
    let mut kept: Vec<From<FoundText>> = Vec::new();
    let mut cells: Cells<usize> = Cells::new(NEAR);
    let mut dropped = 0;
    for text in all {
        let double = cells
            .near(text.thing.at)
            .filter_map(|index| kept.get(index))
            .any(|other| {
                other.page != text.page
                    && other.thing.words == text.thing.words
                    && other.thing.at.distance(text.thing.at) < NEAR
                    && (other.thing.turn - text.thing.turn).abs() < 1.0
            });
        if double {
            dropped += 1;
        } else {
            cells.put(text.thing.at, kept.len());
            kept.push(text);
        }
    }
    (kept.into_iter().map(|text| text.thing).collect(), dropped)
}

/// Leaves out points that an earlier page shows too.
pub(super) fn points(all: Vec<From<FoundPoint>>, tolerance: f64) -> Vec<FoundPoint> {
    let mut kept: Vec<From<FoundPoint>> = Vec::new();
    let mut cells: Cells<usize> = Cells::new(tolerance);
    for point in all {
        let double = cells
            .near(point.thing.at)
            .filter_map(|index| kept.get(index))
            .any(|other| {
                other.page != point.page
                    && other.thing.meaning == point.thing.meaning
                    && other.thing.at.distance(point.thing.at) < tolerance
            });
        if !double {
            cells.put(point.thing.at, kept.len());
            kept.push(point);
        }
    }
    kept.into_iter().map(|point| point.thing).collect()
}

/// A line moved to the joined sheet.
pub(super) fn moved(line: &FoundLine, joined_from_page: Affine) -> FoundLine {
    FoundLine {
        path: joined_from_page * &line.path,
        ..line.clone()
    }
}
