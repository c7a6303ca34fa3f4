//! The typed numbers and names of the tools that alter. Each gives whether it was changed.

use egui::Ui;
use petitoile_core::Mm;

use super::hand::Hand;
use crate::command::Command;
use crate::fields::{Asked, Typed, angle_field, difference_field, length_field, name_field};

/// Width of a field, screen points.
const WIDE: f32 = 86.0;

/// A length above or below 0.
pub fn difference(
    ui: &mut Ui,
    hand: &Hand<'_>,
    name: &str,
    value: &mut Mm,
    commands: &mut Vec<Command>,
) -> bool {
    ui.horizontal(|ui| {
        ui.label(name);
        let field = difference_field(ui, name, Some(*value), "", hand.unit, WIDE);
        taken(name, field.typed, value, commands)
    })
    .inner
}

/// A length.
pub fn length(
    ui: &mut Ui,
    hand: &Hand<'_>,
    name: &str,
    value: &mut Mm,
    commands: &mut Vec<Command>,
) -> bool {
    ui.horizontal(|ui| {
        ui.label(name);
        let field = length_field(ui, name, Some(*value), "", hand.unit, WIDE);
        taken(name, field.typed, value, commands)
    })
    .inner
}

fn taken(name: &str, typed: Typed, value: &mut Mm, commands: &mut Vec<Command>) -> bool {
    match typed {
        Typed::Length(length) => {
            *value = length;
            true
        }
        Typed::Trouble(why) => {
            commands.push(Command::Say(format!("{name}: {why}")));
            false
        }
        Typed::Nothing | Typed::Cleared => false,
    }
}

/// A name.
pub fn name(ui: &mut Ui, name: &str, value: &mut String) -> bool {
    ui.horizontal(|ui| {
        ui.label(name);
        match name_field(ui, name, value) {
            Some(typed) => {
                *value = typed.trim().to_owned();
                true
            }
            None => false,
        }
    })
    .inner
}

/// An angle in degrees.
pub fn angle(ui: &mut Ui, name: &str, value: &mut f64) -> bool {
    ui.horizontal(|ui| {
        ui.label(name);
        match angle_field(ui, name, Some(*value)) {
            Asked::Done(angle) => {
                *value = angle;
                true
            }
            Asked::Nothing | Asked::Trying(_) => false,
        }
    })
    .inner
}

/// A small whole number.
pub fn count(
    ui: &mut Ui,
    name: &str,
    value: &mut u32,
    range: std::ops::RangeInclusive<u32>,
) -> bool {
    ui.horizontal(|ui| {
        ui.label(name);
        ui.add(egui::DragValue::new(value).range(range).speed(0.1))
            .accessible_name(name)
            .changed()
    })
    .inner
}
