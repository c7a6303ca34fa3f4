//! Whether it is true to scale: what the file says, what its own squares and rulers say, what the maker measured.

use egui::{Grid, Ui};
use petitoile_core::Mm;
use petitoile_exchange::bring_in::Scale;

use super::BringIn;
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::session::Session;
use crate::trays::{faded, heading};

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
}
