//! The fitting beside other fittings, and its garment on other bodies.

use std::sync::Arc;

use egui::{RichText, ScrollArea, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::body::Body;
use petitoile_core::fit::{BesideRow, FitRow};
use petitoile_core::fitting::Fitting;
use petitoile_exchange::body_table;

use super::{bare, bare_length, sits_words, toned};
use crate::command::Command;
use crate::fields::{one_of, pick, pick_body};
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::faded;
use crate::whole_way::{Compared, Other};

/// What the columns tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Tells {
    /// Garment less body.
    #[default]
    Ease,
    /// The same in percent.
    Percent,
    /// What the garment measures.
    Garment,
    /// What the body measures.
    Body,
}

impl Tells {
    const ALL: [Self; 4] = [Self::Ease, Self::Percent, Self::Garment, Self::Body];

    fn words(self) -> &'static str {
        match self {
            Self::Ease => "ease",
            Self::Percent => "ease %",
            Self::Garment => "garment",
            Self::Body => "body",
        }
    }
}

/// What is chosen in the comparison.
#[derive(Default)]
pub struct BesidePart {
    tells: Tells,
    bodies: Option<Vec<Arc<Body>>>,
}

/// Width of a column of figures.
const COLUMN: f32 = 84.0;

impl BesidePart {
    /// Choosers and table.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let chosen = &session.beside;
        self.choosers(ui, session, fitting, commands);
        for (i, other) in chosen.iter().enumerate() {
            let name = match other {
                Other::Fitting(name) => name,
                Other::Body(body) => &body.name,
            };
            let button = ui.add(egui::Button::new(format!("Take away: {name}")).truncate());
            if button.clicked() {
                let mut rest = chosen.clone();
                rest.remove(i);
                commands.push(Command::Beside(rest));
            }
        }
        if let Some(compared) = session
            .work
            .compared
            .as_ref()
            .filter(|_| !chosen.is_empty())
        {
            self.table(ui, compared, session.shown().unit);
        }
    }

    fn choosers(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let chosen = &session.beside;
        let with = |other: Other| {
            let mut all = chosen.clone();
            all.push(other);
            Command::Beside(all)
        };
        let taken = |name: &str| {
            name == fitting.name
                || chosen
                    .iter()
                    .any(|other| matches!(other, Other::Fitting(there) if there == name))
        };
        let names = session.shown().fittings.iter().map(|f| f.name.clone());
        let free: Vec<String> = names.filter(|name| !taken(name)).collect();
        if free.is_empty() {
            faded(ui, "No other fitting in this project.");
        } else {
            ui.label("Another fitting");
            let none = "choose".to_owned();
            if let Some(name) = pick(ui, "beside", "Another fitting", &none, &free, String::clone) {
                commands.push(with(Other::Fitting(name)));
            }
        }
        ui.label("This garment on another body");
        let built_in = self.bodies.get_or_insert_with(body_table::built_in);
        let asked = ui.push_id("beside", |ui| {
            pick_body(ui, session, built_in, &fitting.body)
        });
        if let Some(body) = asked.inner.filter(|body| {
            body.name != fitting.body.name
                && !chosen
                    .iter()
                    .any(|other| matches!(other, Other::Body(there) if there.name == body.name))
        }) {
            commands.push(with(Other::Body(body)));
        }
    }

    fn table(&mut self, ui: &mut Ui, compared: &Compared, unit: LengthUnit) {
        for trouble in &compared.troubles {
            ui.label(trouble);
        }
        ui.horizontal_wrapped(|ui| {
            let asked = one_of(ui, "Beside, show", self.tells, &Tells::ALL, Tells::words);
            self.tells = asked.unwrap_or(self.tells);
        });
        let beside = &compared.beside;
        ScrollArea::horizontal().id_salt("beside").show(ui, |ui| {
            let grid = egui::Grid::new("beside").num_columns(beside.columns.len() + 1);
            grid.spacing([6.0, 4.0]).show(ui, |ui| {
                faded(ui, unit.suffix());
                for (fitting, body) in &beside.columns {
                    ui.scope(|ui| {
                        ui.set_max_width(COLUMN);
                        let words = RichText::new(fitting).small().weak();
                        ui.add(egui::Label::new(words).truncate())
                            .on_hover_text(format!("{fitting}, on {body}"));
                    });
                }
                ui.end_row();
                for row in &beside.rows {
                    self.row(ui, row, unit);
                    ui.end_row();
                }
            });
        });
    }

    fn row(&self, ui: &mut Ui, row: &BesideRow, unit: LengthUnit) {
        let palette = Palette::showing(ui);
        ui.label(&row.name).on_hover_text(row.measure.label());
        for (column, cell) in row.cells.iter().enumerate() {
            let Some(cell) = cell else {
                ui.label("\u{2013}");
                continue;
            };
            let words = toned(self.words(cell, unit), cell.sits, palette);
            let size = row.body_percent(column).map_or(String::new(), |size| {
                format!("; body {size:.0} % of the first")
            });
            ui.label(words)
                .on_hover_text(format!("{}{size}", sits_words(cell.sits, unit)));
        }
    }

    fn words(&self, cell: &FitRow, unit: LengthUnit) -> String {
        match self.tells {
            Tells::Ease => bare_length(cell.here.ease(), unit),
            Tells::Percent => format!("{} %", bare(cell.here.percent())),
            Tells::Garment => unit.show_bare(cell.here.garment),
            Tells::Body => unit.show_bare(cell.here.body),
        }
    }
}
