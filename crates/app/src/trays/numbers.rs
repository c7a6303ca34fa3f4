//! Sizes of the chosen piece and lengths of its edges; they follow while a hand moves.

use egui::{Grid, Ui};
use petitoile_core::Mm;
use petitoile_core::piece::Piece;

use super::{faded, heading};
use crate::chalk::Chalk;
use crate::command::{Chosen, Command};
use crate::session::Session;
use crate::wording;

/// A smaller change of length is not told, mm.
const TOLD: f64 = 0.05;

/// The numbers of the chosen piece, as it would be if what is half done were finished now.
pub fn numbers(ui: &mut Ui, session: &Session, chalk: &Chalk, commands: &mut Vec<Command>) {
    let Some(before) = session
        .on_table()
        .zip(session.chosen.piece.as_deref())
        .and_then(|(garment, name)| garment.piece(name))
    else {
        return;
    };
    let now = chalk
        .preview()
        .and_then(|garment| garment.piece(&before.name))
        .unwrap_or(before);
    let unit = session.shown().unit;
    let bounds = now.outline.bounds();
    heading(ui, &now.name);
    faded(
        ui,
        format!(
            "{} wide, {} high",
            wording::length(Mm(bounds.width()), unit),
            wording::length(Mm(bounds.height()), unit)
        ),
    );
    Grid::new("numbers").num_columns(3).show(ui, |ui| {
        for edge in now.outline.edges() {
            let chosen = session.chosen.edge.as_deref() == Some(edge.name.as_str());
            let length = edge.line.length();
            let name = ui.selectable_label(chosen, &edge.name);
            if name.clicked() {
                commands.push(Command::Choose(Chosen::edge(&now.name, &edge.name)));
            }
            ui.label(wording::length(Mm(length), unit));
            if let Some(by) = changed(before, &edge.name, length) {
                ui.label(wording::difference(Mm(by), unit));
            }
            ui.end_row();
        }
    });
}

fn changed(before: &Piece, edge: &str, length: f64) -> Option<f64> {
    let by = length - before.outline.edge(edge)?.line.length();
    (by.abs() > TOLD).then_some(by)
}
