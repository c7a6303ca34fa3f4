//! What changes to the list of pieces are called in the undo list.

use super::PiecesChange;
use crate::units::LengthUnit;

impl PiecesChange {
    /// What the undo step is called, lengths in `unit`.
    pub(in crate::alteration) fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::Add(piece) => format!("add {}", piece.name),
            Self::Remove { piece } => format!("take out {piece}"),
            Self::Rename { piece, name } => format!("{piece} is called {name}"),
            Self::Cut { piece, name, .. } => format!("cut {piece} in two: {piece} and {name}"),
            Self::Join { seam, name } => format!("join along {seam} to {name}"),
            Self::Facing {
                piece,
                depth,
                turn_of_cloth,
                name,
                ..
            } => format!(
                "{name} of {piece}, {} deep, {} turn of cloth",
                unit.show_chosen(*depth),
                unit.show_chosen(*turn_of_cloth)
            ),
            Self::Lining {
                piece,
                turn_of_cloth,
                name,
            } => format!(
                "{name} of {piece}, {} turn of cloth",
                unit.show_chosen(*turn_of_cloth)
            ),
            Self::Gusset {
                piece,
                side,
                width,
                name,
                ..
            } => format!(
                "{name} into {piece}, sides {}, {} wide",
                unit.show_chosen(*side),
                unit.show_chosen(*width)
            ),
            Self::Binding {
                piece,
                width,
                bias,
                name,
                ..
            } => format!(
                "{name} of {piece}, {} wide, {}",
                unit.show_chosen(*width),
                if *bias { "on the bias" } else { "on the grain" }
            ),
        }
    }
}
