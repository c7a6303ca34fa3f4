//! Every pleat in a row, with places as they are marked with a rule.

use std::fmt::Write as _;

use egui::{RichText, ScrollArea, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::fullness::{FoldedEdge, Way};

/// Which way a pleat lies.
fn way(way: Way) -> &'static str {
    match way {
        Way::Left => "left",
        Way::Right => "right",
        Way::Apart => "apart",
        Way::Together => "together",
        Way::Out => "out",
    }
}

/// The cells of every row.
fn cells(edge: &FoldedEdge, unit: LengthUnit) -> Vec<[String; 7]> {
    edge.pleats
        .iter()
        .map(|pleat| {
            [
                pleat.number.to_string(),
                unit.show_on_rule(pleat.from),
                unit.show_on_rule(pleat.to),
                unit.show_chosen(pleat.depth),
                unit.show_on_rule(pleat.at),
                way(pleat.lies).to_owned(),
                pleat.behind_words(unit),
            ]
        })
        .collect()
}

/// As many rows are shown without scrolling.
const SHORT: usize = 10;

const HEAD: [&str; 7] = [
    "No.",
    "cloth from",
    "cloth to",
    "depth",
    "on edge",
    "lies",
    "folds behind, on the cloth",
];

/// The table, with a button that copies it as text.
pub fn table(ui: &mut Ui, edge: &FoldedEdge, unit: LengthUnit) {
    if edge.pleats.is_empty() {
        return;
    }
    let rows = cells(edge, unit);
    let title = format!(
        "Every pleat, to the nearest {}",
        unit.show(unit.rule_step())
    );
    egui::CollapsingHeader::new(title)
        .default_open(true)
        .show(ui, |ui| {
            ui.spacing_mut().interact_size.y = 18.0;
            ui.spacing_mut().item_spacing.y = 3.0;
            let head = HEAD.map(|words| RichText::new(words).small().weak());
            row(ui, head);
            if rows.len() <= SHORT {
                all(ui, &rows);
            } else {
                ScrollArea::vertical()
                    .id_salt("every pleat")
                    .max_height(240.0)
                    .show(ui, |ui| all(ui, &rows));
            }
            if ui.button("Copy the table").clicked() {
                ui.ctx().copy_text(text(&rows));
            }
        });
}

fn all(ui: &mut Ui, rows: &[[String; 7]]) {
    for cells in rows {
        row(ui, cells.clone().map(RichText::new));
    }
}

/// Cells side by side, all columns as wide as each other; the folds behind below them, where there is room.
fn row(ui: &mut Ui, cells: [RichText; 7]) {
    let room = ui.available_width() - 10.0;
    let widths = [0.09, 0.21, 0.19, 0.17, 0.19, 0.15];
    let [number, from, to, depth, at, lies, behind] = cells;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        for (cell, share) in [number, from, to, depth, at, lies].into_iter().zip(widths) {
            cell_of(ui, cell, room * share);
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        ui.add_space(room * 0.09);
        cell_of(ui, behind.small().weak(), room * 0.91);
    });
}

fn cell_of(ui: &mut Ui, cell: RichText, wide: f32) {
    let size = egui::vec2(wide, 18.0);
    let left = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(size, left, |ui| {
        ui.set_min_width(size.x);
        ui.add(egui::Label::new(cell).truncate());
    });
}

/// The table with a tab between cells.
fn text(rows: &[[String; 7]]) -> String {
    let mut all = HEAD.join("\t");
    for row in rows {
        let _ = write!(all, "\n{}", row.join("\t"));
    }
    all
}
