//! Lines of the body and tapes that ran over a seam run from outer end to outer end when it is gone.

use std::sync::Arc;

use super::side::SideRun;
use crate::alteration::Altered;
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::measure::Level;
use crate::piece::BodyLine;
use crate::tape::{TapePart, TapePath};

/// A line of the body or a tape that ran over the seam: its outer ends on the first and on the second piece.
pub(super) enum Across {
    Level(Level, OutlinePoint, String, OutlinePoint, String),
    Tape(
        usize,
        usize,
        bool,
        OutlinePoint,
        String,
        OutlinePoint,
        String,
    ),
}

pub(super) fn levels_over(
    before: &mut Garment,
    a: &SideRun,
    b: &SideRun,
    across: &mut Vec<Across>,
) {
    let ends = |piece: &str, run: &SideRun| -> Vec<(Level, OutlinePoint)> {
        let lines = before
            .piece(piece)
            .map(|p| p.body_lines.clone())
            .unwrap_or_default();
        let outer = |line: &BodyLine| run.outer_end(&line.from, &line.to).cloned();
        lines
            .iter()
            .filter_map(|line| Some((line.level, outer(line)?)))
            .collect()
    };
    let (first, second) = (ends(&a.piece, a), ends(&b.piece, b));
    for (level, from) in first {
        let Some((_, to)) = second.iter().find(|(other, _)| *other == level) else {
            continue;
        };
        for run in [a, b] {
            if let Some(slot) = before.pieces.iter_mut().find(|p| p.name == run.piece) {
                Arc::make_mut(slot).body_lines.retain(|line| {
                    line.level != level || run.outer_end(&line.from, &line.to).is_none()
                });
            }
        }
        across.push(Across::Level(
            level,
            from,
            a.piece.clone(),
            to.clone(),
            b.piece.clone(),
        ));
    }
}

pub(super) fn tapes_over(before: &mut Garment, a: &SideRun, b: &SideRun, across: &mut Vec<Across>) {
    let outer = |part: &TapePart, run: &SideRun| -> Option<(bool, OutlinePoint)> {
        if part.piece != run.piece {
            return None;
        }
        match &part.path {
            TapePath::Across(p, q) => Some((true, run.outer_end(p, q)?.clone())),
            TapePath::Upright(p, q) => Some((false, run.outer_end(p, q)?.clone())),
            TapePath::Along { .. } => None,
        }
    };
    for (number, tape) in before.tape_lines.iter_mut().enumerate() {
        let find = |run: &SideRun| {
            let mut parts = tape.parts.iter().enumerate();
            parts.find_map(|(i, part)| Some((i, outer(part, run)?)))
        };
        let Some(((i, (level, from)), (j, (other, to)))) = find(a).zip(find(b)) else {
            continue;
        };
        if level != other {
            continue;
        }
        let (low, high) = (i.min(j), i.max(j));
        tape.parts.remove(high);
        tape.parts.remove(low);
        across.push(Across::Tape(
            number,
            low,
            level,
            from,
            a.piece.clone(),
            to,
            b.piece.clone(),
        ));
    }
}

/// Lays the lines that ran over the seam from outer end to outer end.
pub(super) fn lay_across(altered: &mut Altered, name: &str, across: Vec<Across>) {
    let carried = altered.carried.clone();
    let at = |piece: &str, point: &OutlinePoint| carried.point(piece, point).map(|found| found.1);
    for line in across {
        match line {
            Across::Level(level, from, first, to, second) => {
                let Some((from, to)) = at(&first, &from).zip(at(&second, &to)) else {
                    continue;
                };
                let slot = altered.garment.pieces.iter_mut().find(|p| p.name == name);
                if let Some(slot) = slot {
                    let line = BodyLine { level, from, to };
                    Arc::make_mut(slot).body_lines.push(line);
                }
            }
            Across::Tape(number, place, is_level, from, first, to, second) => {
                let Some((from, to)) = at(&first, &from).zip(at(&second, &to)) else {
                    continue;
                };
                let path = if is_level {
                    TapePath::Across(from, to)
                } else {
                    TapePath::Upright(from, to)
                };
                if let Some(tape) = altered.garment.tape_lines.get_mut(number) {
                    let place = place.min(tape.parts.len());
                    let piece = name.to_owned();
                    tape.parts.insert(place, TapePart { piece, path });
                }
            }
        }
    }
}
