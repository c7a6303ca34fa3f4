//! The alterations by hand of this fitting, in the order in which they are made again after every solve.

use egui::{Button, RichText, Ui};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::Finding;

use super::{faded, heading};
use crate::command::Command;
use crate::session::{On, Session};
use crate::theme::Palette;
use crate::wording;

/// The list, with what each does; those that no longer apply stand out and say why.
pub fn alterations(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    if session.on() == On::Garment {
        return;
    }
    let Some(fitting) = session
        .fitting
        .as_deref()
        .and_then(|name| session.project().fitting(name))
    else {
        return;
    };
    heading(ui, "Altered in this fitting");
    if fitting.alterations.is_empty() {
        faded(ui, "nothing yet");
    }
    let unit = session.shown().unit;
    let last = fitting.alterations.len().saturating_sub(1);
    let mut asked = None;
    for (number, alteration) in fitting.alterations.iter().enumerate() {
        ui.push_id(("alteration", number), |ui| {
            let step = number + 1;
            let words = wording::sentence(&alteration.words(unit));
            let left_out = why_left_out(session, number);
            let text = RichText::new(format!("{step}. {words}"));
            ui.add(egui::Label::new(match left_out {
                Some(_) => text.color(Palette::showing(ui).care).strikethrough(),
                None => text,
            }));
            if let Some(finding) = left_out {
                faded(ui, wording::sentence(&finding.what));
            }
            ui.horizontal_wrapped(|ui| {
                if button(ui, "Show", step, true) {
                    commands.push(Command::ShowPlace(alteration.place()));
                }
                if button(ui, "Earlier", step, number > 0) {
                    asked = Some(FittingEdit::MoveAlteration {
                        from: number,
                        to: number.saturating_sub(1),
                    });
                }
                if button(ui, "Later", step, number < last) {
                    asked = Some(FittingEdit::MoveAlteration {
                        from: number,
                        to: step,
                    });
                }
                if button(ui, "Take out", step, true) {
                    asked = Some(FittingEdit::RemoveAlteration(number));
                }
            });
        });
    }
    if let Some(change) = asked {
        commands.push(Command::Edit(Edit::Fitting {
            fitting: fitting.name.clone(),
            change,
        }));
    }
}

fn button(ui: &mut Ui, words: &str, step: usize, allowed: bool) -> bool {
    let button = ui.add_enabled(allowed, Button::new(words).small());
    button.widget_info(|| {
        let name = format!("{words}: step {step}");
        egui::WidgetInfo::labeled(egui::Role::Button, allowed, name)
    });
    button.clicked()
}

/// The finding that says why a step was left out.
fn why_left_out(session: &Session, number: usize) -> Option<&Finding> {
    session.findings().iter().find(|finding| {
        matches!(
            &finding.remedy,
            Some(Edit::Fitting { change: FittingEdit::RemoveAlteration(left_out), .. }) if *left_out == number
        )
    })
}
