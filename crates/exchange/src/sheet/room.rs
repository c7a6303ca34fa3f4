//! Where there is room for a label: the free cells of a piece.

#![allow(
    clippy::indexing_slicing,
    reason = "every index is below the width or height the table was made with"
)]

use petitoile_core::kurbo::{BezPath, PathEl, Point, Rect, Shape, flatten};

/// The piece as a table of cells, each free or not.
pub(super) struct Room {
    cell: f64,
    origin: Point,
    across: usize,
    up: usize,
    /// Blocked cells to the left of and below each corner.
    blocked: Vec<u32>,
}

/// Cells along the longer side of a piece.
const CELLS: f64 = 160.0;

impl Room {
    /// The room inside `outline`, `clear` mm away from it and from the `obstacles`.
    pub(super) fn new(outline: &BezPath, obstacles: &[BezPath], clear: f64) -> Self {
        let bounds = outline.bounding_box();
        let cell = (bounds.width().max(bounds.height()) / CELLS).max(0.25);
        let count = |length: f64| (length / cell).ceil().clamp(1.0, 2.0 * CELLS) as usize;
        let (across, up) = (count(bounds.width()), count(bounds.height()));
        let mut free = inside(outline, bounds.origin(), cell, across, up);
        for path in std::iter::once(outline).chain(obstacles) {
            block(&mut free, path, bounds.origin(), cell, (across, up), clear);
        }
        let mut blocked = vec![0_u32; (across + 1) * (up + 1)];
        for j in 0..up {
            for i in 0..across {
                let here = u32::from(!free[j * across + i]);
                let (below, left, corner) = (
                    blocked[j * (across + 1) + i + 1],
                    blocked[(j + 1) * (across + 1) + i],
                    blocked[j * (across + 1) + i],
                );
                blocked[(j + 1) * (across + 1) + i + 1] = here + below + left - corner;
            }
        }
        Self {
            cell,
            origin: bounds.origin(),
            across,
            up,
            blocked,
        }
    }

    /// The shorter side of the piece, mm.
    pub(super) fn narrow(&self) -> f64 {
        self.across.min(self.up) as f64 * self.cell
    }

    /// The free rectangle of this size whose middle is nearest to a point.
    pub(super) fn nearest(&self, width: f64, height: f64, to: Point) -> Option<Rect> {
        let (w, h) = (
            (width / self.cell).ceil() as usize,
            (height / self.cell).ceil() as usize,
        );
        if self.across < w || self.up < h || w == 0 || h == 0 {
            return None;
        }
        let mut best: Option<(f64, Rect)> = None;
        for j in 0..=self.up - h {
            for i in 0..=self.across - w {
                let row = self.across + 1;
                let count = self.blocked[(j + h) * row + i + w] + self.blocked[j * row + i]
                    - self.blocked[j * row + i + w]
                    - self.blocked[(j + h) * row + i];
                if count > 0 {
                    continue;
                }
                let at = self.origin + (i as f64 * self.cell, j as f64 * self.cell);
                let rect = Rect::from_origin_size(at, (w as f64 * self.cell, h as f64 * self.cell));
                let distance = rect.center().distance_squared(to);
                if best.is_none_or(|(least, _)| distance < least) {
                    best = Some((distance, rect));
                }
            }
        }
        best.map(|(_, rect)| rect)
    }
}

/// Straight strokes within 0.1 mm of a path.
pub(crate) fn strokes(path: &BezPath) -> Vec<(Point, Point)> {
    let (mut all, mut start, mut last) = (Vec::new(), Point::ZERO, Point::ZERO);
    flatten(path, 0.1, |element| match element {
        PathEl::MoveTo(p) => (start, last) = (p, p),
        PathEl::LineTo(p) => {
            all.push((last, p));
            last = p;
        }
        PathEl::ClosePath => {
            all.push((last, start));
            last = start;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    all
}

fn inside(outline: &BezPath, origin: Point, cell: f64, across: usize, up: usize) -> Vec<bool> {
    let strokes = strokes(outline);
    let mut free = vec![false; across * up];
    for j in 0..up {
        let y = origin.y + (j as f64 + 0.5) * cell;
        let mut crossings: Vec<f64> = strokes
            .iter()
            .filter(|(a, b)| (a.y <= y) != (b.y <= y))
            .map(|(a, b)| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            for i in 0..across {
                let x = origin.x + (i as f64 + 0.5) * cell;
                free[j * across + i] |= pair[0] <= x && x <= pair[1];
            }
        }
    }
    free
}

fn block(
    free: &mut [bool],
    path: &BezPath,
    origin: Point,
    cell: f64,
    (across, up): (usize, usize),
    clear: f64,
) {
    let reach = (clear / cell).ceil() as i64;
    for (a, b) in strokes(path) {
        let steps = ((b - a).hypot() / (cell * 0.7)).ceil().clamp(1.0, 4096.0) as usize;
        for step in 0..=steps {
            let p = a.lerp(b, step as f64 / steps as f64) - origin;
            let (i, j) = ((p.x / cell).floor() as i64, (p.y / cell).floor() as i64);
            for jj in (j - reach).max(0)..=(j + reach).min(up as i64 - 1) {
                for ii in (i - reach).max(0)..=(i + reach).min(across as i64 - 1) {
                    free[jj as usize * across + ii as usize] = false;
                }
            }
        }
    }
}
