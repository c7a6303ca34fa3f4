//! Brings an edge to a length.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Brings an edge to a length.
pub struct SetLength {
    length: Mm,
}

impl Default for SetLength {
    fn default() -> Self {
        Self { length: Mm(0.0) }
    }
}

impl Job for SetLength {
    fn name(&self) -> &'static str {
        "Set length"
    }

    fn tip(&self) -> &'static str {
        "Bring an edge to a length along itself; the next edge follows"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Edge)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Set the length")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge, then type its length or drag its end"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Edge(edge)] = picked {
            self.length = OnEdge::new(&edge.piece, &edge.edge, 0.0).length(hand);
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Edge(edge)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::SetLength {
            edge: edge.edge.clone(),
            length: self.length,
        };
        Ok(change.of(&edge.piece))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        !picked.is_empty() && typed::length(ui, hand, "Length", &mut self.length, commands)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let [Spot::Edge(edge)] = picked else {
            return Vec::new();
        };
        let end = OnEdge::new(&edge.piece, &edge.edge, 1.0);
        let at = end.on_table(hand).zip(along(hand, &end));
        let handle = at.map(|(at, way)| Handle {
            id: "length".to_owned(),
            at: at + way * (self.length.0 - end.length(hand).0),
            label: format!("End of {}, drag it along", edge.edge),
            look: HandleLook::Corner,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        let [Spot::Edge(edge)] = picked else {
            return;
        };
        let end = OnEdge::new(&edge.piece, &edge.edge, 1.0);
        if let Some((at, way)) = end.on_table(hand).zip(along(hand, &end)) {
            self.length = Mm((end.length(hand).0 + (to - at).dot(way)).max(0.1));
        }
    }
}

/// The way an edge runs at a place.
fn along(hand: &Hand<'_>, place: &OnEdge) -> Option<Vec2> {
    let way = place.edge_of(hand)?.line.direction(place.fraction);
    (way.hypot() > 0.0).then(|| way / way.hypot())
}
