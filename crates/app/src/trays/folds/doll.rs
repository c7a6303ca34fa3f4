//! Pleats too small to be pressed: the old number beside one that can be.

use egui::{RichText, Ui};
use petitoile_core::fullness::{Wanted, pressable, solve};
use petitoile_core::{LengthUnit, Mm};

use super::form::Form;
use super::numbers::{Came, said};
use crate::fields::Asked;
use crate::theme::Palette;

/// Says what is too small, and takes what can be pressed with one click; `None` where nothing is.
pub fn proposal(ui: &mut Ui, form: &mut Form, thickness: Mm, unit: LengthUnit) -> Option<Came> {
    let now = form.outcome.as_deref().ok()?;
    let small = pressable(now.fullness, &now.layout, now.finished, thickness)?;
    let layout = petitoile_core::fullness::Layout {
        spacing: None,
        top: None,
        ..now.layout.clone()
    };
    let wanted = Wanted::of(small.instead, &layout, now.finished);
    let instead = solve(&wanted).ok()?;
    let palette = Palette::showing(ui);
    ui.label(
        RichText::new(format!(
            "Too small to press in this cloth: {} apart, and {} is the least.",
            unit.show_chosen(small.spacing),
            unit.show_chosen(small.narrowest)
        ))
        .color(palette.care),
    );
    ui.label(format!("Now: {}.", said(now, unit)));
    ui.label(format!("Instead: {}.", said(&instead, unit)));
    let old = now.count.map_or(String::new(), |n| n.to_string());
    let words = match instead.count {
        Some(new) => format!("Take {new} instead of {old}"),
        None => format!("Gather it instead of {old} pleats"),
    };
    if ui.button(words).clicked() {
        form.put_in(&instead);
        return Some(Asked::Done(()));
    }
    Some(Asked::Nothing)
}
