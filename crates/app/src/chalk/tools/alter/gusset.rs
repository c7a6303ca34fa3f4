//! Makes a gusset for a corner of the outline.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::piece_name;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Makes a gusset for a corner of the outline.
pub struct Gusset {
    side: Mm,
    width: Mm,
    name: String,
}

impl Default for Gusset {
    fn default() -> Self {
        Self {
            side: Mm(20.0),
            width: Mm(10.0),
            name: String::new(),
        }
    }
}

impl Job for Gusset {
    fn name(&self) -> &'static str {
        "Gusset"
    }

    fn tip(&self) -> &'static str {
        "Slit the piece from a corner and fill the slit with a gusset"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Corner)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Make the gusset")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the corner that gets a gusset"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Corner(corner)] = picked {
            self.name = piece_name(hand, &format!("{} gusset", corner.piece));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Corner(corner)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::Pieces(PiecesChange::Gusset {
            piece: corner.piece.clone(),
            corner: corner.edge.clone(),
            side: self.side,
            width: self.width,
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
        let side = typed::length(ui, hand, "Length of its sides", &mut self.side, commands);
        let wide = typed::length(ui, hand, "Opens by", &mut self.width, commands);
        typed::name(ui, "Name of the gusset", &mut self.name) | side | wide
    }
}
