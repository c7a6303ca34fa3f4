//! Garments worn one over another: what is underneath enlarges the body for the next, what lies on top hides.
//!
//! Lengths in mm, levels as in [`crate::measure::Level`]. Pads ([`crate::pad`]) are layers too.
//!
//! ```text
//! Adapted -> Worn        one garment on the body: how far it reaches, how thick it is at a level
//! Outfit  -> Together    the garments of an outfit, innermost first
//! Together -> underneath (what is under one of them), Room (ease at its girths), Cover (what shows, what is hidden),
//!             Levelled (how its waist edge is raised over a pad), findings
//! ```
//! Heights are counted as in [`Body::height_of`](crate::body::Body::height_of): from the nape down the trunk, from the shoulder down the arm. Cloth that
//! hangs (below the waist, the armpit, the crotch) is measured along the cloth: a flared hem hangs a little higher.

mod ends;
mod findings;
mod height;
mod hidden;
mod level;
mod mended;
mod over;
mod ring;
mod room;
mod stack;
mod under;

use std::sync::Arc;

pub(crate) use ends::{Band, bands};
pub use ends::{End, EndKind};
pub use findings::{DISAGREES, PEEPS, findings};
pub(crate) use height::half_of;
pub use height::{Half, Part};
pub use hidden::hidden;
pub use level::{Levelled, levelled};
pub use over::{Cover, Line, Peep, cover};
pub use ring::{RingPart, WaistRing};
pub use room::{Room, RoomOver, rooms};
pub use stack::{Stack, measures};
pub use under::{Under, underneath};

use crate::adapt::Adapted;
use crate::body::Body;
use crate::outfit::{Outfit, WornPad};
use height::OnBody;

/// One garment as it is worn: the adapted pieces and where they lie on the body.
#[derive(Debug, Clone)]
pub struct Worn {
    /// The garment.
    pub adapted: Arc<Adapted>,
    /// Where its pieces lie, those that lie on a part of the body; the same order as they have in it.
    placed: Vec<OnBody>,
    /// Where it ends: necklines, wrists, hems.
    pub ends: Vec<End>,
}

impl Worn {
    /// Lays the adapted pieces on the body.
    pub fn new(adapted: Arc<Adapted>) -> Self {
        let placed = height::placed(&adapted);
        let ends = ends::ends(&adapted, &placed);
        Self {
            adapted,
            placed,
            ends,
        }
    }

    /// Name of its fitting.
    pub fn name(&self) -> &str {
        &self.adapted.fitting.name
    }

    /// The body it is on.
    pub fn body(&self) -> &Arc<Body> {
        &self.adapted.fitting.body
    }

    /// Does it lie over this height of a part of the body, in this half?
    pub fn covers(&self, part: Part, half: Half, height: f64) -> bool {
        self.placed
            .iter()
            .any(|piece| piece.covers(part, half, height, 0.0))
    }
}

/// The garments of an outfit, innermost first.
#[derive(Debug, Clone, Default)]
pub struct Together {
    /// Name of the outfit.
    pub outfit: String,
    /// The garments that could be worked out, innermost first.
    pub layers: Vec<Arc<Worn>>,
    /// Pads.
    pub pads: Vec<WornPad>,
    /// Names of the layers that could not be worked out, each with the reason.
    pub left_out: Vec<(String, String)>,
}

impl Together {
    /// Lays the garments of an outfit over one another; `worn` gives each by the name of its fitting, or says why not.
    pub fn new(outfit: &Outfit, mut worn: impl FnMut(&str) -> Result<Arc<Worn>, String>) -> Self {
        let mut together = Self {
            outfit: outfit.name.clone(),
            pads: outfit.pads.clone(),
            ..Self::default()
        };
        for layer in &outfit.layers {
            match worn(layer) {
                Ok(worn) => together.layers.push(worn),
                Err(why) => together.left_out.push((layer.clone(), why)),
            }
        }
        together
    }

    /// The place of a fitting among the layers.
    pub fn place_of(&self, fitting: &str) -> Option<usize> {
        self.layers.iter().position(|worn| worn.name() == fitting)
    }

    /// The same without some layers and pads, by their names.
    #[must_use]
    pub fn without(&self, names: &std::collections::BTreeSet<String>) -> Self {
        let mut fewer = self.clone();
        fewer.layers.retain(|worn| !names.contains(worn.name()));
        fewer.pads.retain(|worn| !names.contains(&worn.pad.name));
        fewer
    }
}

#[cfg(test)]
mod tests;
