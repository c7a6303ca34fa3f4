//! The measure figure: a body built from its girths, lengths and widths, and the garment's girths as rings on it.
//!
//! Our own mathematics: ellipses of exact girth, straight projection. It is a picture of measures, not a drape: no
//! cloth falls, no weight pulls, sections of real bodies are no ellipses. Lengths in mm.

mod body;
pub mod ellipse;
mod garment;
mod hem;
mod look;
mod solid;
#[cfg(test)]
mod tests;

pub use body::{BodyFigure, BodyRing, ShapedBy, body_figure};
pub use garment::{GarmentFigure, GarmentRing, Taken, garment_figure};
pub use hem::Hem;
pub use look::{InSpace, Look, Seen};
pub use solid::{Hoop, Limb, Solid};

use super::{EaseTable, Underneath, ease_table};
use crate::fullness::Filled;

/// What the picture must always say beside it.
pub const WHAT_IT_IS: &str =
    "A picture of measures, not a drape: every ring has its true girth, its shape is an ellipse.";

/// A fitting as a figure.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figure {
    /// The body.
    pub body: BodyFigure,
    /// The garment on it.
    pub garment: GarmentFigure,
    /// The ease table the rings are judged by.
    pub table: EaseTable,
}

/// The figure of a fitting, with what is worn underneath.
pub fn figure(filled: &Filled, underneath: &Underneath) -> Figure {
    let adapted = &filled.adapted;
    let table = ease_table(adapted, underneath);
    let body = body_figure(&adapted.fitting.body);
    let garment = garment_figure(&body, adapted, filled, &table);
    Figure {
        body,
        garment,
        table,
    }
}
