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
fn cells(edge: &FoldedEdge, unit: LengthUnit) -> Vec<[String; 5]> {
    edge.pleats
        .iter()
        .map(|pleat| {
            [
                pleat.number.to_string(),
                unit.show_on_rule(pleat.from),
                unit.show_on_rule(pleat.to),
                unit.show_on_rule(pleat.at),
                way(pleat.lies).to_owned(),
            ]
        })
        .collect()
}

const HEAD: [&str; 5] = ["No.", "cloth from", "to", "lies at", "lies"];

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
            ScrollArea::vertical()
                .id_salt("every pleat")
                .max_height(200.0)
                .auto_shrink([false, true])
                .show(ui, |ui| {
                    egui::Grid::new("pleats")
                        .num_columns(5)
                        .striped(true)
                        .show(ui, |ui| {
                            for words in HEAD {
                                ui.label(RichText::new(words).small().weak());
                            }
                            ui.end_row();
                            for row in &rows {
                                for cell in row {
                                    ui.label(cell);
                                }
                                ui.end_row();
                            }
                        });
                });
            if ui.button("Copy the table").clicked() {
                ui.ctx().copy_text(text(&rows));
            }
        });
}

/// The table with a tab between cells.
fn text(rows: &[[String; 5]]) -> String {
    let mut all = HEAD.join("\t");
    for row in rows {
        let _ = write!(all, "\n{}", row.join("\t"));
    }
    all
}
