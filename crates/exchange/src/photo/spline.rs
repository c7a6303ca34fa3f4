//! A smooth line through many noisy points: a cubic B-spline by least squares, its knots where they are needed.
//!
//! The points vote over the whole line at once, so it is smoother than any of them and has no kinks where cubics meet
//! (unlike curves that are fitted one after the other). Basis and blossom: de Boor, A Practical Guide to Splines, 1978;
//! from memory, proved by the tests.
#![allow(
    clippy::indexing_slicing,
    clippy::needless_range_loop,
    reason = "knots, coefficients and matrices are made here, their sizes are proven by `Knots`"
)]

use petitoile_core::kurbo::{CubicBez, Point};

/// Weight of evenness beside that of a point: only there where a span has too few points.
const EVEN: f64 = 1e-5;

/// Where the cubics of a spline meet, 0 to 1.
#[derive(Debug, Clone)]
pub(super) struct Knots {
    /// From 0 to 1, strictly rising, two at least.
    breaks: Vec<f64>,
    is_closed: bool,
    /// The breaks with three more to either side.
    all: Vec<f64>,
}

impl Knots {
    /// So many spans of the same length.
    pub fn even(spans: usize, is_closed: bool) -> Self {
        let spans = spans.max(1);
        let breaks = (0..=spans).map(|i| i as f64 / spans as f64).collect();
        Self::new(breaks, is_closed)
    }

    fn new(breaks: Vec<f64>, is_closed: bool) -> Self {
        let spans = breaks.len() - 1;
        let at = |i: isize| {
            let turns = i.div_euclid(spans as isize);
            let rest = breaks[i.rem_euclid(spans as isize) as usize];
            if is_closed {
                rest + turns as f64
            } else if i <= 0 {
                0.0
            } else if i >= spans as isize {
                1.0
            } else {
                rest
            }
        };
        let all = (-3..spans as isize + 4).map(at).collect();
        Self {
            breaks,
            is_closed,
            all,
        }
    }

    /// How many cubics.
    pub fn spans(&self) -> usize {
        self.breaks.len() - 1
    }

    /// Start and end of a span.
    pub fn span(&self, n: usize) -> (f64, f64) {
        (self.breaks[n], self.breaks[n + 1])
    }

    /// The span that a place is in.
    pub fn span_at(&self, t: f64) -> usize {
        let after = self.breaks.partition_point(|b| *b <= t);
        after.saturating_sub(1).min(self.spans() - 1)
    }

    /// The same with some of its spans halved.
    #[must_use]
    pub fn halved(&self, is_halved: impl Fn(usize) -> bool) -> Self {
        let mut breaks = vec![self.breaks[0]];
        for n in 0..self.spans() {
            let (from, to) = self.span(n);
            if is_halved(n) {
                breaks.push((from + to) / 2.0);
            }
            breaks.push(to);
        }
        Self::new(breaks, self.is_closed)
    }

    fn count(&self) -> usize {
        if self.is_closed {
            self.spans()
        } else {
            self.spans() + 3
        }
    }

    /// Number of a coefficient: the fourth of a span and the three before it.
    fn number(&self, span: usize, nth: usize) -> usize {
        (span + nth) % self.count()
    }

    /// The weights of the four coefficients of a span at a place in it.
    fn weights(&self, span: usize, t: f64) -> [f64; 4] {
        let knot = |i: usize| self.all[span + i];
        let mut weights = [1.0, 0.0, 0.0, 0.0];
        for r in 1..=3 {
            let mut saved = 0.0;
            for s in 0..r {
                let (right, left) = (knot(3 + s + 1), knot(3 + 1 + s - r));
                let share = weights[s] / (right - left);
                weights[s] = saved + (right - t) * share;
                saved = (t - left) * share;
            }
            weights[r] = saved;
        }
        weights
    }
}

/// A spline.
#[derive(Debug, Clone)]
pub(super) struct Spline {
    knots: Knots,
    coefficients: Vec<Point>,
}

impl Spline {
    /// The spline that lies nearest to points at places from 0 to 1 (sum of squares); an open one starts and ends at `ends`.
    /// `None` when there are too few points.
    pub fn fit(
        knots: Knots,
        places: &[(f64, Point)],
        ends: Option<(Point, Point)>,
    ) -> Option<Self> {
        let n = knots.count();
        if knots.is_closed && knots.spans() < 4 {
            return None;
        }
        let mut matrix = vec![0.0; n * n];
        let mut right = vec![[0.0; 2]; n];
        for (t, p) in places {
            let span = knots.span_at(*t);
            let weights = knots.weights(span, *t);
            for (a, wa) in weights.iter().enumerate() {
                let row = knots.number(span, a);
                right[row][0] += wa * p.x;
                right[row][1] += wa * p.y;
                for (b, wb) in weights.iter().enumerate() {
                    matrix[row * n + knots.number(span, b)] += wa * wb;
                }
            }
        }
        let even = EVEN * places.len() as f64 / n as f64;
        let rows = if knots.is_closed { n } else { n - 2 };
        for i in 0..rows {
            let of = [(i, 1.0), ((i + 1) % n, -2.0), ((i + 2) % n, 1.0)];
            for (a, wa) in of {
                for (b, wb) in of {
                    matrix[a * n + b] += even * wa * wb;
                }
            }
        }
        if let (false, Some((from, to))) = (knots.is_closed, ends) {
            fix(&mut matrix, &mut right, n, 0, from);
            fix(&mut matrix, &mut right, n, n - 1, to);
        }
        solve(&mut matrix, &mut right, n)?;
        let coefficients = right.iter().map(|[x, y]| Point::new(*x, *y)).collect();
        Some(Self {
            knots,
            coefficients,
        })
    }

    /// Its knots.
    pub fn knots(&self) -> &Knots {
        &self.knots
    }

    /// The point at a place.
    pub fn at(&self, t: f64) -> Point {
        let span = self.knots.span_at(t);
        self.blossom(span, [t; 3])
    }

    /// What the points of a cubic are made of: the spline's cubic, each of its three degrees at a place of its own.
    fn blossom(&self, span: usize, places: [f64; 3]) -> Point {
        let knot = |i: usize| self.knots.all[span + i];
        let mut d = [0, 1, 2, 3].map(|i| self.coefficients[self.knots.number(span, i)]);
        for (r, t) in places.into_iter().enumerate() {
            for i in (r + 1..4).rev() {
                let (from, to) = (knot(i), knot(i + 3 - r));
                d[i] = d[i - 1].lerp(d[i], (t - from) / (to - from));
            }
        }
        d[3]
    }

    /// The cubic of a span.
    pub fn cubic(&self, span: usize) -> CubicBez {
        let (from, to) = self.knots.span(span);
        let at = |a, b, c| self.blossom(span, [a, b, c]);
        CubicBez::new(
            at(from, from, from),
            at(from, from, to),
            at(from, to, to),
            at(to, to, to),
        )
    }

    /// All of its cubics.
    pub fn cubics(&self) -> Vec<CubicBez> {
        (0..self.knots.spans()).map(|n| self.cubic(n)).collect()
    }
}

/// Sets one unknown.
fn fix(matrix: &mut [f64], right: &mut [[f64; 2]], n: usize, which: usize, p: Point) {
    for row in 0..n {
        let by = matrix[row * n + which];
        right[row][0] -= by * p.x;
        right[row][1] -= by * p.y;
        matrix[row * n + which] = 0.0;
        matrix[which * n + row] = 0.0;
    }
    matrix[which * n + which] = 1.0;
    right[which] = [p.x, p.y];
}

/// Cholesky: the answer takes the place of the right side.
fn solve(matrix: &mut [f64], right: &mut [[f64; 2]], n: usize) -> Option<()> {
    for j in 0..n {
        for i in j..n {
            let mut sum = matrix[i * n + j];
            for k in 0..j {
                sum -= matrix[i * n + k] * matrix[j * n + k];
            }
            if i == j {
                if sum.is_nan() || sum <= 0.0 {
                    return None;
                }
                matrix[j * n + j] = sum.sqrt();
            } else {
                matrix[i * n + j] = sum / matrix[j * n + j];
            }
        }
    }
    for c in 0..2 {
        for i in 0..n {
            let sum: f64 = (0..i).map(|k| matrix[i * n + k] * right[k][c]).sum();
            right[i][c] = (right[i][c] - sum) / matrix[i * n + i];
        }
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|k| matrix[k * n + i] * right[k][c]).sum();
            right[i][c] = (right[i][c] - sum) / matrix[i * n + i];
        }
    }
    right.iter().flatten().all(|x| x.is_finite()).then_some(())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_is_found_again_exactly_whatever_the_knots() {
        let cubic = |t: f64| Point::new(3.0 * t + t * t * t, 2.0 - t * t);
        let places: Vec<(f64, Point)> = (0..=60)
            .map(|i| f64::from(i) / 60.0)
            .map(|t| (t, cubic(t)))
            .collect();
        let uneven = Knots::even(3, false).halved(|n| n == 1);
        let ends = (cubic(0.0), cubic(1.0));
        let spline = Spline::fit(uneven, &places, Some(ends)).unwrap();
        for (t, p) in &places {
            // Evenness draws a little.
            assert!((spline.at(*t) - *p).hypot() < 1e-4, "{t}");
        }
        let parts = spline.cubics();
        assert_eq!(parts.len(), 4);
        assert_eq!(parts[0].p0, ends.0);
        assert_eq!(parts[3].p3, ends.1);
        assert!((parts[1].p0 - cubic(1.0 / 3.0)).hypot() < 1e-4);
    }

    #[test]
    fn a_closed_spline_runs_round_a_circle() {
        let circle = |t: f64| {
            let turn = t * std::f64::consts::TAU;
            Point::new(50.0 * turn.cos(), 50.0 * turn.sin())
        };
        let places: Vec<(f64, Point)> = (0..200)
            .map(|i| f64::from(i) / 200.0)
            .map(|t| (t, circle(t)))
            .collect();
        let spline = Spline::fit(Knots::even(16, true), &places, None).unwrap();
        let parts = spline.cubics();
        for (part, next) in parts.iter().zip(parts.iter().cycle().skip(1)) {
            assert!((part.p3 - next.p0).hypot() < 1e-9);
            assert!(((part.p3 - part.p2) - (next.p1 - next.p0)).hypot() < 1e-9);
        }
        for i in 0..100 {
            let off = spline.at(f64::from(i) / 100.0).to_vec2().hypot() - 50.0;
            assert!(off.abs() < 0.003, "{off}");
        }
    }
}
