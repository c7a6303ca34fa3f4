//! Divides a dart into several.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::mouth;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Divides a dart into several.
pub struct Divide {
    into: u32,
    apart: Mm,
}

impl Default for Divide {
    fn default() -> Self {
        Self {
            into: 2,
            apart: Mm(20.0),
        }
    }
}

impl Job for Divide {
    fn name(&self) -> &'static str {
        "Divide"
    }

    fn tip(&self) -> &'static str {
        "Divide a dart into several equal ones side by side"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Dart)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Divide it")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the dart that is to be divided"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        // Their mouths lie side by side with as much cloth between them as they are wide.
        if let [Spot::Dart { piece, dart }] = picked
            && let Some(width) = mouth::width(hand, piece, dart)
        {
            self.apart = Mm(width);
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = DartChange::Divide {
            dart: dart.clone(),
            into: self.into,
            apart: self.apart,
        };
        Ok(change.of(piece))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        _picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let into = typed::count(ui, "Into how many", &mut self.into, 2..=9);
        typed::length(ui, hand, "Apart", &mut self.apart, commands) | into
    }
}
