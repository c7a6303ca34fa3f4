//! Joined strips: what is asked, what it takes, where the joins fall, and the strip as a piece of the garment.

mod bias;
mod form;
mod free;
mod picture;
mod piece;
mod result;
mod tiers;
mod told;

use egui::Ui;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Role;
use petitoile_core::strips::{Source, StripWanted, joined};

use super::place::Place;
use crate::command::Command;
use crate::fields::one_of;
use crate::session::Session;
use crate::trays::heading;
use form::StripForm;
use result::Outcome;

/// What is made of strips.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum What {
    /// A ruffle, flounce or band.
    #[default]
    Strip,
    /// One ruffle below the other.
    Tiers,
    /// Binding, piping, and the square that gives bias strips.
    Bias,
}

/// What is typed about strips.
#[derive(Debug, Default)]
pub struct Strips {
    what: What,
    form: StripForm,
    tiers: tiers::Tiers,
    bias: bias::Bias,
    /// What was asked last, and what came of it.
    known: Option<(StripWanted, Result<Source, String>, Outcome)>,
}

impl Strips {
    /// Shows everything about strips.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        garment: &Garment,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        ui.horizontal_wrapped(|ui| {
            let all = [What::Strip, What::Tiers, What::Bias];
            let asked = one_of(ui, "Strips for", self.what, &all, |what| match what {
                What::Strip => "Ruffle or band",
                What::Tiers => "Tiers",
                What::Bias => "Bias, binding, piping",
            });
            self.what = asked.unwrap_or(self.what);
        });
        let place = Place::chosen(session, garment);
        match self.what {
            What::Strip => self.strip(ui, session, garment, place.as_ref(), commands),
            What::Tiers => {
                if let Some(finished) = self.tiers.ui(ui, place.as_ref(), unit, commands) {
                    self.what = What::Strip;
                    self.form.reckon(finished.finished, finished.ratio);
                }
            }
            What::Bias => self.bias.ui(ui, unit, commands),
        }
    }

    /// The joined strip; reckoned anew only when something was typed.
    fn reckoned(&mut self, wanted: &StripWanted, source: Result<Source, String>) -> Outcome {
        let known = self
            .known
            .as_ref()
            .filter(|known| known.0 == *wanted && known.1 == source);
        if let Some((.., outcome)) = known {
            return outcome.clone();
        }
        let outcome = source.clone().map(|source| joined(wanted, &source));
        self.known = Some((wanted.clone(), source, outcome.clone()));
        outcome
    }

    fn strip(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        garment: &Garment,
        place: Option<&Place<'_>>,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        self.form.thickness = super::thickness_of(session, Role::Shell);
        self.form.ui(ui, place, unit, commands);
        let source = self.form.source(unit);
        let wanted = self.form.wanted();
        heading(ui, "It takes");
        let outcome = self.reckoned(&wanted, source);
        let Some(strip) = result::shown(ui, &mut self.form, &outcome, unit) else {
            return;
        };
        picture::strip(ui, &strip, &wanted, unit);
        result::joins(ui, &strip, &wanted, unit);
        piece::offer(
            ui,
            &mut self.form,
            &strip,
            &wanted,
            (session, garment),
            commands,
        );
    }
}
