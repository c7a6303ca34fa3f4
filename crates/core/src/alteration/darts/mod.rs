//! Changes to darts: turned to another place, divided, moved, made into gathers or ease.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use super::{Alteration, AlterationError, Altered};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::piece::DartPress;
use crate::units::Mm;

/// A change to a dart of one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum DartChange {
    /// Cuts a new dart into an edge; the edge becomes two.
    Add {
        /// Name of the dart.
        dart: String,
        /// Middle of its mouth.
        at: OutlinePoint,
        /// How wide its mouth is.
        width: Mm,
        /// Where its tip lies.
        tip: Point,
    },
    /// Turns a dart about its tip to another place: part of its angle, or all of it.
    Pivot {
        /// Name of the dart.
        dart: String,
        /// Where the new mouth opens.
        to: OutlinePoint,
        /// How much of the angle goes there: above 0, 1 is all of it.
        share: f64,
        /// Name of the new dart.
        name: String,
    },
    /// Divides a dart into several equal ones side by side, tips in a row.
    Divide {
        /// Name of the dart.
        dart: String,
        /// How many.
        into: u32,
        /// How far apart their middles lie along the edge.
        apart: Mm,
    },
    /// Moves a dart along its edge, tip with it.
    Move {
        /// Name of the dart.
        dart: String,
        /// How far, counter-clockwise.
        along: Mm,
    },
    /// Moves the tip: longer, shorter, another direction. Both legs stay equal.
    MoveTip {
        /// Name of the dart.
        dart: String,
        /// To the right.
        right: Mm,
        /// Upwards.
        up: Mm,
    },
    /// Presses it the other way.
    Press {
        /// Name of the dart.
        dart: String,
        /// Towards which leg.
        to: DartPress,
    },
    /// Leaves the dart unsewn: its width is gathered on the edge instead.
    ToGathers {
        /// Name of the dart.
        dart: String,
    },
    /// Leaves the dart unsewn: its width is eased in along the edge instead.
    ToEase {
        /// Name of the dart.
        dart: String,
    },
    /// Takes the dart out; the edge runs straight over its mouth.
    Remove {
        /// Name of the dart.
        dart: String,
    },
}

impl DartChange {
    /// The garment with one dart changed.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, _garment: &Garment, _piece: &str) -> Result<Altered, AlterationError> {
        Err(AlterationError::Refused(format!("{self:?} comes later")))
    }

    /// The same as an alteration of a piece.
    pub fn of(self, piece: impl Into<String>) -> Alteration {
        Alteration::Dart {
            piece: piece.into(),
            change: self,
        }
    }
}
