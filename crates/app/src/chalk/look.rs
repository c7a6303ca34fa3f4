//! How handles, the crosshair and what was snapped to look on the table.

use egui::{Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2};

use super::brush::Brush;
use super::snap::Snapped;
use super::tool::{Handle, HandleLook};

/// A handle.
pub fn handle(painter: &Painter, brush: &Brush<'_>, handle: &Handle) {
    let (p, palette) = (brush.screen(handle.at), brush.palette());
    let fill = if handle.chosen {
        palette.chosen
    } else {
        palette.paper
    };
    let stroke = Stroke::new(1.5, palette.pencil);
    match handle.look {
        HandleLook::Corner => {
            let square = Rect::from_center_size(p, Vec2::splat(11.0));
            painter.rect(square, 1.0, fill, stroke, StrokeKind::Middle);
        }
        HandleLook::Point => {
            painter.circle(p, 5.5, fill, stroke);
        }
        HandleLook::Steering => {
            painter.circle(p, 4.5, fill, Stroke::new(1.0, palette.pencil));
        }
        HandleLook::Edge | HandleLook::Mark => {
            let half = 6.5;
            let diamond = vec![
                p + egui::vec2(0.0, -half),
                p + egui::vec2(half, 0.0),
                p + egui::vec2(0.0, half),
                p + egui::vec2(-half, 0.0),
            ];
            painter.add(Shape::convex_polygon(diamond, fill, stroke));
        }
    }
}

/// What the place under the pointer snapped to: helping lines, a ring, and words below it.
pub fn snapped(painter: &Painter, brush: &Brush<'_>, snapped: &Snapped) {
    for (a, b) in &snapped.lines {
        brush.guide(*a, *b);
    }
    let ring = Stroke::new(1.5, brush.palette().ink);
    painter.circle_stroke(brush.screen(snapped.at), 6.0, ring);
    brush.words_below(snapped.at, &snapped.what);
}

/// The crosshair of the keys.
pub fn crosshair(painter: &Painter, brush: &Brush<'_>, p: Pos2) {
    let stroke = Stroke::new(1.5, brush.palette().ink);
    for (from, to) in [(6.0, 22.0), (-22.0, -6.0)] {
        painter.line_segment([p + egui::vec2(from, 0.0), p + egui::vec2(to, 0.0)], stroke);
        painter.line_segment([p + egui::vec2(0.0, from), p + egui::vec2(0.0, to)], stroke);
    }
    painter.circle_stroke(p, 6.0, stroke);
}
