//! Mirrors a piece.

use egui::Ui;
use petitoile_core::alteration::{Alteration, Axis, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::command::Command;
use crate::fields::one_of;

/// Mirrors a piece.
pub struct Mirror {
    axis: Axis,
}

impl Default for Mirror {
    fn default() -> Self {
        Self {
            axis: Axis::Upright,
        }
    }
}

impl Job for Mirror {
    fn name(&self) -> &'static str {
        "Mirror"
    }

    fn tip(&self) -> &'static str {
        "Mirror a piece about its middle"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Mirror it")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a piece to mirror it"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(ShapeChange::Mirror { axis: self.axis }.of(piece))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        _hand: &Hand<'_>,
        _picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        let mut changed = false;
        ui.horizontal_wrapped(|ui| {
            let words = |axis| match axis {
                Axis::Upright => "left and right",
                Axis::Level => "top and bottom",
            };
            let both = [Axis::Upright, Axis::Level];
            if let Some(axis) = one_of(ui, "Mirror", self.axis, &both, words) {
                self.axis = axis;
                changed = true;
            }
        });
        changed
    }
}
