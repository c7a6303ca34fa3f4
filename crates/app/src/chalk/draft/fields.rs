//! The numbers of a line that is being drawn, in the tray.

use egui::{Key, TextEdit, Ui};
use petitoile_core::drawn::{AngleFrom, Bend, length_and_angle};

use super::numbers::NAMES;
use super::{Draft, Grip, show};
use crate::chalk::hand::Hand;
use crate::command::Command;
use crate::fields::{Asked, Typed, angle_field, difference_field, one_of};
use crate::wording;

/// Length, angle, right and up of the next point; how the line runs through it; its name; the point that is held.
pub fn fields(draft: &mut Draft, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    ui.label("Next point");
    let mut entered = false;
    egui::Grid::new(ui.scope_id().with("next point"))
        .num_columns(4)
        .show(ui, |ui| {
            for (i, name) in NAMES.iter().enumerate() {
                ui.label(*name);
                entered |= number(draft, ui, hand, i, name);
                if i % 2 == 1 {
                    ui.end_row();
                }
            }
        });
    if entered && draft.numbers.is_typing() {
        draft.place_typed(hand, commands);
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Angle from");
        let both = [AngleFrom::Level, AngleFrom::LineBefore];
        let words = |from| match from {
            AngleFrom::Level => "level",
            AngleFrom::LineBefore => "the line before",
        };
        if let Some(from) = one_of(ui, "Angle from", draft.numbers.from, &both, words) {
            draft.numbers.from = from;
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Through it");
        let both = [Bend::AsPulled, Bend::Through];
        let words = |bend| match bend {
            Bend::AsPulled => "corner, or as pulled",
            Bend::Through => "one smooth curve",
        };
        if let Some(next) = one_of(ui, "Line through the next point", draft.next, &both, words) {
            draft.next = next;
        }
    });
    held(draft, ui, hand);
    if !draft.points.is_empty() {
        ui.label(show::so_far(draft, hand));
    }
}

/// One number; gives whether Enter was pressed in it. While nothing is typed it shows what the hand says.
fn number(draft: &mut Draft, ui: &mut Ui, hand: &Hand<'_>, i: usize, name: &str) -> bool {
    let hint = hint(draft, hand, i);
    let Some(text) = draft.numbers.texts.get_mut(i) else {
        return false;
    };
    let edit = TextEdit::singleline(text)
        .desired_width(76.0)
        .min_size(egui::vec2(76.0, 0.0))
        .hint_text(hint);
    let response = ui.add(edit).accessible_name(name);
    response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
}

fn hint(draft: &Draft, hand: &Hand<'_>, i: usize) -> String {
    let (Some(start), Some(at)) = (draft.start(), hand.pointer.as_ref()) else {
        return String::new();
    };
    let (length, angle) = length_and_angle(start, at.point, draft.numbers.from);
    let by = at.point - start.at;
    let mm = |value: f64| wording::length(petitoile_core::Mm(value), hand.unit);
    match i {
        0 => mm(length.0),
        1 => format!("{:.1}\u{b0}", angle.0),
        2 => mm(by.x),
        _ => mm(by.y),
    }
}

/// The point or pull that is held: how far from the point before, or from its own point.
fn held(draft: &mut Draft, ui: &mut Ui, hand: &Hand<'_>) {
    let Some((grip, at)) = draft
        .grip
        .and_then(|grip| Some((grip, grip.place(&draft.points)?)))
    else {
        return;
    };
    let (from, words) = match grip {
        Grip::Point(n) => (
            draft.points.get(n.saturating_sub(1)).map(|p| p.at),
            format!("Point {}, from the point before", n + 1),
        ),
        Grip::Arriving(n) | Grip::Leaving(n) => (
            draft.points.get(n).map(|p| p.at),
            format!("Pull, from point {}", n + 1),
        ),
    };
    let from = from.unwrap_or_default();
    ui.label(words);
    let mut by = at - from;
    ui.horizontal(|ui| {
        for (name, value) in [("Held right", &mut by.x), ("Held up", &mut by.y)] {
            let now = petitoile_core::Mm(*value);
            ui.label(name.trim_start_matches("Held "));
            let typed = difference_field(ui, name, Some(now), "", hand.unit, 76.0).typed;
            if let Typed::Length(length) = typed {
                *value = length.0;
            }
        }
    });
    if by != at - from {
        draft.move_grip(from + by);
    }
}

/// The directions in which a smooth curve leaves its start and arrives at its end, degrees from level; without one it
/// runs out freely.
pub fn direction_fields(ui: &mut Ui, start: &mut Option<f64>, end: &mut Option<f64>) {
    for (name, way) in [("Leaves at", start), ("Arrives at", end)] {
        ui.horizontal(|ui| {
            ui.label(name);
            if let Asked::Done(angle) = angle_field(ui, name, *way) {
                *way = Some(angle);
            }
            if way.is_some() && ui.button("Free").clicked() {
                *way = None;
            }
        });
    }
}
