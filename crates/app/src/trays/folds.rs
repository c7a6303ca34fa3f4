//! The Folds tray: pleats, gathers, tucks, ruffles and joined strips.

use egui::Ui;

use super::faded;
use crate::command::Command;
use crate::session::Session;

/// The Folds tray.
#[derive(Default)]
pub struct FoldsTray;

impl FoldsTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, _session: &Session, _commands: &mut Vec<Command>) {
        faded(ui, "Choose an edge on the table.");
    }
}
