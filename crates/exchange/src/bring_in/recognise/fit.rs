//! Smooth cubics through the points of a line that was drawn as many short chords.
//!
//! Least squares with fixed end tangents, parameters improved by Newton steps, halved where it does not hold (common
//! practice in drawing programs; own writing).
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use petitoile_core::geometry::parallel::straight;
use petitoile_core::kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

/// How far a fitted curve may lie from the points, mm.
pub(super) const FIT: f64 = 0.008;

/// Directions are taken from points at least this far away, mm, so that figures rounded to hundredths do not turn them.
const REACH: f64 = 1.0;

/// But over no more points than this.
const WINDOW: usize = 8;

/// Rounds of better parameters.
const ROUNDS: usize = 6;

/// Smooth cubics through the points, in order; tangents at the ends where they are known.
pub(super) fn through(points: &[Point], first: Option<Vec2>, last: Option<Vec2>) -> Vec<CubicBez> {
    let n = points.len();
    if n < 2 {
        return Vec::new();
    }
    if n == 2 {
        return vec![straight(points[0], points[1])];
    }
    let from = first.unwrap_or_else(|| end_tangent(points.iter()));
    let to = last.unwrap_or_else(|| -end_tangent(points.iter().rev()));
    let mut out = Vec::new();
    fit(points, from, to, &mut out, 24);
    out
}

/// Direction of the circle through three points at the middle one.
fn middle_tangent(a: Point, b: Point, c: Point) -> Vec2 {
    let (u, v) = (b - a, c - b);
    unit(u * v.hypot2() + v * u.hypot2())
}

/// Direction of travel at the first of some points: of the circle through it and two others far enough away that rounding
/// does not tell.
fn end_tangent<'a>(points: impl Iterator<Item = &'a Point>) -> Vec2 {
    let list: Vec<Point> = points.copied().take(2 * WINDOW + 1).collect();
    let last = list.len() - 1;
    let a = list[0];
    let far = |i: &usize| (list[*i] - a).hypot() >= 2.0 * REACH;
    let end = (2..=last).find(far).unwrap_or(last).max(2.min(last));
    let (b, c) = (list[end.div_ceil(2).min(last)], list[end]);
    let chord = unit(b - a);
    let middle = middle_tangent(a, b, c);
    unit(2.0 * middle.dot(chord) * chord - middle)
}

/// Direction at a point of a list, from neighbours far enough away.
fn tangent_at(points: &[Point], at: usize) -> Vec2 {
    let far = |i: &usize| (points[*i] - points[at]).hypot() >= REACH;
    let first = at.saturating_sub(WINDOW);
    let last = (at + WINDOW).min(points.len() - 1);
    let before = (first..at).rev().find(far).unwrap_or(first);
    let after = (at + 1..=last).find(far).unwrap_or(last);
    middle_tangent(points[before], points[at], points[after])
}

fn unit(v: Vec2) -> Vec2 {
    let long = v.hypot();
    if long > 0.0 { v / long } else { Vec2::ZERO }
}

fn fit(points: &[Point], from: Vec2, to: Vec2, out: &mut Vec<CubicBez>, depth: usize) {
    let n = points.len();
    if n == 2 || depth == 0 {
        // Steered by the tangents, so that smooth stays smooth.
        for pair in points.windows(2) {
            let long = (pair[1] - pair[0]).hypot() / 3.0;
            let (a, b) = if n == 2 {
                (pair[0] + from * long, pair[1] - to * long)
            } else {
                (
                    pair[0].lerp(pair[1], 1.0 / 3.0),
                    pair[0].lerp(pair[1], 2.0 / 3.0),
                )
            };
            out.push(CubicBez::new(pair[0], a, b, pair[1]));
        }
        return;
    }
    let mut at = by_length(points);
    let mut best: Option<(f64, usize, CubicBez)> = None;
    for _ in 0..ROUNDS {
        let c = least_squares(points, &at, from, to);
        let (worst, place) = furthest(points, &at, &c);
        if best.is_none_or(|b| worst < b.0) {
            best = Some((worst, place, c));
        }
        if worst <= FIT * 0.5 {
            break;
        }
        better(points, &mut at, &c);
    }
    let Some((worst, place, c)) = best else {
        return;
    };
    if worst <= FIT && stays_near(points, &c) {
        out.push(c);
        return;
    }
    let cut = if worst <= FIT { n / 2 } else { place }.clamp(1, n - 2);
    let tangent = tangent_at(points, cut);
    fit(&points[..=cut], from, tangent, out, depth - 1);
    fit(&points[cut..], tangent, to, out, depth - 1);
}

/// Does the curve keep to the length of the points, so that it makes no loop between them?
fn stays_near(points: &[Point], c: &CubicBez) -> bool {
    let long: f64 = points.windows(2).map(|p| (p[1] - p[0]).hypot()).sum();
    let legs = (c.p1 - c.p0).hypot() + (c.p2 - c.p1).hypot() + (c.p3 - c.p2).hypot();
    legs <= 1.6 * long
}

fn by_length(points: &[Point]) -> Vec<f64> {
    let mut at = Vec::with_capacity(points.len());
    let mut long = 0.0;
    at.push(0.0);
    for pair in points.windows(2) {
        long += (pair[1] - pair[0]).hypot();
        at.push(long);
    }
    at.iter_mut().for_each(|t| *t /= long.max(1e-12));
    at
}

fn least_squares(points: &[Point], at: &[f64], from: Vec2, to: Vec2) -> CubicBez {
    let (a, b) = (points[0], points[points.len() - 1]);
    let (mut c00, mut c01, mut c11, mut x0, mut x1) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (p, t) in points.iter().zip(at) {
        let s = 1.0 - t;
        let (b0, b1, b2, b3) = (s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t);
        let (u, v) = (from * b1, -to * b2);
        let rest = *p - (a.to_vec2() * (b0 + b1) + b.to_vec2() * (b2 + b3)).to_point();
        c00 += u.hypot2();
        c01 += u.dot(v);
        c11 += v.hypot2();
        x0 += u.dot(rest);
        x1 += v.dot(rest);
    }
    let det = c00 * c11 - c01 * c01;
    let chord = (b - a).hypot();
    let third = chord / 3.0;
    let (mut left, mut right) = if det.abs() > 1e-12 * c00 * c11 {
        ((x0 * c11 - x1 * c01) / det, (c00 * x1 - c01 * x0) / det)
    } else {
        (third, third)
    };
    if !(left > 1e-3 * chord && right > 1e-3 * chord) {
        (left, right) = (third, third);
    }
    CubicBez::new(a, a + from * left, b - to * right, b)
}

fn furthest(points: &[Point], at: &[f64], c: &CubicBez) -> (f64, usize) {
    let mut worst = (0.0, points.len() / 2);
    for (i, (p, t)) in points.iter().zip(at).enumerate() {
        let off = (c.eval(*t) - *p).hypot();
        if off > worst.0 {
            worst = (off, i);
        }
    }
    worst
}

/// One Newton step for every parameter towards the foot of its point.
fn better(points: &[Point], at: &mut [f64], c: &CubicBez) {
    let first = c.deriv();
    let second = first.deriv();
    for (p, t) in points.iter().zip(at.iter_mut()) {
        let off = c.eval(*t) - *p;
        let (d, dd) = (first.eval(*t).to_vec2(), second.eval(*t).to_vec2());
        let slope = d.hypot2() + off.dot(dd);
        if slope.abs() > 1e-12 {
            *t = (*t - off.dot(d) / slope).clamp(0.0, 1.0);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "tests")]
mod tests {
    use super::*;
    use petitoile_core::kurbo::ParamCurveNearest;

    #[test]
    fn a_quarter_circle_of_many_chords_becomes_few_cubics_within_a_hundredth() {
        for (radius, chords) in [(5.0, 12), (60.0, 40), (400.0, 300)] {
            let points: Vec<Point> = (0..=chords)
                .map(|i| {
                    let a = f64::from(i) / f64::from(chords) * std::f64::consts::FRAC_PI_2;
                    Point::new(radius * a.cos(), radius * a.sin())
                })
                .collect();
            let cubics = through(&points, None, None);
            assert!(cubics.len() <= 6, "{} cubics", cubics.len());
            for p in &points {
                let off = cubics
                    .iter()
                    .map(|c| c.nearest(*p, 1e-9).distance_sq.sqrt())
                    .fold(f64::INFINITY, f64::min);
                assert!(off <= 0.01, "{off} mm off at radius {radius}");
            }
            for c in &cubics {
                for i in 0..=20 {
                    let off = (c.eval(f64::from(i) / 20.0).to_vec2().hypot() - radius).abs();
                    assert!(off <= 0.01, "{off} mm from the circle of {radius}");
                }
            }
        }
    }
}
