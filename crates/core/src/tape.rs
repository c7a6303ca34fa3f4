//! Tape lines: places where a tape is laid on the garment, and the measure of the body they answer to.

use serde::{Deserialize, Serialize};

use crate::edge::OutlinePoint;
use crate::measure::Measure;
use crate::units::Mm;

/// A place where a tape is laid on the garment.
///
/// What it measures is the sum of its parts; a girth counts each part as often as its piece goes round the body
/// (copies, twice on a fold), then takes off the closure overlap and adds the lacing gap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TapeLine {
    /// Unique in its garment: "bust", "front shoulder".
    pub name: String,
    /// Measure of the body it answers to.
    pub measure: Measure,
    /// The share of that measure it covers: 1 for a girth, 0.5 for half an across-front.
    pub share: f64,
    /// Girth or length.
    pub kind: TapeKind,
    /// Where the tape lies, part by part.
    pub parts: Vec<TapePart>,
    /// Does the garment really follow the body here?
    pub hold: Hold,
    /// Closure overlap, taken off a girth.
    #[serde(default)]
    pub overlap: Mm,
    /// Gap left open by lacing, added to a girth.
    #[serde(default)]
    pub lacing_gap: Mm,
}

/// Girths go round the body, lengths lie on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TapeKind {
    /// Sum over all copies.
    Girth,
    /// Sum over the parts, each once.
    Length,
}

/// Does the garment follow the body at a tape line?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Hold {
    /// The program finds out from the ease: see `adapt::targets`.
    #[default]
    Auto,
    /// It follows: its measure is a demand.
    Fitted,
    /// It hangs free: reported, not demanded.
    Hanging,
}

/// One part of a tape line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TapePart {
    /// Name of the piece.
    pub piece: String,
    /// How the tape lies on it.
    pub path: TapePath,
}

/// How a tape lies on a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum TapePath {
    /// Along an edge, between two fractions.
    Along {
        /// Name of the edge.
        edge: String,
        /// Start.
        from: f64,
        /// End.
        to: f64,
    },
    /// Straight across between two outline points, measured along x.
    Across(OutlinePoint, OutlinePoint),
    /// Straight between two outline points, measured along y.
    Upright(OutlinePoint, OutlinePoint),
}
