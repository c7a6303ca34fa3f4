//! Figures that are told line by line, and can be copied and printed.

use egui::{RichText, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::strips::Unmade;

use crate::command::Command;
use crate::theme::Palette;

/// What was told, in order.
#[derive(Debug, Default)]
pub struct Told(Vec<String>);

impl Told {
    /// Shows a line and keeps it.
    pub fn say(&mut self, ui: &mut Ui, words: String) {
        ui.label(&words);
        self.0.push(words);
    }

    /// Shows what comes of a request; where nothing can, why, and the nearest that can, which is given when it is taken.
    pub fn outcome<Request, Gives>(
        &mut self,
        ui: &mut Ui,
        of: &str,
        outcome: Result<Gives, Unmade<Request, Gives>>,
        words: impl Fn(&Gives) -> String,
        unit: LengthUnit,
    ) -> Option<Request> {
        let unmade = match outcome {
            Ok(gives) => {
                self.say(ui, words(&gives));
                return None;
            }
            Err(unmade) => unmade,
        };
        let palette = Palette::showing(ui);
        ui.label(RichText::new(unmade.words(unit)).color(palette.unusable));
        ui.label(format!("Nearest: {}", words(&unmade.gives)));
        let button = ui
            .button("Take the nearest")
            .accessible_name(format!("Take the nearest {of}"));
        button.clicked().then_some(unmade.nearest)
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
