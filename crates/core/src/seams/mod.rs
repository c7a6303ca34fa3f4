//! Seams: two lists of stretches that are sewn together, and what is caught between them.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::edge::{Edge, EdgeRef};
use crate::geometry::curve::Line;
use crate::piece::{Copy, Piece};
use crate::units::Mm;

mod partial;
mod side;
mod walked;

pub use partial::{PartialError, Way, place_near, stretches_between};
pub use side::{Side, SidePart, SidePlace};
pub use walked::{NotchPair, Walked, WalkedNotch, walked_notches};

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

impl Stretch {
    /// Its line on the given pieces, walked in sewing order. `None` when piece, edge or length is not there.
    pub fn line(&self, pieces: &[Arc<Piece>]) -> Option<Line> {
        let piece = pieces.iter().find(|piece| piece.name == self.piece)?;
        piece
            .outline
            .edge(&self.edge)?
            .line
            .between(self.from, self.to)
    }

    /// Its length on the given pieces.
    ///
    /// On finished pieces (source or adapted) this is the sewn length: darts are no part of an edge, and pleats and
    /// gathers are not yet let in. On cloth outlines it is the length before it is drawn in; see [`Self::sewn_length`].
    ///
    /// # Errors
    /// [`SeamError`] when the piece or the edge is not there.
    pub fn length(&self, pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let edge = self.edge_in(pieces)?;
        Ok(Mm(edge.line.length() * (self.to - self.from).abs()))
    }

    /// Its length on cloth outlines after pleats, tucks and gathers are taken up.
    ///
    /// `filled` are cloth outlines with fractions carried along ([`crate::fullness::Filled`]), and so is this stretch.
    ///
    /// # Errors
    /// [`SeamError`] when the piece or the edge is not there.
    pub fn sewn_length(&self, filled: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let whole = self.edge_in(filled)?.line.length();
        let (low, high) = (self.from.min(self.to), self.from.max(self.to));
        let ops = filled
            .iter()
            .filter(|piece| piece.name == self.piece)
            .flat_map(|piece| &piece.fullness)
            .filter(|op| op.edge == self.edge);
        let taken: f64 = ops
            .map(|op| {
                let cloth = whole * (op.to - op.from);
                let shared = (op.to.min(high) - op.from.max(low)).max(0.0) / (op.to - op.from);
                (cloth - op.fullness.finished_length(Mm(cloth)).0) * shared
            })
            .sum();
        Ok(Mm(whole * (high - low) - taken))
    }

    /// Fraction of this stretch, in sewing order, at a fraction of its edge; `None` beyond its ends.
    pub fn along(&self, edge_fraction: f64) -> Option<f64> {
        const NEAR: f64 = 1e-9;
        let along = (edge_fraction - self.from) / (self.to - self.from);
        (-NEAR..=1.0 + NEAR)
            .contains(&along)
            .then(|| along.clamp(0.0, 1.0))
    }

    fn edge_in<'a>(&self, pieces: &'a [Arc<Piece>]) -> Result<&'a Edge, SeamError> {
        let piece = pieces
            .iter()
            .find(|piece| piece.name == self.piece)
            .ok_or_else(|| SeamError::NoPiece(self.piece.clone()))?;
        let missing = || SeamError::NoEdge(EdgeRef::new(&self.piece, &self.edge));
        piece.outline.edge(&self.edge).ok_or_else(missing)
    }
}

/// Why a seam cannot be measured.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SeamError {
    /// A stretch names a piece that is not there.
    #[error("there is no piece called {0}")]
    NoPiece(String),
    /// A stretch names an edge that is not there.
    #[error("there is no edge {0}")]
    NoEdge(EdgeRef),
    /// A side without length.
    #[error("one side of the seam has no length")]
    NoLength,
}

/// Length of one side of a seam: the sum of its stretches. See [`Stretch::length`] for what counts.
///
/// # Errors
/// [`SeamError`] when a stretch names something that is not there.
pub fn side_length(side: &[Stretch], pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
    side.iter()
        .try_fold(Mm(0.0), |sum, stretch| Ok(sum + stretch.length(pieces)?))
}

impl Seam {
    /// How much longer side `a` is than its relation to `b` asks: 0 fits, positive is too long.
    ///
    /// # Errors
    /// [`SeamError`] when a stretch names something that is not there.
    ///
    /// # Example
    /// A sleeve cap of 104 mm eased by 4 mm into an armscye of 99 mm is 1 mm too long.
    pub fn difference(&self, pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let (a, b) = (side_length(&self.a, pieces)?, side_length(&self.b, pieces)?);
        Ok(a - self.relation.wanted(b))
    }
}

impl Relation {
    /// How long side `a` must be when `b` is this long.
    pub fn wanted(self, b: Mm) -> Mm {
        match self {
            Self::Equal => b,
            Self::Eased(by) => b + by,
            Self::Ratio(ratio) => Mm(b.0 * ratio),
        }
    }
}

#[cfg(test)]
mod tests;
