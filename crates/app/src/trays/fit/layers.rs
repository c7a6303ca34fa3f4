//! What is worn under and over it.

use egui::Ui;

use crate::command::Command;
use crate::session::Session;

/// What is worn under and over it.
#[derive(Default)]
pub struct LayersLeaf {}

impl LayersLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, _ui: &mut Ui, _session: &Session, _commands: &mut Vec<Command>) {}
}
