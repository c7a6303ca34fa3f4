//! Adds a copy of a piece.

use egui::Ui;
use std::sync::Arc;

use petitoile_core::alteration::{Alteration, PiecesChange};
use petitoile_core::piece::Piece;

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::piece_name;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Adds a copy of a piece.
#[derive(Default)]
pub struct CopyPiece {
    name: String,
}

impl Job for CopyPiece {
    fn name(&self) -> &'static str {
        "Copy piece"
    }

    fn tip(&self) -> &'static str {
        "Add a copy of a piece under another name"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Add the copy")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the piece that is copied"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Piece(piece)] = picked {
            self.name = piece_name(hand, &format!("{piece} copy"));
        }
    }

    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let piece = hand.piece(piece).ok_or("this piece is gone")?;
        let copy = Piece {
            name: self.name.clone(),
            ..piece.as_ref().clone()
        };
        Ok(Alteration::Pieces(PiecesChange::Add(Arc::new(copy))))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        _hand: &Hand<'_>,
        picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        !picked.is_empty() && typed::name(ui, "Name of the copy", &mut self.name)
    }
}
