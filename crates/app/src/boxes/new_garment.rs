//! A garment from nothing: its name and the body it is made for.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::Ui;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::edit::Edit;
use petitoile_core::garment::Garment;

use super::{Boxes, body_row, buttons, name_row, title};
use crate::command::Command;
use crate::session::{On, Session, Tray};

/// A grown woman in the middle of the table: the body most handbooks draft for.
pub fn usual_body(built_in: &[Arc<Body>]) -> Option<Arc<Body>> {
    let is_usual = |body: &&Arc<Body>| body.key == "woman-92";
    let woman = || built_in.iter().find(|body| body.kind == BodyKind::Woman);
    built_in
        .iter()
        .find(is_usual)
        .or_else(woman)
        .or(built_in.first())
        .cloned()
}

/// Shows the box; gives whether it is to be closed.
pub fn ui(boxes: &mut Boxes, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) -> bool {
    title(ui, "New garment");
    let entered = name_row(boxes, ui, "Name of the garment", "Sunday dress");
    body_row(boxes, ui, session, "Made for");
    let name = boxes.name.trim().to_owned();
    let taken = session.project().garment(&name).is_some();
    if taken {
        ui.label(format!(
            "Another garment is called {name} already; choose another name."
        ));
    }
    let allowed = !name.is_empty() && !taken;
    let (clicked, close) = buttons(ui, "Start it", allowed);
    if let Some(body) = boxes
        .body
        .clone()
        .filter(|_| allowed && (clicked || entered))
    {
        commands.push(Command::Edit(Edit::PutGarment(Arc::new(Garment {
            name: name.clone(),
            made_for: body,
            pieces: Vec::new(),
            seams: Vec::new(),
            tape_lines: Vec::new(),
            openings: Vec::new(),
            cloths: BTreeMap::new(),
            included_allowance: BTreeMap::new(),
        }))));
        commands.push(Command::ChooseGarment(name));
        commands.push(Command::On(On::Garment));
        commands.push(Command::Tray(Tray::Chalk));
        return true;
    }
    close
}
