//! Paints what a tool is doing, in millimetres of the table.

use egui::{Align2, FontId, Painter, Pos2, Rect, Shape, Stroke};
use kurbo::{BezPath, PathEl, Point};

use crate::canvas::view::View;
use crate::theme::Palette;

/// A painter whose measure is the table.
pub struct Brush<'a> {
    painter: &'a Painter,
    canvas: Rect,
    view: View,
    palette: &'a Palette,
}

impl<'a> Brush<'a> {
    /// A brush on a canvas that is looked at this way.
    pub fn new(painter: &'a Painter, canvas: Rect, view: View, palette: &'a Palette) -> Self {
        Self {
            painter,
            canvas,
            view,
            palette,
        }
    }

    /// The colours.
    pub fn palette(&self) -> &'a Palette {
        self.palette
    }

    /// Where a place of the table is on the screen.
    pub fn screen(&self, at: Point) -> Pos2 {
        self.view.screen_from_table(self.canvas, at)
    }

    /// A fresh line of what is being done.
    pub fn line(&self, path: &BezPath) {
        // An edge of ink, so that it is seen on cloth, paper and table, by day and by lamp.
        self.stroke(path, Stroke::new(3.5, self.palette.ink));
        self.stroke(path, Stroke::new(2.0, self.palette.chosen));
    }

    /// A thin helping line.
    pub fn guide(&self, a: Point, b: Point) {
        let stroke = Stroke::new(1.0, self.palette.faded);
        self.painter.extend(Shape::dashed_line(
            &[self.screen(a), self.screen(b)],
            stroke,
            5.0,
            4.0,
        ));
    }

    /// Any line in any stroke.
    pub fn stroke(&self, path: &BezPath, stroke: Stroke) {
        let mut points: Vec<Pos2> = Vec::new();
        let flush = |points: &mut Vec<Pos2>| {
            if points.len() > 1 {
                self.painter
                    .add(Shape::line(std::mem::take(points), stroke));
            }
            points.clear();
        };
        let mut first = None;
        kurbo::flatten(path, 0.25 / self.view.scale, |element| match element {
            PathEl::MoveTo(p) => {
                flush(&mut points);
                first = Some(p);
                points.push(self.screen(p));
            }
            PathEl::LineTo(p) => points.push(self.screen(p)),
            PathEl::ClosePath => points.extend(first.map(|p| self.screen(p))),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        });
        flush(&mut points);
    }

    /// A dot.
    pub fn dot(&self, at: Point) {
        self.painter.circle(
            self.screen(at),
            4.0,
            self.palette.chosen,
            Stroke::new(1.0, self.palette.ink),
        );
    }

    /// Words beside a place, on a strip of paper so that they can be read over everything.
    pub fn words(&self, at: Point, words: &str) {
        self.say(at, words, self.palette.ink);
    }

    /// The same for what cannot be done.
    pub fn warning(&self, at: Point, words: &str) {
        self.say(at, words, self.palette.unusable);
    }

    fn say(&self, at: Point, words: &str, ink: egui::Color32) {
        let p = self.screen(at) + egui::vec2(14.0, -14.0);
        self.strip(p, Align2::LEFT_BOTTOM, words, ink);
    }

    /// The same below the place.
    pub fn words_below(&self, at: Point, words: &str) {
        let p = self.screen(at) + egui::vec2(14.0, 14.0);
        self.strip(p, Align2::LEFT_TOP, words, self.palette.ink);
    }

    /// Words on a strip of paper that stays on the canvas.
    fn strip(&self, p: Pos2, anchor: Align2, words: &str, ink: egui::Color32) {
        let font = FontId::proportional(13.0);
        let widest = (self.canvas.width() * 0.8).max(80.0);
        let galley = self.painter.layout(words.to_owned(), font, ink, widest);
        let rect = anchor.anchor_size(p, galley.size()).expand(4.0);
        let room = self.canvas.shrink(4.0);
        let back = egui::vec2(
            (room.right() - rect.right()).min(0.0) + (room.left() - rect.left()).max(0.0),
            (room.bottom() - rect.bottom()).min(0.0) + (room.top() - rect.top()).max(0.0),
        );
        let rect = rect.translate(back);
        self.painter.rect_filled(rect, 4.0, self.palette.field);
        self.painter
            .galley(rect.min + egui::vec2(4.0, 4.0), galley, ink);
    }
}
