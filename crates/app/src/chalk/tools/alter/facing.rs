//! Makes a facing for edges of a piece.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::{piece_name, thickness};
use crate::chalk::several;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Makes a facing for edges of a piece.
pub struct Facing {
    depth: Mm,
    turn_of_cloth: Mm,
    name: String,
}

impl Default for Facing {
    fn default() -> Self {
        Self {
            depth: Mm(15.0),
            turn_of_cloth: Mm(0.0),
            name: String::new(),
        }
    }
}

impl Job for Facing {
    fn name(&self) -> &'static str {
        "Facing"
    }

    fn tip(&self) -> &'static str {
        "Make a facing: a copy of the piece along some of its edges, smaller by the turn of cloth"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        match picked.first() {
            Some(Spot::Edge(edge)) => Some(Wants::EdgeOf(edge.piece.clone())),
            _ => Some(Wants::Edge),
        }
    }

    fn is_ready(&self, picked: &[Spot]) -> bool {
        !picked.is_empty()
    }

    fn does(&self) -> Option<&'static str> {
        Some("Make the facing")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the neighbouring edges that are faced"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Edge(edge)] = picked {
            self.turn_of_cloth = thickness(hand);
            self.name = piece_name(hand, &format!("{} facing", edge.piece));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, edges) = several::edges(picked).ok_or(self.asks(picked))?;
        Ok(Alteration::Pieces(PiecesChange::Facing {
            piece,
            edges,
            depth: self.depth,
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
        let deep = typed::length(ui, hand, "Depth", &mut self.depth, commands);
        let turn = typed::length(ui, hand, "Turn of cloth", &mut self.turn_of_cloth, commands);
        typed::name(ui, "Name of the facing", &mut self.name) | deep | turn
    }
}
