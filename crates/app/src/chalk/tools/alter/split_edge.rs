//! Makes two edges of one.

use egui::Ui;
use kurbo::Point;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::edge_name;
use crate::chalk::near::fraction_near;
use crate::chalk::on_edge::{OnEdge, place_fields};
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Makes two edges of one.
#[derive(Default)]
pub struct SplitEdge {
    place: Option<OnEdge>,
    name: String,
}

impl Job for SplitEdge {
    fn name(&self) -> &'static str {
        "Split edge"
    }

    fn tip(&self) -> &'static str {
        "Make two edges of one: a new corner; the shape stays"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Place)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Split the edge")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge where it is to become two"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        self.place = match picked {
            [Spot::Place(place)] => Some(place.clone()),
            _ => None,
        };
        if let Some(place) = &self.place
            && let Some(piece) = hand.piece(&place.piece)
        {
            self.name = edge_name(piece, &format!("{} 2", place.edge));
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (Some(place), [_]) = (&self.place, picked) else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::SplitEdge {
            at: place.in_outline(),
            name: self.name.clone(),
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
        let moved = place_fields(ui, hand, &place, true, commands);
        if let Some(fraction) = moved {
            self.place = Some(place.at(fraction));
        }
        typed::name(ui, "Name of the second part", &mut self.name) | moved.is_some()
    }

    fn pulls(&self, hand: &Hand<'_>, _picked: &[Spot]) -> Vec<Handle> {
        let at = self.place.as_ref().and_then(|place| place.on_table(hand));
        let handle = at.map(|at| Handle {
            id: "split".to_owned(),
            at,
            label: "Where the edge is split".to_owned(),
            look: HandleLook::Corner,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, _picked: &[Spot], _handle: &str, to: Point) {
        if let Some(place) = &self.place
            && let Some(edge) = place.edge_of(hand)
        {
            let own = hand.in_piece(&place.piece, to);
            self.place = Some(place.at(fraction_near(&edge.line, own)));
        }
    }
}
