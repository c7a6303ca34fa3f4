//! What a joined strip takes: segments, joins, and the tally that adds up.

use egui::{RichText, Ui};
use petitoile_core::strips::{Hidden, JoinedStrip, StripError, StripWanted};
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
            let words = wording::sentence(&why.to_string());
            ui.label(RichText::new(format!("{words}.")).color(palette.unusable));
            if let StripError::TooShort {
                nearest: Some(nearest),
                ..
            } = why
            {
                let words = format!(
                    "Nearest: {} finished, from {}.",
                    unit.show_chosen(nearest.finished),
                    wording::count(nearest.segments.len(), "segment", "segments")
                );
                ui.label(words);
                if ui.button("Take the nearest strip").clicked() {
                    // A hair less, so that rounding does not ask for more cloth than there is.
                    form.reckon(Mm(nearest.finished.0 - 1e-6), form.wanted().ratio);
                }
            }
            None
        }
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
            unit.show_chosen(*got)
        );
        ui.label(RichText::new(words).color(palette.care));
    }
    if ui.button("Copy the tally").clicked() {
        ui.ctx().copy_text(lines(strip, wanted, unit).join("\n"));
    }
}

/// The tally, line by line: what is cut, where it goes, what is left.
pub fn lines(strip: &JoinedStrip, wanted: &StripWanted, unit: LengthUnit) -> Vec<String> {
    let show = |mm: Mm| unit.show_chosen(mm);
    let tally = &strip.tally;
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
            show(tally.cut),
            show(tally.shown),
            show(tally.drawn_in),
            show(tally.ends),
            show(tally.joins_take)
        ),
        format!(
            "Of {} begun, {} are left; {} lost in all.",
            show(tally.bits),
            show(tally.left),
            show(tally.lost())
        ),
    ];
    if !strip.joins.is_empty() {
        lines.push(format!("Joins at {}.", places(strip, unit)));
    }
    lines
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
        .map(|(cut, count)| format!("{count} of {}", unit.show_chosen(*cut)));
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
