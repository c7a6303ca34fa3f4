//! Moves a stretch of the outline.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::across;
use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Moves a stretch of the outline.
#[derive(Default)]
pub struct MoveStretch {
    by: Vec2,
}

impl Job for MoveStretch {
    fn name(&self) -> &'static str {
        "Move stretch"
    }

    fn tip(&self) -> &'static str {
        "Move everything of the outline between two places; what lies beside follows evenly"
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
        Some("Move it")
    }

    fn asks(&self, picked: &[Spot]) -> &'static str {
        if picked.is_empty() {
            "Click the outline where the stretch begins"
        } else {
            "Click the outline where it ends, counter-clockwise"
        }
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = (hand, picked);
        self.by = Vec2::ZERO;
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, from, to) = across::ends(picked)?;
        let change = ShapeChange::MoveStretch {
            from,
            to,
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
        let handle = across::middle(hand, picked).map(|(middle, _)| Handle {
            id: "stretch".to_owned(),
            at: middle + self.by,
            label: "Move the stretch".to_owned(),
            look: HandleLook::Edge,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        if let Some((middle, _)) = across::middle(hand, picked) {
            self.by = to - middle;
        }
    }
}
