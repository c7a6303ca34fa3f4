//! Changes to what is sewn to what: seams, matched notches, a style line moved, corners trued.

use serde::{Deserialize, Serialize};

use super::{AlterationError, Altered};
use crate::garment::Garment;
use crate::notch::NotchKind;
use crate::seams::{Relation, Seam, SeamKind};
use crate::units::Mm;

/// A change to what is sewn to what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum SeamChange {
    /// Sews: adds a seam, or puts it in place of the one of that name.
    Sew(Seam),
    /// Unpicks a seam.
    Unpick {
        /// Name of the seam.
        seam: String,
    },
    /// Gives a seam another name.
    Rename {
        /// Its name.
        seam: String,
        /// Its new name.
        name: String,
    },
    /// Says how long its sides are against each other.
    SetRelation {
        /// Name of the seam.
        seam: String,
        /// How side `a` is to side `b`.
        relation: Relation,
    },
    /// Says how it is sewn.
    SetKind {
        /// Name of the seam.
        seam: String,
        /// How.
        kind: SeamKind,
    },
    /// Puts notches that meet on both sides.
    MatchNotch {
        /// Name of the seam.
        seam: String,
        /// Share of side `a`, 0 to 1.
        at: f64,
        /// Share of side `b`; the same share unless the ease lies elsewhere.
        at_mate: f64,
        /// Strokes.
        kind: NotchKind,
    },
    /// Moves the seam line: one piece becomes wider, its neighbour narrower by as much.
    MoveLine {
        /// Name of the seam.
        seam: String,
        /// How far into the piece of side `b`, at the start.
        at_start: Mm,
        /// The same at the end.
        at_end: Mm,
    },
    /// Trues the corners at one end of a seam, so that the edges run on as they should when it is sewn.
    True {
        /// Name of the seam.
        seam: String,
        /// At its start, or at its end?
        at_start: bool,
        /// How the edges run on.
        to: TrueTo,
    },
    /// Gives distinguishing notches to the seams of pieces that could be set the wrong way round.
    Distinguish {
        /// Name of the piece.
        piece: String,
    },
}

/// How edges run over a seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TrueTo {
    /// In one straight line: the two corner angles make 180 degrees together.
    Straight,
    /// Each corner square to the seam.
    Square,
    /// Smoothly: both curves get one direction at the seam.
    Smooth,
}

impl SeamChange {
    /// Name of the seam (or of the piece, for [`Self::Distinguish`]).
    pub fn seam(&self) -> &str {
        match self {
            Self::Sew(seam) => &seam.name,
            Self::Unpick { seam }
            | Self::Rename { seam, .. }
            | Self::SetRelation { seam, .. }
            | Self::SetKind { seam, .. }
            | Self::MatchNotch { seam, .. }
            | Self::MoveLine { seam, .. }
            | Self::True { seam, .. } => seam,
            Self::Distinguish { piece } => piece,
        }
    }

    /// The garment sewn otherwise.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, _garment: &Garment) -> Result<Altered, AlterationError> {
        Err(AlterationError::Refused(format!("{self:?} comes later")))
    }
}
