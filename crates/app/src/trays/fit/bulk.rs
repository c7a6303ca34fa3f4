//! Stacks of cloth: what can be sewn, turned and reached.

use egui::Ui;

use crate::command::Command;
use crate::session::Session;

/// Stacks of cloth: what can be sewn, turned and reached.
#[derive(Default)]
pub struct BulkLeaf {}

impl BulkLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, _ui: &mut Ui, _session: &Session, _commands: &mut Vec<Command>) {}
}
