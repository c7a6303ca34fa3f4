//! The Folds tray: pleats, gathers, tucks, ruffles and joined strips.
//!
//! It keeps what is typed until it can be made; all else is read from the session. Numbers are the core's.

mod advice;
mod doll;
mod form;
mod kinds;
mod layers;
mod lie;
mod numbers;
mod picture;
mod place;
mod start;
mod stretch;
mod strips;
mod table;
mod turned;

use egui::{ScrollArea, Ui};
use petitoile_core::alteration::Alteration;
use petitoile_core::cloth::Cloth;
use petitoile_core::fullness::{FullnessOp, Kind, THIN_CLOTH};
use petitoile_core::garment::Garment;
use petitoile_core::piece::Role;
use petitoile_core::{LengthUnit, Mm};

use super::{faded, works_on};
use crate::command::Command;
use crate::fields::{Asked, one_of};
use crate::session::Session;
use form::Form;
use place::Place;
use start::Suits;
use turned::Turned;

/// The Folds tray.
#[derive(Default)]
pub struct FoldsTray {
    part: Part,
    number: usize,
    form: Option<Form>,
    /// What was turned into another kind last, where that took other cloth.
    turned: Option<Turned>,
    strips: strips::Strips,
}

/// What the tray works on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Part {
    /// Fullness on an edge.
    #[default]
    Edge,
    /// Joined strips.
    Strips,
}

impl FoldsTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            works_on(ui, "Folds on", session, commands);
            let Some(garment) = session.on_table().cloned() else {
                faded(ui, "No garment yet. Open a project.");
                return;
            };
            let both = [Part::Edge, Part::Strips];
            ui.horizontal_wrapped(|ui| {
                let asked = one_of(ui, "Work on", self.part, &both, |part| match part {
                    Part::Edge => "Fullness on an edge",
                    Part::Strips => "Joined strips",
                });
                self.part = asked.unwrap_or(self.part);
            });
            match self.part {
                Part::Edge => self.edge(ui, session, &garment, commands),
                Part::Strips => {
                    place::choose(ui, session, &garment, commands);
                    self.strips.ui(ui, session, &garment, commands);
                }
            }
            ui.add_space(12.0);
        });
    }

    /// Fullness on an edge.
    fn edge(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        garment: &Garment,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        place::rows(ui, session, garment, &mut self.number, unit, commands);
        place::choose(ui, session, garment, commands);
        let Some(place) = Place::chosen(session, garment) else {
            self.form = None;
            return;
        };
        let ops = place.ops();
        let here = ops.iter().find(|(i, _)| *i == self.number).or(ops.first());
        let Some((number, op)) = here.copied() else {
            self.form = None;
            faded(
                ui,
                format!("{} long, plain. Choose a kind.", unit.show(place.length)),
            );
            if let Some(kind) = kinds::buttons(ui, None) {
                self.start(session, &place, kind, commands);
            }
            return;
        };
        self.number = number;
        match &mut self.form {
            Some(form) => form.follow(&place.piece.name, number, op, place.length, unit),
            None => {
                let name = &place.piece.name;
                self.form = Some(Form::of(name, number, op, place.length, unit));
            }
        }
        self.of_op(ui, session, &place, op, unit, commands);
    }

    /// Everything about the fullness that is chosen.
    fn of_op(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        place: &Place<'_>,
        op: &FullnessOp,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        let Some(form) = &mut self.form else {
            return;
        };
        if let Some(kind) = kinds::buttons(ui, Some(form.wanted.kind)) {
            self.turned = turn(form, op, place, kind, session, commands);
            return;
        }
        if let Some(turned) = self.turned.as_ref().filter(|turned| turned.op == *op) {
            turned.ui(ui, unit);
        }
        let cloth = place.cloth(session);
        let thickness = cloth.thickness();
        if let Ok(solved) = &form.outcome {
            picture::folded(ui, &solved.folded, thickness, unit);
        }
        let came = numbers::fields(ui, form, unit, commands);
        send(form, place, came, commands);
        if let Ok(solved) = &form.outcome {
            layers::layers(ui, &solved.folded, cloth, place.band(), unit);
        }
        let small = doll::proposal(ui, form, thickness, unit);
        let told = small.is_some();
        send(form, place, small.unwrap_or(Asked::Nothing), commands);
        if let Ok(solved) = &form.outcome {
            table::table(ui, &solved.folded, unit);
        }
        let came = ui.collapsing("How it lies", |ui| {
            lie::lie(ui, form, place, unit, commands)
        });
        send(
            form,
            place,
            came.body_returned.unwrap_or(Asked::Nothing),
            commands,
        );
        let stretch = ui.collapsing("Stretch and spread", |ui| {
            stretch::stretch(ui, op, place, unit, commands)
        });
        if let Some(next) = stretch.body_returned.flatten() {
            commands.push(replaced(place, form.number, next));
        }
        if let Some(more) = stretch::another(place, op)
            && ui.button("Fold the rest of the edge too").clicked()
        {
            self.number = place.piece.fullness.len();
            let mut all = place.piece.fullness.clone();
            all.push(more);
            commands.push(all_of(&place.piece.name, all));
            return;
        }
        advice::findings_here(ui, session, (&place.piece.name, place.edge), told, commands);
        if form.wanted.kind.is_counted() {
            advice::iron(ui);
        }
    }

    /// Puts a kind on a plain edge.
    fn start(
        &mut self,
        session: &Session,
        place: &Place<'_>,
        kind: Kind,
        commands: &mut Vec<Command>,
    ) {
        let Some(suits) = suits(session) else {
            return;
        };
        let Some(op) = start::new(place.piece, place.edge, place.length, kind, suits) else {
            return;
        };
        self.number = place.piece.fullness.len();
        let mut all = place.piece.fullness.clone();
        all.push(op);
        commands.push(all_of(&place.piece.name, all));
    }
}

/// Turns the fullness into another kind for the same cloth; gives what it took and takes, where it cannot be the same.
fn turn(
    form: &mut Form,
    op: &FullnessOp,
    place: &Place<'_>,
    kind: Kind,
    session: &Session,
    commands: &mut Vec<Command>,
) -> Option<Turned> {
    let finished = Mm(place.length.0 * (op.to - op.from));
    let (solved, why) = start::turned(op, finished, kind, suits(session)?, form.unit)?;
    form.put_in(&solved);
    send(form, place, Asked::Done(()), commands);
    Turned::new(op, finished, &form.op()?, why)
}

/// Sizes that suit the body the garment is for now.
fn suits(session: &Session) -> Option<Suits> {
    let body = match session.on() {
        crate::session::On::Fitting => &session.fitting()?.body,
        crate::session::On::Garment => &session.garment()?.made_for,
    };
    Some(Suits::body(body))
}

/// What the form makes, tried or done.
fn send(form: &mut Form, place: &Place<'_>, came: numbers::Came, commands: &mut Vec<Command>) {
    let trying = match came {
        Asked::Nothing => return,
        Asked::Trying(()) => true,
        Asked::Done(()) => false,
    };
    let Some(op) = form.op() else {
        if !trying {
            commands.push(Command::StopTrying);
        }
        return;
    };
    form.asks_for(op.clone());
    let command = replaced(place, form.number, op);
    commands.push(match command {
        Command::Alter(alteration) if trying => Command::TryAlter(alteration),
        other => other,
    });
}

/// All fullness of the piece with one of them replaced; a strip drawn in alike at both edges stays so.
fn replaced(place: &Place<'_>, number: usize, op: FullnessOp) -> Command {
    let mut all = place.piece.fullness.clone();
    let before = all.get(number).cloned();
    let across = op.across().zip(before);
    if let Some((next, before)) = across
        && let Some(other) = all.iter_mut().find(|other| before.is_across_from(other))
    {
        *other = next;
    }
    if let Some(old) = all.get_mut(number) {
        *old = op;
    }
    all_of(&place.piece.name, all)
}

/// Says all fullness of a piece: one undo step.
fn all_of(piece: &str, fullness: Vec<FullnessOp>) -> Command {
    Command::Alter(Alteration::Fullness {
        piece: piece.to_owned(),
        fullness,
    })
}

/// Thickness of the cloth of a layer.
fn thickness_of(session: &Session, role: Role) -> Mm {
    cloth_of(session, role).map_or(THIN_CLOTH, |cloth| cloth.thickness)
}

/// The cloth of a layer: of the fitting, else of the garment.
fn cloth_of(session: &Session, role: Role) -> Option<&Cloth> {
    let of_fitting = session.fitting().and_then(|f| f.cloths.get(&role));
    of_fitting.or_else(|| session.garment().and_then(|g| g.cloths.get(&role)))
}
