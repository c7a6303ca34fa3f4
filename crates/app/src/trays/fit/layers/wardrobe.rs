//! The wardrobe of the doll: outfits kept over projects, in a file beside them.

use egui::Ui;
use petitoile_core::edit::Edit;
use petitoile_core::outfit::Outfit;

use super::order::named;
use crate::command::{Command, InWardrobe};
use crate::fields::name_field;
use crate::session::Session;
use crate::trays::{faded, heading};

pub(super) fn ui(
    ui: &mut Ui,
    session: &Session,
    doll: &str,
    outfit: Option<&Outfit>,
    commands: &mut Vec<Command>,
) {
    heading(ui, "Wardrobe");
    if session.file.is_none() {
        faded(ui, "Save the project first: the wardrobe lies beside it.");
        return;
    }
    let file = session.shown().wardrobe_file.clone().unwrap_or_default();
    ui.horizontal_wrapped(|ui| {
        ui.label("File");
        if let Some(name) = name_field(ui, "Wardrobe file", &file) {
            let name = Some(name.trim().to_owned()).filter(|name| !name.is_empty());
            commands.push(Command::Edit(Edit::SetWardrobeFile(name)));
        }
        if ui.button("Look into it").clicked() {
            commands.push(Command::Wardrobe(InWardrobe::Look));
        }
    });
    if let Some(outfit) = outfit {
        let words = format!("Keep {} in it", outfit.name);
        let button = ui.add(egui::Button::new(words).min_size(egui::vec2(120.0, 32.0)));
        let tip = "Remembers the outfit, its doll and this project; begins a wardrobe where there is none";
        if button.on_hover_text(tip).clicked() {
            commands.push(Command::Wardrobe(InWardrobe::Keep(outfit.name.clone())));
        }
    }
    let Some(wardrobe) = &session.wardrobe else {
        return;
    };
    let mut any = false;
    for (place, kept) in wardrobe.of_doll(doll) {
        any = true;
        ui.horizontal_wrapped(|ui| {
            let name = &kept.outfit.name;
            if named(ui, "Open", &format!("Open {name}"), true) {
                commands.push(Command::Wardrobe(InWardrobe::Open(place)));
            }
            let out = format!("Take {name} out of the wardrobe");
            if named(ui, "Out", &out, true) {
                commands.push(Command::Wardrobe(InWardrobe::TakeOut(place)));
            }
            ui.label(format!("{name} ({})", kept.project_file));
        });
    }
    if !any {
        faded(ui, format!("No outfit of {doll} in it yet."));
    }
}
