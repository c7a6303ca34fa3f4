//! Shapes that may say their own length: squares, rectangles, bars, straight lines with ticks at their ends.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{ParamCurve, PathSeg, Point, Rect};

use super::MeasureKind;
use super::labels::Label;
use crate::bring_in::FoundLine;

/// Sides shorter or longer than this are no test square, mm. Our own bounds, no source.
const SIDES: std::ops::RangeInclusive<f64> = 8.0..=400.0;

/// How far a corner may be off, as a share of the side.
const SQUARE: f64 = 0.004;

/// From this ratio of its sides on, a rectangle is a bar: its length is what the label says.
const BAR: f64 = 2.5;

/// How far ends may lie apart to meet, mm.
const MEET: f64 = 0.4;

/// A label stands this near to what it speaks of, mm.
const NEAR: f64 = 16.0;

/// With more straight strokes than this (a background of squares) only whole rectangles are looked at.
const MOST_STROKES: usize = 6000;

/// A shape and its size.
pub(super) struct Shape {
    pub kind: MeasureKind,
    pub bounds: Rect,
    /// Across and up, mm.
    pub size: (f64, f64),
}

/// Upright rectangles, bars and ticked lines near labels.
pub(super) fn shapes(lines: &[FoundLine], labels: &[Label]) -> Vec<Shape> {
    let near = |bounds: Rect, reach: f64| {
        labels
            .iter()
            .any(|label| bounds.inflate(reach, reach).contains(label.middle))
    };
    let mut shapes = Vec::new();
    let mut level: Vec<(Point, Point)> = Vec::new();
    let mut upright: Vec<(Point, Point)> = Vec::new();
    for line in lines {
        let bounds = line.path.control_box();
        let long = bounds.width().max(bounds.height());
        if long > 450.0 || !near(bounds, 220.0) {
            continue;
        }
        if near(bounds, NEAR)
            && let Some(rect) = rectangle(line)
        {
            shapes.extend(of_rectangle(rect));
        }
        // Straight strokes, a ladder of them in one path included.
        if let Some((a, b)) = straight(line) {
            let slant = |along: f64, off: f64| off.abs() <= SQUARE * along.abs().max(1.0);
            let d = b - a;
            if slant(d.x, d.y) {
                level.push(if a.x <= b.x { (a, b) } else { (b, a) });
            } else if slant(d.y, d.x) {
                upright.push(if a.y <= b.y { (a, b) } else { (b, a) });
            }
        }
    }
    if level.len() + upright.len() < MOST_STROKES {
        let beside = |(a, b): &&(Point, Point)| near(Rect::from_points(*a, *b), NEAR);
        let lines: Vec<(Point, Point)> = level.iter().filter(beside).copied().collect();
        shapes.extend(ticked(&lines, &upright, true));
        let lines: Vec<(Point, Point)> = upright.iter().filter(beside).copied().collect();
        shapes.extend(ticked(&lines, &level, false));
        shapes.extend(of_four_strokes(&level, &upright));
    }
    shapes
}

/// The ends of a line that is one straight stroke.
fn straight(line: &FoundLine) -> Option<(Point, Point)> {
    let mut segments = line.path.segments();
    let first = segments.next()?;
    if line.closed || segments.next().is_some() {
        return None;
    }
    matches!(first, PathSeg::Line(_)).then(|| (first.start(), first.end()))
}

/// The bounds of an upright rectangle drawn as one line, closed or coming back to its start.
fn rectangle(line: &FoundLine) -> Option<Rect> {
    let mut corners: Vec<Point> = Vec::new();
    for segment in line.path.segments() {
        let PathSeg::Line(side) = segment else {
            return None;
        };
        if side.p0.distance(side.p1) > 1e-6 {
            corners.push(side.p0);
        }
        if corners.len() > 4 {
            return None;
        }
    }
    let bounds = line.path.control_box();
    let last = line.path.segments().last()?.end();
    let comes_back = last.distance(*corners.first()?) < MEET;
    let off = SQUARE * bounds.width().max(bounds.height());
    let at_corner = |p: &Point| {
        let x = (p.x - bounds.x0).abs().min((p.x - bounds.x1).abs());
        let y = (p.y - bounds.y0).abs().min((p.y - bounds.y1).abs());
        x <= off && y <= off
    };
    (corners.len() == 4 && comes_back && corners.iter().all(at_corner)).then_some(bounds)
}

fn of_rectangle(bounds: Rect) -> Option<Shape> {
    let (w, h) = (bounds.width(), bounds.height());
    if !SIDES.contains(&w.max(h)) {
        return None;
    }
    let kind = if w.max(h) > BAR * w.min(h) {
        MeasureKind::Line
    } else {
        MeasureKind::Square
    };
    Some(Shape {
        kind,
        bounds,
        size: (w, h),
    })
}

/// Rectangles drawn as four strokes.
fn of_four_strokes(level: &[(Point, Point)], upright: &[(Point, Point)]) -> Vec<Shape> {
    let key = |a: f64, b: f64| ((a / MEET).round() as i64, (b / MEET).round() as i64);
    // Level strokes with the same ends, left and right, lie above one another.
    let mut above: BTreeMap<(i64, i64), Vec<(Point, Point)>> = BTreeMap::new();
    for stroke in level {
        above
            .entry(key(stroke.0.x, stroke.1.x))
            .or_default()
            .push(*stroke);
    }
    let mut found = Vec::new();
    for strokes in above.values_mut() {
        strokes.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
        for pair in strokes.windows(2) {
            let [(a, b), (c, _)] = pair else {
                continue;
            };
            let joins = |x: f64| {
                upright.iter().any(|(p, q)| {
                    (p.x - x).abs() < MEET && (p.y - a.y).abs() < MEET && (q.y - c.y).abs() < MEET
                })
            };
            if joins(a.x) && joins(b.x) {
                found.extend(of_rectangle(Rect::new(a.x, a.y, b.x, c.y)));
            }
        }
    }
    found
}

/// Straight lines with a short stroke across either end.
fn ticked(lines: &[(Point, Point)], strokes: &[(Point, Point)], is_level: bool) -> Vec<Shape> {
    let mut found = Vec::new();
    for (a, b) in lines {
        let long = a.distance(*b);
        if !SIDES.contains(&long) {
            continue;
        }
        let has_tick = |end: &Point| {
            strokes.iter().any(|(p, q)| {
                let short = p.distance(*q);
                let (off, along) = if is_level {
                    ((p.x - end.x).abs(), (p.y.min(q.y)..=p.y.max(q.y), end.y))
                } else {
                    ((p.y - end.y).abs(), (p.x.min(q.x)..=p.x.max(q.x), end.x))
                };
                let (range, place) = along;
                let wide = *range.start() - MEET..=*range.end() + MEET;
                short < 0.35 * long && off < MEET && wide.contains(&place)
            })
        };
        if has_tick(a) && has_tick(b) {
            found.push(Shape {
                kind: MeasureKind::Line,
                bounds: Rect::from_points(*a, *b),
                size: ((b.x - a.x).abs(), (b.y - a.y).abs()),
            });
        }
    }
    found
}
