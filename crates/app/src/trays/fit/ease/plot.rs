//! Ease along the body: percents girth by girth, and girths against height.

use egui::{Color32, Ui};
use egui_plot::{GridMark, Line, LineStyle, Plot, PlotPoints, Points};
use petitoile_core::fit::figure::{Figure, Limb};
use petitoile_core::fit::{AlongBody, AlongPoint, FitRow, along_body};
use petitoile_core::measure::TapeMark;
use petitoile_core::{LengthUnit, Mm};

use super::percent;
use crate::fields::one_of;
use crate::theme::{Palette, blend};
use crate::trays::faded;
use crate::wording;

/// Height on the figure where a tape line lies, floor 0, crown 1.
fn height(row: &FitRow) -> f64 {
    match row.measure.tape_place().mark {
        TapeMark::Ring { y, .. } => y,
        TapeMark::Line { from, to } => 0.5 * (from.1 + to.1),
    }
}

/// Girths from the top of the body down.
fn from_the_top(rows: &[FitRow]) -> Vec<&FitRow> {
    let mut girths: Vec<&FitRow> = rows.iter().filter(|row| row.is_girth).collect();
    girths.sort_by(|a, b| {
        height(b)
            .total_cmp(&height(a))
            .then_with(|| a.name.cmp(&b.name))
    });
    girths
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

/// The garment's line: madder by daylight, paler by lamplight.
fn madder(ui: &Ui, palette: &Palette) -> Color32 {
    if ui.visuals().dark_mode {
        blend(palette.cut, palette.ink, 0.4)
    } else {
        palette.cut
    }
}

/// A plot that stays where it is.
fn still(name: &str, tall: f32) -> Plot<'_> {
    Plot::new(name)
        .height(tall)
        .show_background(false)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
}

/// Ease of every girth in percent of the body, source (chalk) and here (madder).
pub fn percents(ui: &mut Ui, rows: &[FitRow], unit: LengthUnit) {
    let girths = from_the_top(rows);
    if girths.len() < 2 {
        return;
    }
    let palette = Palette::showing(ui);
    let names: Vec<String> = girths.iter().map(|row| row.name.clone()).collect();
    let points = |pick: fn(&FitRow) -> f64| -> Vec<[f64; 2]> {
        girths
            .iter()
            .enumerate()
            .map(|(i, row)| [pick(row), -(i as f64)])
            .collect()
    };
    let (source, here) = (
        points(|row| row.source.percent()),
        points(|row| row.here.percent()),
    );
    let words: Vec<String> = girths
        .iter()
        .map(|row| {
            format!(
                "{}: {} of {}, source {}",
                row.name,
                percent(row.here.percent()),
                wording::length(row.here.body, unit),
                percent(row.source.percent())
            )
        })
        .collect();
    let madder = madder(ui, palette);
    faded(
        ui,
        "Ease along the body, % of its girth: here (solid), source (chalk)",
    );
    let tall = 34.0 * girths.len() as f32 + 40.0;
    let count = girths.len() as f64;
    let shown = still("ease along the body", tall)
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
            for (name, line, colour, width) in [
                ("source", source, palette.chalk, 2.0),
                ("here", here, madder, 2.5),
            ] {
                plot.line(
                    Line::new(name, PlotPoints::from(line.clone()))
                        .color(colour)
                        .width(width),
                );
                plot.points(
                    Points::new(name, PlotPoints::from(line))
                        .color(colour)
                        .radius(2.0 + width),
                );
            }
        });
    shown.response.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::Role::Image,
            true,
            format!("Ease along the body. {}", words.join(". ")),
        )
    });
}

/// Girths against height, one limb at a time.
pub struct Along {
    limb: Limb,
}

impl Default for Along {
    fn default() -> Self {
        Self { limb: Limb::Trunk }
    }
}

impl Along {
    /// Chooses the limb and paints its girths.
    pub fn ui(&mut self, ui: &mut Ui, figure: &Figure, unit: LengthUnit) {
        let limbs: Vec<AlongBody> = along_body(figure)
            .into_iter()
            .filter(|limb| limb.points.iter().any(|point| point.garment.is_some()))
            .collect();
        let there: Vec<Limb> = limbs.iter().map(|limb| limb.limb).collect();
        let Some(first) = there.first().copied() else {
            return;
        };
        if !there.contains(&self.limb) {
            self.limb = first;
        }
        faded(
            ui,
            "Girths against height: body (chalk), dressed (dashed), garment (solid)",
        );
        if there.len() > 1 {
            ui.horizontal_wrapped(|ui| {
                let asked = one_of(ui, "Girths of the", self.limb, &there, limb_words);
                self.limb = asked.unwrap_or(self.limb);
            });
        }
        if let Some(limb) = limbs.iter().find(|limb| limb.limb == self.limb) {
            along(ui, limb, unit);
        }
    }
}

fn limb_words(limb: Limb) -> &'static str {
    match limb {
        Limb::LeftArm | Limb::RightArm => "arm",
        Limb::LeftLeg | Limb::RightLeg => "leg",
        Limb::Head | Limb::Trunk => "trunk",
    }
}

fn along(ui: &mut Ui, limb: &AlongBody, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let track = |pick: fn(&AlongPoint) -> Option<Mm>| -> Vec<[f64; 2]> {
        limb.points
            .iter()
            .filter_map(|point| Some([pick(point)?.0, point.height.0]))
            .collect()
    };
    let (body, dressed, garment) = (
        track(|point| point.body),
        track(|point| point.dressed),
        track(|point| point.garment),
    );
    let is_dressed = body != dressed;
    let madder = madder(ui, palette);
    let shown = still("girths against height", 240.0)
        .include_x(0.0)
        .x_axis_formatter(move |mark, _| unit.show_bare(Mm(mark.value)))
        .y_axis_formatter(move |mark, _| unit.show_bare(Mm(mark.value)))
        .show(ui, |plot| {
            plot.line(
                Line::new("body", PlotPoints::from(body))
                    .color(palette.chalk)
                    .width(2.0),
            );
            if is_dressed {
                plot.line(
                    Line::new("dressed", PlotPoints::from(dressed))
                        .color(palette.faded)
                        .style(LineStyle::dashed_loose())
                        .width(1.5),
                );
            }
            plot.line(
                Line::new("garment", PlotPoints::from(garment.clone()))
                    .color(madder)
                    .width(2.5),
            );
            plot.points(
                Points::new("garment", PlotPoints::from(garment))
                    .color(madder)
                    .radius(4.5),
            );
        });
    let words: Vec<String> = limb
        .points
        .iter()
        .filter_map(|point| {
            Some(format!(
                "{} {}",
                point.name,
                wording::length(point.garment?, unit)
            ))
        })
        .collect();
    shown.response.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::Role::Image,
            true,
            format!(
                "Girths against height, {}. Garment: {}",
                limb_words(limb.limb),
                words.join(", ")
            ),
        )
    });
}

#[cfg(test)]
mod tests {
    use petitoile_core::fit::{Sat, Sits};
    use petitoile_core::measure::Measure;
    use petitoile_core::tape::Hold;

    use super::*;

    #[test]
    fn girths_run_down_the_body_and_lengths_are_left_out() {
        let row = |name: &str, measure: Measure, body: f64, garment: f64| FitRow {
            name: name.into(),
            measure,
            share: 1.0,
            is_girth: measure.is_girth(),
            hold: Hold::Fitted,
            source: Sat {
                body: Mm(1000.0),
                garment: Mm(1100.0),
            },
            here: Sat {
                body: Mm(body),
                garment: Mm(garment),
            },
            underneath: Mm(0.0),
            own_cloth: Mm(0.0),
            handbook: Vec::new(),
            source_handbook: Vec::new(),
            sits: Sits::Unjudged,
        };
        let rows = [
            row("hip", Measure::HipGirth, 300.0, 330.0),
            row("bust", Measure::BustGirth, 280.0, 294.0),
            row("back", Measure::BackWaistLength, 90.0, 90.0),
            row("waist", Measure::WaistGirth, 260.0, 260.0),
        ];
        let order: Vec<(&str, String, String)> = from_the_top(&rows)
            .into_iter()
            .map(|row| {
                (
                    row.name.as_str(),
                    percent(row.source.percent()),
                    percent(row.here.percent()),
                )
            })
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
