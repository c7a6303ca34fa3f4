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
pub(crate) use cut::{dart_legs, middle_of, stretches};
pub(crate) use taken_off::fraction_near;
pub use taken_off::{AllowanceError, without_allowance};

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::body::{Body, BodyKind};
use crate::edge::{EdgeRef, Finish};
use crate::measure::Measure;
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

/// A doll below this height counts as a miniature, mm. *Own.*
const MINIATURE: f64 = 200.0;
/// A doll below this height counts as small, mm. *Own; the play doll of 45 cm is the least of the large ones.*
const SMALL_DOLL: f64 = 420.0;

impl AllowancePlan {
    /// The widths a maker begins with at the size of this body.
    ///
    /// | body | seam | hem | notch |
    /// |---|---|---|---|
    /// | person | 15 mm | 30 mm | 6 mm |
    /// | doll of 42 cm and taller | 6.35 mm | 8 mm | 3 mm |
    /// | smaller doll | 4.8 mm | 6 mm | 2 mm |
    /// | doll under 20 cm | 3.2 mm | 3.2 mm | 1.5 mm |
    ///
    /// # Source
    /// Seams: read, fact sheet E1 (home patterns 15.9 printed as 15; dolls 6.35; small dolls 3.2, rarely 4.8). Hems and
    /// notches: common practice, no source. At which height they change is *own*.
    pub fn for_body(body: &Body) -> Self {
        let height = body.mm(Measure::Height).0;
        let (seam, hem, notch) = match body.kind {
            BodyKind::Woman | BodyKind::Man | BodyKind::Child => (15.0, 30.0, 6.0),
            BodyKind::Doll if height < MINIATURE => (3.2, 3.2, 1.5),
            BodyKind::Doll if height < SMALL_DOLL => (4.8, 6.0, 2.0),
            BodyKind::Doll => return Self::default(),
        };
        Self {
            seam: Mm(seam),
            hem: Mm(hem),
            notch_depth: Mm(notch),
            ..Self::default()
        }
    }

    /// The plan for another body: a width that still is what the first body's size suggests becomes what the second
    /// one's does; what the maker chose stays.
    #[must_use]
    pub fn resized(&self, from: &Body, to: &Body) -> Self {
        let (old, new) = (Self::for_body(from), Self::for_body(to));
        let pick = |own: Mm, old: Mm, new: Mm| if own == old { new } else { own };
        Self {
            seam: pick(self.seam, old.seam, new.seam),
            hem: pick(self.hem, old.hem, new.hem),
            notch_depth: pick(self.notch_depth, old.notch_depth, new.notch_depth),
            ..self.clone()
        }
    }
}

/// The strips of cloth beyond an edge, from the stitch line outwards, mm; a turned edge folds between them.
///
/// | finish | strips |
/// |---|---|
/// | seam, facing, left open | the edge's own width in the plan, else `own`, else [`AllowancePlan::seam`] |
/// | slit | the same, as two turns of half of it: the cut line runs on from the seam above |
/// | hem | its finished width, once per turn (the edge's own width in the plan, else the hem's, else [`AllowancePlan::hem`]) |
/// | casing, placket | its finished width, then a turn-in of one seam allowance, or of the casing's width where that is less |
/// | raw, selvedge, fold | none |
///
/// `own` is the width that came with the piece ([`crate::edge::Edge::allowance`]). Widths that are negative or no number
/// count as 0. The thickness of the cloth in the turns is not counted.
pub fn strips(finish: Finish, plan: &AllowancePlan, edge: &EdgeRef, own: Option<Mm>) -> Vec<f64> {
    let single = plan.single.get(edge).copied();
    let seam = single.or(own).unwrap_or(plan.seam);
    let sound = |mm: Mm| {
        if mm.0.is_finite() {
            mm.0.clamp(0.0, 1000.0)
        } else {
            0.0
        }
    };
    match finish {
        Finish::Seam | Finish::Facing | Finish::Open => vec![sound(seam)],
        Finish::Slit => vec![sound(seam) / 2.0; 2],
        Finish::Hem { width, turns } => {
            vec![sound(single.or(width).unwrap_or(plan.hem)); usize::from(turns.clamp(1, 2))]
        }
        Finish::Casing { width } | Finish::Placket { width } => {
            vec![sound(width), sound(plan.seam).min(sound(width))]
        }
        Finish::Raw | Finish::Selvedge | Finish::Fold => Vec::new(),
    }
}

/// Is the cloth beyond the edge turned over and sewn down?
pub(crate) fn is_turned(finish: Finish) -> bool {
    match finish {
        Finish::Hem { .. } | Finish::Casing { .. } | Finish::Slit | Finish::Placket { .. } => true,
        Finish::Seam
        | Finish::Facing
        | Finish::Raw
        | Finish::Fold
        | Finish::Selvedge
        | Finish::Open => false,
    }
}
