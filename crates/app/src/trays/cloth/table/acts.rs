//! What is done with a part by a key or a button, what is in the hand, the turning handle.

use egui::{Key, Modifiers, Rect, Role, Sense, Ui, Vec2, WidgetInfo};
use petitoile_core::lay_plan::LayChange;

use super::super::ClothTray;
use super::super::hand::Ground;
use super::super::laid::Part;
use super::super::paint::{self, Brush, State};
use super::super::seen::Seen;
use super::{Frame, TURN, part_key};
use crate::canvas::{self, TARGET};
use crate::command::Command;
use crate::session::Session;

/// What can be done with a part by a key or a button.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Half a turn.
    UpsideDown,
    /// Left to right.
    Flip,
    /// Pinned, or let go.
    Pin,
    /// Off the cloth.
    TakeUp,
}

impl ClothTray {
    /// Does one thing with a part, by key or button.
    pub(super) fn act(
        &mut self,
        frame: &Frame<'_>,
        part: &Part,
        act: Act,
        commands: &mut Vec<Command>,
    ) {
        let fitting = frame.seen.fitting.as_ref();
        let scene = frame.seen.scene();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        match act {
            Act::Pin if part.placed.is_some() => {
                let pin = LayChange::Pin(part.part.clone(), !part.is_pinned());
                commands.push(ground.change(pin));
            }
            Act::TakeUp if part.placed.is_some() => {
                self.hand = None;
                commands.push(ground.change(LayChange::TakeUp(part.part.clone())));
            }
            Act::UpsideDown | Act::Flip => {
                let was_held = self
                    .hand
                    .as_ref()
                    .is_some_and(|hand| hand.part == part.part);
                if !was_held {
                    self.lift(frame, part, None, commands);
                }
                let mut done = Ok(());
                self.with_hand(frame, |hand, ground| {
                    done = match act {
                        Act::Flip => hand.flip(ground),
                        _ => hand.upside_down(ground),
                    };
                });
                if let Err(why) = done {
                    commands.push(Command::Say(why));
                    if !was_held {
                        self.hand = None;
                    }
                }
            }
            Act::Pin | Act::TakeUp => {
                commands.push(Command::Say(format!("{} lies on no cloth yet", part.name)))
            }
        }
    }

    /// What is asked by a button of the tray.
    pub(in crate::trays::cloth) fn asked(
        &mut self,
        session: &Session,
        act: Act,
        commands: &mut Vec<Command>,
    ) {
        let seen = Seen::of(session);
        if seen.is_searching {
            commands.push(Command::Say(
                "Wait until the search has ended, or stop it.".to_owned(),
            ));
            return;
        }
        let laid = self.kept.of(&seen);
        let frame = Frame {
            session,
            seen: &seen,
            laid: &laid,
            canvas: Rect::NOTHING,
            view: session.view,
        };
        let Some(part) = self.chosen_part(session, &laid).cloned() else {
            return;
        };
        self.act(&frame, &part, act, commands);
        // A button does it at once.
        if matches!(act, Act::UpsideDown | Act::Flip) {
            self.set_down(&frame, commands);
        }
    }

    /// What is in the hand, over everything else; its turning handle.
    pub(super) fn show_hand(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let focus_gone = self.hand.as_ref().is_some_and(|hand| {
            let id = ui.scope_id().with(part_key(&hand.part));
            !hand.by_pointer && !self.turning && ui.memory(|m| m.focused().is_some_and(|f| f != id))
        });
        if focus_gone {
            self.set_down(frame, commands);
        }
        if let Some(hand) = &self.hand {
            let wrong = !hand.faults.is_empty();
            let state = State {
                chosen: true,
                wrong,
                held: true,
                ..State::default()
            };
            paint::part(brush, &hand.lines, &hand.name, state);
            let words = hand.words(frame.seen.unit());
            paint::told(brush, &hand.lines, &words, wrong);
        }
        if self.drawing.is_none() && !frame.seen.is_searching {
            self.turning_handle(ui, frame, brush, commands);
        }
    }

    /// A handle beyond the upper end of the grainline of the chosen part.
    pub(super) fn turning_handle(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let Some(part) = self.chosen_part(frame.session, frame.laid).cloned() else {
            return;
        };
        if part.is_cut() || part.placed.is_none() || part.shape.is_none() {
            return;
        }
        let held = self.hand.as_ref().filter(|hand| hand.part == part.part);
        let lines = held.map_or(&part.lines, |hand| &hand.lines);
        let Some((low, high)) = lines.grain else {
            return;
        };
        let (a, b) = (brush.at(low), brush.at(high));
        let way = (b - a).normalized();
        let far = 0.5 * (brush.rect(lines.bounds).size() * way.abs()).length() + 20.0;
        let p = brush.at(lines.bounds.center()) + way * far;
        if !frame.canvas.contains(p) {
            return;
        }
        let id = ui.scope_id().with("turn handle");
        let target = Rect::from_center_size(p, Vec2::splat(TARGET));
        let response = ui.interact(target, id, Sense::click_and_drag());
        let label = format!("Turn {}", part.name);
        response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, &label));
        canvas::keep_arrows(ui, &response);
        paint::handle(
            brush,
            p,
            response.hovered() || response.has_focus() || response.dragged(),
        );
        if response.drag_started() {
            self.turning = true;
            let place = ui.input(|i| i.pointer.press_origin());
            let place = place.map(|p| frame.view.table_from_screen(frame.canvas, p));
            self.lift(frame, &part, place, commands);
        }
        if response.dragged()
            && let Some(p) = response.interact_pointer_pos()
        {
            let to = frame.view.table_from_screen(frame.canvas, p);
            self.with_hand(frame, |hand, ground| hand.turn_to(ground, to));
        }
        if response.drag_stopped() {
            self.turning = false;
            self.set_down(frame, commands);
        }
        if response.has_focus() {
            for (key, by) in [(Key::ArrowLeft, TURN), (Key::ArrowRight, -TURN)] {
                if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
                    self.lift(frame, &part, None, commands);
                    self.with_hand(frame, |hand, ground| hand.turn(ground, by));
                    self.set_down(frame, commands);
                }
            }
        }
        response.on_hover_text(
            "Drag round, or press the left and right arrow keys: within its grain tolerance",
        );
    }
}
