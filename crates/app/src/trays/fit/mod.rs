//! The Fit tray: ease, allowances, how pieces keep their shape, cloth. Everything follows while a slider moves.

mod bulk;
mod choices;
mod dressing;
mod ease;
mod figure;
mod layers;

use egui::{ScrollArea, Ui};
use petitoile_core::edge::EdgeRef;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::Fitting;
use petitoile_core::{LengthUnit, Mm};

use super::{faded, heading, leaves};
use crate::command::Command;
use crate::fields::{Asked, length_slider};
use crate::session::Session;

/// The Fit tray.
#[derive(Default)]
pub struct FitTray {
    leaf: Leaf,
    ease: ease::EasePart,
    cloth_names: choices::Names,
    figure: figure::FigureLeaf,
    dressing: dressing::DressingLeaf,
    layers: layers::LayersLeaf,
    bulk: bulk::BulkLeaf,
}

/// The leaves of the tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Leaf {
    /// Ease, allowances, shape and cloth.
    #[default]
    Ease,
    /// The measure figure.
    Figure,
    /// Does it go on?
    Dressing,
    /// What is worn under and over it.
    Layers,
    /// Stacks of cloth.
    Bulk,
}

impl Leaf {
    const ALL: [(Self, &str); 5] = [
        (Self::Ease, "Ease"),
        (Self::Figure, "Figure"),
        (Self::Dressing, "Dressing"),
        (Self::Layers, "Layers"),
        (Self::Bulk, "Bulk"),
    ];
}

impl FitTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(fitting) = session.fitting() else {
            faded(ui, "No fitting yet. Open a project.");
            return;
        };
        leaves(ui, &Leaf::ALL, &mut self.leaf, 56.0);
        match self.leaf {
            Leaf::Ease => self.ease_leaf(ui, session, fitting, commands),
            Leaf::Figure => self.figure.ui(ui, session, commands),
            Leaf::Dressing => self.dressing.ui(ui, session, commands),
            Leaf::Layers => self.layers.ui(ui, session, commands),
            Leaf::Bulk => self.bulk.ui(ui, session, commands),
        }
    }

    fn ease_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            heading(ui, "Allowances");
            allowances(ui, fitting, unit, commands);
            single(ui, session, fitting, unit, commands);
            self.ease.ui(ui, session, fitting, commands);
            heading(ui, "Shape and details");
            choices::shape(ui, session, fitting, commands);
            heading(ui, "Cloth");
            choices::cloth(ui, session, fitting, unit, &mut self.cloth_names, commands);
            ui.add_space(12.0);
        });
    }
}

/// Seam allowance, hem and notches for the whole fitting.
fn allowances(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    let plan = &fitting.allowances;
    egui::Grid::new("allowances").num_columns(2).show(ui, |ui| {
        length_slider(ui, "Seam allowance", plan.seam, 2.0..=15.0, unit).push(
            &fitting.name,
            commands,
            FittingEdit::SetSeamAllowance,
        );
        ui.end_row();
        length_slider(ui, "Hem", plan.hem, 2.0..=40.0, unit).push(
            &fitting.name,
            commands,
            FittingEdit::SetHem,
        );
        ui.end_row();
        length_slider(ui, "Notch", plan.notch_depth, 1.0..=6.0, unit).push(
            &fitting.name,
            commands,
            FittingEdit::SetNotchDepth,
        );
        ui.end_row();
    });
}

/// The allowance of the chosen edge.
fn single(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let (Some(piece), Some(edge)) = (&session.chosen.piece, &session.chosen.edge) else {
        faded(
            ui,
            "Choose an edge on the table to give it a width of its own.",
        );
        return;
    };
    let place = EdgeRef::new(piece, edge);
    let own = fitting.allowances.single.get(&place).copied();
    ui.label(format!("Chosen edge: {place}"));
    match own {
        Some(width) => {
            ui.horizontal_wrapped(|ui| {
                let place_there = place.clone();
                length_slider(ui, "Own width", width, 0.0..=30.0, unit).push(
                    &fitting.name,
                    commands,
                    move |w| FittingEdit::SetSingleAllowance(place_there, Some(w)),
                );
                if ui.button("As all others").clicked() {
                    Asked::Done(()).push(&fitting.name, commands, |()| {
                        FittingEdit::SetSingleAllowance(place.clone(), None)
                    });
                }
            });
        }
        None => {
            if ui.button("Give it a width of its own").clicked() {
                let now = width_now(session, piece, edge).unwrap_or(fitting.allowances.seam);
                Asked::Done(now).push(&fitting.name, commands, |w| {
                    FittingEdit::SetSingleAllowance(place, Some(w))
                });
            }
        }
    }
}

/// The allowance this edge has at the moment.
fn width_now(session: &Session, piece: &str, edge: &str) -> Option<Mm> {
    let worked = session.work.done.as_ref()?;
    let finished = worked
        .finished
        .pieces
        .iter()
        .find(|p| p.piece.name == piece)?;
    let at = finished.piece.outline.index_of(edge)?;
    finished.allowances.get(at).copied()
}
