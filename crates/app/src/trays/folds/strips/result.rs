//! What a joined strip takes: segments, joins, and the tally that adds up.

use egui::{RichText, Ui};
use petitoile_core::strips::{Hidden, JoinedStrip, StripError, StripWanted, Tally};
use petitoile_core::{LengthUnit, Mm};

use super::form::StripForm;
use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// A strip, or why there is none.
pub type Outcome = Result<Result<JoinedStrip, StripError>, String>;

/// Says why there is none, with one click to the nearest; else gives the strip to be shown.
pub fn shown(
    ui: &mut Ui,
    form: &mut StripForm,
    outcome: &Outcome,
    unit: LengthUnit,
) -> Option<JoinedStrip> {
    let palette = Palette::showing(ui);
    match outcome {
        Err(why) => {
            faded(ui, why);
            None
        }
        Ok(Ok(strip)) => Some(strip.clone()),
        Ok(Err(why)) => {
            let words = wording::sentence(&why.words(unit));
            ui.label(RichText::new(format!("{words}.")).color(palette.unusable));
            nearest(ui, form, why, unit);
            None
        }
    }
}

/// The nearest that can be made, with one click to take it.
fn nearest(ui: &mut Ui, form: &mut StripForm, why: &StripError, unit: LengthUnit) {
    let show = |mm: Mm| unit.show_computed(mm);
    match why {
        StripError::TooShort {
            nearest: Some(nearest),
            ..
        } => {
            ui.label(format!(
                "Nearest: {} finished, from {}.",
                show(nearest.finished),
                wording::count(nearest.segments.len(), "segment", "segments")
            ));
            if ui.button("Take the nearest strip").clicked() {
                // A hair less, so that rounding does not ask for more cloth than there is.
                form.reckon(Mm(nearest.finished.0 - 1e-6), form.wanted().ratio);
            }
        }
        StripError::Unsound(unsound) => {
            let Some(nearest) = &unsound.nearest else {
                return;
            };
            let ((cut, wide), (_, long)) = (nearest.widths(), nearest.lengths());
            ui.label(format!(
                "Nearest: finished {} long, {} wide; cut {} wide.",
                show(long),
                show(wide),
                show(cut)
            ));
            if ui.button("Take the nearest strip").clicked() {
                form.take(nearest);
            }
        }
        StripError::TooShort { nearest: None, .. } => {}
    }
}

/// Segments, joins and tally in words.
pub fn joins(ui: &mut Ui, strip: &JoinedStrip, wanted: &StripWanted, unit: LengthUnit) {
    for line in lines(strip, wanted, unit) {
        ui.label(line);
    }
    let near = strip.joins.iter().filter_map(|join| join.too_near.as_ref());
    let palette = Palette::showing(ui);
    for (what, got) in near {
        let words = format!(
            "A join comes {} from {what}; no way to do without was found.",
            unit.show_computed(*got)
        );
        ui.label(RichText::new(words).color(palette.care));
    }
    if ui.button("Copy the tally").clicked() {
        ui.ctx().copy_text(lines(strip, wanted, unit).join("\n"));
    }
}

/// The tally, line by line: what is cut, where it goes, what is left.
pub fn lines(strip: &JoinedStrip, wanted: &StripWanted, unit: LengthUnit) -> Vec<String> {
    let show = |mm: Mm| unit.show_computed(mm);
    // What stands on paper adds up, in figures of the maker's unit.
    let tally = strip.tally.shown_in(unit);
    let figure = |mm: Mm| unit.show_chosen(mm);
    let mut lines = vec![
        format!(
            "Finished {} long, {} wide; cut {} wide.",
            show(strip.finished),
            show(strip.finished_width),
            show(strip.cut_width)
        ),
        format!(
            "{}: {}.",
            wording::sentence(&wording::count(tally.segments, "segment", "segments")),
            cuts(strip, unit)
        ),
        format!(
            "{}, {} lost at each.",
            wording::sentence(&wording::count(tally.joins, "join", "joins")),
            show(wanted.lost_in_join())
        ),
        format!(
            "Cut {} = {} shown + {} drawn in + {} at the ends + {} in joins.",
            figure(tally.cut),
            figure(tally.shown),
            figure(tally.drawn_in),
            figure(tally.ends),
            figure(tally.joins_take)
        ),
        format!(
            "Of {} begun, {} are left; {} lost in all.",
            figure(tally.bits),
            figure(tally.left),
            figure(tally.lost())
        ),
        added_up(&strip.tally, unit),
    ];
    if !strip.joins.is_empty() {
        lines.push(format!("Joins at {}.", places(strip, unit)));
    }
    lines
}

/// Whether it adds up, and whether figures had to be rounded for that.
fn added_up(tally: &Tally, unit: LengthUnit) -> String {
    let out_by = tally.out_by();
    if out_by.0 > Tally::ROUNDING.0 {
        return format!(
            "It does not add up: it is out by {}.",
            unit.show_decimal(out_by)
        );
    }
    if tally.is_rounded(unit) {
        let step = unit.show(unit.finest_step());
        return format!("It adds up; figures are rounded to {step} so that they do.");
    }
    "It adds up.".to_owned()
}

/// "2 of 450 mm, 1 of 312.5 mm": segments of one length together.
fn cuts(strip: &JoinedStrip, unit: LengthUnit) -> String {
    let mut cuts: Vec<(Mm, usize)> = Vec::new();
    for segment in &strip.segments {
        match cuts
            .iter_mut()
            .find(|(cut, _)| (cut.0 - segment.cut.0).abs() < 0.005)
        {
            Some((_, count)) => *count += 1,
            None => cuts.push((segment.cut, 1)),
        }
    }
    let words = cuts
        .iter()
        .map(|(cut, count)| format!("{count} of {}", unit.show_computed(*cut)));
    words.collect::<Vec<_>>().join(", ")
}

fn places(strip: &JoinedStrip, unit: LengthUnit) -> String {
    let words = strip.joins.iter().map(|join| {
        let how = match join.hidden {
            Hidden::Shown => String::new(),
            Hidden::InGathers => " (in the gathers)".to_owned(),
            Hidden::UnderPleat(number) => format!(" (under pleat {number})"),
        };
        format!("{}{how}", unit.show_on_rule(join.on_finished))
    });
    words.collect::<Vec<_>>().join(", ")
}
