//! Gives a piece another name.

use egui::Ui;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Gives a piece another name.
#[derive(Default)]
pub struct RenamePiece {
    name: String,
}

impl Job for RenamePiece {
    fn name(&self) -> &'static str {
        "Rename piece"
    }

    fn tip(&self) -> &'static str {
        "Give a piece another name; everything that names it follows"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Rename the piece")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a piece, then type its new name"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = hand;
        if let [Spot::Piece(piece)] = picked {
            self.name.clone_from(piece);
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        if self.name == *piece {
            return Err("Type its new name".to_owned());
        }
        Ok(Alteration::Pieces(PiecesChange::Rename {
            piece: piece.clone(),
            name: self.name.clone(),
        }))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        _hand: &Hand<'_>,
        picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        !picked.is_empty() && typed::name(ui, "New name", &mut self.name)
    }
}
