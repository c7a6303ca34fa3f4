//! Gives an edge another name.

use egui::Ui;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Gives an edge another name.
#[derive(Default)]
pub struct RenameEdge {
    name: String,
}

impl Job for RenameEdge {
    fn name(&self) -> &'static str {
        "Rename edge"
    }

    fn tip(&self) -> &'static str {
        "Give an edge another name; seams and marks keep to it"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Edge)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Rename the edge")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge, then type its new name"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = hand;
        if let [Spot::Edge(edge)] = picked {
            self.name.clone_from(&edge.edge);
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Edge(edge)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        if self.name == edge.edge {
            return Err("Type its new name".to_owned());
        }
        let change = ShapeChange::RenameEdge {
            edge: edge.edge.clone(),
            name: self.name.clone(),
        };
        Ok(change.of(&edge.piece))
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
