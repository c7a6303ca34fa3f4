//! Tracing cloth in a photo, step by step: a known length, the outline; holes and threads are drawn on the offcut then.

use egui::Ui;
use petitoile_core::LengthUnit;

use super::ClothTray;
use super::offcuts_leaf::take;
use super::pen::{Drawing, Pen};
use crate::command::Command;
use crate::fields::length_field;
use crate::trays::faded;

/// Shows what comes next.
pub fn ui(tray: &mut ClothTray, ui: &mut Ui, unit: LengthUnit, commands: &mut Vec<Command>) {
    if tray.photo.is_reading() {
        faded(ui, "Reading the photo\u{2026}");
    }
    let Some(photo) = &tray.photo.photo else {
        let tip = "Lay the cloth flat with a ruler on it and look straight down: PNG or JPEG";
        if ui
            .button("Trace a photo\u{2026}")
            .on_hover_text(tip)
            .clicked()
        {
            commands.push(Command::ChoosePhoto);
        }
        let tip = "Offcuts beside a sheet of paper, on a ground of another colour: their outlines and holes are found";
        if ui
            .button("Find cloth in a picture\u{2026}")
            .on_hover_text(tip)
            .clicked()
        {
            commands.push(Command::BringIn);
        }
        return;
    };
    let (scaled, traced, name) = (photo.scaled, photo.of.is_some(), photo.name.clone());
    ui.group(|ui| {
        ui.label(format!("Photo {name}"));
        if traced {
            faded(
                ui,
                "Traced. Holes, stains and a pulled thread are drawn on the offcut, over the photo.",
            );
        } else {
            known_length(tray, ui, unit, scaled, commands);
            let draw = ui.add_enabled(scaled, egui::Button::new("2. Trace its outline"));
            let tip = "Click along the edge of the cloth; Enter closes it";
            if draw.on_hover_text(tip).clicked() {
                tray.drawing = Some(Drawing::new(Pen::Outline));
            }
        }
        let tip = "Only the lines are kept, not the photo";
        if ui.button("Put the photo away").on_hover_text(tip).clicked() {
            tray.photo.photo = None;
            if tray.drawing.as_ref().is_some_and(|d| d.pen == Pen::KnownLength) {
                tray.drawing = None;
            }
        }
    });
}

fn known_length(
    tray: &mut ClothTray,
    ui: &mut Ui,
    unit: LengthUnit,
    scaled: bool,
    commands: &mut Vec<Command>,
) {
    if ui.button("1. Show a known length").clicked() {
        tray.drawing = Some(Drawing::new(Pen::KnownLength));
    }
    let ends = tray.drawing.as_ref().filter(|d| d.pen == Pen::KnownLength);
    let ends = ends.and_then(|drawing| match drawing.points.as_slice() {
        [a, b] => Some((*a, *b)),
        _ => None,
    });
    let Some((from, to)) = ends else {
        if scaled {
            faded(ui, "The scale is known.");
        }
        return;
    };
    ui.horizontal(|ui| {
        ui.label("It is");
        let known = &mut tray.offcuts.known;
        let field = length_field(
            ui,
            "Known length in the photo",
            *known,
            "100 mm",
            unit,
            96.0,
        );
        take(field.typed, known, "Known length", commands);
        let length = *known;
        let set = ui.add_enabled(length.is_some(), egui::Button::new("long"));
        let set = set.accessible_name("It is that long");
        if set.clicked()
            && let (Some(length), Some(photo)) = (length, &mut tray.photo.photo)
        {
            match photo.set_scale(from, to, length) {
                Ok(_) => {
                    tray.drawing = None;
                    commands.push(Command::ShowAll);
                }
                Err(why) => commands.push(Command::Say(why)),
            }
        }
    });
}
