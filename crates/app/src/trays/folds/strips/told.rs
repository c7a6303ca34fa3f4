//! Figures that are told line by line, and can be copied and printed.

use egui::Ui;

use crate::command::Command;

/// What was told, in order.
#[derive(Debug, Default)]
pub struct Told(Vec<String>);

impl Told {
    /// Shows a line and keeps it.
    pub fn say(&mut self, ui: &mut Ui, words: String) {
        ui.label(&words);
        self.0.push(words);
    }

    /// Two buttons: the lines as text, and as a page to print. Nothing while nothing was told.
    pub fn offer(self, ui: &mut Ui, what: &str, commands: &mut Vec<Command>) {
        if self.0.is_empty() {
            return;
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button(format!("Copy the {what}")).clicked() {
                ui.ctx().copy_text(self.0.join("\n"));
            }
            if ui.button(format!("Print the {what}\u{2026}")).clicked() {
                commands.push(Command::PrintLines(what.to_owned(), self.0));
            }
        });
    }
}
