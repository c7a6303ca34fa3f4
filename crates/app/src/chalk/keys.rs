//! Keys on the table: numbers that are typed, Enter, Delete, arrows, and the crosshair that works without a pointer.

use egui::{Event, Key, Modifiers, Ui};
use kurbo::{Point, Vec2};
use petitoile_core::LengthUnit;

use super::hand::Hand;
use super::near;
use super::tool::{Tool, Typed};
use crate::command::Command;

/// A place that arrow keys move and Enter or Space click.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crosshair {
    /// Where it is on the table, mm.
    pub at: Point,
    /// Has it been clicked there already? Then Enter finishes.
    pub clicked: bool,
}

/// What keys ask for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Asked {
    /// Enter.
    Finish,
    /// Delete or Backspace.
    Delete,
    /// An arrow: how far, mm.
    Arrow(Vec2),
    /// Space.
    Space,
}

/// Hands typed signs to the tool. What the tool takes nobody else gets. Gives whether it took any.
pub fn typed(
    ui: &Ui,
    tool: &mut dyn Tool,
    hand: &Hand<'_>,
    on_table: bool,
    commands: &mut Vec<Command>,
) -> bool {
    let events = ui.input(|i| i.events.clone());
    let mut taken = false;
    for event in events {
        let keys = match event {
            Event::Text(text) => text.chars().map(Typed::Sign).collect(),
            Event::Key {
                key,
                pressed: true,
                modifiers,
                ..
            } if tool.is_typing() && !modifiers.command => match (key, modifiers.shift) {
                (Key::Backspace, _) => vec![Typed::Back],
                (Key::Enter, _) => vec![Typed::Enter],
                (Key::Tab, false) if on_table => vec![Typed::Next],
                (Key::Tab, true) if on_table => vec![Typed::Previous],
                _ => Vec::new(),
            },
            _ => Vec::new(),
        };
        for key in keys {
            taken |= tool.typed(hand, key, commands);
        }
    }
    if taken {
        ui.input_mut(|i| i.events.retain(|event| !is_plain(event)));
    }
    taken
}

/// A sign or a plain key: no shortcut, and not Escape.
fn is_plain(event: &Event) -> bool {
    match event {
        Event::Text(_) => true,
        Event::Key { key, modifiers, .. } => !modifiers.command && *key != Key::Escape,
        _ => false,
    }
}

/// Enter, Delete, Space and arrows. Arrows move by 1 mm (or the inch equivalent), with Shift by 10, with Alt by a tenth.
pub fn asked(ui: &Ui, unit: LengthUnit) -> Vec<Asked> {
    let mut asked = Vec::new();
    ui.input_mut(|i| {
        if i.consume_key(Modifiers::NONE, Key::Enter) {
            asked.push(Asked::Finish);
        }
        if i.consume_key(Modifiers::NONE, Key::Delete)
            || i.consume_key(Modifiers::NONE, Key::Backspace)
        {
            asked.push(Asked::Delete);
        }
        if i.key_pressed(Key::Space) {
            asked.push(Asked::Space);
        }
    });
    asked.extend(arrows(ui, unit).map(Asked::Arrow));
    asked
}

/// How far arrow keys move what has the keys: 1 mm (or the inch equivalent), with Shift 10, with Alt a tenth. They are
/// taken: nobody else hears them.
pub fn arrows(ui: &Ui, unit: LengthUnit) -> impl Iterator<Item = Vec2> {
    let mut ways = Vec::new();
    for (modifiers, by) in near::nudges(unit) {
        for (key, way) in [
            (Key::ArrowLeft, (-1.0, 0.0)),
            (Key::ArrowRight, (1.0, 0.0)),
            (Key::ArrowUp, (0.0, 1.0)),
            (Key::ArrowDown, (0.0, -1.0)),
        ] {
            if ui.input_mut(|i| i.consume_key(modifiers, key)) {
                ways.push(Vec2::from(way) * by.0);
            }
        }
    }
    ways.into_iter()
}
