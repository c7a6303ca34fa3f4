//! What is left over and of use: the largest rectangle along the grain that is free in each room.
//!
//! A maker reaches for a left-over piece that takes another piece, a strip or a patch; all of these are cut along the grain. So the
//! measure is that rectangle. Rooms are counted one by one and the areas added; a room that nothing lies in counts too.

use kurbo::{Point, Rect, Vec2};

use super::plane;
use super::problem::{Plan, Polygon, Problem, Room};

/// Cells along the longer side of a room. The rectangle is found in whole cells that are free throughout, so it is never too large.
const CELLS: f64 = 64.0;

/// The largest free rectangles of all rooms together, mm2.
#[must_use]
pub fn useful(problem: &Problem, plan: &Plan) -> f64 {
    (0..problem.rooms.len())
        .filter_map(|room| rectangle(problem, plan, room))
        .map(|found| found.area())
        .sum()
}

/// A rectangle along the grain of its room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeRectangle {
    /// Its four corners, counter-clockwise.
    pub corners: [Point; 4],
    /// Along the grain, mm.
    pub along: f64,
    /// Across the grain, mm.
    pub across: f64,
}

impl FreeRectangle {
    /// Area, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.along * self.across
    }
}

/// The largest free rectangle along the grain of one room. It keeps off the edge by the margin and off parts by the gap. Found on a
/// grid of 64 cells along the longer side: up to two cells too small either way, never too large.
#[must_use]
pub fn rectangle(problem: &Problem, plan: &Plan, room: usize) -> Option<FreeRectangle> {
    let made = problem.rooms.get(room)?;
    let angle = made.grain.angle_deg.to_radians();
    let turned = |polygon: &[Point], angle: f64| {
        let (sin, cos) = libm::sincos(angle);
        polygon
            .iter()
            .map(|point| Point::new(cos * point.x - sin * point.y, sin * point.x + cos * point.y))
            .collect::<Polygon>()
    };
    let outline = turned(&made.outline, -angle);
    let lying: Vec<Polygon> = plan
        .placed
        .iter()
        .filter(|placed| placed.room == room)
        .filter_map(|placed| Some(turned(&problem.lying(placed)?, -angle)))
        .collect();
    let holes: Vec<Polygon> = made.holes.iter().map(|hole| turned(hole, -angle)).collect();
    let cells = Cells::new(&outline, &holes, &lying, made, problem.gap)?;
    let found = cells.largest()?;
    let corners = [
        Point::new(found.x0, found.y0),
        Point::new(found.x1, found.y0),
        Point::new(found.x1, found.y1),
        Point::new(found.x0, found.y1),
    ];
    let corners = turned(&corners, angle);
    Some(FreeRectangle {
        corners: [
            *corners.first()?,
            *corners.get(1)?,
            *corners.get(2)?,
            *corners.get(3)?,
        ],
        along: found.height(),
        across: found.width(),
    })
}

/// Which cells of a room are free throughout.
struct Cells {
    low: Point,
    size: f64,
    columns: usize,
    free: Vec<bool>,
}

impl Cells {
    fn new(
        outline: &[Point],
        holes: &[Polygon],
        lying: &[Polygon],
        room: &Room,
        gap: f64,
    ) -> Option<Self> {
        let bounds = plane::bounds(outline);
        let size = bounds.width().max(bounds.height()) / CELLS;
        if size <= 0.0 {
            return None;
        }
        let count = |length: f64| (length / size).ceil().max(1.0) as usize;
        let (columns, rows) = (count(bounds.width()), count(bounds.height()));
        let mut new = Self {
            low: bounds.origin(),
            size,
            columns,
            free: vec![true; columns * rows],
        };
        new.keep_inside(outline);
        new.block_edge(outline, room.margin);
        for hole in holes {
            new.block_inside(hole);
            new.block_edge(hole, room.margin.max(gap));
        }
        for polygon in lying {
            new.block_inside(polygon);
            new.block_edge(polygon, gap);
        }
        Some(new)
    }

    fn middle(&self, row: usize, column: usize) -> Point {
        self.low + Vec2::new(column as f64 + 0.5, row as f64 + 0.5) * self.size
    }

    /// Where a line from left to right through the middles of a row crosses an outline, left to right.
    fn crossings(polygon: &[Point], y: f64) -> Vec<f64> {
        let mut at: Vec<f64> = plane::edges(polygon)
            .filter(|(a, b)| (a.y > y) != (b.y > y))
            .map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
            .collect();
        at.sort_by(f64::total_cmp);
        at
    }

    fn each_row(&mut self, polygon: &[Point], mut change: impl FnMut(bool, &mut bool)) {
        let rows = self.free.len() / self.columns;
        for row in 0..rows {
            let crossings = Self::crossings(polygon, self.middle(row, 0).y);
            for column in 0..self.columns {
                let x = self.middle(row, column).x;
                let inside = crossings.iter().filter(|&&at| at < x).count() % 2 == 1;
                if let Some(cell) = self.free.get_mut(row * self.columns + column) {
                    change(inside, cell);
                }
            }
        }
    }

    fn keep_inside(&mut self, polygon: &[Point]) {
        self.each_row(polygon, |inside, cell| *cell &= inside);
    }

    fn block_inside(&mut self, polygon: &[Point]) {
        self.each_row(polygon, |inside, cell| *cell &= !inside);
    }

    /// Takes every cell that an edge, or what lies within `by` of it, may reach into.
    fn block_edge(&mut self, polygon: &[Point], by: f64) {
        let reach = self.size * std::f64::consts::FRAC_1_SQRT_2 + by;
        for (a, b) in plane::edges(polygon) {
            let cell = |value: f64, low: f64| ((value - low) / self.size).max(0.0) as usize;
            let rows =
                cell(a.y.min(b.y) - reach, self.low.y)..=cell(a.y.max(b.y) + reach, self.low.y);
            for row in rows {
                let columns =
                    cell(a.x.min(b.x) - reach, self.low.x)..=cell(a.x.max(b.x) + reach, self.low.x);
                for column in columns {
                    let near = plane::to_segment(self.middle(row, column), a, b) <= reach;
                    if near
                        && column < self.columns
                        && let Some(free) = self.free.get_mut(row * self.columns + column)
                    {
                        *free = false;
                    }
                }
            }
        }
    }

    /// The largest rectangle of free cells: for every row the heights of free columns above it, taken as a row of bars.
    fn largest(&self) -> Option<Rect> {
        let mut heights = vec![0_usize; self.columns];
        let mut best: Option<(usize, Rect)> = None;
        for (row, cells) in self.free.chunks(self.columns).enumerate() {
            for (height, free) in heights.iter_mut().zip(cells) {
                *height = if *free { *height + 1 } else { 0 };
            }
            // Bars that are still open to the right: first column, height.
            let mut open: Vec<(usize, usize)> = Vec::new();
            for column in 0..=self.columns {
                let height = heights.get(column).copied().unwrap_or(0);
                let mut first = column;
                while let Some(&(start, tall)) =
                    open.last().filter(|bar| bar.1 >= height && bar.1 > 0)
                {
                    open.pop();
                    first = start;
                    let cells = tall * (column - start);
                    if best.as_ref().is_none_or(|found| cells > found.0) {
                        best = Some((cells, self.rect(start, column, row + 1 - tall, row + 1)));
                    }
                }
                if height > 0 {
                    open.push((first, height));
                }
            }
        }
        best.map(|found| found.1)
    }

    fn rect(&self, x0: usize, x1: usize, y0: usize, y1: usize) -> Rect {
        let at = |x: usize, y: usize| self.low + Vec2::new(x as f64, y as f64) * self.size;
        Rect::from_points(at(x0, y0), at(x1, y1))
    }
}
