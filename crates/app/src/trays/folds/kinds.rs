//! Large buttons, one for each kind of fullness, with a small section of it.

use egui::{FontId, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo};
use petitoile_core::fullness::Kind;

use super::picture;
use crate::theme::{Palette, blend};
use crate::wording;

/// Size of a button, screen points: wide enough for its name, at least.
const SIZE: Vec2 = Vec2::new(80.0, 52.0);

/// Every kind but those told apart by their width alone; gives the one that was clicked.
pub fn buttons(ui: &mut Ui, now: Option<Kind>) -> Option<Kind> {
    let room = ui.available_width();
    let gap = 6.0;
    let across = ((room + gap) / (SIZE.x + gap)).floor().max(1.0);
    let wide = (room - (across - 1.0) * gap) / across;
    let mut asked = None;
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing = Vec2::splat(gap);
        for row in Kind::ALL.chunks(across as usize) {
            ui.horizontal(|ui| {
                for kind in row {
                    if button(ui, *kind, now == Some(*kind), Vec2::new(wide, SIZE.y)) {
                        asked = Some(*kind);
                    }
                }
            });
        }
    });
    asked
}

fn button(ui: &mut Ui, kind: Kind, chosen: bool, size: Vec2) -> bool {
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let words = wording::sentence(kind.words());
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, &words));
    let palette = Palette::showing(ui);
    let visuals = ui.style().interact_selectable(&response, chosen);
    let fill = if chosen {
        visuals.bg_fill
    } else {
        blend(palette.field, visuals.weak_bg_fill, 0.4)
    };
    let stroke = if response.has_focus() {
        Stroke::new(2.0, palette.ink)
    } else {
        visuals.bg_stroke
    };
    ui.painter()
        .rect(rect, 4.0, fill, stroke, StrokeKind::Inside);
    let picture = egui::Rect::from_min_max(
        rect.min + Vec2::new(10.0, 6.0),
        rect.max - Vec2::new(10.0, 21.0),
    );
    picture::sample(&ui.painter().with_clip_rect(rect), picture, kind, palette);
    ui.painter().text(
        rect.center_bottom() - Vec2::new(0.0, 4.0),
        egui::Align2::CENTER_BOTTOM,
        words.trim_end_matches(" pleats"),
        FontId::proportional(10.5),
        palette.ink,
    );
    response.clicked()
}
