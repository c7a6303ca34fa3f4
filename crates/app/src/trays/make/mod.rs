//! The Make tray: the order of work, step by step, with ticks.

use egui::Ui;

use super::faded;
use crate::command::Command;
use crate::session::Session;

/// The Make tray.
#[derive(Default)]
pub struct MakeTray {}

impl MakeTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, _commands: &mut Vec<Command>) {
        if session.fitting().is_none() {
            faded(ui, "No fitting yet. Open a project.");
        }
    }
}
