//! Changes to what is marked on one piece, how its edges are finished, and how many are cut.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use super::{Alteration, AlterationError, Altered};
use crate::edge::{Finish, OutlinePoint};
use crate::garment::Garment;
use crate::measure::Level;
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Copy, Face, Mark, Placement};

/// A change to what is marked on one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum MarkChange {
    /// Adds a notch.
    AddNotch(Notch),
    /// Moves a notch, or changes how many strokes it has.
    SetNotch {
        /// Its place in the list, from 0.
        number: usize,
        /// Where it is now.
        at: OutlinePoint,
        /// Its strokes.
        kind: NotchKind,
    },
    /// Takes a notch out.
    RemoveNotch {
        /// Its place in the list, from 0.
        number: usize,
    },
    /// Lays the grainline; `None` stands upright.
    SetGrain(Option<(Point, Point)>),
    /// Adds a mark inside.
    AddMark(Mark),
    /// Puts a mark in place of another.
    SetMark {
        /// Its place in the list, from 0.
        number: usize,
        /// What stands there now.
        mark: Mark,
    },
    /// Takes a mark out.
    RemoveMark {
        /// Its place in the list, from 0.
        number: usize,
    },
    /// Says which copies are cut: how many, in pairs, of which layer.
    SetCopies(Vec<Copy>),
    /// Finishes a stretch of an edge: a hem, a facing, a slit below a notch.
    SetFinish {
        /// Name of the edge.
        edge: String,
        /// Fraction where it starts.
        from: f64,
        /// Fraction where it ends.
        to: f64,
        /// What is done there.
        finish: Finish,
    },
    /// Lays a body line, in place of the one of that level.
    SetBodyLine(BodyLine),
    /// Takes a body line out.
    RemoveBodyLine(Level),
    /// Says which side of the cloth the drawing shows.
    SetFace(Face),
    /// Says which part of the body steers it.
    SetPlacement(Placement),
}

impl MarkChange {
    /// The garment with one piece marked.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, _garment: &Garment, _piece: &str) -> Result<Altered, AlterationError> {
        Err(AlterationError::Refused(format!("{self:?} comes later")))
    }

    /// The same as an alteration of a piece.
    pub fn of(self, piece: impl Into<String>) -> Alteration {
        Alteration::Mark {
            piece: piece.into(),
            change: self,
        }
    }
}
