//! One line for each tape line; the chosen one unfolds its choices.

use egui::{Align, Layout, RichText, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::adapt::EaseRow;
use petitoile_core::fit::{EaseTable, FitRow};
use petitoile_core::fitting::Fitting;
use petitoile_core::tape::Hold;

use super::details::{book_words, details};
use super::{bare, bare_length, sits_words, toned};
use crate::command::Command;
use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// Name, body, underneath, garment, ease, its share, the source's share.
const COLUMNS: usize = 7;

/// One line for each tape line; the chosen one unfolds its choices.
pub fn table(
    ui: &mut Ui,
    open: &mut Option<String>,
    (table, demanded): (&EaseTable, &[EaseRow]),
    fitting: &Fitting,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    if table.rows.is_empty() {
        faded(ui, "This garment has no tape lines.");
        return;
    }
    let under = shows_underneath(table, unit);
    let widths = widths(ui.available_width(), unit, under);
    head(ui, &widths, unit, under);
    for (row, demand) in table.rows.iter().zip(demanded) {
        let is_open = open.as_deref() == Some(row.name.as_str());
        if line(ui, &widths, row, is_open, unit) {
            *open = (!is_open).then(|| row.name.clone());
        }
        if is_open {
            details(ui, demand, Some(row), fitting, unit, commands);
        }
    }
}

/// What is underneath has its column where there is something and room for it; fractions of an inch take the room.
fn shows_underneath(table: &EaseTable, unit: LengthUnit) -> bool {
    unit != LengthUnit::Inch && table.rows.iter().any(|row| row.underneath.0 > 0.0)
}

fn head(ui: &mut Ui, widths: &[f32; COLUMNS], unit: LengthUnit, under: bool) {
    let words = |words: &str| RichText::new(words).small().weak();
    cells(
        ui,
        widths,
        [
            words(&format!("tape line, {}", unit.suffix())),
            words("body"),
            words(if under { "under" } else { "" }),
            words("garment"),
            words("ease"),
            words("%"),
            words("source"),
        ],
    );
}

/// Paints one line and gives whether it was clicked.
fn line(
    ui: &mut Ui,
    widths: &[f32; COLUMNS],
    row: &FitRow,
    is_open: bool,
    unit: LengthUnit,
) -> bool {
    let palette = Palette::showing(ui);
    let name = if row.hold == Hold::Hanging {
        RichText::new(&row.name).weak()
    } else {
        RichText::new(&row.name)
    };
    let underneath = if row.underneath.0 > 0.0 {
        format!("+{}", unit.show_bare(row.underneath))
    } else {
        String::new()
    };
    let texts = [
        if is_open { name.strong() } else { name },
        RichText::new(unit.show_bare(row.here.body)),
        RichText::new(underneath).weak(),
        RichText::new(unit.show_bare(row.here.garment)),
        toned(bare_length(row.here.ease(), unit), row.sits, palette),
        toned(bare(row.here.percent()), row.sits, palette),
        RichText::new(bare(row.source.percent())).weak(),
    ];
    let rect = cells(ui, widths, texts);
    let id = ui.scope_id().with(("ease", &row.name));
    let response = ui.interact(rect, id, egui::Sense::click());
    response.widget_info(|| {
        egui::WidgetInfo::selected(
            egui::Role::Button,
            true,
            is_open,
            format!("Tape line {}", row.name),
        )
    });
    if response.hovered() || response.has_focus() {
        let stroke = ui.visuals().widgets.hovered.bg_stroke;
        ui.painter()
            .rect_stroke(response.rect, 3.0, stroke, egui::StrokeKind::Outside);
    }
    response
        .on_hover_ui(|ui| explained(ui, row, unit))
        .clicked()
}

/// The whole line in words, with the handbooks and their sources.
fn explained(ui: &mut Ui, row: &FitRow, unit: LengthUnit) {
    ui.label(format!(
        "{}: {} and {} underneath; garment {}, room {}",
        row.name,
        wording::length(row.here.body, unit),
        wording::length(row.underneath, unit),
        wording::length(row.here.garment, unit),
        wording::difference(row.room(), unit),
    ));
    if row.is_girth {
        ui.label(format!("It sits: {}", sits_words(row.sits, unit)));
    }
    for book in &row.handbook {
        ui.label(format!(
            "Handbook: {} ({})",
            book_words(book, unit),
            book.source
        ));
    }
}

fn widths(all: f32, unit: LengthUnit, under: bool) -> [f32; COLUMNS] {
    let rest = all - 6.0 * 4.0;
    let shares = match (unit, under) {
        (LengthUnit::Inch, _) => [0.25, 0.18, 0.0, 0.18, 0.18, 0.08, 0.13],
        (_, false) => [0.33, 0.15, 0.0, 0.15, 0.14, 0.09, 0.14],
        (_, true) => [0.27, 0.14, 0.12, 0.15, 0.12, 0.08, 0.12],
    };
    shares.map(|share| share * rest)
}

fn cells(ui: &mut Ui, widths: &[f32; COLUMNS], texts: [RichText; COLUMNS]) -> egui::Rect {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (i, (width, text)) in widths.iter().zip(texts).enumerate() {
            if *width <= 0.0 {
                continue;
            }
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
