//! What was found about the edge, with its remedy, and the caution at the iron.

use egui::{RichText, Ui};
use petitoile_core::alteration::Alteration;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::{Finding, Gravity};

use crate::command::Command;
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::{faded, findings, heading};
use crate::wording;

/// Findings on the edge and on the seams it is sewn in; without the one about its folds where that is `told` already.
pub fn findings_here(
    ui: &mut Ui,
    session: &Session,
    (piece, edge): (&str, &str),
    told: bool,
    commands: &mut Vec<Command>,
) {
    let here: Vec<&Finding> = session
        .findings()
        .iter()
        .filter(|finding| is_here(session, finding, piece, edge))
        .filter(|finding| !(told && of_fullness(finding).is_some()))
        .collect();
    if here.is_empty() {
        return;
    }
    heading(ui, "Found here");
    for (i, finding) in here.into_iter().enumerate() {
        ui.push_id(("found", i), |ui| one(ui, finding, session, commands));
    }
}

/// The fullness that a remedy makes.
fn of_fullness(finding: &Finding) -> Option<&Alteration> {
    let Some(Edit::Fitting {
        change: FittingEdit::AddAlteration(alteration) | FittingEdit::SetAlteration(_, alteration),
        ..
    }) = &finding.remedy
    else {
        return None;
    };
    matches!(alteration, Alteration::Fullness { .. }).then_some(alteration)
}

fn is_here(session: &Session, finding: &Finding, piece: &str, edge: &str) -> bool {
    let part = finding.place.part.as_deref();
    match finding.place.piece.as_deref() {
        Some(on) => on == piece && part.is_none_or(|part| part == edge),
        None => session
            .work
            .table
            .parts
            .iter()
            .filter(|(name, _)| Some(name.as_str()) == part)
            .flat_map(|(_, edges)| edges)
            .any(|(on, at)| on == piece && at == edge),
    }
}

fn one(ui: &mut Ui, finding: &Finding, session: &Session, commands: &mut Vec<Command>) {
    let palette = Palette::showing(ui);
    ui.horizontal_top(|ui| {
        let (dot, _) = ui.allocate_exact_size(egui::vec2(12.0, 20.0), egui::Sense::hover());
        findings::mark(ui.painter(), dot.center(), finding.gravity, palette);
        ui.vertical(|ui| {
            let colour = match finding.gravity {
                Gravity::Unusable => palette.unusable,
                Gravity::Care => palette.care,
                Gravity::Note => palette.ink,
            };
            ui.label(RichText::new(wording::sentence(&finding.what)).color(colour));
            if !finding.advice.is_empty() {
                faded(ui, &finding.advice);
            }
            if let Some(remedy) = &finding.remedy {
                let tip = remedy.words(session.shown().unit);
                let button = ui
                    .button("Do this")
                    .on_hover_text(&tip)
                    .accessible_name(format!("Do here: {tip}"));
                if button.clicked() {
                    // On the garment as drawn there is no fitting that it could be done to.
                    commands.push(match of_fullness(finding) {
                        Some(alteration) => Command::Alter(alteration.clone()),
                        None => Command::Edit(remedy.clone()),
                    });
                }
            }
        });
    });
}

/// Said wherever pleats are pressed.
pub fn iron(ui: &mut Ui) {
    faded(
        ui,
        "At the iron: it burns fingers, and melts vinyl, resin, wigs and many fibres. Press off the doll, on a scrap \
         first, children only with a grown-up; what the makers of iron and cloth say goes first.",
    );
}
