//! What closes an opening: chosen from what suits the size, with the overlap it needs and the overlap there is.

use egui::{RichText, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::adapt::Adapted;
use petitoile_core::closure::Closure;
use petitoile_core::dressing::{Closing, Passage, every_closure};
use petitoile_core::edit::FittingEdit;

use super::change;
use crate::command::Command;
use crate::fields::{Typed, length_field, pick};
use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// The closure of an opening. Also where there is none yet: a hole can be drawn in by elastic.
pub fn ui(
    ui: &mut Ui,
    adapted: &Adapted,
    passage: &Passage,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let is_named = adapted.made.openings.iter().any(|o| o.name == passage.name);
    if !is_named {
        return;
    }
    let chosen = adapted.fitting.closures.get(&passage.name).copied();
    choice(ui, adapted, passage, chosen, commands);
    if let Some(closure) = chosen {
        sizes(ui, adapted, passage, closure, unit, commands);
    }
    if let Some(closing) = &passage.closing {
        overlap(ui, closing, unit);
        if let Some(length) = closing.tie_length(&adapted.fitting.body) {
            ui.label(format!("Each tie {} long for a bow.", unit.show(length)));
        }
    }
}

fn choice(
    ui: &mut Ui,
    adapted: &Adapted,
    passage: &Passage,
    chosen: Option<Closure>,
    commands: &mut Vec<Command>,
) {
    let suggested = passage
        .closing
        .as_ref()
        .and_then(|closing| closing.suited.first());
    let name = format!("Closure of {}", passage.name);
    let mut choices: Vec<Option<Closure>> = vec![None];
    let every = every_closure(&adapted.fitting.body, passage.passes);
    choices.extend(every.into_iter().map(|other| {
        // The chosen one keeps the sizes it has.
        let kept = chosen.filter(|own| own.noun() == other.noun());
        Some(kept.unwrap_or(other))
    }));
    let words = |closure: &Option<Closure>| match (closure, suggested) {
        (Some(closure), _) => wording::sentence(closure.noun()),
        (None, Some(suggested)) => format!("As suggested: {}", suggested.closure.noun()),
        (None, None) => "None".to_owned(),
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Closed by");
        if let Some(closure) = pick(ui, &passage.name, &name, &chosen, &choices, words) {
            let edit = FittingEdit::SetClosure(passage.name.clone(), closure);
            change(adapted, commands, edit);
        }
    });
}

fn sizes(
    ui: &mut Ui,
    adapted: &Adapted,
    passage: &Passage,
    closure: Closure,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    if closure.sizes().is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        for (name, size) in closure.sizes() {
            ui.label(wording::sentence(name));
            let label = format!("{} of {}", wording::sentence(name), passage.name);
            match length_field(ui, &label, Some(size), "", unit, 74.0).typed {
                Typed::Length(mm) => {
                    let closure = closure.with_size(name, mm);
                    let edit = FittingEdit::SetClosure(passage.name.clone(), Some(closure));
                    change(adapted, commands, edit);
                }
                Typed::Trouble(trouble) => {
                    commands.push(Command::Say(format!("{label}: {trouble}")))
                }
                Typed::Cleared | Typed::Nothing => {}
            }
        }
    });
}

fn overlap(ui: &mut Ui, closing: &Closing, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let there = if closing.from.is_empty() {
        "the sides meet edge to edge".to_owned()
    } else {
        format!("{} gives {}", closing.from, unit.show(closing.overlap))
    };
    let Some(used) = closing.used() else {
        return;
    };
    let words = format!("Overlap needed {}; {there}.", unit.show(used.overlap()));
    let colour = if closing.short().is_some() {
        palette.care
    } else {
        palette.ink
    };
    ui.label(RichText::new(words).color(colour));
    let suited: Vec<String> = closing
        .suited
        .iter()
        .map(|suited| {
            let sizes: Vec<String> = suited
                .closure
                .sizes()
                .iter()
                .map(|(_, mm)| unit.show(*mm))
                .collect();
            let size = if sizes.is_empty() {
                String::new()
            } else {
                format!(" {}", sizes.join("/"))
            };
            let count = if suited.count > 1 {
                format!("{} ", suited.count)
            } else {
                String::new()
            };
            let fits = if suited.fits {
                ""
            } else {
                " (wants more overlap)"
            };
            format!("{count}{}{size}{fits}", suited.closure.noun())
        })
        .collect();
    faded(
        ui,
        format!(
            "Suits this size: {}. Sizes: common practice.",
            suited.join(", ")
        ),
    );
}

/// Said once under the closures.
pub fn cautions(ui: &mut Ui) {
    ui.add_space(4.0);
    faded(
        ui,
        "For a child under three: no snaps, hooks or buttons (small parts, 16 CFR 1501), ties and cords short (EN 71-1); \
         soft tape, or sew it shut. Your local rules go first.",
    );
}
