//! Does it go on: which opening passes what, in which way; then closures, ties, sleeves over sleeves, the hem.

mod closure;
mod sleeves;
mod ties;

use egui::{RichText, ScrollArea, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::adapt::Adapted;
use petitoile_core::dressing::{Dressing, HeadDress, Missing, Need, Passage, Way};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::Place;

use crate::command::Command;
use crate::fields::{Asked, one_of};
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::{faded, heading};
use crate::wording;

/// Does it go on: openings, closures, ties.
#[derive(Default)]
pub struct DressingLeaf {
    head: HeadDress,
    ties: ties::Ties,
    sleeves: sleeves::Trial,
}

impl DressingLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(worked) = session.work.done.clone() else {
            faded(ui, "Nothing is worked out yet.");
            return;
        };
        let (adapted, dressing) = (&*worked.adapted, &worked.beyond.dressing);
        let unit = session.shown().unit;
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            heading(ui, "Does it go on?");
            self.head(ui);
            verdicts(ui, dressing, self.head, unit);
            for passage in &dressing.passages {
                self.passage(ui, adapted, dressing, passage, unit, commands);
            }
            for missing in &dressing.missing {
                not_named(ui, adapted, missing, unit, commands);
            }
            for (name, why) in &dressing.unmeasured {
                let palette = Palette::showing(ui);
                ui.label(RichText::new(format!("{name}: {why}")).color(palette.care));
            }
            closure::cautions(ui);
            self.sleeves.ui(ui, dressing, unit, commands);
            self.ties
                .ui(ui, &adapted.fitting.body, dressing, unit, commands);
            hem(ui, dressing, unit, commands);
            ui.add_space(12.0);
        });
    }

    fn head(&mut self, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            ui.label("Head");
            let heads = [HeadDress::Wig, HeadDress::Bare];
            if let Some(head) = one_of(ui, "Head", self.head, &heads, HeadDress::words) {
                self.head = head;
            }
        });
    }

    fn passage(
        &self,
        ui: &mut Ui,
        adapted: &Adapted,
        dressing: &Dressing,
        passage: &Passage,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        ui.add_space(8.0);
        named(ui, &passage.name, Place::part(&passage.name), commands);
        let show = |mm| unit.show(mm);
        faded(
            ui,
            if passage.slit.0 > 0.0 {
                format!(
                    "hole {}, slit {}: opens to {}",
                    show(passage.hole),
                    show(passage.slit),
                    show(passage.open)
                )
            } else {
                format!("hole {}, no slit", show(passage.hole))
            },
        );
        let grid = egui::Grid::new(("needs", &passage.name)).num_columns(4);
        grid.show(ui, |ui| {
            let head = |words: &str| RichText::new(words).small().weak();
            for words in ["passes", "needs", "to spare", "slit"] {
                ui.label(head(words));
            }
            ui.end_row();
            for need in self.needs(dressing, passage) {
                row(ui, need, unit);
            }
        });
        if let Some(step) = &passage.longer {
            let edit = Edit::Fitting {
                fitting: adapted.fitting.name.clone(),
                change: FittingEdit::AddAlteration(step.clone()),
            };
            let tip = edit.words(unit);
            let button = ui
                .button("Open it further")
                .on_hover_text(&tip)
                .accessible_name(format!("Open further: {}", passage.name));
            if button.clicked() {
                commands.push(Command::Edit(edit));
            }
        }
        closure::ui(ui, adapted, passage, unit, commands);
    }

    /// What has to pass in any of the garment's ways, with the head as it is chosen.
    fn needs<'a>(&self, dressing: &'a Dressing, passage: &'a Passage) -> Vec<&'a Need> {
        let mut list: Vec<&Need> = Vec::new();
        for way in &dressing.ways {
            for need in passage.needs_of(*way, self.head) {
                if !list.contains(&need) {
                    list.push(need);
                }
            }
        }
        list
    }
}

/// A name in strong ink with a button that shows the place on the table.
fn named(ui: &mut Ui, name: &str, place: Place, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(wording::sentence(name)).strong());
        let show = ui
            .button("Show me")
            .accessible_name(format!("Show opening: {name}"));
        if show.clicked() {
            commands.push(Command::ShowPlace(place));
        }
    });
}

/// One line for each way of putting it on.
fn verdicts(ui: &mut Ui, dressing: &Dressing, head: HeadDress, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    if dressing.passages.is_empty() && dressing.missing.is_empty() {
        faded(
            ui,
            "Nothing has to pass: it opens all the way, or names no opening.",
        );
        return;
    }
    for way in &dressing.ways {
        let goes = dressing.goes_on(*way, head);
        let tightest = dressing
            .passages
            .iter()
            .filter_map(|passage| Some((passage, passage.tightest(*way, head)?)))
            .min_by(|a, b| a.1.margin.0.total_cmp(&b.1.margin.0));
        let Some((passage, need)) = tightest else {
            continue;
        };
        let verb = if goes { "goes on" } else { "does not go on" };
        let words = format!(
            "{}: {verb}. Tightest: {} at {}, {}.",
            way.label(),
            need.part.label().to_lowercase(),
            passage.name,
            margin(need, unit)
        );
        let colour = if goes { palette.ink } else { palette.unusable };
        ui.label(RichText::new(words).color(colour));
    }
}

/// "12 mm to spare", "3.5 mm too small".
fn margin(need: &Need, unit: LengthUnit) -> String {
    let size = petitoile_core::Mm(need.margin.0.abs());
    if need.passes() {
        format!("{} to spare", unit.show(size))
    } else {
        format!("{} too small", unit.show(size))
    }
}

fn row(ui: &mut Ui, need: &Need, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let way = need.way.map_or("", Way::words);
    let name = ui.label(need.part.label());
    let mut tip = format!("body {}", unit.show(need.body));
    if need.give.0 > 0.0 {
        tip.push_str(&format!(", gives {}", unit.show(need.give)));
    }
    tip.push_str(&format!(", cloth {}", unit.show(need.cloth)));
    if !way.is_empty() {
        tip.push_str(&format!("; {way}"));
    }
    name.on_hover_text(tip);
    ui.label(unit.show_bare(need.girth));
    let colour = if need.passes() {
        palette.ink
    } else {
        palette.unusable
    };
    let spare = unit.show_bare(need.margin).replace('-', "\u{2212}");
    ui.label(RichText::new(spare).color(colour));
    ui.label(if need.slit.0 > 0.0 {
        unit.show_bare(need.slit)
    } else {
        "none".to_owned()
    });
    ui.end_row();
}

/// A hole that nobody named.
fn not_named(
    ui: &mut Ui,
    adapted: &Adapted,
    missing: &Missing,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::showing(ui);
    ui.add_space(8.0);
    let place = missing
        .opening
        .hole
        .first()
        .map_or_else(Place::default, |at| Place::edge(&at.piece, &at.edge));
    named(ui, &missing.opening.name, place, commands);
    let (words, colour) = if missing.passes() {
        ("wide enough, though no opening is named here", palette.ink)
    } else {
        ("closed, and no opening is named here", palette.unusable)
    };
    ui.label(RichText::new(wording::sentence(words)).color(colour));
    faded(
        ui,
        format!(
            "opens to {}; {} needs {}, slit {}",
            unit.show(missing.size.open()),
            missing.part.words(),
            unit.show(missing.girth),
            unit.show(missing.slit)
        ),
    );
    if missing.can_be_named {
        let button = ui
            .button("Name this opening")
            .accessible_name(format!("Name opening: {}", missing.opening.name));
        if button.clicked() {
            commands.push(Command::Edit(Edit::PutOpening {
                garment: adapted.garment.name.clone(),
                opening: missing.opening.clone(),
            }));
        }
    }
}

/// Where a long hem hangs, barefoot and in shoes.
fn hem(ui: &mut Ui, dressing: &Dressing, unit: LengthUnit, commands: &mut Vec<Command>) {
    let Some(hem) = &dressing.hem else {
        return;
    };
    heading(ui, "Hem and shoes");
    let words = |mm: petitoile_core::Mm| {
        let size = unit.show(petitoile_core::Mm(mm.0.abs()));
        if mm.0 < 0.0 {
            format!("{size} on the floor")
        } else {
            format!("{size} above the floor")
        }
    };
    let palette = Palette::showing(ui);
    let colour = if hem.drags() {
        palette.care
    } else {
        palette.ink
    };
    ui.label(
        RichText::new(format!(
            "Barefoot {}, in shoes of {} {}.",
            words(hem.barefoot),
            unit.show(hem.shoes),
            words(hem.in_shoes)
        ))
        .color(colour),
    );
    ui.horizontal_wrapped(|ui| {
        let name = &hem.piece;
        let show = ui
            .button("Show me")
            .accessible_name(format!("Show hem: {name}"));
        if show.clicked() {
            commands.push(Command::ShowPlace(Place::piece(name)));
        }
    });
    faded(ui, "Feet pass without shoes; shoes go on last.");
}

/// Pushes a change of the fitting.
fn change(adapted: &Adapted, commands: &mut Vec<Command>, change: FittingEdit) {
    Asked::Done(change).push(&adapted.fitting.name, commands, |change| change);
}
