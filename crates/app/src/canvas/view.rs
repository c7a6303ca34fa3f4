//! How the table is looked at: which point is in the middle, and how large a millimetre is. Pure functions.
//!
//! Table coordinates: mm, x right, y up. Screen coordinates: points, y down.

use egui::{Pos2, Vec2};
use kurbo::{Point, Rect};

/// How the table is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// The point of the table in the middle of the canvas.
    pub middle: Point,
    /// Screen points for one millimetre.
    pub scale: f64,
}

/// Where to look next, once the size of the canvas is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Aim {
    /// At everything.
    All,
    /// At this part of the table.
    Part(Rect),
}

/// Furthest and closest look: a gown on a small screen, a doll's buttonhole.
const LEAST_SCALE: f64 = 0.02;
const MOST_SCALE: f64 = 80.0;
/// How much smaller than the canvas everything may become.
const TINY: f64 = 6.0;
/// Screen points for one millimetre at which zooming out is never stopped.
const ROOMY: f64 = 1.0;

impl Default for View {
    fn default() -> Self {
        Self {
            middle: Point::ZERO,
            scale: 2.0,
        }
    }
}

impl View {
    /// Where a point of the table is on the screen.
    pub fn screen_from_table(&self, canvas: egui::Rect, p: Point) -> Pos2 {
        let d = p - self.middle;
        canvas.center() + Vec2::new((d.x * self.scale) as f32, (-d.y * self.scale) as f32)
    }

    /// Which point of the table is there on the screen.
    pub fn table_from_screen(&self, canvas: egui::Rect, p: Pos2) -> Point {
        let d = p - canvas.center();
        Point::new(
            self.middle.x + f64::from(d.x) / self.scale,
            self.middle.y - f64::from(d.y) / self.scale,
        )
    }

    /// Moved so that the table follows the pointer.
    pub fn panned(&self, by: Vec2) -> Self {
        let middle = Point::new(
            self.middle.x - f64::from(by.x) / self.scale,
            self.middle.y + f64::from(by.y) / self.scale,
        );
        Self { middle, ..*self }
    }

    /// Closer (above 1) or further away, about the middle.
    pub fn zoomed(&self, factor: f64) -> Self {
        Self {
            scale: (self.scale * factor).clamp(LEAST_SCALE, MOST_SCALE),
            ..*self
        }
    }

    /// Closer or further away, so that what is under the pointer stays under it.
    pub fn zoomed_at(&self, canvas: egui::Rect, pointer: Pos2, factor: f64) -> Self {
        let held = self.table_from_screen(canvas, pointer);
        let next = self.zoomed(factor);
        let d = pointer - canvas.center();
        let middle = Point::new(
            held.x - f64::from(d.x) / next.scale,
            held.y + f64::from(d.y) / next.scale,
        );
        Self { middle, ..next }
    }

    /// The same above a strip of this height along the lower edge, which stays free.
    pub fn fitting_above(part: Rect, canvas: Vec2, strip: f32) -> Self {
        let view = Self::fitting(part, Vec2::new(canvas.x, canvas.y - strip));
        view.panned(Vec2::new(0.0, -0.5 * strip))
    }

    /// No further away than that `part` is seen well: beyond that everything would be tiny. Looking at a piece in its
    /// true size is always possible.
    #[must_use]
    pub fn not_too_far(self, part: Rect, canvas: Vec2) -> Self {
        let least = (Self::fitting(part, canvas).scale / TINY).min(ROOMY);
        Self {
            scale: self.scale.max(least),
            ..self
        }
    }

    /// So that all of `part` is seen, with a little table around it.
    pub fn fitting(part: Rect, canvas: Vec2) -> Self {
        let across = f64::from(canvas.x).max(50.0) * 0.92 / part.width().max(1.0);
        let along = f64::from(canvas.y).max(50.0) * 0.92 / part.height().max(1.0);
        Self {
            middle: part.center(),
            scale: across.min(along).clamp(LEAST_SCALE, MOST_SCALE),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CANVAS: egui::Rect = egui::Rect {
        min: Pos2::new(100.0, 50.0),
        max: Pos2::new(900.0, 650.0),
    };

    #[test]
    fn what_is_under_the_pointer_stays_there_while_zooming() {
        let view = View {
            middle: Point::new(30.0, -12.0),
            scale: 3.0,
        };
        let pointer = Pos2::new(250.0, 600.0);
        let before = view.table_from_screen(CANVAS, pointer);
        for factor in [0.3, 0.9, 1.0, 1.7, 6.0] {
            let after = view
                .zoomed_at(CANVAS, pointer, factor)
                .table_from_screen(CANVAS, pointer);
            assert!((after - before).hypot() < 1e-9, "{factor}");
        }
    }

    #[test]
    fn table_to_screen_and_back_is_the_same_point() {
        let view = View {
            middle: Point::new(5.0, 7.0),
            scale: 4.0,
        };
        let p = Point::new(21.0, -3.0);
        let back = view.table_from_screen(CANVAS, view.screen_from_table(CANVAS, p));
        assert!((back - p).hypot() < 1e-4);
    }

    #[test]
    fn show_all_brings_every_corner_onto_the_canvas() {
        for part in [
            Rect::new(-10.0, 0.0, 500.0, 80.0),
            Rect::new(0.0, 0.0, 3.0, 900.0),
        ] {
            let view = View::fitting(part, CANVAS.size());
            for corner in [Point::new(part.x0, part.y0), Point::new(part.x1, part.y1)] {
                assert!(
                    CANVAS.contains(view.screen_from_table(CANVAS, corner)),
                    "{part:?}"
                );
            }
        }
    }

    #[test]
    fn show_all_leaves_the_strip_of_the_legend_free() {
        let part = Rect::new(0.0, 0.0, 30.0, 900.0);
        let view = View::fitting_above(part, CANVAS.size(), 26.0);
        let lowest = view.screen_from_table(CANVAS, Point::new(15.0, 0.0)).y;
        let highest = view.screen_from_table(CANVAS, Point::new(15.0, 900.0)).y;
        assert!(lowest < CANVAS.max.y - 26.0 && highest > CANVAS.min.y);
    }

    #[test]
    fn zooming_out_stops_when_everything_is_tiny() {
        let gown = Rect::new(0.0, 0.0, 600.0, 1400.0);
        let mut view = View::fitting(gown, CANVAS.size());
        for _ in 0..60 {
            view = view.zoomed(0.8).not_too_far(gown, CANVAS.size());
        }
        let seen = gown.height() * view.scale;
        assert!((90.0..120.0).contains(&seen), "{seen} points high");
        // A doll's pocket may be looked at in its true size, however small that is.
        let pocket = Rect::new(0.0, 0.0, 20.0, 24.0);
        let true_size = View { scale: 3.8, ..view };
        assert_eq!(true_size.not_too_far(pocket, CANVAS.size()), true_size);
    }

    #[test]
    fn panning_moves_the_table_with_the_pointer() {
        let view = View::default();
        let p = Point::new(3.0, 4.0);
        let by = Vec2::new(13.0, -8.0);
        let moved =
            view.panned(by).screen_from_table(CANVAS, p) - view.screen_from_table(CANVAS, p);
        assert!((moved - by).length() < 1e-3);
    }
}
