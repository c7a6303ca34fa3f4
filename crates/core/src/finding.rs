//! Something the maker should know: place, what, by how many mm, remedy.

use serde::{Deserialize, Serialize};

use crate::edit::Edit;
use crate::units::LengthUnit;

/// Something the maker should know.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// How much it matters.
    pub gravity: Gravity,
    /// Where.
    pub place: Place,
    /// What is wrong and by how many mm, one sentence in the maker's words.
    pub what: String,
    /// What to do about it, one sentence.
    pub advice: String,
    /// The same as a change to the project, where one change does it.
    pub remedy: Option<Edit>,
}

/// How much a finding matters. Ordered: the last is the worst.
///
/// The command line ends with 1 when there is a finding of the gravity [`Self::Unusable`], so that one is kept for
/// what surely fails: cloth cut by this outline is wasted, a seam cannot be closed, or the garment does not go on.
/// What a skilled hand can still save is [`Self::Care`]; what is only worth knowing is [`Self::Note`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Gravity {
    /// Good to know.
    Note,
    /// It can be sewn, but look at it.
    Care,
    /// As it is, it cannot be cut (outline crosses itself), sewn (a seam, dart or fullness does not close) or worn
    /// (smaller than the body, or an opening too small to get in).
    Unusable,
}

/// Where a finding is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Place {
    /// Name of the piece, if it is about one.
    pub piece: Option<String>,
    /// Name of the edge, seam, tape line or opening, if it is about one.
    pub part: Option<String>,
    /// Fraction along that edge, where known.
    pub fraction: Option<f64>,
}

/// An outcome with what the maker should know about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Warned<T> {
    /// The outcome.
    pub outcome: T,
    /// What the maker should know.
    pub findings: Vec<Finding>,
}

impl Finding {
    /// The same, its lengths in this unit.
    #[must_use]
    pub fn said_in(mut self, unit: LengthUnit) -> Self {
        self.what = unit.reword(&self.what);
        self.advice = unit.reword(&self.advice);
        self
    }
}

impl Place {
    /// A place on a piece.
    pub fn piece(piece: impl Into<String>) -> Self {
        Self {
            piece: Some(piece.into()),
            ..Self::default()
        }
    }

    /// An edge of a piece.
    pub fn edge(piece: impl Into<String>, edge: impl Into<String>) -> Self {
        Self {
            piece: Some(piece.into()),
            part: Some(edge.into()),
            fraction: None,
        }
    }

    /// A seam, tape line or opening.
    pub fn part(part: impl Into<String>) -> Self {
        Self {
            piece: None,
            part: Some(part.into()),
            fraction: None,
        }
    }
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match (&self.piece, &self.part) {
            (Some(piece), Some(part)) => write!(f, "{piece}, {part}"),
            (Some(one), None) | (None, Some(one)) => f.write_str(one),
            (None, None) => f.write_str("the whole garment"),
        }
    }
}

impl std::fmt::Display for Finding {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {} {}", self.place, self.what, self.advice)
    }
}
