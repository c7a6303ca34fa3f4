//! The Paper tray: sheet, margins, printer correction, and the pages as they will come out of the printer.

mod pages;

use egui::{ScrollArea, Ui};
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::Fitting;
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::{LengthUnit, Mm};

use super::{faded, heading};
use crate::command::{Command, Export};
use crate::fields::{Asked, Typed, length_field, length_slider, one_of};
use crate::session::Session;
use crate::wording;

/// The Paper tray.
#[derive(Default)]
pub struct PaperTray {
    pages: pages::Preview,
}

impl PaperTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(fitting) = session.fitting() else {
            faded(ui, "No fitting yet. Open a project.");
            return;
        };
        let unit = session.shown().unit;
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            heading(ui, "Print or cut");
            export(ui, session, commands);
            heading(ui, "Sheet");
            sheet(ui, fitting, unit, commands);
            heading(ui, "Pages");
            match &session.work.pages {
                Some(pages) => self.pages.ui(ui, pages, unit),
                None => {
                    faded(
                        ui,
                        if session.is_working() {
                            "Spreading the pieces over pages\u{2026}"
                        } else {
                            "No pages yet."
                        },
                    );
                }
            }
            ui.collapsing("Does your printer shrink?", |ui| {
                correction(ui, fitting, unit, commands)
            });
            ui.add_space(12.0);
        });
    }
}

fn set(
    fitting: &Fitting,
    asked: Asked<Mm>,
    commands: &mut Vec<Command>,
    with: impl FnOnce(Mm, PaperSettings) -> PaperSettings,
) {
    asked.push(&fitting.name, commands, |mm| {
        FittingEdit::SetPaper(with(mm, fitting.paper.clone()))
    });
}

fn sheet(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    let paper = &fitting.paper;
    ui.horizontal_wrapped(|ui| {
        ui.label("Paper");
        if let Some(size) = one_of(
            ui,
            "Paper",
            paper.size,
            &[PaperSize::A4, PaperSize::Letter],
            wording::paper_size,
        ) {
            Asked::Done(size).push(&fitting.name, commands, |size| {
                FittingEdit::SetPaper(PaperSettings {
                    size,
                    ..paper.clone()
                })
            });
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Lying");
        if let Some(turn) = one_of(
            ui,
            "Lying",
            paper.turn,
            &[PaperTurn::Portrait, PaperTurn::Landscape],
            wording::paper_turn,
        ) {
            Asked::Done(turn).push(&fitting.name, commands, |turn| {
                FittingEdit::SetPaper(PaperSettings {
                    turn,
                    ..paper.clone()
                })
            });
        }
    });
    egui::Grid::new("sheet").num_columns(2).show(ui, |ui| {
        let margin = length_slider(ui, "Margin", paper.margin, 3.0..=30.0, unit);
        set(fitting, margin, commands, |margin, paper| PaperSettings {
            margin,
            ..paper
        });
        ui.end_row();
        let overlap = length_slider(ui, "Overlap", paper.overlap, 6.0..=40.0, unit);
        set(fitting, overlap, commands, |overlap, paper| PaperSettings {
            overlap,
            ..paper
        });
        ui.end_row();
    });
}

fn correction(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    faded(
        ui,
        "Print one page, measure 100 mm on both rulers, type what you read.",
    );
    for (name, value, along) in [
        ("Across", fitting.paper.measured_across, false),
        ("Along", fitting.paper.measured_along, true),
    ] {
        ui.horizontal(|ui| {
            ui.label(name);
            let field = length_field(
                ui,
                &format!("100 mm measured {}", name.to_lowercase()),
                Some(value),
                "100 mm",
                unit,
                90.0,
            );
            let asked = match field.typed {
                Typed::Length(mm) => Asked::Done(mm),
                Typed::Cleared => Asked::Done(Mm(100.0)),
                Typed::Trouble(trouble) => {
                    commands.push(Command::Say(format!("{name}: {trouble}")));
                    Asked::Nothing
                }
                Typed::Nothing => Asked::Nothing,
            };
            set(fitting, asked, commands, |mm, paper| {
                if along {
                    PaperSettings {
                        measured_along: mm,
                        ..paper
                    }
                } else {
                    PaperSettings {
                        measured_across: mm,
                        ..paper
                    }
                }
            });
        });
    }
}

fn export(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    let there = session.work.done.is_some();
    ui.horizontal_wrapped(|ui| {
        for (words, export) in [
            ("Pages as PDF", Export::PagesPdf),
            ("One sheet as PDF", Export::OneSheetPdf),
            ("Drawing as SVG", Export::Svg),
        ] {
            if ui.add_enabled(there, egui::Button::new(words)).clicked() {
                commands.push(Command::Export(export));
            }
        }
    });
    faded(
        ui,
        "Print at 100 %, never fitted to the page, then measure the test square.",
    );
}
