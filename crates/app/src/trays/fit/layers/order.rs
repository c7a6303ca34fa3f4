//! The outfit: its name, its garments in order, which of them are left out to look.

use std::collections::BTreeSet;
use std::sync::Arc;

use egui::{Button, RichText, Ui};
use petitoile_core::edit::Edit;
use petitoile_core::fitting::Fitting;
use petitoile_core::outfit::Outfit;

use super::Shown;
use crate::command::Command;
use crate::fields::{name_field, pick};
use crate::session::Session;
use crate::trays::faded;

/// Which outfit is looked at; one that wears the fitting comes first. Gives the outfit.
pub(super) fn choose<'a>(
    ui: &mut Ui,
    session: &'a Session,
    fitting: &Arc<Fitting>,
    chosen: &mut Option<String>,
    commands: &mut Vec<Command>,
) -> Option<&'a Outfit> {
    let project = session.shown();
    let wears = |outfit: &&Outfit| outfit.layers.contains(&fitting.name);
    let names: Vec<String> = project
        .outfits
        .iter()
        .filter(wears)
        .map(|outfit| outfit.name.clone())
        .collect();
    let there = chosen.clone().filter(|name| names.contains(name));
    *chosen = there.or_else(|| names.first().cloned());
    ui.horizontal_wrapped(|ui| {
        if let Some(now) = chosen.clone() {
            ui.label("Outfit");
            let picked = pick(ui, "outfit", "Outfit", &now, &names, String::clone);
            if let Some(other) = picked {
                *chosen = Some(other);
            }
        }
        let new = ui
            .button("New outfit")
            .on_hover_text("An outfit that begins with this fitting");
        if new.clicked() {
            let name = free_name(project.outfits.iter().map(|outfit| outfit.name.as_str()));
            let outfit = Outfit {
                name: name.clone(),
                layers: vec![fitting.name.clone()],
                pads: Vec::new(),
            };
            commands.push(Command::Edit(Edit::PutOutfit(outfit)));
            *chosen = Some(name);
        }
    });
    let name = chosen.as_deref()?;
    let outfit = project.outfits.iter().find(|outfit| outfit.name == name)?;
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        if let Some(name) = name_field(ui, "Name of the outfit", &outfit.name) {
            *chosen = Some(name.clone());
            commands.push(Command::Edit(Edit::RenameOutfit {
                outfit: outfit.name.clone(),
                name,
            }));
        }
        if ui
            .button("Take the outfit out")
            .on_hover_text("Its garments stay in the project")
            .clicked()
        {
            commands.push(Command::Edit(Edit::RemoveOutfit(outfit.name.clone())));
        }
    });
    Some(outfit)
}

/// "Outfit 1", or the next that is free.
fn free_name<'a>(taken: impl Iterator<Item = &'a str>) -> String {
    let taken: BTreeSet<&str> = taken.collect();
    let mut number = 1;
    loop {
        let name = format!("Outfit {number}");
        if !taken.contains(name.as_str()) {
            return name;
        }
        number += 1;
    }
}

/// The garments, innermost first.
pub(super) fn layers(
    ui: &mut Ui,
    shown: Shown<'_>,
    fitting: &Arc<Fitting>,
    left_out: &mut BTreeSet<String>,
    commands: &mut Vec<Command>,
) {
    faded(ui, "Innermost first. Untick one to see what changes.");
    let count = shown.outfit.layers.len();
    for (place, layer) in shown.outfit.layers.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            tick(ui, layer, left_out);
            let is_this = layer == shown.fitting;
            let button = ui.add(
                Button::selectable(is_this, RichText::new(layer))
                    .min_size(egui::vec2(120.0, 28.0))
                    .truncate(),
            );
            button.widget_info(|| {
                egui::WidgetInfo::selected(
                    egui::Role::Button,
                    true,
                    is_this,
                    format!("Work on {layer}"),
                )
            });
            if button.clicked() && !is_this {
                commands.push(Command::ChooseFitting(layer.clone()));
            }
            let put = |commands: &mut Vec<Command>, outfit: Outfit| {
                commands.push(Command::Edit(Edit::PutOutfit(outfit)));
            };
            if named(ui, "Inwards", &format!("{layer} further in"), place > 0) {
                put(commands, shown.outfit.moved(layer, false));
            }
            if named(
                ui,
                "Outwards",
                &format!("{layer} further out"),
                place + 1 < count,
            ) {
                put(commands, shown.outfit.moved(layer, true));
            }
            if named(ui, "Take off", &format!("Take {layer} off"), true) {
                put(commands, shown.outfit.without(layer));
            }
        });
    }
    add(ui, shown, fitting, commands);
}

/// A tick that leaves a layer or pad out of what is shown.
pub(super) fn tick(ui: &mut Ui, name: &str, left_out: &mut BTreeSet<String>) {
    let mut worn = !left_out.contains(name);
    let tick = ui.checkbox(&mut worn, "");
    tick.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::CheckBox, true, worn, format!("{name} is worn"))
    });
    if tick.changed() {
        if worn {
            left_out.remove(name);
        } else {
            left_out.insert(name.to_owned());
        }
    }
}

/// A small button that is read out by another name.
pub(super) fn named(ui: &mut Ui, words: &str, name: &str, allowed: bool) -> bool {
    let button = ui.add_enabled(allowed, Button::new(words).min_size(egui::vec2(34.0, 28.0)));
    button.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, allowed, name));
    button.on_hover_text(name).clicked()
}

/// What can be worn with it: fittings on the same doll first, then garments that are not fitted to it yet.
#[derive(Clone, PartialEq)]
enum More {
    Nothing,
    Fitted(String),
    New(String),
}

fn add(ui: &mut Ui, shown: Shown<'_>, fitting: &Arc<Fitting>, commands: &mut Vec<Command>) {
    let project = shown.session.shown();
    let on_doll = |other: &&Arc<Fitting>| other.body == fitting.body;
    let fitted = project.fittings.iter().filter(on_doll);
    let mut choices = vec![More::Nothing];
    choices.extend(
        fitted
            .clone()
            .filter(|other| !shown.outfit.layers.contains(&other.name))
            .map(|other| More::Fitted(other.name.clone())),
    );
    choices.extend(
        project
            .garments
            .iter()
            .filter(|garment| !fitted.clone().any(|other| other.garment == garment.name))
            .map(|garment| More::New(garment.name.clone())),
    );
    let also = |name: &str| {
        let others = project.outfits.iter();
        let in_use = others.filter(|outfit| outfit.layers.iter().any(|layer| layer == name));
        match in_use.count() {
            0 => String::new(),
            1 => ", worn in 1 outfit".to_owned(),
            many => format!(", worn in {many} outfits"),
        }
    };
    let words = |more: &More| match more {
        More::Nothing => "Add a layer".to_owned(),
        More::Fitted(name) => format!("{name} (fitted{})", also(name)),
        More::New(garment) => format!("{garment} (new fitting)"),
    };
    if choices.len() == 1 {
        faded(
            ui,
            "Every garment of the project that fits this doll is in it.",
        );
        return;
    }
    let picked = pick(
        ui,
        "add a layer",
        "Add a layer",
        &More::Nothing,
        &choices,
        words,
    );
    match picked {
        Some(More::Fitted(name)) => {
            commands.push(Command::Edit(Edit::PutOutfit(shown.outfit.with(&name))));
        }
        Some(More::New(garment)) => {
            let name = format!("{garment}, {}", fitting.body.name);
            let new = Fitting {
                allowances: fitting.allowances.clone(),
                ..Fitting::new(name.clone(), garment, fitting.body.clone())
            };
            commands.push(Command::Edit(Edit::PutFitting(Arc::new(new))));
            commands.push(Command::Edit(Edit::PutOutfit(shown.outfit.with(&name))));
        }
        Some(More::Nothing) | None => {}
    }
}
