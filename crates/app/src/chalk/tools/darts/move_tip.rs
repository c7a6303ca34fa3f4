//! Moves the tip of a dart.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Moves the tip of a dart.
#[derive(Default)]
pub struct MoveTip {
    by: Vec2,
}

impl Job for MoveTip {
    fn name(&self) -> &'static str {
        "Move tip"
    }

    fn tip(&self) -> &'static str {
        "Move the tip of a dart: longer, shorter, another direction; its legs stay equal"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Dart)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Move the tip")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a dart, then drag its tip or type how far"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = (hand, picked);
        self.by = Vec2::ZERO;
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = DartChange::MoveTip {
            dart: dart.clone(),
            right: Mm(self.by.x),
            up: Mm(self.by.y),
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
        let (mut right, mut up) = (Mm(self.by.x), Mm(self.by.y));
        let changed = typed::difference(ui, hand, "To the right", &mut right, commands)
            | typed::difference(ui, hand, "Upwards", &mut up, commands);
        self.by = Vec2::new(right.0, up.0);
        changed
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let tip = picked.first().and_then(|spot| spot.at(hand));
        let handle = tip.map(|tip| Handle {
            id: "tip".to_owned(),
            at: tip + self.by,
            label: "Tip of the dart".to_owned(),
            look: HandleLook::Point,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        if let Some(tip) = picked.first().and_then(|spot| spot.at(hand)) {
            self.by = to - tip;
        }
    }
}
