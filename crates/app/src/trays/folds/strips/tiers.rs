//! Tiers: each sewn to the one above it.

use egui::Ui;
use petitoile_core::strips::{Tier, TiersWanted, tiers};
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
            let name = "Times as long, tier by tier";
            let reads = |text: &str| ratios(text).is_ok();
            let text = typed_field(ui, name, &shown.join("; "), style, reads);
            match text.map(|text| ratios(&text)) {
                Some(Ok(read)) => self.ratios = read,
                Some(Err(why)) => commands.push(Command::Say(format!("{name}: {why}"))),
                None => {}
            }
            ui.label("times each");
        });
        faded(
            ui,
            "From 1.5 to 2 times the tier above is usual; a semicolon between.",
        );
        let wanted = TiersWanted {
            edge: self.edge,
            ratios: self.ratios.clone(),
        };
        let mut told = Told::default();
        let all = match tiers(&wanted) {
            Ok(all) => all,
            outcome => {
                let words = |all: &Vec<Tier>| words(all, unit);
                if let Some(near) = told.outcome(ui, "tiers", outcome, words, unit) {
                    (self.edge, self.ratios) = (near.edge, near.ratios);
                }
                return None;
            }
        };
        let mut asked = None;
        for (number, (ratio, tier)) in (1..).zip(wanted.ratios.into_iter().zip(all)) {
            ui.horizontal_wrapped(|ui| {
                told.say(ui, format!("Tier {number}: {}", one(&tier, unit)));
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

fn one(tier: &Tier, unit: LengthUnit) -> String {
    format!(
        "{} of cloth to {}",
        unit.show_computed(tier.cloth),
        unit.show_computed(tier.finished)
    )
}

fn words(all: &[Tier], unit: LengthUnit) -> String {
    let tiers: Vec<String> = all.iter().map(|tier| one(tier, unit)).collect();
    format!("{}.", tiers.join("; "))
}

/// Ratios with semicolons between; whether they can be sewn is for the core to say.
fn ratios(text: &str) -> Result<Vec<f64>, String> {
    const MOST: usize = 20;
    let read = |part: &str| {
        let number = part.trim().replace(',', ".").parse::<f64>().ok();
        number.filter(|ratio| ratio.is_finite())
    };
    let all: Option<Vec<f64>> = text.split(';').map(read).collect();
    let all = all.ok_or_else(|| {
        format!(
            "\u{201c}{}\u{201d} is no list of numbers; type it like 1.5; 2",
            text.trim()
        )
    })?;
    if all.len() > MOST {
        return Err(format!("at most {MOST} tiers are computed"));
    }
    Ok(all)
}
