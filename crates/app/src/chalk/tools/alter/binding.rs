//! Makes a binding for edges of a piece.

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

/// Makes a binding for edges of a piece.
pub struct Binding {
    width: Mm,
    turn_of_cloth: Mm,
    bias: bool,
    name: String,
}

impl Default for Binding {
    fn default() -> Self {
        Self {
            width: Mm(5.0),
            turn_of_cloth: Mm(0.0),
            bias: true,
            name: String::new(),
        }
    }
}

impl Job for Binding {
    fn name(&self) -> &'static str {
        "Binding"
    }

    fn tip(&self) -> &'static str {
        "Make a binding: a strip as long as the edges it goes round"
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
        Some("Make the binding")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the neighbouring edges that are bound"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Edge(edge)] = picked {
            self.turn_of_cloth = thickness(hand);
            self.name = piece_name(hand, &format!("{} binding", edge.piece));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, edges) = several::edges(picked).ok_or(self.asks(picked))?;
        Ok(Alteration::Pieces(PiecesChange::Binding {
            piece,
            edges,
            width: self.width,
            turn_of_cloth: self.turn_of_cloth,
            bias: self.bias,
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
        let wide = typed::length(ui, hand, "Width it shows", &mut self.width, commands);
        let turn = typed::length(
            ui,
            hand,
            "Thickness of the edge",
            &mut self.turn_of_cloth,
            commands,
        );
        let bias = ui.checkbox(&mut self.bias, "Cut on the bias").changed();
        typed::name(ui, "Name of the binding", &mut self.name) | wide | turn | bias
    }
}
