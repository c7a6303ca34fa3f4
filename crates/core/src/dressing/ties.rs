//! How long bands, sashes and kerchiefs must be to go round and be tied.
//!
//! Lengths in mm. The share of the girth is geometry; what a bow or knot takes is common practice, no source, and can
//! be typed.

use crate::body::Body;
use crate::measure::Measure;
use crate::units::Mm;

/// A bow: what one end needs beyond where both ends meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bow {
    /// Length of its loop, folded; 0 for a knot without loops.
    pub loop_: Mm,
    /// Length of the end that hangs.
    pub tail: Mm,
    /// Width of the band as it is tied.
    pub width: Mm,
}

impl Bow {
    /// What one end takes: there and back for the loop, its tail, and its half of the knot.
    pub fn length(self) -> Mm {
        Mm(2.0 * self.loop_.0 + self.tail.0 + knot(self.width).0)
    }

    /// The same band knotted without loops.
    #[must_use]
    pub fn knotted(self) -> Self {
        Self {
            loop_: Mm(0.0),
            ..self
        }
    }
}

/// What one end of a band of this width takes in a knot: four times its width. Common practice, no source.
pub fn knot(width: Mm) -> Mm {
    Mm(4.0 * width.0)
}

/// A bow in scale with a body: loop and tail 6 % of its height, for a band of this width. Proportion of our own, no
/// source.
pub fn usual_bow(body: &Body, width: Mm) -> Bow {
    let part = Mm(0.06 * body.mm(Measure::Height).0);
    Bow {
        loop_: part,
        tail: part,
        width,
    }
}

/// Each part of a two-part band that covers the front half of a girth and is tied where the ends meet behind:
/// a quarter of the girth + the bow.
///
/// # Source
/// Geometry, computed: half of the girth is left, each part covers half of that.
///
/// # Example
/// ```
/// # use petitoile_core::{Mm, dressing::{band_behind, band_returned}};
/// assert_eq!(band_behind(Mm(280.0), Mm(100.0)), Mm(170.0));
/// assert_eq!(band_returned(Mm(280.0), Mm(100.0)), Mm(310.0));
/// ```
pub fn band_behind(girth: Mm, bow: Mm) -> Mm {
    Mm(girth.0 / 4.0 + bow.0)
}

/// Each part of the same band when it is crossed behind and tied in front: three quarters of the girth + the bow.
///
/// # Source
/// Geometry, computed: a quarter to the centre back, half the girth on to the centre front.
pub fn band_returned(girth: Mm, bow: Mm) -> Mm {
    Mm(0.75 * girth.0 + bow.0)
}

/// A sash in one piece that goes round so many times and is tied with both ends.
pub fn sash(girth: Mm, turns: u32, bow: Mm) -> Mm {
    Mm(f64::from(turns) * girth.0 + 2.0 * bow.0)
}

/// The longest a sash may be before its ends hang further down than `drop` below the knot.
pub fn longest(girth: Mm, bow: Bow, drop: Mm) -> Mm {
    sash(girth, 1, Mm(2.0 * bow.loop_.0 + knot(bow.width).0 + drop.0))
}

/// The long edge of a square kerchief folded corner to corner: side x square root of 2.
pub fn kerchief_long_edge(side: Mm) -> Mm {
    Mm(side.0 * std::f64::consts::SQRT_2)
}

/// The side of a square kerchief whose long edge is this long when folded corner to corner.
pub fn kerchief_side(long_edge: Mm) -> Mm {
    Mm(long_edge.0 / std::f64::consts::SQRT_2)
}
