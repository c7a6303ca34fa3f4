//! The switch between garment and fitting that every tray of hand work shows first.

use egui::Ui;

use super::{faded, heading};
use crate::command::Command;
use crate::fields::one_of;
use crate::session::{On, Session};

/// Garment or fitting: always visible which. `name` is its heading: "Chalk on".
pub fn works_on(ui: &mut Ui, name: &str, session: &Session, commands: &mut Vec<Command>) {
    heading(ui, name);
    let both: &[On] = if session.fitting().is_some() {
        &[On::Fitting, On::Garment]
    } else {
        &[On::Garment]
    };
    ui.horizontal_wrapped(|ui| {
        if let Some(on) = one_of(ui, name, session.on(), both, |on| match on {
            On::Fitting => "This fitting",
            On::Garment => "The garment",
        }) {
            commands.push(Command::On(on));
        }
    });
    faded(
        ui,
        match session.on() {
            On::Fitting => {
                "Only this fitting changes. Each step is made again when the body or the ease changes."
            }
            On::Garment => "The garment changes, and with it every fitting of it.",
        },
    );
}
