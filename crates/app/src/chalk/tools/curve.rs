//! Draws an edge anew as one smooth curve through clicked points, with given directions at its ends.

use egui::{Key, Ui};
use petitoile_core::Degrees;
use petitoile_core::drawn::{Bend, DrawnPoint, towards};
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::spline;

use crate::chalk::brush::Brush;
use crate::chalk::draft::on_edge::OnEdge;
use crate::chalk::draft::{self, Draft, Outcome};
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::pick_edge;
use crate::chalk::tool::{Gesture, Group, Handle, SnapsTo, Tool, Typed};
use crate::command::Command;

/// Draws an edge anew as one smooth curve.
#[derive(Default)]
pub struct CurveThrough {
    edge: Option<OnEdge>,
    draft: Draft,
    leaves: Option<f64>,
    arrives: Option<f64>,
}

impl CurveThrough {
    /// The curve through the points so far, the one under the hand, and the end of the edge.
    fn line(&self, more: Option<kurbo::Point>) -> Option<Line> {
        let end = self.draft.end.as_ref()?.at;
        let points: Vec<_> = self
            .draft
            .points
            .iter()
            .map(|p| p.at)
            .chain(more)
            .chain([end])
            .collect();
        let way = |angle: Option<f64>| angle.map(|angle| towards(Degrees(angle)));
        spline::through(&points, way(self.leaves), way(self.arrives))
    }

    fn begin(&mut self, edge: Option<OnEdge>) {
        self.edge = edge;
        self.draft.next = Bend::Through;
    }

    fn finish(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(edge) = &self.edge else { return };
        if edge.finish(hand, self.line(None), commands) {
            *self = Self::default();
        }
    }
}

impl Tool for CurveThrough {
    fn name(&self) -> &'static str {
        "Curve"
    }

    fn tip(&self) -> &'static str {
        "Draw an edge anew as one smooth curve through points, with its end directions"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn key(&self) -> Option<Key> {
        Some(Key::V)
    }

    fn says(&self, _hand: &Hand<'_>) -> String {
        match &self.edge {
            Some(edge) => format!(
                "{}: click points it runs through, then its end or Enter",
                edge.name()
            ),
            None => "Click the edge that is to become a smooth curve".to_owned(),
        }
    }

    fn handles(&self, _hand: &Hand<'_>) -> Vec<Handle> {
        self.draft.handles()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match (&self.edge, gesture) {
            (None, Gesture::Click(at)) => {
                let edge = OnEdge::begin(hand, &at, &mut self.draft);
                self.begin(edge);
            }
            (None, Gesture::Finish) => {
                let edge = OnEdge::chosen(hand, &mut self.draft);
                self.begin(edge);
            }
            // A drag sets a point where it ends: on a smooth curve there is nothing to pull.
            (None, _) | (Some(_), Gesture::Press(_) | Gesture::Drag(..)) => {}
            (Some(_), gesture) => {
                let gesture = match gesture {
                    Gesture::Drop(_, at) => Gesture::Click(at),
                    other => other,
                };
                if self.draft.gesture(hand, gesture, commands) == Outcome::Finished {
                    self.finish(hand, commands);
                }
            }
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        let was = self.draft.cancel();
        if self.draft.points.is_empty() {
            *self = Self::default();
        }
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if self.edge.is_none() {
            pick_edge(ui, hand, commands);
            let chosen = hand.session.chosen.edge.is_some();
            if ui
                .add_enabled(chosen, egui::Button::new("Make it a curve"))
                .clicked()
            {
                let edge = OnEdge::chosen(hand, &mut self.draft);
                self.begin(edge);
            }
            return;
        }
        if ui.button("Finish the edge").clicked() {
            self.finish(hand, commands);
            return;
        }
        draft::direction_fields(ui, &mut self.leaves, &mut self.arrives);
        draft::fields(&mut self.draft, ui, hand, commands);
        self.draft.next = Bend::Through;
    }

    fn snaps_to(&self, _hand: &Hand<'_>) -> SnapsTo {
        self.draft.snaps_to()
    }

    fn typed(&mut self, hand: &Hand<'_>, key: Typed, commands: &mut Vec<Command>) -> bool {
        self.edge.is_some() && self.draft.typed(hand, key, commands)
    }

    fn is_typing(&self) -> bool {
        self.draft.is_typing()
    }

    fn step_back(&mut self) -> bool {
        self.draft.step_back()
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if self.edge.is_none() {
            return;
        }
        let next = hand.pointer.as_ref().map(|at| at.point);
        if let Some(line) = self.line(next) {
            brush.line(&line.to_path());
        }
        for DrawnPoint { at, .. } in &self.draft.points {
            brush.dot(*at);
        }
    }
}
