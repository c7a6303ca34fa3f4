//! The stash of cloth, a file beside the project: look, take from, put back.

use egui::Ui;
use petitoile_core::LengthUnit;

use super::offcuts_leaf::area_words;
use super::paint;
use crate::command::{Command, InStash};
use crate::session::Session;
use crate::trays::{faded, heading};

/// Shows what is in it and what can be done.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    chosen: Option<&str>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    heading(ui, "Stash");
    faded(
        ui,
        "Cloth that lasts over projects; a file beside this one.",
    );
    ui.horizontal_wrapped(|ui| {
        if ui.button("Look into the stash").clicked() {
            commands.push(Command::Stash(InStash::Look));
        }
        let keep = egui::Button::new("Put the chosen offcut into it");
        let keep = ui.add_enabled(chosen.is_some(), keep);
        if let Some(name) = chosen.filter(|_| keep.clicked()) {
            commands.push(Command::Stash(InStash::Keep(name.to_owned())));
        }
    });
    let Some(stash) = &session.stash else { return };
    if stash.offcuts.is_empty() {
        faded(ui, "It is empty.");
    }
    for offcut in &stash.offcuts {
        ui.horizontal_wrapped(|ui| {
            let take = ui
                .button("Take")
                .accessible_name(format!("Take {} from the stash", offcut.name));
            if take.clicked() {
                commands.push(Command::Stash(InStash::TakeOut(offcut.name.clone())));
            }
            ui.label(format!(
                "{}: {}, {} of {}",
                offcut.name,
                paint::size_words(offcut.bounds(), unit),
                area_words(offcut.area()),
                offcut.cloth
            ));
        });
    }
}
