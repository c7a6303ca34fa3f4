//! A line moved sideways, and what is done with the moved line: extend, cut, turn round, mirror.
//!
//! A chain is a list of cubics, each starting where the one before ends. Distances are to the right of travel:
//! outwards on a counter-clockwise outline. Millimetres, y up. Knows no cloth.
#![allow(
    clippy::indexing_slicing,
    reason = "spots are only ever made for the chain they are used on"
)]

use kurbo::{Affine, CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

use super::curve::direction_on;

/// How far the fitted parallel may lie from the true one, mm: a tenth of [`crate::tolerance::DRAWING`].
pub const FIT: f64 = 0.005;

/// Directions that differ by less than this (radians) run on smoothly.
pub const SMOOTH: f64 = 1e-4;

/// A place on a chain: which cubic, and the parameter on it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Spot {
    /// Which cubic of the chain.
    pub cubic: usize,
    /// Parameter on it, 0 to 1.
    pub t: f64,
}

/// The direction to the right of `v`.
pub fn right_of(v: Vec2) -> Vec2 {
    Vec2::new(v.y, -v.x)
}

/// A straight line as a cubic, its control points at its thirds.
pub fn straight(from: Point, to: Point) -> CubicBez {
    CubicBez::new(from, from.lerp(to, 1.0 / 3.0), from.lerp(to, 2.0 / 3.0), to)
}

/// Is the cubic a straight line, within rounding?
pub fn is_straight(c: &CubicBez) -> bool {
    let d = c.p3 - c.p0;
    let length = d.hypot2().sqrt();
    let close = |p: Point| {
        let along = (p - c.p0).dot(d);
        (p - c.p0).cross(d).abs() <= 1e-9 * length.max(1.0) * length
            && (-1e-9..=length * length * (1.0 + 1e-9)).contains(&along)
    };
    length > 0.0 && close(c.p1) && close(c.p2)
}

/// Signed curvature of a cubic at `t`, 1/mm; positive where it turns left.
pub fn curvature(c: &CubicBez, t: f64) -> f64 {
    let d = c.deriv();
    let (v, a) = (d.eval(t).to_vec2(), d.deriv().eval(t).to_vec2());
    let speed2 = v.hypot2();
    if speed2 <= 1e-18 {
        0.0
    } else {
        v.cross(a) / (speed2 * speed2.sqrt())
    }
}

/// The chain moved to the right by `distance` (left when negative), within [`FIT`] of the true parallel.
///
/// Straight cubics move exactly. A curve is cut where its moved line has a cusp (its radius there equals the distance),
/// then fitted by cubics that have the true ends and the true end velocities; a piece whose measured deviation is too
/// large is halved.
pub fn parallel(chain: &[CubicBez], distance: f64) -> Vec<CubicBez> {
    let mut moved = Vec::with_capacity(chain.len() * 2);
    for c in chain {
        if distance == 0.0 {
            moved.push(*c);
        } else if is_straight(c) {
            let by = right_of(direction_on(c, 0.5)) * distance;
            moved.push(CubicBez::new(c.p0 + by, c.p1 + by, c.p2 + by, c.p3 + by));
        } else if c.p0 != c.p3 || c.p0 != c.p1 || c.p0 != c.p2 {
            let mut from = 0.0;
            for to in cusps(c, distance).into_iter().chain([1.0]) {
                fit(c, distance, from, to, 0, &mut moved);
                from = to;
            }
        }
    }
    moved
}

/// How fast the moved line runs against the line itself: negative where it runs backwards, zero at a cusp.
fn pace(c: &CubicBez, distance: f64, t: f64) -> f64 {
    1.0 + curvature(c, t) * distance
}

/// Parameters, in order, where the line moved by `distance` turns back.
pub fn cusps(c: &CubicBez, distance: f64) -> Vec<f64> {
    const LOOKS: usize = 16;
    let mut found = Vec::new();
    let mut before = (0.0, pace(c, distance, 0.0));
    for i in 1..=LOOKS {
        let t = i as f64 / LOOKS as f64;
        let now = (t, pace(c, distance, t));
        if (before.1 < 0.0) != (now.1 < 0.0) {
            let (mut lo, mut hi) = (before.0, t);
            for _ in 0..40 {
                let mid = 0.5 * (lo + hi);
                if (pace(c, distance, mid) < 0.0) == (before.1 < 0.0) {
                    lo = mid;
                } else {
                    hi = mid;
                }
            }
            let t = 0.5 * (lo + hi);
            if t > 1e-6 && t < 1.0 - 1e-6 {
                found.push(t);
            }
        }
        before = now;
    }
    found
}

fn fit(c: &CubicBez, distance: f64, from: f64, to: f64, depth: u32, moved: &mut Vec<CubicBez>) {
    let place = |t: f64| c.eval(t) + right_of(direction_on(c, t)) * distance;
    // at a cusp the velocity is zero: the bisection leaves a remainder without meaning
    let velocity = |t: f64| {
        let pace = pace(c, distance, t);
        let pace = if pace.abs() < 1e-9 { 0.0 } else { pace };
        c.deriv().eval(t).to_vec2() * pace * ((to - from) / 3.0)
    };
    let (a, b) = (place(from), place(to));
    let q = CubicBez::new(a, a + velocity(from), b - velocity(to), b);
    let good = [0.25, 0.5, 0.75]
        .iter()
        .all(|u| deviation(c, distance, from, to, q.eval(*u), *u) < 0.8 * FIT);
    if good || depth >= 10 {
        moved.push(q);
    } else {
        let mid = 0.5 * (from + to);
        fit(c, distance, from, mid, depth + 1, moved);
        fit(c, distance, mid, to, depth + 1, moved);
    }
}

/// How far `q` lies from the true parallel between two parameters, searched from the share `u` of them.
fn deviation(c: &CubicBez, distance: f64, from: f64, to: f64, q: Point, u: f64) -> f64 {
    let (d1, d2) = (c.deriv(), c.deriv().deriv());
    let mut t = from + u * (to - from);
    for _ in 0..3 {
        let (gap, v) = (c.eval(t) - q, d1.eval(t).to_vec2());
        let slope = v.hypot2() + gap.dot(d2.eval(t).to_vec2());
        if slope.abs() > 1e-12 {
            t = (t - gap.dot(v) / slope).clamp(from, to);
        }
    }
    let normal = right_of(direction_on(c, t));
    (q - (c.eval(t) + normal * distance)).hypot2().sqrt()
}

/// The chain walked the other way.
pub fn turned_round(chain: &[CubicBez]) -> Vec<CubicBez> {
    chain
        .iter()
        .rev()
        .map(|c| CubicBez::new(c.p3, c.p2, c.p1, c.p0))
        .collect()
}

/// The chain mirrored in a line through `at`.
pub fn mirrored(chain: &[CubicBez], at: Point, along: Vec2) -> Vec<CubicBez> {
    let mirror = Affine::reflect(at, along);
    chain.iter().map(|c| mirror * *c).collect()
}

/// The chain up to a spot.
pub fn up_to(chain: &[CubicBez], spot: Spot) -> Vec<CubicBez> {
    let mut head: Vec<CubicBez> = chain[..spot.cubic.min(chain.len())].to_vec();
    if let Some(c) = chain.get(spot.cubic)
        && spot.t > 1e-9
    {
        head.push(if spot.t >= 1.0 {
            *c
        } else {
            c.subsegment(0.0..spot.t)
        });
    }
    head
}

/// The chain from a spot on.
pub fn from_spot(chain: &[CubicBez], spot: Spot) -> Vec<CubicBez> {
    let mut tail = Vec::new();
    if let Some(c) = chain.get(spot.cubic)
        && spot.t < 1.0 - 1e-9
    {
        tail.push(if spot.t <= 0.0 {
            *c
        } else {
            c.subsegment(spot.t..1.0)
        });
    }
    tail.extend(chain.iter().skip(spot.cubic + 1));
    tail
}

/// The chain between two spots; empty when the second does not come after the first.
pub fn between(chain: &[CubicBez], from: Spot, to: Spot) -> Vec<CubicBez> {
    if to <= from {
        return Vec::new();
    }
    if from.cubic == to.cubic {
        return chain
            .get(from.cubic)
            .map(|c| c.subsegment(from.t..to.t))
            .into_iter()
            .collect();
    }
    let head = up_to(chain, to);
    from_spot(&head, from)
}

/// Every spot, in order, where the chain meets the endless line through `at` that runs square to `normal`.
pub fn meets_line(chain: &[CubicBez], at: Point, normal: Vec2) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    for (cubic, c) in chain.iter().enumerate() {
        let [a, b, d, e] = [c.p0, c.p1, c.p2, c.p3].map(|p| (p - at).dot(normal));
        // control points on one side: no root (a curve lies within them)
        if (a > 0.0 && b > 0.0 && d > 0.0 && e > 0.0) || (a < 0.0 && b < 0.0 && d < 0.0 && e < 0.0)
        {
            continue;
        }
        if is_straight(c) {
            let t = if (a - e).abs() > 0.0 {
                a / (a - e)
            } else {
                0.0
            };
            // the thirds of a straight cubic are its own: the parameter is the share of the way only then
            if (-1e-9..=1.0 + 1e-9).contains(&t)
                && (b - a - (e - a) / 3.0).abs() <= 1e-9 * (e - a).abs().max(1.0)
                && (d - a - (e - a) * 2.0 / 3.0).abs() <= 1e-9 * (e - a).abs().max(1.0)
            {
                spots.push(Spot {
                    cubic,
                    t: t.clamp(0.0, 1.0),
                });
                continue;
            }
        }
        let mut roots: Vec<f64> = kurbo::common::solve_cubic(
            a,
            3.0 * (b - a),
            3.0 * (a - 2.0 * b + d),
            e - 3.0 * d + 3.0 * b - a,
        )
        .into_iter()
        .filter(|t| (-1e-9..=1.0 + 1e-9).contains(t))
        .map(|t| polished(c, at, normal, t).clamp(0.0, 1.0))
        .collect();
        roots.sort_by(f64::total_cmp);
        spots.extend(roots.into_iter().map(|t| Spot { cubic, t }));
    }
    spots
}

/// A root brought as close as the arithmetic allows.
fn polished(c: &CubicBez, at: Point, normal: Vec2, mut t: f64) -> f64 {
    for _ in 0..2 {
        let slope = c.deriv().eval(t).to_vec2().dot(normal);
        let step = (c.eval(t) - at).dot(normal) / slope;
        if step.abs() < 1e-3 {
            t -= step;
        }
    }
    t
}

/// The point at a spot.
pub fn at_spot(chain: &[CubicBez], spot: Spot) -> Point {
    chain
        .get(spot.cubic)
        .map_or(Point::ZERO, |c| c.eval(spot.t))
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;
    use kurbo::ParamCurveNearest;
    use proptest::prelude::*;

    fn quarter(r: f64) -> CubicBez {
        let k = 0.552_284_749_8 * r;
        CubicBez::new((r, 0.0), (r, k), (k, r), (0.0, r))
    }

    #[test]
    fn a_straight_line_moves_exactly() {
        let moved = parallel(
            &[straight(Point::new(0.0, 0.0), Point::new(30.0, 0.0))],
            4.0,
        );
        assert_eq!(
            moved,
            [straight(Point::new(0.0, -4.0), Point::new(30.0, -4.0))]
        );
    }

    #[test]
    fn a_quarter_circle_moves_to_the_larger_and_the_smaller_circle() {
        // the source is itself within 0.027 % of the circle, so the ring is compared with the source's own radius
        for (r, distance) in [(10.0, 6.35), (50.0, 8.0), (100.0, -15.0), (5.0, -4.0)] {
            for c in parallel(&[quarter(r)], distance) {
                for i in 0..=20 {
                    let q = c.eval(f64::from(i) / 20.0);
                    let off = (q.to_vec2().hypot() - (r + distance)).abs();
                    assert!(
                        off < FIT + r * 0.000_28,
                        "{off} mm off at radius {r}, distance {distance}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_bend_tighter_than_the_distance_is_cut_at_its_cusps() {
        // walked clockwise the quarter bends to the right; 6 mm to the right of a 5 mm radius runs backwards all along
        let inner = turned_round(&[quarter(5.0)]);
        assert!(pace(&inner[0], 6.0, 0.5) < 0.0);
        // a parabola-like bend with its tightest radius in the middle has one cusp on each side
        let bend = CubicBez::new((-20.0, 20.0), (-5.0, -8.0), (5.0, -8.0), (20.0, 20.0));
        assert_eq!(cusps(&bend, -1.0).len(), 0);
        assert_eq!(cusps(&bend, -9.0).len(), 2);
    }

    proptest! {
        #[test]
        fn the_parallel_keeps_its_distance(
            p in prop::array::uniform3(-50.0..50.0f64), distance in 0.5..10.0f64,
        ) {
            // a gently bent curve: the end points far apart, the middle points bending it
            let c = CubicBez::new((0.0, 0.0), (40.0, p[0]), (80.0, p[1]), (120.0, p[2]));
            prop_assume!((0..=100).all(|i| pace(&c, distance, f64::from(i) / 100.0) > 0.2));
            for q in parallel(&[c], distance) {
                for i in 0..=10 {
                    let at = q.eval(f64::from(i) / 10.0);
                    let near = c.nearest(at, 1e-9);
                    if near.t < 1e-6 || near.t > 1.0 - 1e-6 {
                        continue;
                    }
                    let off = (near.distance_sq.sqrt() - distance).abs();
                    prop_assert!(off < FIT, "{off} mm off");
                }
            }
        }

        #[test]
        fn cutting_a_chain_at_a_line_leaves_its_end_on_the_line(h in 0.5..9.5f64, bend in -30.0..30.0f64) {
            let chain = [CubicBez::new((0.0, 0.0), (bend, 3.0), (-bend, 7.0), (4.0, 10.0))];
            let spots = meets_line(&chain, Point::new(0.0, h), Vec2::new(0.0, 1.0));
            prop_assert!(!spots.is_empty());
            let head = up_to(&chain, spots[0]);
            prop_assert!((head.last().unwrap().p3.y - h).abs() < 1e-6);
            let tail = from_spot(&chain, spots[0]);
            prop_assert!((tail[0].p0.y - h).abs() < 1e-6);
        }
    }
}
