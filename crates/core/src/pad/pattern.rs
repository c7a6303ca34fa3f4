//! How a pad is cut, sewn and stuffed.

use super::{Pad, PadMiddle};
use crate::machine::Machine;
use crate::units::Mm;

/// Wadding pressed under the foot takes up about a third of its loft: common practice, no source.
pub const LOFT: f64 = 3.0;

/// A stuffed roll thinner than this can hardly be turned right side out through its end: common practice, no source.
pub const SMALLEST_TURNED: Mm = Mm(8.0);

/// The shape a pad is stuffed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PadShape {
    /// A roll that tapers to a point at both ends, round in section: it lies round the body as a crescent.
    Crescent,
    /// A roll all round the body, closed to a ring.
    Ring,
}

/// How a pad is cut, sewn and stuffed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PadPattern {
    /// The shape it is stuffed to.
    pub shape: PadShape,
    /// How many such pads are made: two for both sides.
    pub count: u32,
    /// Length of one along the body.
    pub length: Mm,
    /// Width of each of the two pieces of one crescent where it is widest, or of the one strip of a ring; no allowance.
    pub width: Mm,
    /// Volume of the stuffing of all of them, ml (1 ml is 1000 cubic mm).
    pub volume_ml: f64,
    /// Length of seam of all of them.
    pub seam: Mm,
    /// Loft of wadding that the machine still quilts between two layers of its cloth.
    pub quiltable: Mm,
}

impl Pad {
    /// How it is cut, sewn and stuffed, where the body and what lies under the pad measure `girth` round.
    ///
    /// A crescent is taken for a spindle: length L along the body, round in section, its thickness p falling off to both
    /// ends as an ellipse does; two equal pieces, each as wide at every place as half the section's girth:
    /// volume `pi/6 L p^2`, the seam is the outline of an ellipse of L by `pi/2 p`. A ring is a tube of thickness p round
    /// the body: volume `pi/4 p^2 (girth + pi p)`, sewn along the tube and once across.
    ///
    /// What can be quilted: two layers of cloth and the wadding, pressed to a third of its loft, must pass under the foot
    /// ([`Machine::thickest`]); both common practice, no source.
    ///
    /// # Source
    /// Geometry of our own.
    pub fn pattern(&self, girth: Mm, cloth: Mm, machine: &Machine) -> PadPattern {
        use std::f64::consts::PI;
        let p = self.projection.0;
        let quiltable = Mm(((machine.thickest.0 - 2.0 * cloth.0) * LOFT).max(0.0));
        if self.share >= 1.0 {
            let length = girth.0 + PI * p;
            return PadPattern {
                shape: PadShape::Ring,
                count: 1,
                length: Mm(length),
                width: Mm(PI * p),
                volume_ml: PI / 4.0 * p * p * length / 1000.0,
                seam: Mm(length + PI * p),
                quiltable,
            };
        }
        let count = if self.middle == PadMiddle::Sides {
            2
        } else {
            1
        };
        let length = self.share * girth.0 / f64::from(count);
        let width = PI / 2.0 * p;
        PadPattern {
            shape: PadShape::Crescent,
            count,
            length: Mm(length),
            width: Mm(width),
            volume_ml: f64::from(count) * PI / 6.0 * length * p * p / 1000.0,
            seam: Mm(f64::from(count) * round_ellipse(length / 2.0, width / 2.0)),
            quiltable,
        }
    }
}

/// The way round an ellipse with these half axes, by even steps of its angle (exact to 1e-9 for lengths like these).
fn round_ellipse(a: f64, b: f64) -> f64 {
    const STEPS: u32 = 720;
    let step = std::f64::consts::TAU / f64::from(STEPS);
    (0..STEPS)
        .map(|i| {
            let (sin, cos) = libm::sincos(f64::from(i) * step);
            (a * sin).hypot(b * cos) * step
        })
        .sum()
}
