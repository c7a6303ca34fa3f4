//! Seam allowance: the strip of cloth between the stitch line and the cut line.
//!
//! Every edge gets its own width, by its finish: [`strips`]. Every corner gets the shape the trade gives it:
//! [`CornerKind`]. [`cut_line`] puts the piece together; [`without_allowance`] takes an allowance off that was drawn in.
//!
//! Lengths in mm, y up, outlines counter-clockwise. No file, no clock, no chance.
//! Default widths: common practice, no source, unless one is named.

mod chain;
mod corners;
mod cut;
mod taken_off;

#[cfg(test)]
mod tests;

pub(crate) use chain::open_path;
pub use corners::CornerKind;
pub use cut::{Corner, CutLine, Run, cut_line};
pub(crate) use cut::{dart_legs, middle_of};
pub(crate) use taken_off::fraction_near;
pub use taken_off::{AllowanceError, without_allowance};

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::edge::{EdgeRef, Finish};
use crate::units::Mm;

/// The allowances of a fitting: chosen at the doll's size, never adapted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AllowancePlan {
    /// Width at every seam without a width of its own.
    ///
    /// Default: 6.35 mm, a quarter inch (read in doll and quilting sources, see the fact sheet E1).
    pub seam: Mm,
    /// Finished hem width where the edge names none.
    ///
    /// Default: 8 mm (common practice, no source).
    pub hem: Mm,
    /// Widths for single edges, instead of the two above.
    #[serde(default)]
    pub single: BTreeMap<EdgeRef, Mm>,
    /// How far a corner may run out, as a multiple of the wider allowance.
    ///
    /// Default: 3 (common practice, no source).
    pub corner_limit: f64,
    /// Length of a notch stroke, from the cut line inwards.
    ///
    /// Default: 3 mm (common practice, no source).
    pub notch_depth: Mm,
}

impl Default for AllowancePlan {
    fn default() -> Self {
        Self {
            seam: Mm(6.35),
            hem: Mm(8.0),
            single: BTreeMap::new(),
            corner_limit: 3.0,
            notch_depth: Mm(3.0),
        }
    }
}

/// The strips of cloth beyond an edge, from the stitch line outwards, mm; a turned edge folds between them.
///
/// | finish | strips |
/// |---|---|
/// | seam, facing | the edge's own width, else [`AllowancePlan::seam`] |
/// | hem | its finished width, once per turn (the edge's own width in the plan, else the hem's, else [`AllowancePlan::hem`]) |
/// | casing | its finished width, then a turn-in of one seam allowance, or of the casing's width where that is less |
/// | raw, selvedge, fold | none |
///
/// Widths that are negative or no number count as 0. The thickness of the cloth in the turns is not counted.
pub fn strips(finish: Finish, plan: &AllowancePlan, edge: &EdgeRef) -> Vec<f64> {
    let single = plan.single.get(edge).copied();
    let sound = |mm: Mm| {
        if mm.0.is_finite() {
            mm.0.clamp(0.0, 1000.0)
        } else {
            0.0
        }
    };
    match finish {
        Finish::Seam | Finish::Facing => vec![sound(single.unwrap_or(plan.seam))],
        Finish::Hem { width, turns } => {
            vec![sound(single.or(width).unwrap_or(plan.hem)); usize::from(turns.clamp(1, 2))]
        }
        Finish::Casing { width } => vec![sound(width), sound(plan.seam).min(sound(width))],
        Finish::Raw | Finish::Selvedge | Finish::Fold => Vec::new(),
    }
}

/// Is the cloth beyond the edge turned over and sewn down?
pub(crate) fn is_turned(finish: Finish) -> bool {
    matches!(finish, Finish::Hem { .. } | Finish::Casing { .. })
}
