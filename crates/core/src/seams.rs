//! Seams: two lists of stretches that are sewn together, and what is caught between them.

use serde::{Deserialize, Serialize};

use crate::piece::Copy;
use crate::units::Mm;

/// Two lists of stretches sewn together, end to end on each side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Seam {
    /// Unique in its garment: "side seam", "sleeve into armscye".
    pub name: String,
    /// One side, in sewing order.
    pub a: Vec<Stretch>,
    /// The other side, in sewing order; its start meets the start of `a`.
    pub b: Vec<Stretch>,
    /// Is the same seam sewn mirrored on the other side of the body?
    pub mirrored: bool,
    /// How long `a` is against `b`.
    pub relation: Relation,
    /// How it is sewn.
    pub kind: SeamKind,
    /// What is caught in it.
    #[serde(default)]
    pub inserts: Vec<Insert>,
}

/// Part of an edge of one copy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stretch {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// Name of the edge.
    pub edge: String,
    /// Fraction where sewing starts. Above `to` when the edge is walked against its drawn direction.
    pub from: f64,
    /// Fraction where sewing ends.
    pub to: f64,
}

/// How long side `a` of a seam is against side `b`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Relation {
    /// Equal.
    Equal,
    /// `a` is longer by this much and eased in. In proportion after adapting, unless the fitting sets it.
    Eased(Mm),
    /// `a` is this many times as long (gathered or pleated into `b`).
    Ratio(f64),
}

/// How a seam is sewn. ISO 4916 classes stand in `making_order` once sourced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum SeamKind {
    /// Right sides together, one row.
    #[default]
    Plain,
    /// Sewn twice, raw edges inside.
    French,
    /// One allowance folded over the other and sewn down.
    Felled,
    /// Edges wrapped in a strip.
    Bound,
    /// Edges overcast.
    Overedged,
    /// One edge laid on the other.
    Lapped,
}

/// Something caught between the layers of a seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Insert {
    /// What it is, in the maker's words.
    pub name: String,
    /// What kind.
    pub kind: InsertKind,
    /// Thickness it adds to the stack.
    pub thickness: Mm,
    /// Fraction of side `a` where it starts.
    pub from: f64,
    /// Fraction of side `a` where it ends.
    pub to: f64,
}

/// Kinds of inserts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum InsertKind {
    /// A tie or ribbon end.
    Tie,
    /// A ruffle.
    Ruffle,
    /// A piping or cording.
    Piping,
    /// Lace or other edging.
    Lace,
}
