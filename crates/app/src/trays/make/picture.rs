//! The little picture of a step, painted. No decisions: the core has laid the pieces out.

use egui::{Align2, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo};
use kurbo::{Affine, BezPath, PathEl};
use petitoile_core::making_sheet::Picture;

use crate::theme::Palette;

/// At most this high, screen points.
const HEIGHT: f32 = 150.0;
/// Chords lie this close to their curves, screen points.
const CHORD: f64 = 0.3;

/// Paints a picture as wide as there is room for, with what it shows as its label.
pub(super) fn painted(ui: &mut Ui, picture: &Picture, number: usize) {
    let palette = Palette::showing(ui);
    let bounds = picture.bounds();
    if !(bounds.width() > 0.0 && bounds.height() > 0.0) {
        return;
    }
    let width = ui.available_width();
    let natural = f64::from(width) * bounds.height() / bounds.width();
    let height = (natural as f32 + 16.0).min(HEIGHT);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(width, height), Sense::hover());
    response.widget_info(|| {
        let words = format!("Picture of step {number}: {}", picture.words());
        WidgetInfo::labeled(Role::Image, true, words)
    });
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 4.0, palette.paper);
    let to = onto(bounds, rect.shrink(8.0));
    for piece in &picture.pieces {
        line(&painter, &piece.shade, to, Stroke::new(0.8, palette.chalk));
        line(&painter, &piece.seen, to, Stroke::new(1.4, palette.cut));
    }
    for piece in &picture.pieces {
        for worked in &piece.worked {
            line(&painter, worked, to, Stroke::new(3.0, palette.stitch));
        }
        for notch in &piece.notches {
            let ends = [screen(to * notch.p0), screen(to * notch.p1)];
            painter.line_segment(ends, Stroke::new(1.6, palette.pencil));
        }
    }
    names(&painter, picture, to, palette);
}

/// From millimetres, y up, into a rectangle, y down.
fn onto(bounds: kurbo::Rect, rect: Rect) -> Affine {
    let scale =
        (f64::from(rect.width()) / bounds.width()).min(f64::from(rect.height()) / bounds.height());
    let middle = rect.center();
    Affine::translate((f64::from(middle.x), f64::from(middle.y)))
        * Affine::scale_non_uniform(scale, -scale)
        * Affine::translate(-bounds.center().to_vec2())
}

fn screen(p: kurbo::Point) -> Pos2 {
    Pos2::new(p.x as f32, p.y as f32)
}

fn line(painter: &Painter, path: &BezPath, to: Affine, stroke: Stroke) {
    let mut points: Vec<Pos2> = Vec::new();
    let mut flat = |el: PathEl| match el {
        PathEl::MoveTo(p) => {
            let done = std::mem::replace(&mut points, vec![screen(p)]);
            if done.len() > 1 {
                painter.add(Shape::line(done, stroke));
            }
        }
        PathEl::ClosePath => points.extend(points.first().copied()),
        other => points.extend(other.end_point().map(screen)),
    };
    kurbo::flatten(to * path.clone(), CHORD, &mut flat);
    if points.len() > 1 {
        painter.add(Shape::line(points, stroke));
    }
}

/// Names inside the pieces; one that would run over another stands lower.
fn names(painter: &Painter, picture: &Picture, to: Affine, palette: &Palette) {
    let mut taken: Vec<Rect> = Vec::new();
    for piece in &picture.pieces {
        let font = FontId::proportional(12.0);
        let text = painter.layout_no_wrap(piece.piece.clone(), font, palette.pencil);
        let mut at = Align2::CENTER_CENTER.anchor_size(screen(to * piece.label_at), text.size());
        while taken.iter().any(|other| other.intersects(at)) {
            at = at.translate(egui::vec2(0.0, text.size().y));
        }
        taken.push(at);
        // A plate behind the words, so that shade and lines do not cross them.
        painter.rect_filled(at.expand(1.0), 2.0, palette.paper.gamma_multiply(0.85));
        painter.galley(at.min, text, palette.pencil);
    }
}
