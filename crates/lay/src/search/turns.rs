//! Which turns a part may lie in, and turns whose sine and cosine are the same on every machine.

use super::problem::{Grain, Part};

/// Turns of one part in one room.
#[derive(Clone, Debug)]
pub(crate) struct Turns {
    /// Middle of each allowed range: degrees as asked for, and radians for the engine.
    bases: Vec<(f64, f32)>,
    /// Half the width of each range, radians. 0: exactly the bases.
    spread: f32,
}

/// From here on every angle is allowed.
const ANY_DEG: f64 = 179.999;

impl Turns {
    pub(crate) fn new(part: &Part, grain: Grain) -> Self {
        let any = part.tolerance_deg >= ANY_DEG;
        let left = if any {
            180.0
        } else {
            (part.tolerance_deg - grain.doubt_deg.abs()).max(0.0)
        };
        let turns: &[f64] = if part.turns.is_empty() {
            &[0.0]
        } else {
            &part.turns
        };
        let turns = if any {
            turns.get(..1).unwrap_or(turns)
        } else {
            turns
        };
        // What rounding to f32 can add is taken off the range first.
        let spread = (left.to_radians() - 2e-6).max(0.0) as f32;
        let bases = turns
            .iter()
            .map(|turn| {
                let degrees = libm::remainder(turn + grain.angle_deg, 360.0);
                (degrees, steady(degrees.to_radians() as f32, 0.0, 1e-6))
            })
            .collect();
        Self { bases, spread }
    }

    /// Half the width of each allowed range, radians.
    pub(crate) fn spread(&self) -> f32 {
        self.spread
    }

    /// The middles of the allowed ranges, radians.
    pub(crate) fn bases(&self) -> impl ExactSizeIterator<Item = f32> + '_ {
        self.bases.iter().map(|base| base.1)
    }

    /// The middle number `index`.
    pub(crate) fn base(&self, index: usize) -> f32 {
        self.bases.get(index).map_or(0.0, |base| base.1)
    }

    /// The nearest allowed turn to a wished one, radians.
    pub(crate) fn allowed(&self, wished: f32) -> f32 {
        let base = self.nearest(f64::from(wished)).1;
        if self.spread <= 0.0 {
            return base;
        }
        let off = wrapped(wished - base).clamp(-self.spread, self.spread);
        steady(base + off, -off.signum(), self.spread * 0.5)
    }

    /// How far a turn is off the nearest middle, radians.
    pub(crate) fn off(&self, turn: f32) -> f32 {
        wrapped(turn - self.nearest(f64::from(turn)).1).abs()
    }

    /// The turn as it is told to others, degrees: exact where only exact turns are allowed.
    pub(crate) fn told(&self, turn: f32) -> f64 {
        if self.spread <= 0.0 {
            self.nearest(f64::from(turn)).0
        } else {
            f64::from(turn).to_degrees()
        }
    }

    fn nearest(&self, turn: f64) -> (f64, f32) {
        let far = |base: &(f64, f32)| {
            libm::remainder(turn - base.0.to_radians(), std::f64::consts::TAU).abs()
        };
        self.bases
            .iter()
            .copied()
            .min_by(|a, b| far(a).total_cmp(&far(b)))
            .unwrap_or((0.0, 0.0))
    }
}

/// Between minus and plus half a turn.
fn wrapped(turn: f32) -> f32 {
    libm::remainder(f64::from(turn), std::f64::consts::TAU) as f32
}

/// A turn at most `reach` from the wished one (towards `side`, or to both sides when that is 0) whose sine and cosine lie well
/// between two roundings to f32.
///
/// The collision engine takes them from the machine's own f32 functions, which may differ in the last bit from machine to machine
/// where the true value lies near the middle between two f32. So that the same seed gives the same plan everywhere, such turns
/// are not used.
fn steady(wished: f32, side: f32, reach: f32) -> f32 {
    let mut turn = wished;
    for attempt in 1..60_u8 {
        let (sin, cos) = libm::sincos(f64::from(turn));
        if firm(sin) && firm(cos) {
            return turn;
        }
        let by = f32::from(attempt) * f32::from(attempt) * 1e-7;
        if by > reach {
            break;
        }
        turn = match side {
            side if side != 0.0 => wished + side * by,
            _ if attempt % 2 == 0 => wished + by,
            _ => wished - by,
        };
    }
    wished
}

fn firm(value: f64) -> bool {
    let near = value as f32;
    let gap = f64::from(near.abs().next_up() - near.abs());
    (value - f64::from(near)).abs() < 0.35 * gap
}
