//! From the table to the screen: what paints places given in mm.

use egui::{Color32, Mesh, Painter, Pos2, Rect, Shape, Stroke};
use kurbo::Point;

use super::shapes;
use super::view::View;
use crate::theme::Palette;

/// From the table to the screen.
#[derive(Clone, Copy)]
pub struct Brush<'a> {
    /// Where it paints.
    pub painter: &'a Painter,
    /// The canvas.
    pub canvas: Rect,
    /// How it is looked at.
    pub view: View,
    /// Colours.
    pub palette: &'a Palette,
}

impl Brush<'_> {
    /// A place of the table on the screen.
    pub fn at(&self, p: Point) -> Pos2 {
        self.view.screen_from_table(self.canvas, p)
    }

    /// A rectangle of the table on the screen.
    pub fn rect(&self, r: kurbo::Rect) -> Rect {
        Rect::from_two_pos(
            self.at(Point::new(r.x0, r.y0)),
            self.at(Point::new(r.x1, r.y1)),
        )
    }

    /// Places of the table on the screen.
    pub fn all(&self, points: &[Point]) -> Vec<Pos2> {
        points.iter().map(|p| self.at(*p)).collect()
    }

    /// Fills a closed line.
    pub fn fill(&self, points: &[Point], colour: Color32) {
        let flat: Vec<[f32; 2]> = points.iter().map(|p| [p.x as f32, p.y as f32]).collect();
        self.mesh(&shapes::fill(&flat), kurbo::Vec2::ZERO, colour);
    }

    /// Fills triangles, moved on the table.
    pub fn mesh(&self, fill: &shapes::Fill, moved: kurbo::Vec2, colour: Color32) {
        let at = |[x, y]: &[f32; 2]| self.at(Point::new(f64::from(*x), f64::from(*y)) + moved);
        let vertices = fill
            .corners
            .iter()
            .map(|p| egui::epaint::Vertex::untextured(at(p), colour))
            .collect();
        self.painter.add(Shape::mesh(Mesh {
            indices: fill.triangles.clone(),
            vertices,
            ..Mesh::default()
        }));
    }

    /// Draws a closed line.
    pub fn closed(&self, points: &[Point], stroke: Stroke) {
        self.painter
            .add(Shape::closed_line(self.all(points), stroke));
    }

    /// Draws a line of dashes on the screen.
    pub fn dashed(&self, points: &[Pos2], stroke: Stroke, dash: f32, gap: f32) {
        self.painter
            .extend(Shape::dashed_line(points, stroke, dash, gap));
    }
}
