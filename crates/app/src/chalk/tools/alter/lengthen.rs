//! Lengthens or shortens a piece at a line across it.

use egui::Ui;
use kurbo::{BezPath, Point};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::across;
use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle};
use crate::chalk::typed;
use crate::command::Command;

/// Lengthens or shortens a piece at a line across it.
pub struct Lengthen {
    by: Mm,
}

impl Default for Lengthen {
    fn default() -> Self {
        Self { by: Mm(10.0) }
    }
}

impl Job for Lengthen {
    fn name(&self) -> &'static str {
        "Lengthen"
    }

    fn tip(&self) -> &'static str {
        "Lengthen or shorten a piece at a line across it"
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
        Some("Lengthen here")
    }

    fn asks(&self, picked: &[Spot]) -> &'static str {
        if picked.is_empty() {
            "Click the outline where the line across begins"
        } else {
            "Click the outline where the line ends; what lies right of it moves"
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, from, to) = across::ends(picked)?;
        let change = ShapeChange::Lengthen {
            from,
            to,
            by: self.by,
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
        typed::difference(ui, hand, "Longer by", &mut self.by, commands)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        across::amount_handle(hand, picked, self.by, "How much longer")
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
