//! Sleeves over sleeves: room over the arm and what is worn on it, and a trial with one more undersleeve.

use egui::{RichText, Ui};
use petitoile_core::dressing::{ArmRoom, Dressing, undersleeve_girth};
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Style, Typed, length_field, typed_field};
use crate::theme::Palette;
use crate::trays::{faded, heading};

/// An undersleeve that is tried in thought.
pub struct Trial {
    thickness: Option<Mm>,
    fullness: f64,
}

impl Default for Trial {
    fn default() -> Self {
        Self {
            thickness: None,
            fullness: 1.5,
        }
    }
}

fn ratio(text: &str) -> Option<f64> {
    let number: f64 = text.trim().replace(',', ".").parse().ok()?;
    (0.5..=10.0).contains(&number).then_some(number)
}

impl Trial {
    /// Shows room in the sleeves; nothing where there are none.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        dressing: &Dressing,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        if dressing.arms.is_empty() {
            return;
        }
        heading(ui, "Sleeves");
        let under = dressing.arms.first().map(|room| room.under.join(", "));
        let under = under.filter(|words| !words.is_empty());
        faded(
            ui,
            format!(
                "Under it: {}.",
                under.unwrap_or_else(|| "nothing".to_owned())
            ),
        );
        egui::Grid::new("arms").num_columns(4).show(ui, |ui| {
            for words in ["", "dressed arm", "sleeve", "to spare"] {
                ui.label(RichText::new(words).small().weak());
            }
            ui.end_row();
            for room in &dressing.arms {
                self.row(ui, room, unit);
            }
        });
        self.fields(ui, unit, commands);
    }

    fn row(&self, ui: &mut Ui, room: &ArmRoom, unit: LengthUnit) {
        let palette = Palette::showing(ui);
        let dressed = self.thickness.map_or(room.dressed, |thickness| {
            // Fullness is counted on the bare arm.
            let fullness = self.fullness * room.arm.0 / room.dressed.0.max(f64::MIN_POSITIVE);
            undersleeve_girth(room.dressed, thickness, fullness)
        });
        let margin = room.sleeve - dressed - room.own;
        let place = room.measure.label().replace(" girth", "");
        ui.label(&place);
        ui.label(unit.show_bare(dressed));
        ui.label(unit.show_bare(room.sleeve));
        let colour = if margin.0 < 0.0 {
            palette.care
        } else {
            palette.ink
        };
        let words = unit.show_bare(margin).replace('-', "\u{2212}");
        ui.label(RichText::new(words).color(colour));
        ui.end_row();
    }

    fn fields(&mut self, ui: &mut Ui, unit: LengthUnit, commands: &mut Vec<Command>) {
        ui.horizontal_wrapped(|ui| {
            ui.label("Try an undersleeve");
            let label = "Thickness of a tried undersleeve";
            let field = length_field(ui, label, self.thickness, "thickness", unit, 74.0);
            match field.typed {
                Typed::Length(mm) => self.thickness = Some(mm),
                Typed::Cleared => self.thickness = None,
                Typed::Trouble(trouble) => {
                    commands.push(Command::Say(format!("{label}: {trouble}")))
                }
                Typed::Nothing => {}
            }
            ui.label("times the arm");
            let style = Style {
                width: 48.0,
                computed: false,
            };
            let shown = format!("{}", self.fullness);
            let reads = |text: &str| ratio(text).is_some();
            let typed = typed_field(ui, "Fullness of a tried undersleeve", &shown, style, reads);
            if let Some(fullness) = typed.as_deref().and_then(ratio) {
                self.fullness = fullness;
            }
        });
        faded(
            ui,
            "Cloth pressed flat: gathers hold air, so this is the least they need.",
        );
    }
}
