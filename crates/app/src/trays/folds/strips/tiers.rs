//! Tiers: each sewn to the one above it.

use egui::Ui;
use petitoile_core::strips::{Tier, tiers};
use petitoile_core::{LengthUnit, Mm};

use super::super::place::Place;
use super::told::Told;
use crate::command::Command;
use crate::fields::{Style, Typed, length_field, typed_field};
use crate::trays::faded;

/// What is typed about tiers.
#[derive(Debug, Clone)]
pub struct Tiers {
    edge: Mm,
    ratios: Vec<f64>,
}

/// A tier that is to be reckoned as a strip.
pub struct Reckoned {
    /// Length it is sewn to.
    pub finished: Mm,
    /// Times as long.
    pub ratio: f64,
}

impl Default for Tiers {
    fn default() -> Self {
        Self {
            edge: Mm(265.0),
            ratios: vec![1.5, 1.5, 1.5],
        }
    }
}

impl Tiers {
    /// Fields and the tiers they give; a tier that was clicked is to be reckoned as a strip.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        place: Option<&Place<'_>>,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) -> Option<Reckoned> {
        ui.horizontal(|ui| {
            let name = "Edge above the first tier";
            match length_field(ui, name, Some(self.edge), "", unit, 84.0).typed {
                Typed::Length(mm) => self.edge = mm,
                Typed::Trouble(why) => commands.push(Command::Say(format!("{name}: {why}"))),
                Typed::Nothing | Typed::Cleared => {}
            }
            ui.label(name);
        });
        if let Some(place) = place {
            let whole = Mm(place.length.0 * place.piece.times_round());
            let words = format!("As long as {}, {}", place.edge, unit.show(whole));
            if ui.button(words).clicked() {
                self.edge = whole;
            }
        }
        let style = Style {
            width: 150.0,
            computed: false,
        };
        let shown: Vec<String> = self.ratios.iter().map(|r| format!("{r}")).collect();
        ui.horizontal(|ui| {
            let reads = |text: &str| ratios(text).is_some();
            let text = typed_field(
                ui,
                "Times as long, tier by tier",
                &shown.join("; "),
                style,
                reads,
            );
            if let Some(read) = text.and_then(|text| ratios(&text)) {
                self.ratios = read;
            }
            ui.label("times each");
        });
        faded(
            ui,
            "From 1.5 to 2 times the tier above is usual; a semicolon between.",
        );
        let mut asked = None;
        let mut told = Told::default();
        let all: Vec<(f64, Tier)> = self
            .ratios
            .iter()
            .copied()
            .zip(tiers(self.edge, &self.ratios))
            .collect();
        for (number, (ratio, tier)) in (1..).zip(all) {
            ui.horizontal_wrapped(|ui| {
                let words = format!(
                    "Tier {number}: {} of cloth to {}",
                    unit.show(tier.cloth),
                    unit.show(tier.finished)
                );
                told.say(ui, words);
                let button = ui
                    .button("Its strip")
                    .accessible_name(format!("Strip of tier {number}"));
                if button.clicked() {
                    asked = Some(Reckoned {
                        finished: tier.finished,
                        ratio,
                    });
                }
            });
        }
        told.offer(ui, "tiers", commands);
        asked
    }
}

/// Ratios with semicolons between.
fn ratios(text: &str) -> Option<Vec<f64>> {
    let all: Option<Vec<f64>> = text
        .split(';')
        .map(|part| {
            let number = part.trim().replace(',', ".").parse::<f64>().ok()?;
            (1.0..=10.0).contains(&number).then_some(number)
        })
        .collect();
    all.filter(|all| !all.is_empty() && all.len() <= 20)
}
