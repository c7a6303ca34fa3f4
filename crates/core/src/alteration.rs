//! Alterations by hand on a fitting: kept as steps, replayed after every new solve.
//!
//! They address pieces, edges and fractions by name, not coordinates, so they survive a new body.

use serde::{Deserialize, Serialize};

use crate::edge::EdgeRef;
use crate::units::Mm;

/// One alteration by hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Alteration {
    /// Moves a whole edge sideways (positive: outwards); its neighbours follow at the shared corners.
    MoveEdge {
        /// Which edge.
        edge: EdgeRef,
        /// How far.
        outwards: Mm,
    },
    /// Moves the corner at the start of an edge.
    MoveCorner {
        /// The edge that starts there.
        edge: EdgeRef,
        /// To the right.
        right: Mm,
        /// Upwards.
        up: Mm,
    },
    /// Lengthens (or shortens) a piece at a level of the body.
    LengthenAt {
        /// Name of the piece.
        piece: String,
        /// At which of its body lines.
        level: crate::measure::Level,
        /// How much.
        by: Mm,
    },
}
