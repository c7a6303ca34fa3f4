//! Closed lines of straight strokes, as a list of corners: area, crossings, splitting along a line.
//!
//! Millimetres, y up. The last corner is joined to the first. Knows no cloth.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

use super::polygon::Polygon;
use super::simple::crossing;
use crate::tolerance::{DRAWING, MEASURING};

/// A closed path as corners, each curve replaced by chords within [`DRAWING`] of it; tidied. Only the first closed line of
/// a path counts.
pub fn corners_of(path: &BezPath) -> Vec<Point> {
    let mut corners: Vec<Point> = Vec::new();
    let mut lines = 0;
    kurbo::flatten(path, DRAWING.0, |element| {
        lines += usize::from(matches!(element, PathEl::MoveTo(_)));
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element
            && lines == 1
        {
            corners.push(p);
        }
    });
    tidied(&corners)
}

/// The same closed line without doubled corners (nearer than [`MEASURING`]) and without corners that lie on the straight
/// line between their neighbours (within a tenth of that).
pub fn tidied(corners: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(corners.len());
    for p in corners {
        if kept
            .last()
            .is_none_or(|last| (*last - *p).hypot() > MEASURING.0)
        {
            kept.push(*p);
        }
    }
    while kept.len() > 1 && (kept[0] - kept[kept.len() - 1]).hypot() <= MEASURING.0 {
        kept.pop();
    }
    let n = kept.len();
    if n < 3 {
        return kept;
    }
    // Start at a corner that surely stays: the one farthest from the first.
    let far = |p: &Point| (*p - kept[0]).hypot2();
    let start = (0..n)
        .max_by(|i, j| far(&kept[*i]).total_cmp(&far(&kept[*j])))
        .unwrap_or(0);
    let at = |i: usize| kept[(start + i) % n];
    let mut straight: Vec<usize> = vec![0];
    for i in 1..n {
        let from = at(straight[straight.len() - 1]);
        let next = at(i + 1);
        let on_line = |j: usize| off_stroke(at(j), from, next) <= MEASURING.0 / 10.0;
        let since = straight[straight.len() - 1] + 1;
        if !(since..=i).all(on_line) {
            straight.push(i);
        }
    }
    straight.into_iter().map(at).collect()
}

/// Area inside, positive when counter-clockwise.
pub fn area(corners: &[Point]) -> f64 {
    Polygon::new(corners.to_vec()).area()
}

/// The same line, counter-clockwise.
pub fn counter_clockwise(mut corners: Vec<Point>) -> Vec<Point> {
    if area(&corners) < 0.0 {
        corners.reverse();
    }
    corners
}

/// Smallest upright rectangle around all corners.
pub fn bounds(corners: &[Point]) -> Rect {
    Polygon::new(corners.to_vec()).bounds()
}

/// How far a point lies from a stroke.
pub fn off_stroke(p: Point, a: Point, b: Point) -> f64 {
    let (d, v) = (b - a, p - a);
    let length2 = d.hypot2();
    if length2 <= 0.0 {
        return v.hypot();
    }
    (v - d * (v.dot(d) / length2).clamp(0.0, 1.0)).hypot()
}

/// Every side, from corner to corner.
pub fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    corners
        .iter()
        .copied()
        .zip(corners.iter().copied().cycle().skip(1))
}

/// Where a closed line crosses itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loop {
    /// Where.
    pub at: Point,
    /// Length of the line from there to where it comes by again: the shorter way round.
    pub length: f64,
}

/// The first place where a closed line crosses itself; touching is not crossing.
pub fn crosses_itself(corners: &[Point]) -> Option<Loop> {
    let strokes: Vec<(Point, Point)> = sides(corners).collect();
    let n = strokes.len();
    let mut order: Vec<usize> = (0..n).collect();
    let low = |i: usize| strokes[i].0.x.min(strokes[i].1.x);
    let high = |i: usize| strokes[i].0.x.max(strokes[i].1.x);
    order.sort_by(|i, j| low(*i).total_cmp(&low(*j)));
    let mut found: Option<(usize, usize, Point)> = None;
    for (k, i) in order.iter().enumerate() {
        for j in order[k + 1..].iter().take_while(|j| low(**j) <= high(*i)) {
            let (first, second) = ((*i).min(*j), (*i).max(*j));
            if second == first + 1 || (first == 0 && second + 1 == n) {
                continue;
            }
            if let Some(at) = crossing(strokes[first], strokes[second])
                && found.is_none_or(|(a, b, _)| (first, second) < (a, b))
            {
                found = Some((first, second, at));
            }
        }
    }
    let (first, second, at) = found?;
    let length = |from: usize, to: usize| -> f64 {
        (from..to)
            .map(|i| (strokes[i].1 - strokes[i].0).hypot())
            .sum()
    };
    let way =
        length(first, second) - (at - strokes[first].0).hypot() + (at - strokes[second].0).hypot();
    Some(Loop {
        at,
        length: way.min(length(0, n) - way).max(0.0),
    })
}

/// A closed line cut in two by a straight one.
#[derive(Debug, Clone, PartialEq)]
pub struct Split {
    /// Where the cut starts and ends on the line.
    pub cut: (Point, Point),
    /// What lies left of the cut; its last side runs along the cut, from `cut.0` to `cut.1`.
    pub left: Vec<Point>,
    /// What lies right of it; its last side runs along the cut, from `cut.1` to `cut.0`.
    pub right: Vec<Point>,
}

/// Cuts a counter-clockwise closed line along the straight line through `at`, from side to side around `at`.
///
/// `None` when `at` is not inside, or the line runs along a side.
pub fn split(corners: &[Point], at: Point, along: Vec2) -> Option<Split> {
    let size = along.hypot();
    if corners.len() < 3 || size <= 0.0 || Polygon::new(corners.to_vec()).winding(at) <= 0 {
        return None;
    }
    let along = along / size;
    let mut back: Option<(f64, usize)> = None;
    let mut ahead: Option<(f64, usize)> = None;
    for (i, (a, b)) in sides(corners).enumerate() {
        let (da, db) = (along.cross(a - at), along.cross(b - at));
        if (da <= 0.0) == (db <= 0.0) {
            continue;
        }
        let reach = (a.lerp(b, da / (da - db)) - at).dot(along);
        if reach >= 0.0 {
            if ahead.is_none_or(|(best, _)| reach < best) {
                ahead = Some((reach, i));
            }
        } else if back.is_none_or(|(best, _)| reach > best) {
            back = Some((reach, i));
        }
    }
    let ((back, from), (ahead, to)) = (back?, ahead?);
    let (start, end) = (at + along * back, at + along * ahead);
    Some(Split {
        cut: (start, end),
        left: walked(corners, (to, end), (from, start)),
        right: walked(corners, (from, start), (to, end)),
    })
}

/// The line from a place on one side, walked on to a place on another side; the last side closes it.
fn walked(corners: &[Point], from: (usize, Point), to: (usize, Point)) -> Vec<Point> {
    let n = corners.len();
    let mut list = vec![from.1];
    let mut i = from.0;
    while i != to.0 {
        i = (i + 1) % n;
        list.push(corners[i]);
    }
    list.push(to.1);
    list.dedup_by(|a, b| (*a - *b).hypot() <= f64::EPSILON);
    list
}
