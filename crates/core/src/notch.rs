//! Notches: small marks on the cut line that meet when a seam is sewn.

use serde::{Deserialize, Serialize};

/// A mark on an edge that meets its like on the mate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Notch {
    /// Edge that carries it.
    pub edge: String,
    /// Fraction of the edge's length, 0 to 1.
    pub fraction: f64,
    /// Single is read as front, double as back (handbook practice), triple as centre back.
    pub kind: NotchKind,
}

/// How many strokes a notch has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum NotchKind {
    /// One stroke.
    Single,
    /// Two strokes.
    Double,
    /// Three strokes.
    Triple,
}
