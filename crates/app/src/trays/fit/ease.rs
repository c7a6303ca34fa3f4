//! Ease line by line: how much more the garment measures than the body in it, on the source and here.

use egui::{Align, Layout, RichText, Ui};
use egui_plot::{GridMark, Line, Plot, PlotPoints, Points};
use petitoile_core::adapt::EaseRow;
use petitoile_core::ease::EasePolicy;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::{DemandChoice, Fitting};
use petitoile_core::measure::TapeMark;
use petitoile_core::tape::Hold;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Asked, Typed, difference_field, length_field, one_of};
use crate::theme::{Palette, blend};
use crate::trays::faded;
use crate::wording;

/// How ease is brought over.
pub fn policy(ui: &mut Ui, fitting: &Fitting, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        let choices = [
            EasePolicy::InProportion,
            EasePolicy::Absolute,
            EasePolicy::FromTable,
        ];
        if let Some(policy) = one_of(ui, "Ease", fitting.ease, &choices, wording::ease_policy) {
            Asked::Done(policy).push(&fitting.name, commands, FittingEdit::SetEase);
        }
    });
    faded(ui, wording::ease_policy_means(fitting.ease));
}

/// Ease in mm, and as a share of the body.
fn ease(body: Mm, garment: Mm) -> (Mm, f64) {
    let mm = garment - body;
    (
        mm,
        if body.0 > 0.0 {
            100.0 * mm.0 / body.0
        } else {
            0.0
        },
    )
}

/// Whole percent without the percent sign.
fn bare(share: f64) -> String {
    // Rounded first: less than half a percent below nothing is nothing.
    format!("{:.0}", share.round() + 0.0).replace('-', "\u{2212}")
}

/// A difference without its unit, with a true minus sign.
fn bare_length(mm: Mm, unit: LengthUnit) -> String {
    unit.show_bare(mm).replace('-', "\u{2212}")
}

fn percent(share: f64) -> String {
    if share < 0.0 {
        format!("\u{2212}{:.0} %", -share)
    } else {
        format!("{share:.0} %")
    }
}

/// One line for each tape line; the chosen one unfolds its choices.
pub fn table(
    ui: &mut Ui,
    open: &mut Option<String>,
    rows: &[EaseRow],
    fitting: &Fitting,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    if rows.is_empty() {
        faded(ui, "This garment has no tape lines.");
        return;
    }
    let widths = widths(ui.available_width(), unit);
    let head = |words: &str| RichText::new(words).small().weak();
    let first = format!("tape line, {}", unit.suffix());
    cells(
        ui,
        &widths,
        [
            head(&first),
            head("body"),
            head("garment"),
            head("ease"),
            head("%"),
            head("source"),
        ],
    );
    for row in rows {
        let is_open = open.as_deref() == Some(row.name.as_str());
        let (mm, share) = ease(row.body.1, row.garment.1);
        let (_, before) = ease(row.body.0, row.garment.0);
        let name = if row.hold == Hold::Hanging {
            RichText::new(&row.name).weak()
        } else {
            RichText::new(&row.name)
        };
        let texts = [
            if is_open { name.strong() } else { name },
            RichText::new(unit.show_bare(row.body.1)),
            RichText::new(unit.show_bare(row.garment.1)),
            RichText::new(bare_length(mm, unit)),
            RichText::new(bare(share)),
            RichText::new(bare(before)).weak(),
        ];
        let response = cells(ui, &widths, texts);
        let response = ui.interact(
            response,
            ui.scope_id().with(("ease", &row.name)),
            egui::Sense::click(),
        );
        response.widget_info(|| {
            egui::WidgetInfo::selected(
                egui::Role::Button,
                true,
                is_open,
                format!("Tape line {}", row.name),
            )
        });
        if response.hovered() || response.has_focus() {
            ui.painter().rect_stroke(
                response.rect,
                3.0,
                ui.visuals().widgets.hovered.bg_stroke,
                egui::StrokeKind::Outside,
            );
        }
        let response = response.on_hover_text(&row.name);
        if response.clicked() {
            *open = if is_open {
                None
            } else {
                Some(row.name.clone())
            };
        }
        if is_open {
            details(ui, row, fitting, unit, commands);
        }
    }
}

/// Widths for name, body, garment, ease, its share, the source's share. Fractions of an inch need more room.
fn widths(all: f32, unit: LengthUnit) -> [f32; 6] {
    let rest = all - 5.0 * 4.0;
    let shares = match unit {
        LengthUnit::Inch => [0.25, 0.18, 0.18, 0.18, 0.08, 0.13],
        _ => [0.33, 0.15, 0.15, 0.14, 0.09, 0.14],
    };
    shares.map(|share| share * rest)
}

fn cells(ui: &mut Ui, widths: &[f32; 6], texts: [RichText; 6]) -> egui::Rect {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (i, (width, text)) in widths.iter().zip(texts).enumerate() {
            let layout = if i == 0 {
                Layout::left_to_right(Align::Center)
            } else {
                Layout::right_to_left(Align::Center)
            };
            ui.allocate_ui_with_layout(egui::vec2(*width, 20.0), layout, |ui| {
                ui.set_min_width(*width);
                ui.add(egui::Label::new(text).truncate().selectable(false));
            });
        }
    })
    .response
    .rect
}

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
fn details(
    ui: &mut Ui,
    row: &EaseRow,
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
        if row.cloth.0 > 0.0 {
            faded(
                ui,
                format!(
                    "{} of it is the thickness of cloth",
                    wording::length(row.cloth, unit)
                ),
            );
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
    });
}

/// Height on the figure where a tape line lies, floor 0, crown 1.
fn height(row: &EaseRow) -> f64 {
    match row.measure.tape_place().mark {
        TapeMark::Ring { y, .. } => y,
        TapeMark::Line { from, to } => 0.5 * (from.1 + to.1),
    }
}

/// Girths from the top of the body down: their ease in percent of the body, source (chalk) and here (madder).
pub fn along_body(rows: &[EaseRow]) -> Vec<(&EaseRow, f64, f64)> {
    let mut girths: Vec<&EaseRow> = rows.iter().filter(|row| row.is_girth).collect();
    girths.sort_by(|a, b| {
        height(b)
            .total_cmp(&height(a))
            .then_with(|| a.name.cmp(&b.name))
    });
    girths
        .into_iter()
        .map(|row| {
            (
                row,
                ease(row.body.0, row.garment.0).1,
                ease(row.body.1, row.garment.1).1,
            )
        })
        .collect()
}

/// Round percents, at most six of them.
fn percent_marks((from, to): (f64, f64)) -> Vec<GridMark> {
    let steps = [5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let step = steps
        .into_iter()
        .find(|step| (to - from) / step <= 5.0)
        .unwrap_or(1000.0);
    let first = (from / step).ceil() as i64;
    let last = (to / step).floor() as i64;
    (first..=last.min(first + 20))
        .map(|k| GridMark {
            value: k as f64 * step,
            step_size: step,
        })
        .collect()
}

/// The same as a picture.
pub fn plot(ui: &mut Ui, rows: &[EaseRow], unit: LengthUnit) {
    let girths = along_body(rows);
    if girths.len() < 2 {
        return;
    }
    let palette = Palette::showing(ui);
    let names: Vec<String> = girths.iter().map(|(row, ..)| row.name.clone()).collect();
    let points = |pick: fn(&(&EaseRow, f64, f64)) -> f64| -> Vec<[f64; 2]> {
        girths
            .iter()
            .enumerate()
            .map(|(i, girth)| [pick(girth), -(i as f64)])
            .collect()
    };
    let (source, here) = (points(|g| g.1), points(|g| g.2));
    let words: Vec<String> = girths
        .iter()
        .map(|(row, before, now)| {
            format!(
                "{}: {} of {}, source {}",
                row.name,
                percent(*now),
                wording::length(row.body.1, unit),
                percent(*before)
            )
        })
        .collect();
    let madder = if ui.visuals().dark_mode {
        blend(palette.cut, palette.ink, 0.4)
    } else {
        palette.cut
    };
    faded(
        ui,
        "Ease along the body, % of its girth: here (solid), source (chalk)",
    );
    let tall = 34.0 * girths.len() as f32 + 40.0;
    let count = girths.len() as f64;
    let shown = Plot::new("ease along the body")
        .height(tall)
        .show_background(false)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .include_x(0.0)
        .include_y(0.5)
        .include_y(0.5 - count)
        .y_grid_spacer(move |_| {
            (0..count as i32)
                .map(|i| GridMark {
                    value: -f64::from(i),
                    step_size: 1.0,
                })
                .collect()
        })
        .y_axis_formatter(move |mark, _| {
            let at = (-mark.value).round();
            if at >= 0.0 {
                names.get(at as usize).cloned().unwrap_or_default()
            } else {
                String::new()
            }
        })
        .x_axis_formatter(|mark, _| format!("{:.0} %", mark.value))
        .x_grid_spacer(|input| percent_marks(input.bounds))
        .y_axis_min_width(70.0)
        .show(ui, |plot| {
            plot.line(
                Line::new("source", PlotPoints::from(source.clone()))
                    .color(palette.chalk)
                    .width(2.0),
            );
            plot.points(
                Points::new("source", PlotPoints::from(source))
                    .color(palette.chalk)
                    .radius(4.0),
            );
            plot.line(
                Line::new("here", PlotPoints::from(here.clone()))
                    .color(madder)
                    .width(2.5),
            );
            plot.points(
                Points::new("here", PlotPoints::from(here))
                    .color(madder)
                    .radius(4.5),
            );
        });
    shown.response.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::Role::Image,
            true,
            format!("Ease along the body. {}", words.join(". ")),
        )
    });
}

#[cfg(test)]
mod tests {
    use petitoile_core::measure::Measure;

    use super::*;

    #[test]
    fn nothing_has_no_sign_and_less_has_a_true_minus() {
        assert_eq!([bare(-0.4), bare(0.4), bare(-7.6)], ["0", "0", "\u{2212}8"]);
    }

    #[test]
    fn girths_run_down_the_body_and_lengths_are_left_out() {
        let row = |name: &str, measure, is_girth, body: f64, garment: f64| EaseRow {
            name: name.into(),
            hold: Hold::Fitted,
            measure,
            is_girth,
            body: (Mm(1000.0), Mm(body)),
            garment: (Mm(1100.0), Mm(garment)),
            cloth: Mm(0.0),
        };
        let rows = [
            row("hip", Measure::HipGirth, true, 300.0, 330.0),
            row("bust", Measure::BustGirth, true, 280.0, 294.0),
            row("back", Measure::BackWaistLength, false, 90.0, 90.0),
            row("waist", Measure::WaistGirth, true, 260.0, 260.0),
        ];
        let order: Vec<(&str, String, String)> = along_body(&rows)
            .into_iter()
            .map(|(row, before, now)| (row.name.as_str(), percent(before), percent(now)))
            .collect();
        let ten = "10 %".to_owned();
        assert_eq!(
            order,
            [
                ("bust", ten.clone(), "5 %".into()),
                ("waist", ten.clone(), "0 %".into()),
                ("hip", ten.clone(), "10 %".into())
            ]
        );
    }
}
