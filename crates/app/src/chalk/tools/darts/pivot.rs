//! Turns a dart to another place.

use egui::Ui;
use kurbo::BezPath;
use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::dart_name;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;
use crate::fields::{Asked, share_field};

/// Turns a dart to another place.
pub struct Pivot {
    share: f64,
    name: String,
}

impl Default for Pivot {
    fn default() -> Self {
        Self {
            share: 1.0,
            name: String::new(),
        }
    }
}

impl Job for Pivot {
    fn name(&self) -> &'static str {
        "Pivot"
    }

    fn tip(&self) -> &'static str {
        "Turn a dart about its tip to another place, whole or a share of it"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        match picked {
            [] => Some(Wants::Dart),
            [Spot::Dart { piece, .. }] => Some(Wants::PlaceOn(piece.clone())),
            _ => None,
        }
    }

    fn does(&self) -> Option<&'static str> {
        Some("Pivot it")
    }

    fn asks(&self, picked: &[Spot]) -> &'static str {
        if picked.is_empty() {
            "Click the dart that is to be turned"
        } else {
            "Click the outline where it is to open instead"
        }
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Dart { piece, .. }, Spot::Place(place)] = picked
            && let Some(piece) = hand.piece(piece)
        {
            self.name = dart_name(piece, &format!("{} dart", place.edge));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }, Spot::Place(place)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = DartChange::Pivot {
            dart: dart.clone(),
            to: place.in_outline(),
            share: self.share,
            name: self.name.clone(),
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
        let mut changed = false;
        ui.horizontal(|ui| {
            ui.label("Share of it");
            if let Asked::Done(share) = share_field(ui, "Share of the dart", Some(self.share)) {
                self.share = share;
                changed = true;
            }
        });
        typed::name(ui, "Name of the new dart", &mut self.name) | changed
    }

    fn line(&self, hand: &Hand<'_>, picked: &[Spot]) -> Option<BezPath> {
        let [dart, place] = picked else {
            return None;
        };
        let mut path = BezPath::new();
        path.move_to(dart.at(hand)?);
        path.line_to(place.at(hand)?);
        Some(path)
    }
}
