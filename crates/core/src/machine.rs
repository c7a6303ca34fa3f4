//! What the maker's sewing machine takes: limits she sets once for a project.

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// Limits of a sewing machine and of the hand that guides it.
///
/// # Source
/// The defaults are common practice, no source (fact sheet I; it says that no measured stack limit was found).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Machine {
    /// Thickest stack that goes under the foot and is sewn without skipped stitches.
    pub thickest: Mm,
    /// Smallest girth of a tube that goes over the free arm or is reached from its end by the foot.
    pub tube: Mm,
    /// Smallest radius of a curve that can be guided round.
    pub radius: Mm,
    /// Shortest seam worth the machine; shorter ones are sewn by hand.
    pub shortest: Mm,
}

impl Default for Machine {
    fn default() -> Self {
        Self {
            thickest: Mm(4.0),
            tube: Mm(180.0),
            radius: Mm(6.0),
            shortest: Mm(12.0),
        }
    }
}
