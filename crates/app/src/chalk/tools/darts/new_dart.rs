//! Cuts a new dart into an edge.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::{dart_name, outwards};
use crate::chalk::on_edge::{OnEdge, place_fields};
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Cuts a new dart into an edge.
pub struct NewDart {
    name: String,
    place: Option<OnEdge>,
    width: Mm,
    /// From the middle of the mouth to the tip.
    tip: Vec2,
}

impl Default for NewDart {
    fn default() -> Self {
        Self {
            name: String::new(),
            place: None,
            width: Mm(10.0),
            tip: Vec2::ZERO,
        }
    }
}

/// A new dart is this many times as long as its mouth is wide, until it is dragged or typed (no source).
const LONG: f64 = 4.0;

impl Job for NewDart {
    fn name(&self) -> &'static str {
        "New dart"
    }

    fn tip(&self) -> &'static str {
        "Cut a new dart into an edge"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Place)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Cut the dart in")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge where the mouth of the dart is to be"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        self.place = match picked {
            [Spot::Place(place)] => Some(place.clone()),
            _ => None,
        };
        let Some(place) = &self.place else {
            return;
        };
        if let Some(piece) = hand.piece(&place.piece) {
            self.name = dart_name(piece, &format!("{} dart", place.edge));
        }
        if let Some((_, way)) = outwards(hand, place) {
            self.tip = -way * (LONG * self.width.0);
        }
    }

    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (Some(place), [_]) = (&self.place, picked) else {
            return Err(self.asks(picked).to_owned());
        };
        let mouth = place.on_table(hand).ok_or("this edge is gone")?;
        let change = DartChange::Add {
            dart: self.name.clone(),
            at: place.in_outline(),
            width: self.width,
            tip: hand.in_piece(&place.piece, mouth + self.tip),
        };
        Ok(change.of(&place.piece))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let Some(place) = self.place.clone().filter(|_| !picked.is_empty()) else {
            return false;
        };
        let mut changed = false;
        if let Some(fraction) = place_fields(ui, hand, &place, true, commands) {
            self.place = Some(place.at(fraction));
            changed = true;
        }
        changed |= typed::length(ui, hand, "Width of the mouth", &mut self.width, commands);
        let mut long = Mm(self.tip.hypot());
        if typed::length(ui, hand, "Length", &mut long, commands) && self.tip.hypot() > 0.0 {
            self.tip *= long.0 / self.tip.hypot();
            changed = true;
        }
        typed::name(ui, "Name of the dart", &mut self.name) | changed
    }

    fn pulls(&self, hand: &Hand<'_>, _picked: &[Spot]) -> Vec<Handle> {
        let mouth = self.place.as_ref().and_then(|place| place.on_table(hand));
        let handle = mouth.map(|mouth| Handle {
            id: "tip".to_owned(),
            at: mouth + self.tip,
            label: "Tip of the new dart".to_owned(),
            look: HandleLook::Point,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, _picked: &[Spot], _handle: &str, to: Point) {
        if let Some(mouth) = self.place.as_ref().and_then(|place| place.on_table(hand)) {
            self.tip = to - mouth;
        }
    }
}
