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
                .on_hover_text("Fold or unfold (F9)");
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

/// The place in a stronger hand, then what was found there.
pub fn said(finding: &Finding, palette: &Palette) -> egui::text::LayoutJob {
    let mut job = egui::text::LayoutJob::default();
    let place = finding.place.to_string();
    let format = |size, color| egui::TextFormat {
        font_id: egui::FontId::proportional(size),
        color,
        ..egui::TextFormat::default()
    };
    job.append(
        &wording::sentence(&place),
        0.0,
        format(14.0, colour(finding.gravity, palette)),
    );
    job.append(
        &wording::sentence(&finding.what),
        10.0,
        format(14.0, palette.ink),
    );
    job
}

/// A sign for each gravity, told apart by its shape as well: a cross, a full dot, a ring.
pub fn mark(painter: &egui::Painter, at: egui::Pos2, gravity: Gravity, palette: &Palette) {
    let colour = colour(gravity, palette);
    match gravity {
        Gravity::Unusable => {
            for way in [egui::vec2(5.0, 5.0), egui::vec2(5.0, -5.0)] {
                painter.line_segment([at - way, at + way], egui::Stroke::new(3.0, colour));
            }
        }
        Gravity::Care => {
            painter.circle_filled(at, 5.0, colour);
        }
        Gravity::Note => {
            painter.circle_stroke(at, 4.0, egui::Stroke::new(1.5, colour));
        }
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
        let (dot, _) = ui.allocate_exact_size(egui::vec2(12.0, 28.0), egui::Sense::hover());
        mark(ui.painter(), dot.center(), finding.gravity, palette);
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
            ui.add(egui::Label::new(said(finding, palette)).wrap());
            if !finding.advice.is_empty() {
                ui.add(egui::Label::new(RichText::new(&finding.advice).small().weak()).wrap());
            }
        });
    });
}
