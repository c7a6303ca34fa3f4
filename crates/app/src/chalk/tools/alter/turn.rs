//! Turns a piece about its middle.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::alteration::{Alteration, ShapeChange};
use petitoile_core::units::Degrees;

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Turns a piece about its middle.
pub struct Turn {
    by: f64,
}

impl Default for Turn {
    fn default() -> Self {
        Self { by: 90.0 }
    }
}

impl Job for Turn {
    fn name(&self) -> &'static str {
        "Turn"
    }

    fn tip(&self) -> &'static str {
        "Turn a piece about its middle; its grainline turns with it"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Turn it")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a piece to turn it"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::Turn {
            by: Degrees(self.by),
        };
        Ok(change.of(piece))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        _hand: &Hand<'_>,
        _picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        typed::angle(ui, "Counter-clockwise by", &mut self.by)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let handle = arm(hand, picked).map(|(middle, arm)| Handle {
            id: "turn".to_owned(),
            at: middle + Vec2::from_angle(self.by.to_radians()) * arm,
            label: "Turn the piece".to_owned(),
            look: HandleLook::Point,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        if let Some((middle, _)) = arm(hand, picked) {
            self.by = (to - middle).atan2().to_degrees();
        }
    }
}

/// The middle of a piece on the table, and how far away from it the handle stands.
fn arm(hand: &Hand<'_>, picked: &[Spot]) -> Option<(Point, f64)> {
    let [Spot::Piece(name)] = picked else {
        return None;
    };
    let bounds = hand.piece(name)?.outline.bounds();
    let arm = 0.4 * bounds.width().max(bounds.height());
    Some((hand.on_table(name, bounds.center()), arm))
}
