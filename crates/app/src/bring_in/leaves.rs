//! Small parts that several steps show: how sure a guess is, and what was left out.

use egui::{RichText, Ui};
use petitoile_exchange::bring_in::Left;

use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// How sure, in words and in a tone: "sure", "likely", "perhaps", "a guess".
pub fn doubt(ui: &mut Ui, certainty: f64, rests_on: &str) {
    let palette = Palette::showing(ui);
    let (words, colour) = match certainty {
        c if c >= 0.95 => ("sure", palette.faded),
        c if c >= 0.75 => ("likely", palette.faded),
        c if c >= 0.5 => ("perhaps", palette.care),
        _ => ("a guess", palette.care),
    };
    let percent = (certainty * 100.0).round();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        ui.label(RichText::new(words).small().color(colour))
            .on_hover_text(format!("{percent:.0} % sure"));
        if !rests_on.is_empty() {
            faded(ui, rests_on);
        }
    });
}

/// What was in a file and is not in the drawing.
pub fn left_by_reader(ui: &mut Ui, left: &[Left]) {
    if left.is_empty() {
        return;
    }
    let count = wording::count(left.len(), "thing", "things");
    ui.collapsing(
        format!("{count} in the file are not in the drawing"),
        |ui| {
            for one in left {
                ui.add(egui::Label::new(&one.what).wrap());
                if !one.advice.is_empty() {
                    faded(ui, &one.advice);
                }
            }
        },
    );
}
