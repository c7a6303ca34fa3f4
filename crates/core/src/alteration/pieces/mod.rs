//! Changes to the list of pieces: drawn, taken out, renamed, cut in two, joined, and pieces made from pieces.

mod binding;
mod cut;
mod facing;
mod gusset;
mod join;
mod lining;
mod list;
mod naming;
mod round;
mod run;
#[cfg(test)]
mod tests;
mod turn;
mod words;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{AlterationError, Altered};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::units::Mm;

pub use turn::{round_an_edge, turn_of_cloth};

/// A change to the list of pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PiecesChange {
    /// Adds a piece that was drawn, traced or copied.
    Add(Arc<Piece>),
    /// Takes a piece out, with its seams.
    Remove {
        /// Name of the piece.
        piece: String,
    },
    /// Gives a piece another name.
    Rename {
        /// Its name.
        piece: String,
        /// Its new name.
        name: String,
    },
    /// Cuts a piece in two along a line across it; the cut becomes a seam.
    Cut {
        /// Name of the piece; what lies left of the line, walked from `from` to `to`, keeps it.
        piece: String,
        /// Where the line starts.
        from: OutlinePoint,
        /// Where it ends.
        to: OutlinePoint,
        /// The line itself where it is not straight, ends on the outline.
        through: Option<Line>,
        /// Name of the other part.
        name: String,
        /// Name of the new seam.
        seam: String,
    },
    /// Joins two pieces along a seam into one; the seam is gone.
    Join {
        /// Name of the seam; its side `a` stays where it is.
        seam: String,
        /// Name of the joined piece.
        name: String,
    },
    /// Makes a facing: a copy of the piece as deep as this along some of its edges.
    Facing {
        /// Name of the piece.
        piece: String,
        /// Neighbouring edges that are faced.
        edges: Vec<String>,
        /// How deep.
        depth: Mm,
        /// How much smaller it is at the faced edges, so that the seam rolls to the inside.
        turn_of_cloth: Mm,
        /// Name of the facing.
        name: String,
    },
    /// Makes a lining: a copy of the piece that lies inside.
    Lining {
        /// Name of the piece.
        piece: String,
        /// How much smaller it is all round, for the thickness of the shell.
        turn_of_cloth: Mm,
        /// Name of the lining.
        name: String,
    },
    /// Makes a gusset for a corner of the outline: a slit into the piece and a diamond that fills it.
    Gusset {
        /// Name of the piece.
        piece: String,
        /// The edge that starts at the corner.
        corner: String,
        /// Length of each side of the gusset.
        side: Mm,
        /// How wide it opens.
        width: Mm,
        /// Name of the gusset.
        name: String,
    },
    /// Makes a binding for edges: a strip as long as they are.
    Binding {
        /// Name of the piece.
        piece: String,
        /// Neighbouring edges that are bound.
        edges: Vec<String>,
        /// How wide it shows when it is sewn.
        width: Mm,
        /// Thickness of the bound edge, which the binding has to go round.
        turn_of_cloth: Mm,
        /// Is it cut on the bias?
        bias: bool,
        /// Name of the binding.
        name: String,
    },
}

impl PiecesChange {
    /// Name of the piece it starts from; empty when it is about none, or about several.
    pub fn piece(&self) -> &str {
        match self {
            Self::Add(piece) => &piece.name,
            Self::Remove { piece }
            | Self::Rename { piece, .. }
            | Self::Cut { piece, .. }
            | Self::Facing { piece, .. }
            | Self::Lining { piece, .. }
            | Self::Gusset { piece, .. }
            | Self::Binding { piece, .. } => piece,
            Self::Join { .. } => "",
        }
    }

    /// The garment with other pieces.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, garment: &Garment) -> Result<Altered, AlterationError> {
        match self {
            Self::Add(piece) => list::add(garment, piece),
            Self::Remove { piece } => list::remove(garment, piece),
            Self::Rename { piece, name } => list::rename(garment, piece, name),
            Self::Cut {
                piece,
                from,
                to,
                through,
                name,
                seam,
            } => cut::cut(
                garment,
                &cut::Cut {
                    piece,
                    from,
                    to,
                    through: through.as_ref(),
                    name,
                    seam,
                },
            ),
            Self::Join { seam, name } => join::join(garment, seam, name),
            Self::Facing {
                piece,
                edges,
                depth,
                turn_of_cloth,
                name,
            } => facing::facing(
                garment,
                &facing::Facing {
                    piece,
                    edges,
                    depth: *depth,
                    turn_of_cloth: *turn_of_cloth,
                    name,
                },
            ),
            Self::Lining {
                piece,
                turn_of_cloth,
                name,
            } => lining::lining(garment, piece, *turn_of_cloth, name),
            Self::Gusset {
                piece,
                corner,
                side,
                width,
                name,
            } => gusset::gusset(
                garment,
                &gusset::Gusset {
                    piece,
                    corner,
                    side: *side,
                    width: *width,
                    name,
                },
            ),
            Self::Binding {
                piece,
                edges,
                width,
                turn_of_cloth,
                bias,
                name,
            } => binding::binding(
                garment,
                &binding::Binding {
                    piece,
                    edges,
                    width: *width,
                    turn_of_cloth: *turn_of_cloth,
                    bias: *bias,
                    name,
                },
            ),
        }
    }
}
