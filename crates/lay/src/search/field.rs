//! How far a point lies inside the edge of a room.

use jagua_rs::geometry::primitives::Circle;
use kurbo::{Point, Rect};

use super::plane;

/// Nodes along the longer side of a grid.
const NODES: f64 = 144.0;

/// Signed distance to the edge: positive inside.
#[derive(Clone, Debug)]
pub(crate) enum Field {
    /// An upright rectangle: its low and high x and y.
    Box([f32; 4]),
    /// Any other outline: distances on a grid, straight between its nodes.
    Grid(Grid),
}

/// Distances at the nodes of a grid, row by row from the lowest.
#[derive(Clone, Debug)]
pub(crate) struct Grid {
    low: (f32, f32),
    apart: f32,
    columns: usize,
    rows: usize,
    distances: Vec<f32>,
}

impl Field {
    pub(crate) fn new(outline: &[Point]) -> Self {
        let bounds = plane::bounds(outline);
        if is_box(outline, bounds) {
            return Self::Box([
                bounds.x0 as f32,
                bounds.x1 as f32,
                bounds.y0 as f32,
                bounds.y1 as f32,
            ]);
        }
        Self::Grid(Grid::new(outline, bounds))
    }

    /// How far inside, mm; negative outside. On a grid within about a third of its spacing.
    pub(crate) fn within(&self, x: f32, y: f32) -> f32 {
        match self {
            Self::Box([x0, x1, y0, y1]) => {
                let (dx, dy) = ((x - x0).min(x1 - x), (y - y0).min(y1 - y));
                if dx < 0.0 && dy < 0.0 {
                    -(dx * dx + dy * dy).sqrt()
                } else {
                    dx.min(dy)
                }
            }
            Self::Grid(grid) => grid.within(x, y),
        }
    }

    /// How much of a shape lies outside, like [`super::inner_circles::InnerCircles::common`]: its circles, and how far its farthest corner is out.
    pub(crate) fn outside(
        &self,
        circles: &[Circle],
        corners: impl Iterator<Item = (f32, f32)>,
        soft: f32,
    ) -> (f32, f32) {
        let bend = 4.0 * soft * soft;
        let mut sum = 0.0;
        for circle in circles {
            let depth = circle.radius - self.within(circle.center.0, circle.center.1);
            sum += (depth + (depth * depth + bend).sqrt()) * circle.radius;
        }
        let far = corners
            .map(|(x, y)| -self.within(x, y))
            .fold(0.0_f32, f32::max);
        (sum * 0.5, far)
    }
}

fn is_box(outline: &[Point], bounds: Rect) -> bool {
    let on_side = |a: Point, b: Point| {
        (a.x == b.x && (a.x == bounds.x0 || a.x == bounds.x1))
            || (a.y == b.y && (a.y == bounds.y0 || a.y == bounds.y1))
    };
    plane::edges(outline).all(|(a, b)| on_side(a, b))
}

impl Grid {
    fn new(outline: &[Point], bounds: Rect) -> Self {
        let apart = bounds.width().max(bounds.height()) / NODES;
        let low = Point::new(bounds.x0 - 2.0 * apart, bounds.y0 - 2.0 * apart);
        let count = |size: f64| (size / apart).ceil() as usize + 5;
        let (columns, rows) = (count(bounds.width()), count(bounds.height()));
        let distances = (0..rows * columns)
            .map(|node| {
                let (row, column) = (node / columns, node % columns);
                let point = Point::new(low.x + column as f64 * apart, low.y + row as f64 * apart);
                let far = plane::to_edge(outline, point);
                (if plane::inside(outline, point) {
                    far
                } else {
                    -far
                }) as f32
            })
            .collect();
        Self {
            low: (low.x as f32, low.y as f32),
            apart: apart as f32,
            columns,
            rows,
            distances,
        }
    }

    fn within(&self, x: f32, y: f32) -> f32 {
        let place = |at: f32, low: f32, count: usize| {
            let wished = (at - low) / self.apart;
            let on = wished.clamp(0.0, (count - 2) as f32 + 0.999);
            (
                on as usize,
                on - (on as usize) as f32,
                (wished - on) * self.apart,
            )
        };
        let (column, part_x, beyond_x) = place(x, self.low.0, self.columns);
        let (row, part_y, beyond_y) = place(y, self.low.1, self.rows);
        let at = |row: usize, column: usize| {
            self.distances
                .get(row * self.columns + column)
                .copied()
                .unwrap_or(0.0)
        };
        let below = at(row, column) * (1.0 - part_x) + at(row, column + 1) * part_x;
        let above = at(row + 1, column) * (1.0 - part_x) + at(row + 1, column + 1) * part_x;
        below * (1.0 - part_y) + above * part_y - (beyond_x * beyond_x + beyond_y * beyond_y).sqrt()
    }
}
