//! The trays. Each draws from the session and pushes commands; it keeps only what is half typed or folded.

mod alterations;
mod body;
mod chalk;
mod cloth;
mod figure;
mod findings;
mod fit;
mod folds;
mod make;
mod numbers;
mod paper;
mod piece_list;
mod work;
mod works_on;

pub use body::BodyTray;
pub use chalk::ChalkTray;
pub use cloth::ClothTray;
pub(crate) use cloth::fresh_name;
pub use findings::FindingsTray;
pub use fit::FitTray;
pub use folds::FoldsTray;
pub use make::MakeTray;
pub use paper::PaperTray;
pub use piece_list::PieceList;
use works_on::works_on;

use egui::{RichText, Ui};

/// A heading inside a tray.
pub(crate) fn heading(ui: &mut Ui, words: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(words).heading());
}

/// Words of second rank.
pub(crate) fn faded(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    ui.label(RichText::new(words.into()).small().weak())
}

/// The leaves of a tray, as a row to choose from; `wide` is the least width of each.
pub(crate) fn leaves<T: Copy + PartialEq>(ui: &mut Ui, all: &[(T, &str)], now: &mut T, wide: f32) {
    ui.horizontal_wrapped(|ui| {
        for (leaf, name) in all {
            let chosen = *now == *leaf;
            let button = egui::Button::selectable(chosen, *name).min_size(egui::vec2(wide, 28.0));
            let button = ui.add(button);
            button.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::Tab, true, chosen, format!("{name} leaf"))
            });
            if button.clicked() {
                *now = *leaf;
            }
        }
    });
}
