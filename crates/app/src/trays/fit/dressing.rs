//! Does it go on: openings, closures, ties.

use egui::Ui;

use crate::command::Command;
use crate::session::Session;

/// Does it go on: openings, closures, ties.
#[derive(Default)]
pub struct DressingLeaf {}

impl DressingLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, _ui: &mut Ui, _session: &Session, _commands: &mut Vec<Command>) {}
}
