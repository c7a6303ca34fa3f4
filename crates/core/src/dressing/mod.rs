//! Will it go on? Which opening passes what, what closes it, and how long ties and wraps must be.
//!
//! Lengths in mm. Geometry: an opening passes what is no larger than its hole + 2 slits; see [`crate::garment::Opening`].
//! Numbers of sewing practice without a source say so beside them.

mod closing;
mod findings;
mod hems;
mod mended;
mod missing;
mod passage;
mod sleeves;
mod slit;
#[cfg(test)]
mod tests;
mod tied;
mod ties;

pub use closing::{
    Closing, SMALLEST_WORKED_BUTTON, Suited, closures_for, every_closure, how_many, tie_width,
};
pub use findings::{findings, found, narrow_sleeves};
pub use hems::HemRoom;
pub(crate) use mended::{edit_of, made};
pub use missing::Missing;
pub use passage::{HeadDress, Need, Part, Passage, Way};
pub use sleeves::{ArmRoom, Undersleeve, undersleeve_girth, undersleeves};
pub use tied::{CaughtTie, Round, TieKind, TieWay, Tied};
pub use ties::{
    Bow, band_behind, band_returned, kerchief_long_edge, kerchief_side, knot, longest, sash,
    usual_bow,
};

use crate::fullness::Filled;
use crate::garment::TapeError;

/// Everything that is known about putting a garment on a body.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Dressing {
    /// Every opening with what has to pass it, in the garment's order.
    pub passages: Vec<Passage>,
    /// Openings that cannot be measured, and why.
    pub unmeasured: Vec<(String, TapeError)>,
    /// Closed holes through which something has to pass, and for which the garment names no opening.
    pub missing: Vec<Missing>,
    /// Ways in which it can be put on at all, the usual one first.
    pub ways: Vec<Way>,
    /// Pieces that are wrapped and tied.
    pub tied: Vec<Tied>,
    /// Ties caught in seams.
    pub caught: Vec<CaughtTie>,
    /// Room in the sleeves over what is worn under them.
    pub arms: Vec<ArmRoom>,
    /// Where the hem hangs, for garments that come near the floor.
    pub hem: Option<HemRoom>,
}

/// Looks at everything that has to pass when a garment is put on.
///
/// `under` are the sleeves worn under its own; see [`undersleeves`].
pub fn dressing(filled: &Filled, under: &[Undersleeve]) -> Dressing {
    let adapted = &filled.adapted;
    let mut dressing = Dressing {
        ways: passage::ways(&adapted.made),
        missing: missing::missing(adapted),
        tied: tied::tied(adapted),
        caught: tied::caught(adapted),
        arms: sleeves::rooms(adapted, under),
        hem: hems::hem(adapted),
        ..Dressing::default()
    };
    for opening in &adapted.made.openings {
        match passage::passage(filled, opening) {
            Ok(passage) => dressing.passages.push(passage),
            Err(why) => dressing.unmeasured.push((opening.name.clone(), why)),
        }
    }
    let neck = dressing
        .passages
        .iter()
        .find(|p| p.passes == crate::garment::Passing::Head);
    if let Some(waist) = neck.and_then(|neck| passage::at_waist(adapted, neck)) {
        dressing.passages.push(waist);
    }
    dressing
}

impl Dressing {
    /// Does everything pass in this way?
    pub fn goes_on(&self, way: Way, head: HeadDress) -> bool {
        self.passages
            .iter()
            .all(|passage| passage.lets_in(way, head))
    }

    /// The first way in which everything passes: the usual one before the other, with the wig before without.
    pub fn best(&self) -> Option<(Way, HeadDress)> {
        let heads = [HeadDress::Wig, HeadDress::Bare];
        heads
            .into_iter()
            .flat_map(|head| self.ways.iter().map(move |way| (*way, head)))
            .find(|(way, head)| self.goes_on(*way, *head))
    }
}
