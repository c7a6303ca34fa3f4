//! Lines joined end to end, walked by the fraction of their whole length; lengths are measured once.

use kurbo::common::GAUSS_LEGENDRE_COEFFS_8;
use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

use crate::geometry::curve::{Line, direction_on};
use crate::tolerance::MEASURING;

use super::fit::Place;

const EXACT: f64 = MEASURING.0 * 1e-3;

/// Parts in which a cubic is measured beforehand.
const PARTS: u32 = 8;

/// A chain of cubics, measured.
#[derive(Debug, Clone)]
pub(super) struct Walk {
    cubics: Vec<Measured>,
    pub length: f64,
}

/// A cubic, the length before it, and its own length up to each of its parts.
#[derive(Debug, Clone)]
struct Measured {
    cubic: CubicBez,
    before: f64,
    /// `PARTS + 1` lengths from its start; the last is its own.
    lengths: Vec<f64>,
    /// How fast the cubic runs at each of those places, mm for each 1 of its parameter.
    speeds: Vec<f64>,
    is_even: bool,
}

impl Walk {
    /// `None` when there is nothing to walk.
    pub fn new<'a>(lines: impl IntoIterator<Item = &'a Line>) -> Option<Self> {
        let mut length = 0.0;
        let mut cubics = Vec::new();
        for line in lines {
            for cubic in line.cubics() {
                let measured = Measured::new(cubic, length);
                length += measured.own();
                cubics.push(measured);
            }
        }
        (length > MEASURING.0).then_some(Self { cubics, length })
    }

    /// The point at a fraction, and its derivative after the fraction.
    pub fn at(&self, fraction: f64) -> Place {
        let rest = fraction.clamp(0.0, 1.0) * self.length;
        let found = self
            .cubics
            .iter()
            .find(|c| rest <= c.before + c.own())
            .or(self.cubics.last());
        let Some(found) = found else {
            return Place {
                at: Point::ZERO,
                slope: Vec2::ZERO,
            };
        };
        let t = found.parameter(rest - found.before);
        Place {
            at: found.cubic.eval(t),
            slope: direction_on(&found.cubic, t) * self.length,
        }
    }

    /// Fractions where one cubic ends and the next begins, with 0 and 1.
    pub fn joints(&self) -> Vec<f64> {
        let mut joints: Vec<f64> = self.cubics.iter().map(|c| c.before / self.length).collect();
        joints.push(1.0);
        joints
    }
}

impl Measured {
    fn new(cubic: CubicBez, before: f64) -> Self {
        let part = |i: u32| f64::from(i) / f64::from(PARTS);
        let mut length = 0.0;
        let mut lengths = vec![length];
        for i in 0..PARTS {
            length += length_between(&cubic, part(i), part(i + 1));
            lengths.push(length);
        }
        let deriv = cubic.deriv();
        let speed = |i: u32| deriv.eval(part(i)).to_vec2().hypot().max(f64::MIN_POSITIVE);
        let speeds = (0..=PARTS).map(speed).collect();
        let third = (cubic.p3 - cubic.p0) / 3.0;
        let is_even = (cubic.p0 + third - cubic.p1).hypot() < EXACT
            && (cubic.p3 - third - cubic.p2).hypot() < EXACT;
        Self {
            cubic,
            before,
            lengths,
            speeds,
            is_even,
        }
    }

    fn own(&self) -> f64 {
        self.lengths.last().copied().unwrap_or(0.0)
    }

    /// Parameter at a length along the cubic; closed form where it is straight with even thirds.
    fn parameter(&self, along: f64) -> f64 {
        let own = self.own();
        if along <= 0.0 || own <= 0.0 {
            return 0.0;
        }
        if along >= own {
            return 1.0;
        }
        if self.is_even {
            return along / own;
        }
        let next = self
            .lengths
            .iter()
            .position(|length| along < *length)
            .unwrap_or(PARTS as usize);
        let at = |list: &[f64], i: usize| list.get(i).copied().unwrap_or(own);
        let before = next.saturating_sub(1);
        let (low, high) = (at(&self.lengths, before), at(&self.lengths, next));
        let (from, to) = (
            (next as f64 - 1.0) / f64::from(PARTS),
            next as f64 / f64::from(PARTS),
        );
        let deriv = self.cubic.deriv();
        let speed = |t: f64| deriv.eval(t).to_vec2().hypot().max(f64::MIN_POSITIVE);
        // Begun where a cubic through both ends of the part, as fast there as the line is, has this length.
        let (part, share) = (
            high - low,
            (along - low) / (high - low).max(f64::MIN_POSITIVE),
        );
        let steep = |i: usize| (part / at(&self.speeds, i)).min(3.0 * (to - from));
        let rest = 1.0 - share;
        let mut t = from
            + (to - from) * share * share * (3.0 - 2.0 * share)
            + share * rest * (rest * steep(before) - share * steep(next));
        for _ in 0..4 {
            let off = low + length_between(&self.cubic, from, t) - along;
            t = (t - off / speed(t)).clamp(from, to);
            // So near, the step has left nothing that counts: what is left goes by the square.
            if off.abs() < EXACT {
                break;
            }
        }
        t
    }
}

/// Length of a cubic between two parameters (Gauss and Legendre, 8 points: plenty for an eighth of a cubic).
fn length_between(cubic: &CubicBez, from: f64, to: f64) -> f64 {
    let half = (to - from) / 2.0;
    let deriv = cubic.deriv();
    let speed = |x: f64| deriv.eval(from + half * (1.0 + x)).to_vec2().hypot();
    GAUSS_LEGENDRE_COEFFS_8
        .iter()
        .map(|(weight, x)| weight * speed(*x))
        .sum::<f64>()
        * half
}

/// Sorted values inside two bounds, the bounds among them, near doubles merged.
pub(super) fn knots(values: impl IntoIterator<Item = f64>, from: f64, to: f64) -> Vec<f64> {
    const NEAR: f64 = 1e-7;
    let mut inner: Vec<f64> = values
        .into_iter()
        .filter(|x| from + NEAR < *x && *x < to - NEAR)
        .collect();
    inner.sort_by(f64::total_cmp);
    let mut knots = vec![from];
    for x in inner {
        if knots.last().is_some_and(|last| x - last > NEAR) {
            knots.push(x);
        }
    }
    knots.push(to);
    knots
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    /// Against the arc length of the geometry library.
    #[test]
    fn a_walk_finds_the_same_places_as_the_arc_length_of_the_library() {
        let points = [
            (0.0, 0.0),
            (10.0, 40.0),
            (60.0, -20.0),
            (80.0, 30.0),
            (90.0, 55.0),
            (95.0, 60.0),
            (140.0, 61.0),
        ];
        let line = Line::new(points.map(Point::from).to_vec()).unwrap();
        let walk = Walk::new([&line]).unwrap();
        assert!(
            (walk.length - line.length()).abs() < 1e-6,
            "{} and {}",
            walk.length,
            line.length()
        );
        for i in 0..=40 {
            let at = f64::from(i) / 40.0;
            let off = (walk.at(at).at - line.at(at)).hypot();
            assert!(off < 1e-5, "{off} mm off at {at}");
        }
    }
}
