//! Stuffed pieces worn under a garment (a hip roll, a bustle pad, a bum pad), and what they do to the body over them.
//!
//! Lengths in mm.

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// A stuffed piece worn under a garment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pad {
    /// In the maker's words.
    pub name: String,
    /// How far it stands off the body where it is thickest.
    pub projection: Mm,
    /// How far below the waist that place is, measured down the body.
    pub below_waist: Mm,
    /// Share of the girth that it covers, 0 to 1: 0.5 for sides and back of one half, 1 all round.
    pub share: f64,
    /// Where the middle of that share lies.
    pub middle: PadMiddle,
}

/// Where the middle of a pad lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PadMiddle {
    /// Centre back.
    #[default]
    Back,
    /// One at each side.
    Sides,
    /// Centre front.
    Front,
}
