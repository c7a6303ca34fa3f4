//! Draws a piece: corner by corner, curves by dragging, numbers by typing.

use egui::{Key, Ui};
use petitoile_core::drawn;

use crate::chalk::brush::Brush;
use crate::chalk::draft::{self, Draft, Outcome};
use crate::chalk::hand::Hand;
use crate::chalk::new_piece::NewPiece;
use crate::chalk::tool::{Gesture, Group, Handle, SnapsTo, Tool, Typed};
use crate::command::Command;
use crate::fields::name_field;

/// Draws a piece.
#[derive(Default)]
pub struct DrawPiece {
    draft: Draft,
    given_up: Option<Draft>,
    on_fold: bool,
    piece: NewPiece,
}

impl DrawPiece {
    fn finish(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        match drawn::outline(self.draft.closed(), self.on_fold) {
            Err(trouble) => commands.push(Command::Say(trouble.to_string())),
            Ok(outline) => {
                if self.piece.add(hand, outline, commands) {
                    self.draft = Draft::default();
                }
            }
        }
    }

    fn take_up(&mut self, ui: &mut Ui) {
        let waits = !self.draft.is_begun() && self.given_up.is_some();
        if waits && ui.button("Take up the last drawing again").clicked() {
            self.draft = self.given_up.take().unwrap_or_default();
        }
    }
}

impl Tool for DrawPiece {
    fn name(&self) -> &'static str {
        "Line"
    }

    fn tip(&self) -> &'static str {
        "Draw a piece: click corners, drag curves, type lengths"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn key(&self) -> Option<Key> {
        Some(Key::L)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if hand.session.garment().is_none() {
            return "Start a garment first: Project, New garment".to_owned();
        }
        let snapped = hand.pointer.as_ref().and_then(|at| at.snapped.as_ref());
        let closes = snapped.is_some_and(|s| s.what.contains("closes"));
        match (self.draft.points.len(), self.on_fold) {
            _ if self.draft.is_typing() => {
                "Enter: sets the point. Tab: length, angle, right, up".to_owned()
            }
            (0, true) => "Click: where the fold begins. Or type right and up".to_owned(),
            (0, false) => "Click: the first corner. Or type right and up".to_owned(),
            (1, true) => "Click: where the fold ends".to_owned(),
            (1, false) => "Click: next corner. Drag: a curve. Or type a length".to_owned(),
            _ if closes => "Click: closes the line and makes the piece".to_owned(),
            _ => "Click: next corner. Drag: a curve. Enter: closes. Backspace: takes a point back"
                .to_owned(),
        }
    }

    fn handles(&self, _hand: &Hand<'_>) -> Vec<Handle> {
        self.draft.handles()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if hand.session.garment().is_none() {
            if matches!(gesture, Gesture::Click(_)) {
                commands.push(Command::Say(self.says(hand)));
            }
            return;
        }
        if self.draft.gesture(hand, gesture, commands) == Outcome::Finished && self.draft.is_begun()
        {
            self.finish(hand, commands);
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        let points = self.draft.points.clone();
        let was = self.draft.cancel();
        if was && self.draft.points.is_empty() && points.len() > 1 {
            self.given_up = Some(Draft::of(points));
        }
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if hand.session.garment().is_none() {
            return;
        }
        self.take_up(ui);
        ui.horizontal(|ui| {
            let more = ui.add_enabled(self.draft.is_begun(), egui::Button::new("Point back"));
            if more.clicked() {
                self.draft.step_back();
            }
            let enough = self.draft.points.len() > 1;
            let close = ui.add_enabled(enough, egui::Button::new("Close the line"));
            if close.clicked() {
                self.finish(hand, commands);
            }
        });
        draft::fields(&mut self.draft, ui, hand, commands);
        ui.checkbox(&mut self.on_fold, "The first line is the fold");
        ui.horizontal(|ui| {
            ui.label("Name of the line");
            if let Some(name) = name_field(ui, "Name of the line", &self.draft.name) {
                self.draft.name = name;
            }
        });
        self.piece.fields(ui, hand, self.on_fold);
    }

    fn snaps_to(&self, _hand: &Hand<'_>) -> SnapsTo {
        self.draft.snaps_to()
    }

    fn typed(&mut self, hand: &Hand<'_>, key: Typed, commands: &mut Vec<Command>) -> bool {
        hand.session.garment().is_some() && self.draft.typed(hand, key, commands)
    }

    fn is_typing(&self) -> bool {
        self.draft.is_typing()
    }

    fn step_back(&mut self) -> bool {
        self.draft.step_back()
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if hand.session.garment().is_some() {
            draft::paint(&self.draft, hand, brush, self.on_fold);
        }
    }
}
