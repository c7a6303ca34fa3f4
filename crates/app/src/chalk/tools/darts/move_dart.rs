//! Moves a dart along its edge.

use egui::Ui;
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::mouth::{along, middle};
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Moves a dart along its edge.
pub struct MoveDart {
    along: Mm,
}

impl Default for MoveDart {
    fn default() -> Self {
        Self { along: Mm(0.0) }
    }
}

impl Job for MoveDart {
    fn name(&self) -> &'static str {
        "Move dart"
    }

    fn tip(&self) -> &'static str {
        "Move a dart along its edge, tip with it"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Dart)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Move the dart")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a dart, then drag its mouth along the edge or type how far"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = (hand, picked);
        self.along = Mm(0.0);
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = DartChange::Move {
            dart: dart.clone(),
            along: self.along,
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
        typed::difference(ui, hand, "Along the edge", &mut self.along, commands)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Vec::new();
        };
        let handle = middle(hand, piece, dart)
            .zip(along(hand, piece, dart))
            .map(|(at, way)| Handle {
                id: "mouth".to_owned(),
                at: at + way * self.along.0,
                label: format!("Mouth of {dart}"),
                look: HandleLook::Point,
                chosen: true,
            });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        let [Spot::Dart { piece, dart }] = picked else {
            return;
        };
        if let Some((at, way)) = middle(hand, piece, dart).zip(along(hand, piece, dart)) {
            self.along = Mm((to - at).dot(way));
        }
    }
}
