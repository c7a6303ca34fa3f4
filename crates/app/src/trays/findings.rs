//! The list of findings under the table: what, where, "Show me", and the remedy where one change does it.

use egui::{RichText, ScrollArea, Ui};
use petitoile_core::finding::{Finding, Gravity};

use crate::command::Command;
use crate::session::Session;
use crate::theme::Palette;
use crate::wording;

/// The list of findings.
#[derive(Default)]
pub struct FindingsTray;

impl FindingsTray {
    /// Shows the head line and, unfolded, every finding.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let palette = Palette::showing(ui);
        let findings = session.findings();
        let open = session.settings.findings_open;
        ui.horizontal(|ui| {
            let sign = if open { "\u{25be}" } else { "\u{25b8}" };
            let fold = ui
                .button(format!("{sign} Findings"))
                .on_hover_text("Fold or unfold (F4)");
            if fold.clicked() {
                commands.push(Command::FoldFindings);
            }
            for gravity in [Gravity::Unusable, Gravity::Care, Gravity::Note] {
                let count = findings.iter().filter(|f| f.gravity == gravity).count();
                if count > 0 {
                    ui.label(
                        RichText::new(wording::findings(count, gravity))
                            .color(colour(gravity, palette)),
                    );
                }
            }
            if findings.is_empty() && session.work.done.is_some() {
                ui.label(RichText::new("nothing found").weak());
            }
        });
        if !open || findings.is_empty() {
            return;
        }
        ScrollArea::vertical()
            .min_scrolled_height(24.0)
            .auto_shrink([false, true])
            .show(ui, |ui| {
                for (i, finding) in findings.iter().enumerate() {
                    ui.push_id(i, |ui| row(ui, finding, session, palette, commands));
                }
            });
    }
}

fn colour(gravity: Gravity, palette: &Palette) -> egui::Color32 {
    match gravity {
        Gravity::Unusable => palette.unusable,
        Gravity::Care => palette.care,
        Gravity::Note => palette.faded,
    }
}

fn row(
    ui: &mut Ui,
    finding: &Finding,
    session: &Session,
    palette: &Palette,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        let (dot, _) = ui.allocate_exact_size(egui::vec2(10.0, 28.0), egui::Sense::hover());
        ui.painter()
            .circle_filled(dot.center(), 4.5, colour(finding.gravity, palette));
        let show = ui
            .button("Show me")
            .accessible_name(format!("Show me: {}", finding.place));
        if show.clicked() {
            commands.push(Command::ShowPlace(finding.place.clone()));
        }
        if let Some(remedy) = &finding.remedy {
            let tip = remedy.words(session.shown().unit);
            if ui
                .button("Do this")
                .on_hover_text(&tip)
                .accessible_name(format!("Do this: {tip}"))
                .clicked()
            {
                commands.push(Command::Edit(remedy.clone()));
            }
        }
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            let place = format!("{}: {}", finding.place, finding.what);
            ui.add(egui::Label::new(RichText::new(place)).wrap());
            if !finding.advice.is_empty() {
                ui.add(egui::Label::new(RichText::new(&finding.advice).small().weak()).wrap());
            }
        });
    });
}
