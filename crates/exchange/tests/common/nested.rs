//! A printed sheet of nested sizes, for the tests and the bench of joining pages.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "tests"
)]

use petitoile_core::kurbo::{BezPath, Point, Rect, Vec2};
use petitoile_exchange::drawing::{Drawing, Item, Layer};
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::tiling::Pages;

/// A4.
pub const PAGE: (f64, f64) = (210.0, 297.0);
/// Strip that neighbours share.
pub const OVERLAP: f64 = 10.0;

/// A sheet of pages: columns, rows, nested sizes, straight lines in each of them.
#[derive(Clone, Copy)]
pub struct Nested {
    pub columns: usize,
    pub rows: usize,
    pub sizes: usize,
    pub segments: usize,
}

/// Nested sizes of a round piece, many short straight lines each, once around the sheet.
fn outlines(nested: &Nested) -> Vec<Vec<Point>> {
    let segments = nested.segments;
    let (w, h) = (
        nested.columns as f64 * (PAGE.0 - OVERLAP),
        nested.rows as f64 * (PAGE.1 - OVERLAP),
    );
    let middle = Point::new(w / 2.0, h / 2.0);
    (0..nested.sizes)
        .map(|size| {
            let share = 0.55 + 0.02 * size as f64;
            (0..=segments)
                .map(|i| {
                    let turn = std::f64::consts::TAU * i as f64 / segments as f64;
                    let wave = 1.0 + 0.05 * (5.0 * turn).sin();
                    let (sin, cos) = turn.sin_cos();
                    middle + Vec2::new(w / 2.0 * cos, h / 2.0 * sin) * (share * wave)
                })
                .collect()
        })
        .collect()
}

/// What each page shows of the sheet, row by row from the upper left.
pub fn areas(nested: &Nested) -> Vec<Rect> {
    (0..nested.columns * nested.rows)
        .map(|page| {
            let (column, row) = (page % nested.columns, page / nested.columns);
            let x = column as f64 * (PAGE.0 - OVERLAP);
            let y = (nested.rows - 1 - row) as f64 * (PAGE.1 - OVERLAP);
            Rect::from_origin_size((x, y), PAGE)
        })
        .collect()
}

/// A path through points, moved.
fn path(points: &[Point], step: Vec2) -> BezPath {
    let mut path = BezPath::new();
    for (i, p) in points.iter().enumerate() {
        let q = *p + step;
        if i == 0 {
            path.move_to(q)
        } else {
            path.line_to(q)
        }
    }
    path
}

/// Where a straight line enters and leaves a page.
fn within(a: Point, b: Point, area: Rect) -> Option<(f64, f64)> {
    let d = b - a;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (p, d, least, most) in [(a.x, d.x, area.x0, area.x1), (a.y, d.y, area.y0, area.y1)] {
        let (s, t) = ((least - p) / d, (most - p) / d);
        enter = enter.max(s.min(t));
        leave = leave.min(s.max(t));
    }
    (enter < leave).then_some((enter, leave))
}

/// The stretches of a line on a page, cut at its edges.
fn cut(points: &[Point], area: Rect) -> Vec<Vec<Point>> {
    let mut stretches: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in points.windows(2) {
        let Some((enter, leave)) = within(pair[0], pair[1], area) else {
            open = false;
            continue;
        };
        if !open || enter > 0.0 {
            stretches.push(vec![pair[0].lerp(pair[1], enter)]);
        }
        stretches
            .last_mut()
            .unwrap()
            .push(pair[0].lerp(pair[1], leave));
        open = leave >= 1.0;
    }
    stretches
}

/// The sheet as a PDF, each page with whole lines and a window, or with lines really cut at its edges.
pub fn pages(nested: &Nested, whole_lines: bool) -> Vec<u8> {
    let outlines = outlines(nested);
    let drawing = |area: &Rect| {
        let step = -area.origin().to_vec2();
        let mut items = Vec::new();
        for outline in &outlines {
            let parts = cut(outline, *area);
            if whole_lines && !parts.is_empty() {
                let item = Item::stroke(Layer::CutLines, path(outline, step), 0.4);
                items.push(item.clipped(Rect::new(0.0, 0.0, PAGE.0, PAGE.1)));
            } else {
                let lines = parts.iter().map(|part| path(part, step));
                items.extend(lines.map(|line| Item::stroke(Layer::CutLines, line, 0.4)));
            }
        }
        Drawing {
            title: String::new(),
            items,
        }
    };
    write_pages(&Pages {
        title: "bench".into(),
        size: PAGE,
        pages: areas(nested).iter().map(drawing).collect(),
        placed: vec![],
    })
}
