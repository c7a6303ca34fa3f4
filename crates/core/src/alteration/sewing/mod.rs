//! Changes to what is sewn to what: seams, matched notches, a style line moved, corners trued.

mod marked;
mod sewn;
mod style_line;
#[cfg(test)]
mod tests;
mod trued;
mod words;

use serde::{Deserialize, Serialize};

use super::{Alteration, AlterationError, Altered};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::notch::NotchKind;
use crate::seams::{Relation, Seam, SeamError, SeamKind};
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
    /// The notes say what moved and how long the sides now are against each other.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, garment: &Garment) -> Result<Altered, AlterationError> {
        match self {
            Self::Sew(seam) => sewn::sew(garment, seam),
            Self::Unpick { seam } => sewn::unpick(garment, seam),
            Self::Rename { seam, name } => sewn::rename(garment, seam, name),
            Self::SetRelation { seam, relation } => sewn::set_relation(garment, seam, *relation),
            Self::SetKind { seam, kind } => sewn::set_kind(garment, seam, *kind),
            Self::MatchNotch {
                seam,
                at,
                at_mate,
                kind,
            } => marked::match_notch(garment, seam, (*at, *at_mate), *kind),
            Self::MoveLine {
                seam,
                at_start,
                at_end,
            } => style_line::move_line(garment, seam, (at_start.0, at_end.0)),
            Self::True { seam, at_start, to } => trued::true_join(garment, seam, *at_start, *to),
            Self::Distinguish { piece } => marked::distinguish(garment, piece),
        }
    }

    /// The same as an alteration.
    pub fn of(self) -> Alteration {
        Alteration::Seam(self)
    }
}

/// The seam of this name.
fn seam_of<'a>(garment: &'a Garment, name: &str) -> Result<&'a Seam, AlterationError> {
    let found = garment.seams.iter().find(|seam| seam.name == name);
    found.ok_or_else(|| AlterationError::NoSeam(name.to_owned()))
}

/// A side that cannot be laid out, as a refusal.
fn refused(why: SeamError) -> AlterationError {
    AlterationError::Refused(why.to_string())
}

/// Something to know about a seam.
fn note(seam: &str, what: String, advice: &str) -> Finding {
    Finding {
        gravity: Gravity::Note,
        place: Place::part(seam),
        what,
        advice: advice.to_owned(),
        remedy: None,
    }
}
