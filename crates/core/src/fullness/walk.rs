//! Lines joined end to end, walked by the fraction of their whole length; lengths are measured once.

use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, Point, Vec2};

use crate::geometry::curve::{Line, direction_on};
use crate::tolerance::MEASURING;

use super::fit::Place;

const EXACT: f64 = MEASURING.0 * 1e-3;

/// A chain of cubics with the length before each.
#[derive(Debug, Clone)]
pub(super) struct Walk {
    /// Cubic, length before it, its own length.
    cubics: Vec<(CubicBez, f64, f64)>,
    pub length: f64,
}

impl Walk {
    /// `None` when there is nothing to walk.
    pub fn new<'a>(lines: impl IntoIterator<Item = &'a Line>) -> Option<Self> {
        let mut length = 0.0;
        let mut cubics = Vec::new();
        for cubic in lines
            .into_iter()
            .flat_map(|line| line.cubics().collect::<Vec<_>>())
        {
            let own = cubic.arclen(EXACT);
            cubics.push((cubic, length, own));
            length += own;
        }
        (length > MEASURING.0).then_some(Self { cubics, length })
    }

    /// The point at a fraction, and its derivative after the fraction.
    pub fn at(&self, fraction: f64) -> Place {
        let rest = fraction.clamp(0.0, 1.0) * self.length;
        let found = self
            .cubics
            .iter()
            .find(|(_, before, own)| rest <= before + own)
            .or(self.cubics.last());
        let Some((cubic, before, own)) = found else {
            return Place {
                at: Point::ZERO,
                slope: Vec2::ZERO,
            };
        };
        let t = parameter(cubic, rest - before, *own);
        Place {
            at: cubic.eval(t),
            slope: direction_on(cubic, t) * self.length,
        }
    }

    /// Fractions where one cubic ends and the next begins, with 0 and 1.
    pub fn joints(&self) -> Vec<f64> {
        let mut joints: Vec<f64> = self
            .cubics
            .iter()
            .map(|(_, before, _)| before / self.length)
            .collect();
        joints.push(1.0);
        joints
    }
}

/// Parameter at a length along a cubic; closed form where it is straight with even thirds.
fn parameter(c: &CubicBez, along: f64, own: f64) -> f64 {
    if along <= 0.0 || own <= 0.0 {
        return 0.0;
    }
    if along >= own {
        return 1.0;
    }
    let third = (c.p3 - c.p0) / 3.0;
    if (c.p0 + third - c.p1).hypot() < EXACT && (c.p3 - third - c.p2).hypot() < EXACT {
        return along / own;
    }
    c.inv_arclen(along, EXACT)
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
