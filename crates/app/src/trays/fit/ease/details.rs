//! The choices of one tape line, and what handbooks say about it.

use egui::Ui;
use petitoile_core::adapt::EaseRow;
use petitoile_core::ease;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fit::FitRow;
use petitoile_core::fitting::{DemandChoice, Fitting};
use petitoile_core::tape::Hold;
use petitoile_core::{LengthUnit, Mm};

use super::sits_words;
use crate::command::Command;
use crate::fields::{Asked, Typed, difference_field, length_field, one_of};
use crate::trays::faded;
use crate::wording;

/// As long as seams are kept.
const LIKE_A_SEAM: u8 = 3;
/// Behind every other measure.
const LET_GO_FIRST: u8 = 9;

fn rank_words(rank: Option<u8>) -> &'static str {
    match rank {
        None => "as usual",
        Some(0..=LIKE_A_SEAM) => "keep it like a seam",
        Some(_) => "let it go first",
    }
}

/// What was typed into a field that may be empty; `None` when nothing new was typed.
fn own(typed: Typed, name: &str, commands: &mut Vec<Command>) -> Option<Option<Mm>> {
    match typed {
        Typed::Length(mm) => Some(Some(mm)),
        Typed::Cleared => Some(None),
        Typed::Trouble(trouble) => {
            commands.push(Command::Say(format!("{name}: {trouble}")));
            None
        }
        Typed::Nothing => None,
    }
}

/// Fitted or hanging, and what was typed in: ease, finished measure, how long it is kept.
pub fn details(
    ui: &mut Ui,
    row: &EaseRow,
    fit: Option<&FitRow>,
    fitting: &Fitting,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let choice = fitting.demands.get(&row.name).copied();
    let set = |commands: &mut Vec<Command>, next: DemandChoice| {
        let next = (next != DemandChoice::default()).then_some(next);
        let name = row.name.clone();
        Asked::Done(next).push(&fitting.name, commands, |next| {
            FittingEdit::SetDemand(name, next)
        });
    };
    let frame = egui::Frame::NONE
        .fill(ui.visuals().faint_bg_color)
        .inner_margin(8)
        .corner_radius(4);
    frame.show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.label("It is");
            let now = choice.and_then(|c| c.hold).unwrap_or(Hold::Auto);
            if let Some(hold) = one_of(
                ui,
                "It is",
                now,
                &[Hold::Auto, Hold::Fitted, Hold::Hanging],
                wording::hold,
            ) {
                set(
                    commands,
                    DemandChoice {
                        hold: (hold != Hold::Auto).then_some(hold),
                        ..choice.unwrap_or_default()
                    },
                );
            }
        });
        if choice.and_then(|c| c.hold).is_none() {
            faded(ui, format!("found to be {}", wording::hold(row.hold)));
        }
        let now = choice.unwrap_or_default();
        egui::Grid::new(("own", &row.name))
            .num_columns(2)
            .show(ui, |ui| {
                ui.label("Ease of my own");
                let field = difference_field(
                    ui,
                    &format!("Ease at {}", row.name),
                    now.ease,
                    "as above",
                    unit,
                    90.0,
                );
                own(field.typed, &format!("Ease at {}", row.name), commands)
                    .into_iter()
                    .for_each(|ease| set(commands, DemandChoice { ease, ..now }));
                ui.end_row();
                ui.label("Finished measure");
                let name = format!("Finished measure at {}", row.name);
                let field = length_field(ui, &name, now.measure, "as found", unit, 90.0);
                own(field.typed, &name, commands)
                    .into_iter()
                    .for_each(|measure| set(commands, DemandChoice { measure, ..now }));
                ui.end_row();
            });
        if now.measure.is_some() && now.ease.is_some() {
            faded(ui, "The finished measure goes before the ease.");
        }
        ui.label("Where not everything can be kept");
        ui.horizontal_wrapped(|ui| {
            let places = [None, Some(LIKE_A_SEAM), Some(LET_GO_FIRST)];
            let same = |place: &Option<u8>| rank_words(*place) == rank_words(now.rank);
            let place = places.into_iter().find(same).unwrap_or(now.rank);
            let name = format!("{}, where not everything can be kept", row.name);
            if let Some(rank) = one_of(ui, &name, place, &places, rank_words) {
                set(commands, DemandChoice { rank, ..now });
            }
        });
        if let Some(fit) = fit {
            room(ui, fit, unit);
        }
        faded(
            ui,
            format!(
                "source: body {}, garment {}, ease {}",
                wording::length(row.body.0, unit),
                wording::length(row.garment.0, unit),
                wording::difference(row.garment.0 - row.body.0, unit)
            ),
        );
        if let Some(fit) = fit {
            books(ui, "Handbooks", &fit.handbook, unit);
            books(ui, "For the source", &fit.source_handbook, unit);
        }
    });
}

/// What is left of the ease, and how it sits.
fn room(ui: &mut Ui, fit: &FitRow, unit: LengthUnit) {
    let cloth = fit.underneath + fit.own_cloth;
    if cloth.0 > 0.0 {
        faded(
            ui,
            format!(
                "underneath {}, own cloth {}: room of {}",
                wording::length(fit.underneath, unit),
                wording::length(fit.own_cloth, unit),
                wording::difference(fit.room(), unit)
            ),
        );
    }
    if fit.is_girth {
        faded(ui, format!("It sits: {}", sits_words(fit.sits, unit)));
    }
}

/// Every row of the handbooks with its source.
fn books(ui: &mut Ui, whose: &str, rows: &[&'static ease::EaseRow], unit: LengthUnit) {
    for row in rows {
        faded(ui, format!("{whose}: {}", book_words(row, unit))).on_hover_text(row.source);
    }
}

/// "14 mm to 22 mm, one thin layer".
pub fn book_words(row: &ease::EaseRow, unit: LengthUnit) -> String {
    format!(
        "{} to {}, {}",
        wording::length(row.least, unit),
        wording::length(row.most, unit),
        row.garment
    )
}
