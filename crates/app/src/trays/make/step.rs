//! One step of the making order: a box to tick and its sentence; unfolded with its picture, notes and choices.

use egui::{Button, Checkbox, RichText, Role, Ui, WidgetInfo};
use petitoile_core::edit::FittingEdit;
use petitoile_core::finding::Place;
use petitoile_core::making_order::By;
use petitoile_core::making_sheet::SheetStep;

use super::{Shown, change, is_about, picture, told};
use crate::command::{Chosen, Command};
use crate::fields::one_of;
use crate::theme::Palette;
use crate::trays::faded;

/// The row of a step; a click on its sentence unfolds it and shows it on the table.
pub(super) fn row(
    ui: &mut Ui,
    shown: &Shown<'_>,
    at: usize,
    open: &mut Option<String>,
    commands: &mut Vec<Command>,
) {
    let Some(step) = shown.sheet.steps.get(at) else {
        return;
    };
    ui.push_id(("step", &step.key), |ui| {
        let is_open = open.as_deref() == Some(step.key.as_str());
        ui.horizontal_top(|ui| {
            tick(ui, shown, step, commands);
            if sentence(ui, shown, step, is_open).clicked() {
                *open = (!is_open).then(|| step.key.clone());
                if !is_open {
                    show(step, commands);
                }
            }
        });
        if is_open {
            ui.indent("unfolded", |ui| unfolded(ui, shown, at, step, commands));
        }
    });
}

/// Brings the step's piece into view on the table, its edge chosen.
fn show(step: &SheetStep, commands: &mut Vec<Command>) {
    let Some(place) = &step.place else {
        commands.push(Command::Choose(Chosen::default()));
        return;
    };
    match (&place.piece, &place.part) {
        (Some(piece), Some(edge)) => {
            // The whole piece, not the edge alone: she looks for where it is.
            commands.push(Command::ShowPlace(Place::piece(piece)));
            commands.push(Command::Choose(Chosen::edge(piece, edge)));
        }
        _ => commands.push(Command::ShowPlace(place.clone())),
    }
}

fn tick(ui: &mut Ui, shown: &Shown<'_>, step: &SheetStep, commands: &mut Vec<Command>) {
    let mut done = step.done;
    let response = ui.add(Checkbox::without_text(&mut done));
    response.widget_info(|| {
        let name = format!("Done: step {}", step.number);
        WidgetInfo::selected(Role::CheckBox, true, done, name)
    });
    if response.changed() {
        commands.push(change(
            shown.fitting,
            FittingEdit::Tick(step.key.clone(), done),
        ));
    }
}

/// The sentence as a wide button; what is done is struck through, a moment to try on and trouble are marked.
fn sentence(ui: &mut Ui, shown: &Shown<'_>, step: &SheetStep, is_open: bool) -> egui::Response {
    let palette = Palette::showing(ui);
    let has_trouble = has_trouble(shown, step);
    let mut words = RichText::new(format!("{}. {}", step.number, step.sentence));
    if step.done {
        words = words.color(palette.faded).strikethrough();
    } else if has_trouble {
        words = words.color(palette.care);
    } else if step.try_on {
        words = words.strong().italics();
    }
    let button = Button::selectable(is_open, words)
        .wrap()
        .min_size(egui::vec2(ui.available_width(), 28.0));
    // Upright lay-out: words of every step begin at the left.
    let response = ui.vertical(|ui| ui.add(button)).inner;
    response.widget_info(|| {
        let mut name = format!("Step {}: {}", step.number, step.sentence);
        if has_trouble {
            name.push_str(" Look at it.");
        }
        WidgetInfo::selected(Role::Button, true, is_open, name)
    });
    response
}

fn has_trouble(shown: &Shown<'_>, step: &SheetStep) -> bool {
    let findings = &shown.order.findings;
    findings.iter().any(|finding| is_about(finding, &step.key))
}

/// Picture, findings, notes, hand or machine, earlier or later.
fn unfolded(
    ui: &mut Ui,
    shown: &Shown<'_>,
    at: usize,
    step: &SheetStep,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::showing(ui);
    let findings = &shown.order.findings;
    for finding in findings.iter().filter(|f| is_about(f, &step.key)) {
        told(ui, finding, shown.unit, commands);
    }
    if let Some(picture) = &step.picture {
        picture::painted(ui, picture, step.number);
    }
    for note in &step.notes {
        ui.add(egui::Label::new(note).wrap());
    }
    for caution in &step.cautions {
        ui.add(egui::Label::new(RichText::new(caution).color(palette.care)).wrap());
    }
    by(ui, shown, step, commands);
    places(ui, shown, at, step, commands);
    ui.add_space(6.0);
}

/// Hand or machine, why, and back to what the program found.
fn by(ui: &mut Ui, shown: &Shown<'_>, step: &SheetStep, commands: &mut Vec<Command>) {
    let own = shown.fitting.making.by.get(&step.key).copied();
    // Cutting, pressing and trying on are no sewing.
    if step.by_why.is_empty() && own.is_none() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let words = |by: By| match by {
            By::Hand => "By hand",
            By::Machine => "By machine",
        };
        let name = format!("Step {}", step.number);
        if let Some(choice) = one_of(ui, &name, step.by, &[By::Hand, By::Machine], words) {
            commands.push(change(
                shown.fitting,
                FittingEdit::SetBy(step.key.clone(), Some(choice)),
            ));
        }
        if own.is_some() && ui.button("As found").clicked() {
            commands.push(change(
                shown.fitting,
                FittingEdit::SetBy(step.key.clone(), None),
            ));
        }
    });
    faded(ui, crate::wording::sentence(&step.by_why));
}

/// One place earlier or later, and where it is on the table.
fn places(
    ui: &mut Ui,
    shown: &Shown<'_>,
    at: usize,
    step: &SheetStep,
    commands: &mut Vec<Command>,
) {
    let steps = &shown.sheet.steps;
    let key = |i: usize| steps.get(i).map(|step| step.key.clone());
    let last = steps.len().saturating_sub(1);
    ui.horizontal_wrapped(|ui| {
        let moved = |before: Option<String>| {
            change(
                shown.fitting,
                FittingEdit::MoveStep {
                    step: step.key.clone(),
                    before,
                },
            )
        };
        if button(ui, "Earlier", step, at > 0) {
            commands.push(moved(at.checked_sub(1).and_then(key)));
        }
        if button(ui, "Later", step, at < last) {
            commands.push(moved(key(at + 2)));
        }
        if button(ui, "Show", step, step.place.is_some()) {
            show(step, commands);
        }
    });
}

fn button(ui: &mut Ui, words: &str, step: &SheetStep, allowed: bool) -> bool {
    let button = ui.add_enabled(allowed, Button::new(words));
    button.widget_info(|| {
        let name = format!("{words}: step {}", step.number);
        WidgetInfo::labeled(Role::Button, allowed, name)
    });
    button.clicked()
}
