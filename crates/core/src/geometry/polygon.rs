//! Short straight lines in place of curves: winding, distance, the point deepest inside.
//!
//! Millimetres, y up. Knows no cloth.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use kurbo::{CubicBez, ParamCurve, Point, Rect, Vec2};

use crate::tolerance::MEASURING;

/// A closed polygon; the last corner is joined to the first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Polygon {
    corners: Vec<Point>,
}

/// Into how many straight pieces a cubic is cut so that none lies further than `tolerance` from it.
///
/// # Source
/// A chord of parameter length h lies within h^2/8 x the greatest second derivative of its curve (any text on interpolation).
pub fn pieces_of(c: &CubicBez, tolerance: f64) -> usize {
    let bend = (c.p0.to_vec2() - 2.0 * c.p1.to_vec2() + c.p2.to_vec2())
        .hypot2()
        .max((c.p1.to_vec2() - 2.0 * c.p2.to_vec2() + c.p3.to_vec2()).hypot2());
    let pieces = (0.75 * bend.sqrt() / tolerance.max(1e-6)).sqrt().ceil();
    if pieces.is_finite() {
        (pieces as usize).clamp(1, 500)
    } else {
        1
    }
}

impl Polygon {
    /// A polygon with these corners.
    pub fn new(corners: Vec<Point>) -> Self {
        Self { corners }
    }

    /// Curves joined end to end, replaced by chords within `tolerance` of them.
    pub fn from_chain(chain: &[CubicBez], tolerance: f64) -> Self {
        let mut corners = Vec::with_capacity(chain.len() * 4);
        for c in chain {
            let n = pieces_of(c, tolerance);
            corners.push(c.p0);
            corners.extend((1..n).map(|i| c.eval(i as f64 / n as f64)));
        }
        Self { corners }
    }

    /// The corners in order.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// Every side, from corner to corner.
    pub fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let n = self.corners.len();
        (0..n).map(move |i| (self.corners[i], self.corners[(i + 1) % n]))
    }

    /// Area inside, positive when counter-clockwise.
    pub fn area(&self) -> f64 {
        let Some(first) = self.corners.first() else {
            return 0.0;
        };
        self.sides()
            .map(|(a, b)| (a - *first).cross(b - *first))
            .sum::<f64>()
            / 2.0
    }

    /// How often the polygon goes counter-clockwise round the point.
    pub fn winding(&self, p: Point) -> i32 {
        let mut turns = 0;
        for (a, b) in self.sides() {
            if (a.y <= p.y) == (b.y <= p.y) {
                continue;
            }
            let left = (b - a).cross(p - a);
            if a.y <= p.y && left > 0.0 {
                turns += 1;
            } else if a.y > p.y && left < 0.0 {
                turns -= 1;
            }
        }
        turns
    }

    /// Distance of the point from the nearest side, mm.
    pub fn distance(&self, p: Point) -> f64 {
        self.sides()
            .map(|(a, b)| distance2_to_side(p, a, b))
            .fold(f64::INFINITY, f64::min)
            .sqrt()
    }

    /// Distance inside is positive, outside negative.
    pub fn depth(&self, p: Point) -> f64 {
        let distance = self.distance(p);
        if self.winding(p) == 0 {
            -distance
        } else {
            distance
        }
    }

    /// Smallest upright rectangle around the polygon.
    pub fn bounds(&self) -> Rect {
        let Some(first) = self.corners.first() else {
            return Rect::ZERO;
        };
        self.corners
            .iter()
            .fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p))
    }

    /// The point deepest inside, found to about 1 % of the polygon's size.
    ///
    /// Squares that cannot hold a deeper point than the best known one are dropped, the rest are quartered.
    pub fn deepest(&self) -> Point {
        let bounds = self.bounds();
        let size = bounds.width().max(bounds.height());
        let step = bounds.width().min(bounds.height()) / 2.0;
        if step <= MEASURING.0 || !size.is_finite() || size / step > 1e3 {
            return bounds.center();
        }
        let precision = size * 0.01;
        let mut best = (bounds.center(), self.depth(bounds.center()));
        let mut open = Vec::new();
        let (columns, rows) = (
            (bounds.width() / (2.0 * step)).ceil() as usize,
            (bounds.height() / (2.0 * step)).ceil() as usize,
        );
        for i in 0..columns {
            for j in 0..rows {
                open.push((
                    Point::new(
                        bounds.x0 + step * (2 * i + 1) as f64,
                        bounds.y0 + step * (2 * j + 1) as f64,
                    ),
                    step,
                ));
            }
        }
        for _ in 0..12 {
            let measured: Vec<(Point, f64, f64)> = open
                .iter()
                .map(|(at, half)| (*at, *half, self.depth(*at)))
                .collect();
            for (at, _, depth) in &measured {
                if *depth > best.1 {
                    best = (*at, *depth);
                }
            }
            open = measured
                .into_iter()
                .filter(|(_, half, depth)| {
                    depth + half * std::f64::consts::SQRT_2 > best.1 + precision
                })
                .flat_map(|(at, half, _)| {
                    let h = half / 2.0;
                    [(-h, -h), (h, -h), (-h, h), (h, h)].map(|d| (at + d, h))
                })
                .collect();
            if open.is_empty() || open.len() > 4000 {
                break;
            }
        }
        best.0
    }

    /// Where a straight line through `at` enters and leaves the inside around `at`; `None` when `at` is not inside.
    pub fn chord(&self, at: Point, along: Vec2) -> Option<(Point, Point)> {
        if self.winding(at) == 0 {
            return None;
        }
        let (mut back, mut ahead) = (f64::NEG_INFINITY, f64::INFINITY);
        for (a, b) in self.sides() {
            let (da, db) = (along.cross(a - at), along.cross(b - at));
            if (da <= 0.0) == (db <= 0.0) {
                continue;
            }
            let reach = (a.lerp(b, da / (da - db)) - at).dot(along);
            if reach >= 0.0 {
                ahead = ahead.min(reach);
            } else {
                back = back.max(reach);
            }
        }
        (back.is_finite() && ahead.is_finite()).then(|| (at + along * back, at + along * ahead))
    }
}

fn distance2_to_side(p: Point, a: Point, b: Point) -> f64 {
    let (d, v) = (b - a, p - a);
    let length2 = d.hypot2();
    if length2 <= 0.0 {
        return v.hypot2();
    }
    (v - d * (v.dot(d) / length2).clamp(0.0, 1.0)).hypot2()
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

    fn room() -> Polygon {
        // an L: a 100 x 40 bar with a 60 x 60 block on its right end
        Polygon::new(
            [
                (0.0, 0.0),
                (100.0, 0.0),
                (100.0, 100.0),
                (40.0, 100.0),
                (40.0, 40.0),
                (0.0, 40.0),
            ]
            .map(Point::from)
            .to_vec(),
        )
    }

    #[test]
    fn winding_and_area_of_an_l_shape() {
        assert_eq!(room().area(), 100.0 * 40.0 + 60.0 * 60.0);
        assert_eq!(room().winding(Point::new(10.0, 10.0)), 1);
        assert_eq!(room().winding(Point::new(10.0, 50.0)), 0);
    }

    #[test]
    fn the_deepest_point_of_an_l_lies_in_its_inner_corner_circle() {
        // the largest circle touches the bottom, the right side and the inner corner (40, 40):
        // centre (100 - r, r), r = (60 - r) sqrt 2 ... solved: distance to (40, 40) equals r
        let at = room().deepest();
        let depth = room().depth(at);
        let r = 60.0 + 40.0 - (2.0 * 60.0 * 40.0_f64).sqrt();
        assert!((depth - r).abs() < 1.5, "{depth} against {r}");
    }

    #[test]
    fn a_chord_ends_on_the_outline() {
        let (a, b) = room()
            .chord(Point::new(20.0, 20.0), Vec2::new(1.0, 0.0))
            .unwrap();
        assert_eq!((a, b), (Point::new(0.0, 20.0), Point::new(100.0, 20.0)));
        assert!(
            room()
                .chord(Point::new(10.0, 60.0), Vec2::new(1.0, 0.0))
                .is_none()
        );
    }

    #[test]
    fn chords_of_a_quarter_circle_keep_to_the_tolerance() {
        let k = 0.552_284_75 * 50.0;
        let c = CubicBez::new((50.0, 0.0), (50.0, k), (k, 50.0), (0.0, 50.0));
        for tolerance in [1.0, 0.1, 0.01] {
            let n = pieces_of(&c, tolerance);
            let worst = (0..1000)
                .map(|i| f64::from(i) / 1000.0)
                .map(|t| {
                    let i = (t * n as f64).floor();
                    let (a, b) = (c.eval(i / n as f64), c.eval((i + 1.0) / n as f64));
                    distance2_to_side(c.eval(t), a, b).sqrt()
                })
                .fold(0.0, f64::max);
            assert!(worst <= tolerance, "{worst} at {tolerance}");
        }
    }
}
