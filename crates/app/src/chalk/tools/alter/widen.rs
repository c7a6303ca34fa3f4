//! Adds or takes away width at an edge.

use egui::Ui;
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::outwards;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Adds or takes away width at an edge.
pub struct Widen {
    at_start: Mm,
    at_end: Mm,
}

impl Default for Widen {
    fn default() -> Self {
        Self {
            at_start: Mm(0.0),
            at_end: Mm(0.0),
        }
    }
}

impl Job for Widen {
    fn name(&self) -> &'static str {
        "Add width"
    }

    fn tip(&self) -> &'static str {
        "Add or take away width at an edge, tapering from end to end"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Edge)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Add the width")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge, then drag its ends outwards or type how much"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = (hand, picked);
        *self = Self::default();
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Edge(edge)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::Widen {
            edge: edge.edge.clone(),
            at_start: self.at_start,
            at_end: self.at_end,
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
        let [Spot::Edge(edge)] = picked else {
            return false;
        };
        let (start, end) = OnEdge::new(&edge.piece, &edge.edge, 0.0).end_names(hand);
        let names = [format!("Out at {start}"), format!("Out at {end}")];
        let [a, b] = &names;
        typed::difference(ui, hand, a, &mut self.at_start, commands)
            | typed::difference(ui, hand, b, &mut self.at_end, commands)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let [Spot::Edge(edge)] = picked else {
            return Vec::new();
        };
        let ends = [("start", 0.0, self.at_start), ("end", 1.0, self.at_end)];
        let handles = ends.into_iter().filter_map(|(id, fraction, by)| {
            let end = OnEdge::new(&edge.piece, &edge.edge, fraction);
            let (at, way) = outwards(hand, &end)?;
            Some(Handle {
                id: id.to_owned(),
                at: at + way * by.0,
                label: format!("Width at the {id} of {}", edge.edge),
                look: HandleLook::Corner,
                chosen: true,
            })
        });
        handles.collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], handle: &str, to: Point) {
        let [Spot::Edge(edge)] = picked else {
            return;
        };
        let (fraction, by) = match handle {
            "start" => (0.0, &mut self.at_start),
            _ => (1.0, &mut self.at_end),
        };
        if let Some((at, way)) = outwards(hand, &OnEdge::new(&edge.piece, &edge.edge, fraction)) {
            *by = Mm((to - at).dot(way));
        }
    }
}
