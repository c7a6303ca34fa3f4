//! Pinned measurements: painted on the table, listed in the tray, read anew on whatever is shown.

use std::sync::Arc;

use egui::Ui;
use petitoile_core::body::Body;
use petitoile_core::edit::Edit;
use petitoile_core::garment::Garment;
use petitoile_core::measuring::{Measurement, MeasuringError, Reading};
use petitoile_core::pins::{Pin, PinnedTo};

use super::brush::Brush;
use super::hand::Hand;
use crate::command::Command;
use crate::fields::name_field;
use crate::session::{On, Session};
use crate::wording;

/// The garment as it is shown, with what is being tried.
fn shown(session: &Session) -> Option<&Arc<Garment>> {
    match session.on() {
        On::Garment => session.garment(),
        On::Fitting => session.work.done.as_ref().map(|done| &done.adapted.made),
    }
}

/// The body that heights are counted on: the one the garment is fitted to, or made for.
pub fn body(session: &Session) -> Option<&Arc<Body>> {
    match session.on() {
        On::Garment => session.garment().map(|garment| &garment.made_for),
        On::Fitting => session.fitting().map(|fitting| &fitting.body),
    }
}

/// Reads a measurement on what is shown.
pub fn read(session: &Session, measures: &Measurement) -> Option<Result<Reading, MeasuringError>> {
    Some(measures.read(shown(session)?, body(session)?))
}

/// The pins on what lies on the table.
fn here(session: &Session) -> impl Iterator<Item = &Pin> {
    let on = on(session);
    let pins = session.shown().pins.iter();
    pins.filter(move |pin| Some(&pin.on) == on.as_ref())
}

fn on(session: &Session) -> Option<PinnedTo> {
    Some(match session.on() {
        On::Garment => PinnedTo::Garment(session.garment()?.name.clone()),
        On::Fitting => PinnedTo::Fitting(session.fitting.clone()?),
    })
}

/// Pins a measurement under its own name.
pub fn pin_it(session: &Session, measures: Measurement, commands: &mut Vec<Command>) {
    let Some(on) = on(session) else {
        return;
    };
    let name = measures.name();
    let pins = &session.shown().pins;
    let numbered = (2..=pins.len() + 2).map(|number| format!("{name} ({number})"));
    let free = std::iter::once(name.clone())
        .chain(numbered)
        .find(|name| pins.iter().all(|pin| pin.name != *name));
    commands.push(Command::Edit(Edit::PutPin(Pin {
        name: free.unwrap_or(name),
        on,
        measures,
    })));
}

/// The pins in a list, with what they read; renamed and taken out.
pub fn list(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    let unit = session.shown().unit;
    if here(session).next().is_some() {
        ui.separator();
        ui.label("Pinned");
    }
    for (number, pin) in here(session).enumerate() {
        ui.push_id(("pin", number), |ui| {
            ui.horizontal(|ui| {
                let label = format!("Unpin {}", pin.name);
                if ui
                    .button("Unpin")
                    .accessible_name(&label)
                    .on_hover_text(pin.measures.name())
                    .clicked()
                {
                    commands.push(Command::Edit(Edit::RemovePin(pin.name.clone())));
                }
                let reads = match read(session, &pin.measures) {
                    Some(Ok(reading)) => wording::length(reading.length, unit),
                    Some(Err(why)) => why.to_string(),
                    None => String::new(),
                };
                ui.strong(reads);
                let field = format!("Name of pin {}", pin.name);
                if let Some(name) = name_field(ui, &field, &pin.name) {
                    commands.extend(renamed(session, pin, name));
                }
            });
        });
    }
}

/// A pin under another name: the one of the old name goes.
fn renamed(session: &Session, pin: &Pin, name: String) -> Vec<Command> {
    if session.shown().pins.iter().any(|other| other.name == name) {
        return vec![Command::Say(format!(
            "another pin is called {name} already; choose another name"
        ))];
    }
    let next = Pin {
        name,
        ..pin.clone()
    };
    vec![
        Command::Edit(Edit::RemovePin(pin.name.clone())),
        Command::Edit(Edit::PutPin(next)),
    ]
}

/// Paints every pin on the table: where the tape lies, and what it reads.
pub fn paint(hand: &Hand<'_>, brush: &Brush<'_>) {
    for pin in here(hand.session) {
        if let Some(Ok(reading)) = read(hand.session, &pin.measures) {
            paint_reading(hand, brush, &reading, Some(&pin.name));
        }
    }
}

/// Paints a reading: the tape on every piece, its length beside it; the sum where it has several parts.
pub fn paint_reading(hand: &Hand<'_>, brush: &Brush<'_>, reading: &Reading, name: Option<&str>) {
    let stroke = egui::Stroke::new(2.5, brush.palette().care);
    let show = |mm| wording::length(mm, hand.unit);
    for (number, part) in reading.parts.iter().enumerate() {
        let line = part.line.mapped(|p| hand.on_table(&part.piece, p));
        brush.stroke(&line.to_path(), stroke);
        for end in [line.start(), line.end()] {
            brush.stroke(
                &kurbo::Shape::to_path(&kurbo::Circle::new(end, 0.25 * hand.reach), 0.05),
                stroke,
            );
        }
        let several = reading.parts.len() > 1;
        let words = match (number, several) {
            (0, true) => {
                let name = name.unwrap_or("all");
                format!("{}; {name}: {}", show(part.length), show(reading.length))
            }
            (0, false) => match name {
                Some(name) => format!("{name}: {}", show(reading.length)),
                None => show(reading.length),
            },
            _ => show(part.length),
        };
        brush.words(line.at(0.5), &words);
    }
}
