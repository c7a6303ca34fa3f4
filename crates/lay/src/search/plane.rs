//! Plain f64 geometry of polygons: area, inside, distance, crossing. Short loops, exact as far as f64 is.

#![allow(clippy::indexing_slicing, reason = "loops over known lengths")]

use kurbo::{Point, Rect, Vec2};

use super::problem::{OutlineFault, Polygon};

/// Length, by a square root only: unlike `hypot`, that is the same to the last bit on every machine.
pub(crate) fn long(vector: Vec2) -> f64 {
    vector.hypot2().sqrt()
}

/// The edges of a closed line.
pub(crate) fn edges(polygon: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = polygon.iter().skip(1).chain(polygon.first());
    polygon.iter().copied().zip(next.copied())
}

/// Signed area, positive when counter-clockwise.
pub(crate) fn area(polygon: &[Point]) -> f64 {
    let Some(&origin) = polygon.first() else {
        return 0.0;
    };
    edges(polygon)
        .map(|(a, b)| (a - origin).cross(b - origin))
        .sum::<f64>()
        * 0.5
}

/// The smallest upright rectangle around some points.
pub(crate) fn bounds(points: &[Point]) -> Rect {
    let Some(&first) = points.first() else {
        return Rect::ZERO;
    };
    points
        .iter()
        .fold(Rect::from_points(first, first), |rect, &point| {
            rect.union_pt(point)
        })
}

/// Without repeated points, counter-clockwise; or what is wrong with it.
pub(crate) fn tidied(polygon: &[Point]) -> Result<Polygon, OutlineFault> {
    if polygon.iter().any(|point| !point.is_finite()) {
        return Err(OutlineFault::NotFinite);
    }
    let size = bounds(polygon);
    let least = (size.width() + size.height()) * 1e-9;
    let mut points: Polygon = Vec::with_capacity(polygon.len());
    for &point in polygon {
        if points.last().is_none_or(|&last| long(point - last) > least) {
            points.push(point);
        }
    }
    while points.len() > 1
        && points
            .first()
            .zip(points.last())
            .is_some_and(|(&a, &b)| long(a - b) <= least)
    {
        points.pop();
    }
    if points.len() < 3 {
        return Err(OutlineFault::TooFewPoints);
    }
    if crosses_itself(&points) {
        return Err(OutlineFault::CrossesItself);
    }
    let signed = area(&points);
    if signed.abs() <= least * least {
        return Err(OutlineFault::Flat);
    }
    if signed < 0.0 {
        points.reverse();
    }
    Ok(points)
}

fn crosses_itself(points: &[Point]) -> bool {
    let count = points.len();
    let edge = |i: usize| (points[i], points[(i + 1) % count]);
    (0..count).any(|i| {
        (i + 2..count).any(|j| {
            (j + 1) % count != i && {
                let ((a, b), (c, d)) = (edge(i), edge(j));
                segments_meet(a, b, c, d)
            }
        })
    })
}

fn side(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - a)
}

/// Whether two segments have a point in common.
pub(crate) fn segments_meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let apart = |p: f64, q: f64, r: f64, s: f64| p.max(q) < r.min(s) || r.max(s) < p.min(q);
    if apart(a.x, b.x, c.x, d.x) || apart(a.y, b.y, c.y, d.y) {
        return false;
    }
    let (c_side, d_side) = (side(a, b, c), side(a, b, d));
    let (a_side, b_side) = (side(c, d, a), side(c, d, b));
    !((c_side > 0.0 && d_side > 0.0)
        || (c_side < 0.0 && d_side < 0.0)
        || (a_side > 0.0 && b_side > 0.0)
        || (a_side < 0.0 && b_side < 0.0))
}

/// Whether two segments cross in one point inside both.
pub(crate) fn segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// Whether a point lies inside (by counting crossings; on the edge either answer).
pub(crate) fn inside(polygon: &[Point], point: Point) -> bool {
    edges(polygon).fold(false, |within, (a, b)| {
        if (a.y > point.y) == (b.y > point.y) {
            return within;
        }
        let x = a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x);
        within != (point.x < x)
    })
}

/// Distance from a point to a segment.
pub(crate) fn to_segment(point: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let length = along.hypot2();
    let t = if length > 0.0 {
        ((point - a).dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    long(point - (a + along * t))
}

/// Distance from a point to the nearest edge.
pub(crate) fn to_edge(polygon: &[Point], point: Point) -> f64 {
    edges(polygon)
        .map(|(a, b)| to_segment(point, a, b))
        .fold(f64::INFINITY, f64::min)
}

/// Whether two polygons overlap or touch, one inside the other included.
pub(crate) fn overlap(one: &[Point], other: &[Point]) -> bool {
    let (Some(&first), Some(&second)) = (one.first(), other.first()) else {
        return false;
    };
    edges(one).any(|(a, b)| edges(other).any(|(c, d)| segments_meet(a, b, c, d)))
        || inside(one, second)
        || inside(other, first)
}

/// Distance between two closed lines that do not cross.
pub(crate) fn edge_distance(one: &[Point], other: &[Point]) -> f64 {
    let from = |points: &[Point], polygon: &[Point]| {
        points
            .iter()
            .map(|&point| to_edge(polygon, point))
            .fold(f64::INFINITY, f64::min)
    };
    from(one, other).min(from(other, one))
}

/// Distance between two polygons; 0 when they overlap or touch.
pub(crate) fn distance(one: &[Point], other: &[Point]) -> f64 {
    if overlap(one, other) {
        return 0.0;
    }
    edge_distance(one, other)
}

/// How deep two overlapping polygons reach into each other: the deepest that a point of one edge lies within the other. 0 when
/// they do not overlap.
pub(crate) fn depth(one: &[Point], other: &[Point]) -> f64 {
    deepest(one, |point| inside(other, point), other).max(deepest(
        other,
        |point| inside(one, point),
        one,
    ))
}

/// How far a polygon sticks out of another: the farthest that a point of its edge lies outside.
pub(crate) fn sticks_out(polygon: &[Point], room: &[Point]) -> f64 {
    deepest(polygon, |point| !inside(room, point), room)
}

/// Points along an edge that are looked at for depths: its ends and some between, as far apart as 1/8 of the longest edge.
fn deepest(points: &[Point], counts: impl Fn(Point) -> bool, other: &[Point]) -> f64 {
    let longest = edges(points).map(|(a, b)| long(b - a)).fold(0.0, f64::max);
    let apart = (longest / 8.0).max(1e-9);
    edges(points)
        .flat_map(|(a, b)| {
            let steps = (long(b - a) / apart).ceil().max(1.0) as usize;
            (0..steps).map(move |step| a.lerp(b, step as f64 / steps as f64))
        })
        .filter(|&point| counts(point))
        .map(|point| to_edge(other, point))
        .fold(0.0, f64::max)
}

/// Moved sideways: every edge outwards by `by` (counter-clockwise polygon), corners where the moved edges meet, but at most
/// ten times `by` away. For small amounts only: nothing is done about edges that vanish.
pub(crate) fn nudged_outwards(polygon: &[Point], by: f64) -> Polygon {
    let count = polygon.len();
    let normal = |a: Point, b: Point| {
        let along = (b - a) / long(b - a);
        Vec2::new(along.y, -along.x)
    };
    (0..count)
        .map(|i| {
            let (before, here, after) = (
                polygon[(i + count - 1) % count],
                polygon[i],
                polygon[(i + 1) % count],
            );
            let (first, second) = (normal(before, here), normal(here, after));
            let middle = first + second;
            let size = middle.hypot2();
            // Where both moved edges meet: 2 by / |n1 + n2|^2 along n1 + n2.
            let far = if size > 0.0 {
                (2.0 / size).min(10.0 / size.sqrt())
            } else {
                0.0
            };
            here + middle * (far * by)
        })
        .collect()
}
