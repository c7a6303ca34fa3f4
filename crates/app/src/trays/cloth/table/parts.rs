//! Parts under pointer and keys: chosen, dragged, moved by arrows.

use egui::{Key, Modifiers, Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use kurbo::Point;
use petitoile_core::lay_plan::PartRef;

use super::super::ClothTray;
use super::super::hand::{Ground, Lifted};
use super::super::laid::Part;
use super::super::paint::{self, Brush, State};
use super::{Act, FINE, Frame, OUT, SNAP, STEP, TURN, part_key};
use crate::canvas::{self, TARGET};
use crate::command::Command;

impl ClothTray {
    pub(super) fn show_parts(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let pointer = self.hovered(ui, frame);
        for part in &frame.laid.parts {
            let away = self
                .hand
                .as_ref()
                .is_some_and(|hand| hand.part == part.part);
            let chosen = self.is_chosen(frame.session, part);
            let state = State {
                chosen,
                hovered: pointer.as_ref() == Some(&part.part),
                wrong: !part.faults.is_empty(),
                cut: part.is_cut(),
                pinned: part.is_pinned(),
                held: false,
                away,
            };
            if frame.canvas.intersects(brush.rect(part.lines.bounds)) {
                paint::part(brush, &part.lines, &part.name, state);
            }
            self.listen_part(ui, frame, brush, part, chosen, commands);
        }
    }

    /// The part under the pointer, while nothing else is being done.
    pub(super) fn hovered(&self, ui: &Ui, frame: &Frame<'_>) -> Option<PartRef> {
        let p = ui
            .ctx()
            .pointer_hover_pos()
            .filter(|p| frame.canvas.contains(*p) && self.drawing.is_none())
            .filter(|p| ui.ctx().layer_id_at(*p) == Some(ui.layer_id()))?;
        let on = frame.view.table_from_screen(frame.canvas, p);
        Some(frame.laid.part_at(on)?.part.clone())
    }

    /// A part as a button with a name, as large as a finger at its middle; the rest of it is listened to by its outline.
    pub(super) fn listen_part(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        part: &Part,
        chosen: bool,
        commands: &mut Vec<Command>,
    ) {
        let held = self.hand.as_ref().filter(|hand| hand.part == part.part);
        let middle = held.map_or(part.lines.middle, |hand| hand.lines.middle);
        let target = Rect::from_center_size(brush.at(middle), Vec2::splat(TARGET));
        let id = ui.scope_id().with(part_key(&part.part));
        let response = ui.interact(target, id, Sense::click_and_drag());
        let label = match held {
            Some(hand) => format!("{}, in the hand", hand.words(frame.seen.unit())),
            None => part.label(),
        };
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, chosen, &label));
        canvas::keep_arrows(ui, &response);
        if response.gained_focus() && !chosen {
            self.choose_part(part, commands);
        }
        self.pointer_on(ui, &response, frame, Some(part), commands);
        if response.has_focus() {
            self.part_keys(ui, frame, part, commands);
        }
    }

    /// Clicks and drags that began on a part or on the table.
    pub(super) fn pointer_on(
        &mut self,
        ui: &Ui,
        response: &Response,
        frame: &Frame<'_>,
        part: Option<&Part>,
        commands: &mut Vec<Command>,
    ) {
        let place = |p: Pos2| frame.view.table_from_screen(frame.canvas, p);
        let primary = response.dragged_by(egui::PointerButton::Primary);
        if let Some(part) = part {
            if response.clicked() {
                self.choose_part(part, commands);
                response.request_focus();
            }
            if response.drag_started_by(egui::PointerButton::Primary) && !frame.seen.is_searching {
                let from = ui.input(|i| i.pointer.press_origin());
                self.lift(frame, part, from.map(place), commands);
            }
        }
        let by_pointer = self.hand.as_ref().is_some_and(|hand| hand.by_pointer);
        if by_pointer
            && primary
            && let Some(p) = response.interact_pointer_pos()
        {
            // Held down, Shift lets it lie wherever it is put.
            let snaps = !ui.input(|i| i.modifiers.shift);
            let reach = snaps.then_some(SNAP / frame.view.scale);
            self.with_hand(frame, |hand, ground| hand.follow(ground, place(p), reach));
        }
        if by_pointer && response.drag_stopped() {
            self.set_down(frame, commands);
        }
    }

    /// Takes a part in the hand.
    pub(super) fn lift(
        &mut self,
        frame: &Frame<'_>,
        part: &Part,
        pointer: Option<Point>,
        commands: &mut Vec<Command>,
    ) {
        if self
            .hand
            .as_ref()
            .is_some_and(|hand| hand.part != part.part)
        {
            self.set_down(frame, commands);
        }
        match Lifted::new(part, pointer) {
            Ok(hand) => {
                self.hand = Some(hand);
                self.with_hand(frame, Lifted::look);
                if !self.is_chosen(frame.session, part) {
                    self.choose_part(part, commands);
                }
            }
            Err(why) => commands.push(Command::Say(why)),
        }
    }

    pub(super) fn with_hand(
        &mut self,
        frame: &Frame<'_>,
        then: impl FnOnce(&mut Lifted, &Ground<'_>),
    ) {
        let scene = frame.seen.scene();
        let fitting = frame.seen.fitting.as_ref();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        if let Some(hand) = &mut self.hand {
            then(hand, &ground);
        }
    }

    pub(super) fn set_down(&mut self, frame: &Frame<'_>, commands: &mut Vec<Command>) {
        let scene = frame.seen.scene();
        let fitting = frame.seen.fitting.as_ref();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        if let Some(hand) = self.hand.take() {
            commands.extend(hand.set_down(&ground, OUT / frame.view.scale));
        }
    }

    /// Keys on a part that has them.
    pub(super) fn part_keys(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        part: &Part,
        commands: &mut Vec<Command>,
    ) {
        if frame.seen.is_searching {
            return;
        }
        let pressed = |key: Key, with: Modifiers| ui.input_mut(|i| i.consume_key(with, key));
        let is_held = |tray: &Self| {
            tray.hand
                .as_ref()
                .is_some_and(|hand| hand.part == part.part)
        };
        for (key, way) in [
            (Key::ArrowLeft, kurbo::Vec2::new(-1.0, 0.0)),
            (Key::ArrowRight, kurbo::Vec2::new(1.0, 0.0)),
            (Key::ArrowUp, kurbo::Vec2::new(0.0, 1.0)),
            (Key::ArrowDown, kurbo::Vec2::new(0.0, -1.0)),
        ] {
            let push = pressed(key, Modifiers::COMMAND);
            let fine = !push && pressed(key, Modifiers::SHIFT);
            if !push && !fine && !pressed(key, Modifiers::NONE) {
                continue;
            }
            if !is_held(self) {
                self.lift(frame, part, None, commands);
            }
            let by = way * if fine { FINE } else { STEP };
            self.with_hand(frame, |hand, ground| {
                if push {
                    hand.push(ground, way);
                } else {
                    hand.nudge(ground, by);
                }
            });
        }
        for (key, by) in [(Key::Comma, TURN), (Key::Period, -TURN)] {
            if pressed(key, Modifiers::NONE) {
                if !is_held(self) {
                    self.lift(frame, part, None, commands);
                }
                self.with_hand(frame, |hand, ground| hand.turn(ground, by));
            }
        }
        if pressed(Key::Enter, Modifiers::NONE) {
            if is_held(self) {
                self.set_down(frame, commands);
            } else if part.placed.is_none() {
                self.lift(frame, part, None, commands);
                let first = self.offcut.clone();
                self.with_hand(frame, |hand, ground| hand.bring(ground, first.as_deref()));
            }
        }
        for (key, act) in [
            (Key::U, Act::UpsideDown),
            (Key::F, Act::Flip),
            (Key::P, Act::Pin),
            (Key::Delete, Act::TakeUp),
        ] {
            if pressed(key, Modifiers::NONE) {
                self.act(frame, part, act, commands);
            }
        }
    }
}
