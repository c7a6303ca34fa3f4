//! The Make tray: the order of work, step by step, with ticks.
//!
//! Shows the making sheet of the session; every click is a command. Keeps only which step is unfolded.

mod mistake;
mod picture;
mod step;

use egui::{ScrollArea, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::Finding;
use petitoile_core::fitting::Fitting;
use petitoile_core::making_order::{LiningMethod, Order};
use petitoile_core::making_sheet::MakingSheet;

use super::faded;
use super::findings::{mark, said};
use crate::command::{Command, Export};
use crate::fields::one_of;
use crate::session::Session;
use crate::theme::Palette;

/// The Make tray.
#[derive(Default)]
pub struct MakeTray {
    /// Key of the step that is unfolded.
    open: Option<String>,
    mistake: mistake::MistakeBox,
}

/// Everything a step's row is drawn from.
struct Shown<'a> {
    fitting: &'a Fitting,
    sheet: &'a MakingSheet,
    order: &'a Order,
    unit: LengthUnit,
}

impl MakeTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(fitting) = session.fitting() else {
            faded(ui, "No fitting yet. Open a project.");
            return;
        };
        let (Some(sheet), Some(worked)) = (&session.work.making, &session.work.done) else {
            let words = if session.is_working() {
                "Finding the order of work\u{2026}"
            } else {
                "No order of work yet."
            };
            faded(ui, words);
            return;
        };
        let shown = Shown {
            fitting,
            sheet,
            order: &worked.beyond.order,
            unit: session.shown().unit,
        };
        head(ui, &shown, commands);
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            general(ui, &shown, commands);
            self.mistake.ui(ui, session, &shown, commands);
            for number in 0..sheet.steps.len() {
                step::row(ui, &shown, number, &mut self.open, commands);
            }
            ui.add_space(12.0);
        });
    }
}

/// Progress, the sheet to print, how it is lined.
fn head(ui: &mut Ui, shown: &Shown<'_>, commands: &mut Vec<Command>) {
    let (done, all) = shown.sheet.progress();
    ui.horizontal(|ui| {
        ui.label(shown.sheet.progress_words());
        let share = done as f32 / all.max(1) as f32;
        progress(ui, share, &shown.sheet.progress_words());
        if ui.button("Print the sheet").clicked() {
            commands.push(Command::Export(Export::MakingSheet));
        }
    });
    // A garment without a lining has nothing to choose.
    let is_chosen = shown.fitting.making.lining.is_some();
    let method = shown.order.lining;
    if let Some(method) = method.filter(|m| is_chosen || *m != LiningMethod::Faced) {
        lining(ui, shown, method, commands);
    }
    if !shown.fitting.making.moved.is_empty() {
        let moved = shown.fitting.making.moved.len();
        ui.horizontal(|ui| {
            let words = if moved == 1 {
                "1 step moved by you"
            } else {
                "Steps moved by you"
            };
            faded(ui, words);
            if ui.button("Back to the program's order").clicked() {
                commands.push(change(shown.fitting, FittingEdit::ForgetMoves));
            }
        });
    }
    ui.separator();
}

fn change(fitting: &Fitting, change: FittingEdit) -> Command {
    Command::Edit(Edit::Fitting {
        fitting: fitting.name.clone(),
        change,
    })
}

/// A bar as long as what is done.
fn progress(ui: &mut Ui, share: f32, words: &str) {
    let palette = Palette::showing(ui);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(70.0, 10.0), egui::Sense::hover());
    response.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::Role::ProgressIndicator,
            true,
            format!("Progress: {words}"),
        )
    });
    let painter = ui.painter();
    painter.rect_filled(rect, 3.0, palette.table);
    let done = egui::Rect::from_min_size(rect.min, egui::vec2(rect.width() * share, rect.height()));
    painter.rect_filled(done, 3.0, palette.chosen);
    painter.rect_stroke(
        rect,
        3.0,
        egui::Stroke::new(1.0, palette.faded),
        egui::StrokeKind::Inside,
    );
}

/// How it is lined: as found, or one of the four methods.
fn lining(ui: &mut Ui, shown: &Shown<'_>, now: LiningMethod, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Lining");
        let chosen = shown.fitting.making.lining;
        let choices: Vec<Option<LiningMethod>> = std::iter::once(None)
            .chain(LiningMethod::ALL.map(Some))
            .collect();
        let words = |choice: Option<LiningMethod>| choice.map_or("As found", LiningMethod::label);
        if let Some(choice) = one_of(ui, "Lining", chosen, &choices, words) {
            commands.push(change(shown.fitting, FittingEdit::SetLining(choice)));
        }
        if chosen.is_none() {
            faded(ui, format!("now {}", now.label().to_lowercase()));
        }
    });
}

/// Findings of the order that name no step of it.
fn general(ui: &mut Ui, shown: &Shown<'_>, commands: &mut Vec<Command>) {
    let of_no_step = |finding: &&Finding| {
        let steps = &shown.order.steps;
        steps.iter().all(|step| !is_about(finding, &step.key))
    };
    for finding in shown.order.findings.iter().filter(of_no_step) {
        told(ui, finding, shown.unit, commands);
    }
}

/// Does a finding speak of this step?
fn is_about(finding: &Finding, key: &str) -> bool {
    finding.what.contains(&format!("\"{key}\""))
}

/// A finding with its sign and its remedy.
fn told(ui: &mut Ui, finding: &Finding, unit: LengthUnit, commands: &mut Vec<Command>) {
    let palette = Palette::showing(ui);
    ui.horizontal_top(|ui| {
        let (dot, _) = ui.allocate_exact_size(egui::vec2(12.0, 18.0), egui::Sense::hover());
        mark(ui.painter(), dot.center(), finding.gravity, palette);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            ui.add(egui::Label::new(said(finding, palette)).wrap());
            faded(ui, &finding.advice);
            if let Some(remedy) = &finding.remedy {
                let words = crate::wording::sentence(&remedy.words(unit));
                if ui.button(&words).clicked() {
                    commands.push(Command::Edit(remedy.clone()));
                }
            }
        });
    });
}
