//! Curves of DXF as cubics: bulges, arcs, ellipses, splines.

use petitoile_core::kurbo::{Affine, BezPath, CubicBez, ParamCurve, Point, Vec2};

use crate::bring_in;

/// How far a spline may be off, as a share of its size.
const SPLINE: f64 = 1e-6;

/// Points of a spline times its degree squared, at most: the work it is to read it.
const MOST_WORK: usize = 8_000_000;

/// Cubics of one spline at most.
const MOST_CUBICS: usize = 200_000;

/// Degree of a spline at most.
const DEGREE: usize = 15;

/// An arc of an ellipse: middle, half axes as vectors, from one parameter to the other, radians.
pub(super) fn elliptic(middle: Point, major: Vec2, minor: Vec2, from: f64, sweep: f64) -> BezPath {
    let to = Affine::new([major.x, major.y, minor.x, minor.y, middle.x, middle.y]);
    let mut path = BezPath::new();
    path.move_to(to * Vec2::from_angle(from).to_point());
    for [a, b, c] in bring_in::arc(to, from, sweep) {
        path.curve_to(a, b, c);
    }
    path
}

/// A part of a circle.
pub(super) fn round(middle: Point, radius: f64, from: f64, sweep: f64) -> BezPath {
    elliptic(
        middle,
        Vec2::new(radius, 0.0),
        Vec2::new(0.0, radius),
        from,
        sweep,
    )
}

/// Goes on to a point in an arc whose bulge is the tangent of a quarter of its angle, counter-clockwise.
pub(super) fn bulge_to(path: &mut BezPath, from: Point, to: Point, bulge: f64) {
    let chord = to - from;
    if bulge == 0.0 || !bulge.is_finite() || chord.hypot() == 0.0 {
        path.line_to(to);
        return;
    }
    let angle = 4.0 * libm::atan(bulge);
    // The middle lies beside the middle of the chord, to the left for a flat arc to the right.
    let off = (1.0 - bulge * bulge) / (4.0 * bulge);
    let middle = from.midpoint(to) + chord.turn_90() * off;
    let start = from - middle;
    if !start.is_finite() || 1e9 * chord.hypot() < start.hypot() {
        path.line_to(to);
        return;
    }
    let radius = start.hypot();
    let placed = Affine::translate(middle.to_vec2()) * Affine::scale(radius);
    let from = libm::atan2(start.y, start.x);
    let mut parts = bring_in::arc(placed, from, angle);
    if let Some([_, _, end]) = parts.last_mut() {
        *end = to;
    }
    for [a, b, c] in parts {
        path.curve_to(a, b, c);
    }
}

/// A spline as the file gives it.
#[derive(Debug, Clone, Default)]
pub(super) struct Spline {
    pub degree: usize,
    pub knots: Vec<f64>,
    pub weights: Vec<f64>,
    pub points: Vec<Point>,
}

/// A point with its weight; coordinates are multiplied by it.
#[derive(Debug, Clone, Copy)]
struct Weighted(f64, f64, f64);

impl Weighted {
    fn lerp(self, other: Self, t: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * t;
        Self(
            mix(self.0, other.0),
            mix(self.1, other.1),
            mix(self.2, other.2),
        )
    }

    fn point(self) -> Point {
        Point::new(self.0 / self.2, self.1 / self.2)
    }
}

impl Spline {
    /// The same as cubics; `None` when its figures do not fit together.
    ///
    /// Up to degree 3 without weights nothing is lost; others stay within a millionth of their size.
    pub(super) fn path(&self) -> Option<BezPath> {
        let (p, n) = (self.degree, self.points.len());
        let is_rational = !self.weights.is_empty();
        if !(1..=DEGREE).contains(&p) || n <= p || self.knots.len() != n + p + 1 {
            return None;
        }
        if MOST_WORK < n.saturating_mul(p * p) {
            return None;
        }
        if is_rational && (self.weights.len() != n || self.weights.iter().any(|w| *w <= 0.0)) {
            return None;
        }
        if !self
            .knots
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if a <= b))
        {
            return None;
        }
        let weight = |i: usize| self.weights.get(i).copied().unwrap_or(1.0);
        let control: Vec<Weighted> = (0..)
            .zip(&self.points)
            .map(|(i, at)| Weighted(at.x * weight(i), at.y * weight(i), weight(i)))
            .collect();
        let first = *self.points.first()?;
        let size = self
            .points
            .iter()
            .map(|at| at.distance(first))
            .fold(0.0, f64::max);
        let same_weight = self
            .weights
            .windows(2)
            .all(|w| matches!(w, [a, b] if a == b));
        let mut path = BezPath::new();
        for span in p..n {
            let (a, b) = (*self.knots.get(span)?, *self.knots.get(span + 1)?);
            if b <= a {
                continue;
            }
            let bezier: Vec<Weighted> = (0..=p)
                .map(|i| self.blossom(&control, span, a, b, i))
                .collect::<Option<_>>()?;
            if path.elements().is_empty() {
                path.move_to(bezier.first()?.point());
            }
            match *bezier.as_slice() {
                [_, to] if same_weight => path.line_to(to.point()),
                [_, c, to] if same_weight => path.quad_to(c.point(), to.point()),
                [_, c, d, to] if same_weight => path.curve_to(c.point(), d.point(), to.point()),
                _ => approached(&bezier, SPLINE * size.max(1e-300), 12, &mut path)?,
            }
        }
        let is_sound = path
            .elements()
            .iter()
            .all(petitoile_core::kurbo::PathEl::is_finite);
        (!path.elements().is_empty() && is_sound).then_some(path)
    }

    /// The value of the polar form of a span with `i` arguments `b` and the others `a`: a control point of its Bezier.
    fn blossom(
        &self,
        control: &[Weighted],
        span: usize,
        a: f64,
        b: f64,
        i: usize,
    ) -> Option<Weighted> {
        let p = self.degree;
        let mut d: Vec<Weighted> = control.get(span - p..=span)?.to_vec();
        for round in 1..=p {
            let u = if round <= i { b } else { a };
            for j in (round..=p).rev() {
                let low = *self.knots.get(j + span - p)?;
                let high = *self.knots.get(j + 1 + span - round)?;
                let t = if low < high {
                    (u - low) / (high - low)
                } else {
                    0.0
                };
                let (before, here) = (*d.get(j - 1)?, *d.get(j)?);
                *d.get_mut(j)? = before.lerp(here, t);
            }
        }
        d.get(p).copied()
    }
}

/// Cubics along a Bezier of any degree with weights, halved until they are near enough.
fn approached(bezier: &[Weighted], near: f64, halvings: u32, path: &mut BezPath) -> Option<()> {
    let p = bezier.len() as f64 - 1.0;
    let (first, second) = (bezier.first()?, bezier.get(1)?);
    let (last, last_but_one) = (bezier.last()?, bezier.get(bezier.len() - 2)?);
    let out = (second.point() - first.point()) * (p * second.2 / first.2);
    let home = (last.point() - last_but_one.point()) * (p * last_but_one.2 / last.2);
    let cubic = CubicBez::new(
        first.point(),
        first.point() + out / 3.0,
        last.point() - home / 3.0,
        last.point(),
    );
    let (left, right) = halves(bezier, 0.5);
    let is_near = [0.25, 0.5, 0.75].into_iter().all(|t| {
        let (_, from) = halves(bezier, t);
        from.first()
            .is_some_and(|at| at.point().distance(cubic.eval(t)) <= near)
    });
    if MOST_CUBICS < path.elements().len() {
        return None;
    }
    if is_near || halvings == 0 {
        path.curve_to(cubic.p1, cubic.p2, cubic.p3);
        return Some(());
    }
    approached(&left, near, halvings - 1, path)?;
    approached(&right, near, halvings - 1, path)
}

/// A Bezier split at a parameter.
fn halves(bezier: &[Weighted], t: f64) -> (Vec<Weighted>, Vec<Weighted>) {
    let mut row = bezier.to_vec();
    let (mut left, mut right) = (Vec::new(), Vec::new());
    while let (Some(first), Some(last)) = (row.first(), row.last()) {
        left.push(*first);
        right.push(*last);
        row = row
            .windows(2)
            .filter_map(|pair| match pair {
                [a, b] => Some(a.lerp(*b, t)),
                _ => None,
            })
            .collect();
    }
    right.reverse();
    (left, right)
}
