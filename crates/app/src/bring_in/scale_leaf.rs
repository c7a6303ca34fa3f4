//! Whether it is true to scale: what the file says, what its own squares and rulers say, what the maker measured.

use egui::{Grid, Ui};
use petitoile_core::Mm;
use petitoile_exchange::bring_in::Scale;

use super::BringIn;
use super::leaves::doubt;
use super::work::Worked;
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::wording;

/// What was measured and what it should be, half typed.
#[derive(Default)]
pub struct Half {
    measures: Option<Mm>,
    should: Option<Mm>,
}

impl BringIn {
    pub(super) fn scale_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        commands: &mut Vec<Command>,
    ) {
        let (Some(source), Some(worked)) = (self.source.clone(), self.worked.clone()) else {
            faded(ui, "Looking at the lines\u{2026}");
            return;
        };
        let unit = session.project().unit;
        match &source.drawing.scale {
            Scale::Given => ui.label("The file gives real lengths."),
            Scale::Taken(why) => ui.add(
                egui::Label::new(format!(
                    "Scale: {why}. Check it against something you can measure."
                ))
                .wrap(),
            ),
        };
        let (x, y) = worked.choices.larger;
        if (x, y) != (1.0, 1.0) {
            ui.label(format!(
                "Everything is {:.2} % of its size across and {:.2} % along.",
                x * 100.0,
                y * 100.0
            ));
            if ui.button("As the file says").clicked() {
                self.choose(ui.ctx(), |choices| choices.larger = (1.0, 1.0));
            }
        }
        self.own_marks(ui, session, &worked);
        heading(ui, "By a length you know");
        Grid::new("scale").num_columns(2).show(ui, |ui| {
            for (label, should) in [("It measures here", false), ("It should be", true)] {
                ui.label(label);
                let half = &mut self.half.scale;
                let value = if should {
                    &mut half.should
                } else {
                    &mut half.measures
                };
                match length_field(ui, label, *value, "", unit, 96.0).typed {
                    Typed::Length(mm) => *value = Some(mm),
                    Typed::Cleared => *value = None,
                    Typed::Trouble(why) => commands.push(Command::Say(why)),
                    Typed::Nothing => {}
                }
                ui.end_row();
            }
        });
        let half = &self.half.scale;
        let factor = half
            .measures
            .zip(half.should)
            .map(|(is, should)| should.0 / is.0);
        let factor = factor.filter(|factor| (0.01..=100.0).contains(factor));
        let button = ui.add_enabled(factor.is_some(), egui::Button::new("Make it so"));
        if let Some(factor) = factor.filter(|_| button.clicked()) {
            self.choose(ui.ctx(), |choices| {
                choices.larger = (choices.larger.0 * factor, choices.larger.1 * factor);
            });
        }
    }

    /// What the sheet's own squares and rulers say, and the correction they ask for.
    fn own_marks(&mut self, ui: &mut Ui, session: &Session, worked: &Worked) {
        let unit = session.project().unit;
        heading(ui, "Its own squares and rulers");
        if worked.says.measures.is_empty() {
            faded(ui, "Nothing on it says how long it is.");
        }
        for measure in &worked.says.measures {
            let words = wording::sentence(&measure.in_words(unit));
            ui.add(egui::Label::new(words).wrap());
            doubt(ui, measure.sure, "");
        }
        let Some(correction) = &worked.says.correction else {
            return;
        };
        if !correction.is_needed() {
            ui.label("They agree: it is true to scale.");
            return;
        }
        let words = if correction.is_uneven() {
            format!(
                "Correct it: {:.2} % across, {:.2} % up",
                correction.across * 100.0,
                correction.up * 100.0
            )
        } else {
            format!("Correct it: {:.2} %", correction.across * 100.0)
        };
        let button = egui::Button::new(words).min_size(egui::vec2(140.0, 32.0));
        if ui.add(button).clicked() {
            let (across, up) = (correction.across, correction.up);
            self.choose(ui.ctx(), |choices| {
                choices.larger = (choices.larger.0 * across, choices.larger.1 * up);
            });
        }
        doubt(
            ui,
            correction.sure,
            &agree_words(correction.agree, correction.differ),
        );
    }
}

fn agree_words(agree: usize, differ: usize) -> String {
    let agree = wording::count(agree, "mark agrees", "marks agree");
    match differ {
        0 => agree,
        differ => format!("{agree}, {differ} say something else"),
    }
}
