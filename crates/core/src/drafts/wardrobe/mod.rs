//! A wardrobe for a harbour town of the 1910s: whole garments built from the drafts.
//!
//! The town, its lamp keeper and its net menders are invented. Everything is drafted for one grown body and fitted to
//! dolls; the stored projects in `demo-projects` are these values.
//! What the books leave open (ease of a jacket, shape of a collar, a waistband) is *own* and says so.

mod arm;
mod fittings;
mod jacket;
mod needle;
mod offcuts;
mod places;
mod skirts;
mod smock;
mod table;
#[cfg(test)]
mod tests;

pub use fittings::{
    Dolls, harbour_jacket_project, net_menders_smock_project, sunday_on_the_quay_project,
    sunday_skirts_project,
};
pub use jacket::harbour_jacket;
pub use skirts::{gored_sunday_skirt, half_circle_sunday_skirt};
pub use smock::net_menders_smock;

use super::DraftError;
use crate::geometry::outline::OutlineError;

/// Why a garment of the wardrobe cannot be built for a body.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WardrobeError {
    /// The rules give no piece.
    #[error(transparent)]
    Draft(#[from] DraftError),
    /// The edges of a piece make no outline.
    #[error("{piece}: {why}")]
    NoOutline {
        /// Which piece.
        piece: String,
        /// What is wrong.
        why: OutlineError,
    },
    /// A seam, tape line or mark names something the garment has not.
    #[error("{garment}: there is no {what}")]
    Missing {
        /// Which garment.
        garment: String,
        /// What was looked for.
        what: String,
    },
}
