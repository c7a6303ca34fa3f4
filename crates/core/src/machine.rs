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
    ///
    /// Default: 4 mm; skipping begins at 3 to 4 mm on light machines, 5 to 6 on sturdy ones.
    pub thickest: Mm,
    /// Highest step the foot climbs at once while it stays level, nothing laid behind it.
    ///
    /// Default: 2 mm.
    #[serde(default = "step")]
    pub step: Mm,
    /// Smallest girth of a tube that goes over the free arm or is reached from its end by the foot.
    pub tube: Mm,
    /// Smallest radius of a curve that can be guided round.
    ///
    /// Default: 6 mm, with stitches of 1.5 mm.
    pub radius: Mm,
    /// Shortest seam worth the machine; shorter ones are sewn by hand.
    pub shortest: Mm,
}

fn step() -> Mm {
    Mm(2.0)
}

impl Machine {
    /// Has the maker said nothing of her own machine yet?
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

impl Default for Machine {
    fn default() -> Self {
        Self {
            thickest: Mm(4.0),
            step: step(),
            tube: Mm(180.0),
            radius: Mm(6.0),
            shortest: Mm(12.0),
        }
    }
}
