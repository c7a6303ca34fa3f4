//! Published drafts as formulas: pieces drafted from body measures alone.
//!
//! Lengths in mm, x right, y up, net lines (no allowance), one half of a symmetric garment. No file, no chance.
//! The books give points and say "curve" for the rest; every curve is ours, and so is whatever is marked *own*.
//! Call the outcome "drafted by these rules", never "the published pattern": only the text of the books was read,
//! their drawings were not visible.
//!
//! # Sources
//! * Loose bodice and gown: *Clothing for Women: Selection, Design, Construction*, Lippincott, 1916 (reprint 1924),
//!   chapter V, "To draft shirt" and "To draft gown (Fig. 60)".
//! * Fitted front, gathered sleeve, five-gored skirt: *Text-Book on Domestic Art, with Illustrations and Drafts*,
//!   Foster & ten Bosch, San Francisco, 1911, "French lining draft", "Sleeve draft", "Five-gored underskirt draft".
//! * Circular skirt: closed form, no source needed.
//!
//! # Example
//! ```
//! use petitoile_core::drafts::{Constants, DraftMeasures, loose_bodice};
//! let measures = DraftMeasures { bust_girth: 919.2, ..DraftMeasures::ADULT_92 };
//! let draft = loose_bodice(&measures, Constants::InProportion)?;
//! let back = draft.outline("back").ok_or("no back")?;
//! assert!((back.edge("centre back").ok_or("no centre back")?.line.length() - 421.9).abs() < 0.001);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod circular_skirt;
mod fitted_bodice;
mod gored_skirt;
mod gown;
mod loose_bodice;
mod measures;
mod pen;
mod sleeve;
#[cfg(test)]
mod tests;
pub mod wardrobe;

pub use circular_skirt::{CircleShare, circular_skirt};
pub use fitted_bodice::fitted_bodice;
pub use gored_skirt::gored_skirt;
pub use gown::gown;
pub use loose_bodice::loose_bodice;
pub use measures::DraftMeasures;
pub use sleeve::{armscye_of, flat_sleeve, flat_sleeve_for, gathered_sleeve, gathered_sleeve_for};

use kurbo::Point;

use crate::geometry::outline::{Outline, OutlineError};
use crate::units::MM_PER_INCH;

/// How the inch constants of a book are taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Constants {
    /// Exactly as printed: right for the grown bodies the books draft for, not for dolls.
    Printed,
    /// Every inch constant times bust girth / 914.4 mm (36 in, the size class the books draft for). *Own rule.*
    InProportion,
}

/// The bust girth that the books' constants suit: 36 in. *Own.*
pub const BOOK_BUST: f64 = 36.0 * MM_PER_INCH;

impl Constants {
    /// By what the inch constants are multiplied for this bust girth in mm.
    pub fn scale(self, bust_girth: f64) -> f64 {
        match self {
            Self::Printed => 1.0,
            Self::InProportion => bust_girth / BOOK_BUST,
        }
    }

    /// One inch of the book in mm for this body.
    pub(crate) fn inch(self, measures: &DraftMeasures) -> f64 {
        MM_PER_INCH * self.scale(measures.bust_girth)
    }
}

/// Pieces drafted for one set of measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Which draft: "loose bodice".
    pub name: &'static str,
    /// By what the book's inch constants were multiplied.
    pub scale: f64,
    /// The pieces, each an outline of named edges.
    pub pieces: Vec<DraftPiece>,
    /// What can be drawn but looks wrong: an armscye that is not hollow.
    pub doubts: Vec<DraftError>,
}

/// One drafted piece.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftPiece {
    /// "front", "back", "sleeve".
    pub name: &'static str,
    /// Its stitch line, counter-clockwise.
    pub outline: Outline,
    /// The points of the draft by the names the source (or our reading of it) gives them.
    pub points: Vec<(&'static str, Point)>,
}

impl Draft {
    /// The outline of the piece of this name.
    pub fn outline(&self, piece: &str) -> Option<&Outline> {
        self.pieces
            .iter()
            .find(|p| p.name == piece)
            .map(|p| &p.outline)
    }

    /// Names and outlines of all pieces, in order.
    pub fn outlines(&self) -> impl Iterator<Item = (&str, &Outline)> {
        self.pieces.iter().map(|p| (p.name, &p.outline))
    }

    /// Length of an edge in mm; `None` when there is no such piece or edge.
    pub fn length(&self, piece: &str, edge: &str) -> Option<f64> {
        Some(self.outline(piece)?.edge(edge)?.line.length())
    }
}

impl DraftPiece {
    /// A point of the draft by its name in the source.
    pub fn point(&self, name: &str) -> Option<Point> {
        self.points
            .iter()
            .find(|(n, _)| *n == name)
            .map(|(_, p)| *p)
    }
}

/// Why the rules give no piece that can be sewn from these measures.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DraftError {
    /// A measure that no body has.
    #[error("{measure} is {value:.1} mm; it must be a length above 0, measure it again")]
    BadMeasure {
        /// Which measure.
        measure: &'static str,
        /// What was given, mm.
        value: f64,
    },
    /// An outline that crosses itself.
    #[error(
        "{piece}: the drafted outline crosses itself near ({x:.1}, {y:.1}) mm; take the book's inches in proportion, or check the measures"
    )]
    Crossing {
        /// Which piece.
        piece: &'static str,
        /// Where, mm.
        x: f64,
        /// Where, mm.
        y: f64,
    },
    /// An outline that turned inside out.
    #[error(
        "{piece}: the drafted outline is inside out; take the book's inches in proportion, or check the measures"
    )]
    InsideOut {
        /// Which piece.
        piece: &'static str,
    },
    /// A neck wider than the shoulder.
    #[error(
        "{piece}, neckline: the neck is {neck:.1} mm wide but the shoulder ends at {shoulder:.1} mm; take the book's inches in proportion, or check the measures"
    )]
    NeckTooWide {
        /// Which piece.
        piece: &'static str,
        /// Half neck width, mm.
        neck: f64,
        /// Where the shoulder ends, from the centre, mm.
        shoulder: f64,
    },
    /// An edge that would have to be shorter than nothing.
    #[error(
        "{piece}, {edge}: it comes out {length:.1} mm long; take the book's inches in proportion, or check the measures"
    )]
    NoLength {
        /// Which piece.
        piece: &'static str,
        /// Which edge.
        edge: &'static str,
        /// Its length, mm; zero or below.
        length: f64,
    },
    /// An edge too short to reach its other end.
    #[error(
        "{piece}, {edge}: {length:.1} mm is too short to reach over {distance:.1} mm; check the measures"
    )]
    OutOfReach {
        /// Which piece.
        piece: &'static str,
        /// Which edge.
        edge: &'static str,
        /// Length it should have, mm.
        length: f64,
        /// Distance it has to cover, mm.
        distance: f64,
    },
    /// An armscye that bulges outwards.
    #[error(
        "{piece}, armscye: it is not hollow: the side seam starts {by:.1} mm nearer to the centre than the width line; take the book's inches in proportion"
    )]
    NotHollow {
        /// Which piece.
        piece: &'static str,
        /// By how much, mm.
        by: f64,
    },
    /// Edges that make no outline.
    #[error("{piece}: {why}")]
    NoOutline {
        /// Which piece.
        piece: &'static str,
        /// What is wrong.
        why: OutlineError,
    },
}
