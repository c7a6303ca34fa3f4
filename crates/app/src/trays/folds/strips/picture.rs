//! A picture of a joined strip: its segments, its joins, and the part that is kept free.

use egui::{Align2, FontId, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo};
use petitoile_core::strips::{JoinedStrip, Slant, StripWanted};
use petitoile_core::{LengthUnit, Mm};

use crate::theme::{Palette, blend};
use crate::trays::faded;
use crate::wording;

/// The strip before it is drawn in, as long as the tray is wide. It starts at the right, as the edge that it is sewn on by.
pub fn strip(ui: &mut Ui, strip: &JoinedStrip, wanted: &StripWanted, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let size = Vec2::new(ui.available_width(), 74.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let words = format!(
        "Joined strip: {}, {}",
        wording::count(strip.segments.len(), "segment", "segments"),
        wording::count(strip.joins.len(), "join", "joins")
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &words));
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 4.0, palette.table);
    let long = rect.width() - 20.0;
    let scale = long / strip.cloth.0.max(1e-6) as f32;
    // True to scale, but never thinner than can be seen nor higher than the picture.
    let wide = (strip.cut_width.0 as f32 * scale).clamp(14.0, 36.0);
    let cloth = Rect::from_min_size(rect.min + Vec2::new(10.0, 24.0), Vec2::new(long, wide));
    let x = |mm: Mm| cloth.right() - mm.0 as f32 * scale;
    for (i, segment) in strip.segments.iter().enumerate() {
        let part =
            Rect::from_x_y_ranges(x(segment.covers.1)..=x(segment.covers.0), cloth.y_range());
        let fill = if i % 2 == 0 {
            palette.paper
        } else {
            blend(palette.paper, palette.chalk, 0.35)
        };
        painter.rect_filled(part, 0.0, fill);
        if part.width() > 16.0 {
            painter.text(
                part.center(),
                Align2::CENTER_CENTER,
                (i + 1).to_string(),
                FontId::proportional(11.0),
                palette.pencil,
            );
        }
    }
    free(&painter, cloth, wanted, palette);
    for join in &strip.joins {
        let at = x(join.on_cloth);
        let lean = match wanted.slant {
            Slant::Straight => 0.0,
            Slant::Bias => wide / 2.0,
        };
        let ends = [
            Pos2::new(at - lean, cloth.bottom()),
            Pos2::new(at + lean, cloth.top()),
        ];
        painter.line_segment(ends, Stroke::new(2.0, palette.cut));
    }
    let border = Stroke::new(1.0, palette.stitch);
    painter.rect_stroke(cloth, 0.0, border, StrokeKind::Inside);
    let words = format!("Before it is drawn in: {}", unit.show_chosen(strip.cloth));
    faded(ui, words);
}

/// The part that joins keep off, and what is there.
fn free(painter: &egui::Painter, cloth: Rect, wanted: &StripWanted, palette: &Palette) {
    let finished = wanted.lengths().1.0.max(1e-6);
    for kept in &wanted.keep_off {
        let share = |mm: f64| (kept.at + mm / finished).clamp(0.0, 1.0) as f32;
        let x = |share: f32| cloth.right() - share * cloth.width();
        let area =
            Rect::from_x_y_ranges(x(share(kept.by.0))..=x(share(-kept.by.0)), cloth.y_range());
        painter.rect_filled(area, 0.0, palette.chosen.gamma_multiply(0.45));
        let middle = x(share(0.0));
        painter.vline(
            middle,
            cloth.top() - 5.0..=cloth.bottom() + 5.0,
            Stroke::new(1.0, palette.pencil),
        );
        painter.text(
            Pos2::new(middle, cloth.top() - 6.0),
            Align2::CENTER_BOTTOM,
            &kept.what,
            FontId::proportional(11.0),
            palette.ink,
        );
    }
}
