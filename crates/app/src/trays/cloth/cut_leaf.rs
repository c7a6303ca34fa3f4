//! Before and after the cut: every copy accounted for, what is marked as cut, what is left of the cloth.

use egui::Ui;
use petitoile_core::LengthUnit;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::Fitting;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{LayChange, LayPlan, PartRef};
use petitoile_core::laying::{Tally, tally};
use petitoile_lay::lying;

use super::ClothTray;
use super::laid::{Laid, Part};
use super::lay_leaf::edit;
use super::offcuts_leaf::area_words;
use super::paint;
use super::seen::Seen;
use crate::command::{Command, InStash};
use crate::lay_work;
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::{faded, heading};
use crate::wording;

impl ClothTray {
    /// Shows the leaf.
    pub(super) fn cut_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        seen: &Seen,
        laid: &Laid,
        commands: &mut Vec<Command>,
    ) {
        let Some(fitting) = &seen.fitting else { return };
        if seen.is_searching {
            heading(ui, "Cut");
            faded(ui, "Wait until the search has ended, or stop it.");
            return;
        }
        let plan = fitting.lay_plan.as_ref();
        heading(ui, "Before the first cut");
        let tally = tally(&seen.cloth.to_lay, plan);
        counted(ui, &tally, plan, seen.unit());
        faded(
            ui,
            "Blades are sharp: cut away from your hand, and lock the cutter when you put it down. Mind the rules of your place.",
        );
        heading(ui, "Cut");
        if session.is_working() {
            // An outline that is being worked out anew must not be kept as the one that was cut.
            faded(ui, "The pieces are being worked out anew.");
            return;
        }
        let part = self.chosen_part(session, laid).cloned();
        if let Some(part) = &part {
            chosen(ui, fitting, seen, part, commands);
        } else {
            faded(ui, "Choose a piece on the table to mark it as cut.");
        }
        for cloth in &laid.cloths {
            offcut(ui, session, fitting, seen, &cloth.offcut.name, commands);
        }
    }
}

/// Every row of the tally.
fn counted(ui: &mut Ui, tally: &Tally, plan: Option<&LayPlan>, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    ui.label(egui::RichText::new(tally.words()).strong());
    for row in &tally.rows {
        let missing = !row.missing.is_empty();
        let colour = if missing { palette.care } else { palette.ink };
        let words = egui::RichText::new(row.words()).color(colour);
        ui.add(egui::Label::new(words).wrap());
    }
    for finding in tally.findings(plan, unit) {
        let words = egui::RichText::new(wording::sentence(&finding.what)).color(palette.unusable);
        ui.add(egui::Label::new(words).wrap());
        faded(ui, &finding.advice);
    }
}

/// The chosen part: mark it, or take the mark away.
fn chosen(ui: &mut Ui, fitting: &Fitting, seen: &Seen, part: &Part, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        ui.label(&part.name);
        if part.is_cut() {
            if ui.button("It is not cut after all").clicked() {
                let change = LayChange::NotCut(part.part.clone());
                commands.push(edit(fitting, FittingEdit::Lay(change)));
            }
            return;
        }
        let right = part.placed.is_some() && part.faults.is_empty();
        let mark = ui.add_enabled(right, egui::Button::new("Mark as cut"));
        if mark.clicked() {
            let one = std::slice::from_ref(&part.part);
            commands.push(cut(fitting, seen, one));
        }
        if !right {
            faded(ui, "It must lie on cloth, with nothing wrong.");
        }
    });
}

/// One offcut: all on it is cut; what is left of it.
fn offcut(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    seen: &Seen,
    name: &str,
    commands: &mut Vec<Command>,
) {
    let on_it = |plan: &LayPlan, cut: bool| -> Vec<PartRef> {
        plan.placed
            .iter()
            .filter(|placed| placed.offcut == name && placed.as_cut.is_some() == cut)
            .map(petitoile_core::lay_plan::Placed::part_ref)
            .collect()
    };
    let uncut = on_it(&seen.plan, false);
    let faulty = seen.cloth.faults.iter().any(|fault| fault.offcut == name);
    ui.separator();
    ui.label(name);
    ui.horizontal_wrapped(|ui| {
        let all = egui::Button::new("All on it is cut");
        let all = ui.add_enabled(!uncut.is_empty() && !faulty, all);
        let all = all.accessible_name(format!("All on {name} is cut"));
        if all.clicked() {
            commands.push(cut(fitting, seen, &uncut));
        }
        if faulty {
            faded(ui, "Something lies wrong on it: see the findings.");
        }
    });
    let Ok(rests) = lay_work::rests_of(seen.project(), name) else {
        return;
    };
    for rest in &rests.offcuts {
        let size = paint::size_words(rest.bounds(), seen.unit());
        faded(ui, format!("Left: {size}, {}", area_words(rest.area())));
    }
    for dropped in &rests.dropped {
        faded(ui, format!("Scrap: {}", dropped.words(seen.unit())));
    }
    let keep = egui::Button::new("Put the rest into the stash");
    let keep = ui.add_enabled(uncut.is_empty() && session.file.is_some(), keep);
    let keep = keep.accessible_name(format!("Put the rest of {name} into the stash"));
    if keep
        .on_disabled_hover_text("Once everything on it is cut, and the project is saved")
        .clicked()
    {
        commands.push(Command::Stash(InStash::KeepRests(name.to_owned())));
    }
}

/// Marks parts as cut, with their outlines as they lie.
fn cut(fitting: &Fitting, seen: &Seen, parts: &[PartRef]) -> Command {
    let outlines: Vec<(PartRef, Vec<Point>)> = parts
        .iter()
        .filter_map(|part| {
            let placed = seen.plan.placed(part)?;
            let outline = lying::outline_on_offcut(&seen.cloth.to_lay, &seen.plan, placed)?;
            Some((part.clone(), outline))
        })
        .collect();
    edit(fitting, FittingEdit::Lay(LayChange::Cut(outlines)))
}
