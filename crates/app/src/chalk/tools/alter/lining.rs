//! Makes a lining of a piece.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::{piece_name, thickness};
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Makes a lining of a piece.
pub struct Lining {
    turn_of_cloth: Mm,
    name: String,
}

impl Default for Lining {
    fn default() -> Self {
        Self {
            turn_of_cloth: Mm(0.0),
            name: String::new(),
        }
    }
}

impl Job for Lining {
    fn name(&self) -> &'static str {
        "Lining"
    }

    fn tip(&self) -> &'static str {
        "Make a lining: a copy of the piece that lies inside, smaller by the turn of cloth"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Make the lining")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the piece that is lined"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Piece(piece)] = picked {
            self.turn_of_cloth = thickness(hand);
            self.name = piece_name(hand, &format!("{piece} lining"));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::Pieces(PiecesChange::Lining {
            piece: piece.clone(),
            turn_of_cloth: self.turn_of_cloth,
            name: self.name.clone(),
        }))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        _picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let turn = typed::length(ui, hand, "Turn of cloth", &mut self.turn_of_cloth, commands);
        typed::name(ui, "Name of the lining", &mut self.name) | turn
    }
}
