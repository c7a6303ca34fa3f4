//! Keys of the commands that have a name.

use egui::{Key, KeyboardShortcut, Modifiers};

use super::{CTRL, Command, table};
use crate::session::Session;

/// Takes the keys of allowed commands out of the input. Call it after the widgets, so that a field that is being
/// typed in keeps its own undo and its own letters.
pub fn from_keys(ctx: &egui::Context, session: &Session, commands: &mut Vec<Command>) {
    let typing = ctx.text_edit_focused();
    for entry in table(session) {
        let Some(shortcut) = entry.shortcut else {
            continue;
        };
        if typing && !works_while_typing(&shortcut) {
            continue;
        }
        if ctx.input_mut(|input| input.consume_shortcut(&shortcut)) && entry.allowed {
            commands.push(entry.command);
        }
    }
    // Two more ways people type these keys.
    if !typing {
        if ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Equals))
            && session.work.done.is_some()
        {
            commands.push(Command::ZoomIn);
        }
        if ctx.input_mut(|i| i.consume_key(CTRL, Key::Y)) && session.history.next().is_some() {
            commands.push(Command::Redo);
        }
    }
}

fn works_while_typing(shortcut: &KeyboardShortcut) -> bool {
    let is_file = matches!(shortcut.logical_key, Key::N | Key::O | Key::S | Key::P)
        && shortcut.modifiers.command;
    is_file
        || matches!(
            shortcut.logical_key,
            Key::F1 | Key::F2 | Key::F3 | Key::F4 | Key::F5 | Key::F6 | Key::F7 | Key::F9
        )
}
