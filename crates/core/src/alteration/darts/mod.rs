//! Changes to darts: turned to another place, divided, moved, made into gathers or ease.

mod cut;
mod legs;
mod pivot;
mod row;
#[cfg(test)]
mod tests;
mod unsewn;

pub(super) use legs::fresh as fresh_edge;

use kurbo::Point;
use serde::{Deserialize, Serialize};

use super::shape::kept::Reshaped;
use super::{Alteration, AlterationError, Altered, Carried};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::piece::{DartPress, Piece};
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
    pub fn applied(&self, garment: &Garment, piece: &str) -> Result<Altered, AlterationError> {
        let missing = || AlterationError::NoPiece(piece.to_owned());
        let old = garment.piece(piece).ok_or_else(missing)?;
        let reshaped = match self {
            Self::Add {
                dart,
                at,
                width,
                tip,
            } => cut::add(old, dart, at, *width, *tip),
            Self::Pivot {
                dart,
                to,
                share,
                name,
            } => pivot::pivot(old, dart, to, *share, name),
            Self::Divide { dart, into, apart } => row::divided(old, dart, *into, *apart),
            Self::Move { dart, along } => row::moved(old, dart, *along),
            Self::MoveTip { dart, right, up } => cut::move_tip(old, dart, *right, *up),
            Self::Press { dart, to } => pressed(old, dart, *to),
            Self::ToGathers { dart } => unsewn::gathered(old, dart),
            Self::ToEase { dart } => return unsewn::eased(garment, old, dart),
            Self::Remove { dart } => unsewn::removed(old, dart),
        };
        reshaped?.in_place_of(old, garment)
    }

    /// The same as an alteration of a piece.
    pub fn of(self, piece: impl Into<String>) -> Alteration {
        Alteration::Dart {
            piece: piece.into(),
            change: self,
        }
    }
}

fn pressed(piece: &Piece, name: &str, to: DartPress) -> Result<Reshaped, AlterationError> {
    let mut darts = piece.darts.clone();
    let dart = darts.iter_mut().find(|dart| dart.name == name);
    let dart = dart.ok_or_else(|| AlterationError::NoDart(name.to_owned()))?;
    if dart.pressed == to {
        return Err(AlterationError::Refused(format!(
            "{name} is pressed that way already"
        )));
    }
    dart.pressed = to;
    Ok(Reshaped {
        piece: piece.clone(),
        carried: Carried::default(),
        darts: Some(darts),
        fullness: Vec::new(),
    })
}
