//! What is worn under and over it: the outfit, pads, room over everything underneath, what covers what, the wardrobe.

mod order;
mod pads;
mod room;
mod shows;
mod wardrobe;

use std::collections::BTreeSet;

use egui::{ScrollArea, Ui};
use petitoile_core::outfit::Outfit;

use crate::command::Command;
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::worn::WornIn;

/// What is worn under and over it.
#[derive(Default)]
pub struct LayersLeaf {
    /// Name of the outfit that is looked at.
    outfit: Option<String>,
    /// Layers and pads that are left out to see what changes: nothing of the project.
    left_out: BTreeSet<String>,
}

/// What every part of the leaf needs.
#[derive(Clone, Copy)]
struct Shown<'a> {
    session: &'a Session,
    /// Name of the fitting that is worked on.
    fitting: &'a str,
    outfit: &'a Outfit,
    /// What was worked out of the fitting in that outfit.
    worn: Option<&'a WornIn>,
}

impl LayersLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(fitting) = session.fitting() else {
            return;
        };
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            let outfit = order::choose(ui, session, fitting, &mut self.outfit, commands);
            let Some(outfit) = outfit else {
                faded(
                    ui,
                    "No outfit wears this fitting yet. An outfit is several garments in order on one doll.",
                );
                wardrobe::ui(ui, session, &fitting.body.name, None, commands);
                return;
            };
            self.left_out.retain(|name| {
                let is_pad = outfit.pads.iter().any(|worn| worn.pad.name == *name);
                is_pad || outfit.layers.contains(name)
            });
            let worn = session.work.done.as_ref().and_then(|worked| {
                let all = worked.beyond.layers.iter();
                all.clone().find(|worn| worn.together.outfit == outfit.name)
            });
            let shown = Shown {
                session,
                fitting: &fitting.name,
                outfit,
                worn,
            };
            order::layers(ui, shown, fitting, &mut self.left_out, commands);
            room::ui(ui, shown, &self.left_out, commands);
            heading(ui, "Pads");
            pads::ui(ui, shown, &mut self.left_out, commands);
            heading(ui, "What shows");
            shows::ui(ui, shown, commands);
            wardrobe::ui(ui, session, &fitting.body.name, Some(outfit), commands);
            ui.add_space(12.0);
        });
    }
}
