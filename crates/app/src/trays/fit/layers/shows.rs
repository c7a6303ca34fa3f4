//! What covers what: where an under layer shows, which seams and hems are hidden.

use egui::{RichText, Ui};
use petitoile_core::finding::Place;
use petitoile_core::layers::{Cover, Line, PEEPS, Peep};
use petitoile_core::{LengthUnit, Mm};

use super::Shown;
use crate::command::Command;
use crate::theme::Palette;
use crate::trays::faded;

pub(super) fn ui(ui: &mut Ui, shown: Shown<'_>, commands: &mut Vec<Command>) {
    let Some(worn) = shown.worn else {
        return;
    };
    let unit = shown.session.shown().unit;
    for (name, why) in &worn.together.left_out {
        faded(ui, format!("{name} cannot be worked out: {why}"));
    }
    faded(
        ui,
        "Measured along the cloth; a flared hem hangs a little higher.",
    );
    for cover in &worn.covers {
        for peep in &cover.peeps {
            let by_chance = shown
                .session
                .fitting()
                .is_some_and(|fitting| peep.is_by_chance(&fitting.body));
            peeps(ui, cover, peep, by_chance, unit);
        }
    }
    let Some(cover) = worn
        .covers
        .iter()
        .find(|cover| cover.layer == shown.fitting)
    else {
        return;
    };
    let hidden = cover.lines.iter().filter(|line| line.is_hidden()).count();
    let words = format!(
        "{}: {hidden} of {} seams and hems are hidden",
        cover.layer,
        cover.lines.len()
    );
    egui::CollapsingHeader::new(words)
        .id_salt("hidden seams")
        .show(ui, |ui| {
            faded(ui, "What is hidden may be pieced, or sewn by machine.");
            for line in &cover.lines {
                seam(ui, line, unit, commands);
            }
        });
}

fn peeps(ui: &mut Ui, cover: &Cover, peep: &Peep, by_chance: bool, unit: LengthUnit) {
    let half = peep.end.half.words();
    let end = format!("{}, {} {half}", cover.layer, peep.end.kind.label());
    let end = end.trim_end();
    let by = unit.show(Mm(peep.by.0.abs()));
    let palette = Palette::showing(ui);
    let words = if peep.by.0 >= PEEPS.0 {
        format!("{end}: shows {by} beyond {}", peep.over)
    } else if peep.by.0 <= -PEEPS.0 {
        format!("{end}: {by} under {}", peep.over)
    } else {
        format!("{end}: level with {}", peep.over)
    };
    let mut text = RichText::new(words);
    if by_chance {
        text = text.color(palette.cut).strong();
    }
    ui.label(text);
}

fn seam(ui: &mut Ui, line: &Line, unit: LengthUnit, commands: &mut Vec<Command>) {
    let words = if line.is_hidden() {
        format!("{}: hidden", line.name)
    } else if line.covered.0 > 0.05 {
        format!(
            "{}: {} of {} shows",
            line.name,
            unit.show(line.showing()),
            unit.show(line.length)
        )
    } else {
        format!("{}: shows", line.name)
    };
    let button = egui::Button::selectable(false, words)
        .min_size(egui::vec2(200.0, 26.0))
        .truncate();
    if ui.add(button).clicked() {
        let place = if line.is_hem {
            match line.name.split_once(", ") {
                Some((piece, edge)) => Place::edge(piece, edge),
                None => Place::part(&line.name),
            }
        } else {
            Place::part(&line.name)
        };
        commands.push(Command::ShowPlace(place));
    }
}
