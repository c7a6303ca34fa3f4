//! Puts what is brought in on the screen. No decisions: everything has been chosen before it comes here.

use std::collections::BTreeSet;

use egui::{Align2, FontId, Pos2, Shape, Stroke, Vec2};
use kurbo::{Rect, Shape as _};
use petitoile_exchange::bring_in::FoundDrawing;
use petitoile_exchange::bring_in::recognise::{Drawn, Thing};

use super::Mark;
use super::work::{Paper, Worked};
use crate::canvas::brush::Brush;
use crate::canvas::shapes;

/// Around everything on the sheet.
pub fn bounds(worked: &Worked) -> Rect {
    let lines = worked
        .sheet()
        .lines
        .iter()
        .map(|line| line.path.bounding_box());
    let all = lines
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::new(0.0, 0.0, 200.0, 200.0));
    all.union(worked.sheet().bounds)
}

/// The pages as paper, with their names; one of them moved by the hand.
pub fn pages(
    brush: &Brush<'_>,
    worked: &Worked,
    drawing: &FoundDrawing,
    chosen: Option<Mark>,
    moved: Option<(usize, Vec2)>,
) {
    let palette = brush.palette;
    for (i, sheet) in drawing.sheets.iter().enumerate() {
        let Some(area) = worked.places.area(i, sheet) else {
            continue;
        };
        let mut rect = brush.rect(area);
        if let Some((page, by)) = moved
            && page == i
        {
            rect = rect.translate(by);
        }
        let is_chosen = chosen == Some(Mark::Page(i));
        let stroke = if is_chosen {
            Stroke::new(3.0, palette.chosen)
        } else {
            Stroke::new(1.0, palette.pencil)
        };
        let paper = palette.paper.gamma_multiply(0.5);
        brush
            .painter
            .rect(rect, 0.0, paper, stroke, egui::StrokeKind::Inside);
        brush.painter.text(
            rect.left_top() + Vec2::new(26.0, 7.0),
            Align2::LEFT_TOP,
            format!("{}", i + 1),
            FontId::proportional(14.0),
            palette.pencil,
        );
    }
}

/// Lines and words as they were found, the pieces on paper below them.
pub fn sheet(brush: &Brush<'_>, worked: &Worked, chosen: Option<Mark>, with_pieces: bool) {
    if with_pieces {
        for (piece, ready) in worked.recognised.pieces.iter().zip(&worked.papers) {
            paper(brush, ready, chosen == Some(Mark::Piece(piece.id)));
        }
    }
    let pieces = worked.recognised.pieces.iter().filter(|_| with_pieces);
    let cut: BTreeSet<usize> = pieces
        .filter(|piece| piece.drawn != Drawn::StitchOnly)
        .map(|piece| piece.id.0)
        .collect();
    for (i, strokes) in worked.flat.iter().enumerate() {
        let is_chosen = chosen == Some(Mark::Thing(Thing::Line(i)));
        let in_piece = worked.in_pieces.binary_search(&Thing::Line(i)).is_ok();
        let is_cut = cut.contains(&i);
        let stroke = if is_cut {
            Stroke::new(2.0, brush.palette.cut)
        } else {
            Stroke::new(1.4, brush.palette.stitch)
        };
        line(
            brush,
            strokes,
            is_chosen,
            (in_piece || !with_pieces).then_some(stroke),
        );
    }
    words(brush, worked, chosen);
    if with_pieces {
        for piece in &worked.recognised.pieces {
            name(brush, piece.at, &piece.piece.name);
        }
    }
}

fn paper(brush: &Brush<'_>, ready: &Paper, chosen: bool) {
    let palette = brush.palette;
    brush.mesh(&ready.inside, kurbo::Vec2::ZERO, palette.paper);
    if chosen {
        let points = on_screen(brush, &ready.outline);
        let stroke = Stroke::new(7.0, palette.chosen);
        brush.painter.add(Shape::closed_line(points, stroke));
    }
}

fn on_screen(brush: &Brush<'_>, line: &[[f32; 2]]) -> Vec<Pos2> {
    let at = |[x, y]: &[f32; 2]| brush.at(kurbo::Point::new(f64::from(*x), f64::from(*y)));
    line.iter().map(at).collect()
}

fn line(brush: &Brush<'_>, strokes: &[shapes::Flat], chosen: bool, in_piece: Option<Stroke>) {
    let palette = brush.palette;
    for stroke in strokes {
        let points = on_screen(brush, stroke);
        if chosen {
            let stroke = Stroke::new(6.0, palette.chosen);
            brush.painter.add(Shape::line(points.clone(), stroke));
        }
        // What is in no piece is a fine dotted line: told by shape, not by tone alone.
        if let Some(stroke) = in_piece {
            brush.painter.add(Shape::line(points, stroke));
        } else {
            brush
                .painter
                .extend(Shape::dotted_line(&points, palette.faded, 3.5, 0.9));
        }
    }
}

fn words(brush: &Brush<'_>, worked: &Worked, chosen: Option<Mark>) {
    let palette = brush.palette;
    for (i, text) in worked.sheet().texts.iter().enumerate() {
        let size = (text.size * brush.view.scale) as f32;
        if !(4.0..=200.0).contains(&size) {
            continue;
        }
        let is_chosen = chosen == Some(Mark::Thing(Thing::Text(i)));
        let colour = if is_chosen {
            palette.cut
        } else {
            palette.pencil
        };
        let font = FontId::proportional(size);
        let galley = brush
            .painter
            .layout_no_wrap(text.words.clone(), font, colour);
        let angle = -(text.turn as f32).to_radians();
        // The words stand on their base line.
        let up = egui::emath::Rot2::from_angle(angle) * Vec2::new(0.0, -0.8 * size);
        let at = brush.at(text.at) + up;
        brush
            .painter
            .add(egui::epaint::TextShape::new(at, galley, colour).with_angle(angle));
    }
}

fn name(brush: &Brush<'_>, at: Rect, name: &str) {
    let palette = brush.palette;
    let rect = brush.rect(at);
    let font = FontId::proportional(13.0);
    let galley = brush
        .painter
        .layout_no_wrap(name.to_owned(), font, palette.pencil);
    if galley.size().x + 8.0 > rect.width() {
        return;
    }
    let place = egui::Rect::from_center_size(rect.center(), galley.size());
    brush
        .painter
        .rect_filled(place.expand2(Vec2::new(4.0, 1.0)), 3.0, palette.paper);
    brush.painter.galley(place.min, galley, palette.pencil);
}

/// A ring round the place that is spoken of.
pub fn ring(brush: &Brush<'_>, at: kurbo::Point) {
    let stroke = Stroke::new(3.0, brush.palette.chosen);
    brush.painter.circle_stroke(brush.at(at), 14.0, stroke);
    let line = Stroke::new(1.2, brush.palette.pencil);
    brush.painter.circle_stroke(brush.at(at), 16.0, line);
}

/// A round handle.
pub fn handle(brush: &Brush<'_>, p: Pos2, busy: bool) {
    let palette = brush.palette;
    let fill = if busy { palette.chosen } else { palette.paper };
    let radius = if busy { 8.0 } else { 6.0 };
    brush
        .painter
        .circle(p, radius, fill, Stroke::new(2.0, palette.cut));
}
