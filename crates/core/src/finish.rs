//! Stitch and cut lines: adds allowances, hems, notches to the filled pieces.
//!
//! The fourth of nine steps from file to page.

mod lines;
mod warnings;

#[cfg(test)]
mod tests;

use std::sync::Arc;

use kurbo::{BezPath, Line as Stroke, Point};

use crate::allowance::{AllowancePlan, cut_line};
use crate::finding::{Finding, Warned};
use crate::fullness::{FillLine, Filled};
use crate::piece::Piece;
use crate::units::Mm;

/// A garment ready to be laid or printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Finished {
    /// What it was made from.
    pub filled: Arc<Filled>,
    /// One per piece, same order.
    pub pieces: Vec<FinishedPiece>,
}

/// A piece with its cut line and everything that is drawn on it.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishedPiece {
    /// The filled piece.
    pub piece: Arc<Piece>,
    /// The stitch line, closed.
    pub stitch: BezPath,
    /// The cut line, closed; on a fold both lines run together.
    pub cut: BezPath,
    /// Notch strokes, from the cut line inwards, square to it.
    pub notches: Vec<Stroke>,
    /// Fold edge, if it is cut on a fold, from cut line to cut line.
    pub fold: Option<Stroke>,
    /// Lines along which cloth is folded: hems and casings (one per turn), dart middles, from cut line to cut line; pleats,
    /// from stitch line to stitch line.
    pub fold_lines: Vec<BezPath>,
    /// Lines to sew inside: dart legs, the sides of tucks, gathering rows.
    pub sew_lines: Vec<BezPath>,
    /// Grain arrow.
    pub grain: Stroke,
    /// A point well inside, where a label fits best.
    pub label_at: Point,
    /// The allowance of every edge, mm, in order; hems with all their turns. The widest, where it changes along the edge.
    pub allowances: Vec<Mm>,
}

/// Adds allowances, folds and notches: the fourth of nine steps from file to page.
pub fn finish(filled: &Arc<Filled>) -> Warned<Finished> {
    let fitting = &filled.adapted.fitting;
    let mut findings: Vec<Finding> = Vec::new();
    let pieces = filled
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let mut finished = finish_piece(piece, &fitting.allowances, &fitting.name);
            findings.extend(finished.findings);
            let fill_lines = filled.lines.get(i).into_iter().flatten();
            finished.outcome.add_fill_lines(fill_lines);
            finished.outcome
        })
        .collect();
    Warned {
        outcome: Finished {
            filled: filled.clone(),
            pieces,
        },
        findings,
    }
}

impl FinishedPiece {
    /// Adds where pleats are folded, tucks stitched and gathers drawn in. Where a fold is laid is a mark of the piece.
    fn add_fill_lines<'a>(&mut self, lines: impl Iterator<Item = &'a FillLine>) {
        for line in lines {
            if line.kind.is_folded() {
                self.fold_lines.push(line.line.to_path());
            } else if line.kind.is_sewn() {
                self.sew_lines.push(line.line.to_path());
            }
        }
    }
}

/// One piece with its cut line and everything that is drawn on it; `fitting` is named in the remedies.
///
/// Findings: a stitch line that crosses itself, a dart or fold that is none, a hollow curve tighter than its allowance, a
/// notch longer than its allowance.
pub fn finish_piece(
    piece: &Arc<Piece>,
    plan: &AllowancePlan,
    fitting: &str,
) -> Warned<FinishedPiece> {
    let cut = cut_line(piece, plan);
    let mut findings = warnings::about(piece, plan, fitting, &cut);
    let label_at = lines::label_point(piece);
    let notches = lines::notch_strokes(piece, plan, &cut, &mut findings);
    let outcome = FinishedPiece {
        piece: piece.clone(),
        stitch: piece.outline.path(),
        notches,
        fold: lines::fold(piece, &cut),
        fold_lines: lines::fold_lines(piece, &cut),
        sew_lines: lines::sew_lines(piece),
        grain: lines::grain(piece, label_at),
        label_at,
        allowances: lines::allowances(piece, &cut),
        cut: cut.path(),
    };
    Warned { outcome, findings }
}
