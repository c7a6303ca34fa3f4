//! A fitting: a garment of the project on a body, by default a doll.

use std::sync::Arc;

use egui::Ui;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::edit::Edit;
use petitoile_core::fitting::Fitting;

use super::{Boxes, body_row, buttons, name_row, title};
use crate::command::Command;
use crate::session::{Session, Tray};

/// The first doll.
pub fn usual_body(built_in: &[Arc<Body>]) -> Option<Arc<Body>> {
    let doll = built_in.iter().find(|body| body.kind == BodyKind::Doll);
    doll.or(built_in.first()).cloned()
}

/// Shows the box; gives whether it is to be closed.
pub fn ui(boxes: &mut Boxes, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) -> bool {
    title(ui, "New fitting");
    let (Some(garment), Some(body)) = (session.garment(), boxes.body.clone()) else {
        ui.label("There is no garment yet. Start one first.");
        return buttons(ui, "Fit it", false).1;
    };
    ui.label(format!(
        "{}, made for {}",
        garment.name, garment.made_for.name
    ));
    let usual = format!("{} for the {}", garment.name, body.name);
    let entered = name_row(boxes, ui, "Name of the fitting", &usual);
    body_row(boxes, ui, session, "On");
    let typed = boxes.name.trim();
    let name = if typed.is_empty() {
        usual
    } else {
        typed.to_owned()
    };
    let taken = session.project().fitting(&name).is_some();
    if taken {
        ui.label(format!(
            "Another fitting is called {name} already; choose another name."
        ));
    }
    // The same base fitted once is used again.
    let on_it = boxes.body.clone().unwrap_or_else(|| body.clone());
    let same = session.project().fittings.iter();
    if let Some(there) = same
        .filter(|fitting| fitting.garment == garment.name)
        .find(|fitting| fitting.body == on_it)
    {
        ui.label(format!(
            "{} is this garment on this body already.",
            there.name
        ));
        if ui.button("Use that one").clicked() {
            commands.push(Command::ChooseFitting(there.name.clone()));
            return true;
        }
    }
    let none = garment.pieces.is_empty();
    if none {
        ui.label("Draw a piece first: there is nothing to fit yet.");
    }
    let allowed = !taken && !none;
    let (clicked, close) = buttons(ui, "Fit it", allowed);
    if allowed && (clicked || entered) {
        let fitting = Fitting::new(
            name.clone(),
            garment.name.clone(),
            boxes.body.clone().unwrap_or(body),
        );
        commands.push(Command::Edit(Edit::PutFitting(Arc::new(fitting))));
        commands.push(Command::ChooseFitting(name));
        commands.push(Command::Tray(Tray::Body));
        return true;
    }
    close
}
