//! The measure figure: the body from its measures, with the garment's girth rings.

use egui::Ui;

use crate::command::Command;
use crate::session::Session;

/// The measure figure: the body from its measures, with the garment's girth rings.
#[derive(Default)]
pub struct FigureLeaf {}

impl FigureLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, _ui: &mut Ui, _session: &Session, _commands: &mut Vec<Command>) {}
}
