//! Draws an edge of a piece anew: corner by corner, curves by dragging, numbers by typing.

use egui::{Key, Ui};

use crate::chalk::brush::Brush;
use crate::chalk::draft::on_edge::OnEdge;
use crate::chalk::draft::{self, Draft, Outcome};
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::pick_edge;
use crate::chalk::tool::{Gesture, Group, Handle, SnapsTo, Tool, Typed};
use crate::command::Command;

/// Draws an edge anew.
#[derive(Default)]
pub struct RedrawEdge {
    edge: Option<OnEdge>,
    draft: Draft,
}

impl RedrawEdge {
    fn finish(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(edge) = &self.edge else { return };
        if edge.finish(hand, edge.line(&self.draft), commands) {
            self.edge = None;
            self.draft = Draft::default();
        }
    }
}

impl Tool for RedrawEdge {
    fn name(&self) -> &'static str {
        "Redraw"
    }

    fn tip(&self) -> &'static str {
        "Draw one edge of a piece anew, from corner to corner"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn key(&self) -> Option<Key> {
        Some(Key::R)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let under = hand
            .pointer
            .as_ref()
            .and_then(|at| Some((at.piece.as_ref()?, at.edge.as_ref()?)));
        match (&self.edge, under) {
            (Some(edge), _) => format!(
                "{}: click points, drag curves, click its end or Enter to finish",
                edge.name()
            ),
            (None, Some((piece, (edge, _)))) => {
                format!("Click: draw {edge} of {piece} anew, from the nearer corner")
            }
            (None, None) => "Click the edge that is to be drawn anew".to_owned(),
        }
    }

    fn handles(&self, _hand: &Hand<'_>) -> Vec<Handle> {
        self.draft.handles()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match (&self.edge, gesture) {
            (None, Gesture::Click(at)) => self.edge = OnEdge::begin(hand, &at, &mut self.draft),
            (None, Gesture::Finish) => self.edge = OnEdge::chosen(hand, &mut self.draft),
            (None, _) => {}
            (Some(_), gesture) => {
                if self.draft.gesture(hand, gesture, commands) == Outcome::Finished {
                    self.finish(hand, commands);
                }
            }
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        let was = self.draft.cancel();
        if self.draft.points.is_empty() {
            self.edge = None;
            self.draft = Draft::default();
        }
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if self.edge.is_none() {
            pick_edge(ui, hand, commands);
            let chosen = hand.session.chosen.edge.is_some();
            if ui
                .add_enabled(chosen, egui::Button::new("Draw it anew"))
                .clicked()
            {
                self.edge = OnEdge::chosen(hand, &mut self.draft);
            }
            return;
        }
        if ui.button("Finish the edge").clicked() {
            self.finish(hand, commands);
            return;
        }
        draft::fields(&mut self.draft, ui, hand, commands);
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
        if self.edge.is_some() {
            draft::paint(&self.draft, hand, brush, false);
        }
    }
}
