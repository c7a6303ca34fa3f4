//! Slashes a piece along a line and spreads it.

use egui::Ui;
use kurbo::{BezPath, Point};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, HingeEnd, ShapeChange, Spreading};

use crate::chalk::across;
use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle};
use crate::chalk::typed;
use crate::command::Command;
use crate::fields::one_of;

/// Slashes a piece along a line and spreads it.
pub struct SlashAndSpread {
    by: Mm,
    how: Spreading,
}

impl Default for SlashAndSpread {
    fn default() -> Self {
        Self {
            by: Mm(10.0),
            how: Spreading::Even,
        }
    }
}

const WAYS: [Spreading; 3] = [
    Spreading::Even,
    Spreading::Hinged(HingeEnd::To),
    Spreading::Hinged(HingeEnd::From),
];

impl Job for SlashAndSpread {
    fn name(&self) -> &'static str {
        "Slash and spread"
    }

    fn tip(&self) -> &'static str {
        "Slash a piece along a line and spread it, even or hinged at one end"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        match picked {
            [] => Some(Wants::Place),
            [Spot::Place(from)] => Some(Wants::PlaceOn(from.piece.clone())),
            _ => None,
        }
    }

    fn does(&self) -> Option<&'static str> {
        Some("Spread it")
    }

    fn asks(&self, picked: &[Spot]) -> &'static str {
        if picked.is_empty() {
            "Click the outline where the slash begins"
        } else {
            "Click the outline where the slash ends"
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, from, to) = across::ends(picked)?;
        let change = ShapeChange::Spread {
            from,
            to,
            by: self.by,
            how: self.how,
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
        let mut changed = false;
        ui.horizontal_wrapped(|ui| {
            let words = |way| match way {
                Spreading::Even => "even",
                Spreading::Hinged(HingeEnd::To) => "hinged at the end",
                Spreading::Hinged(HingeEnd::From) => "hinged at the start",
            };
            if let Some(how) = one_of(ui, "Spread", self.how, &WAYS, words) {
                self.how = how;
                changed = true;
            }
        });
        typed::difference(ui, hand, "Wider by", &mut self.by, commands) | changed
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        across::amount_handle(hand, picked, self.by, "How much wider")
            .into_iter()
            .collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        if let Some(by) = across::pulled(hand, picked, to) {
            self.by = by;
        }
    }

    fn line(&self, hand: &Hand<'_>, picked: &[Spot]) -> Option<BezPath> {
        across::line(hand, picked)
    }
}
