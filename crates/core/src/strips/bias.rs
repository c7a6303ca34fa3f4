//! Bias strips, binding, piping, and the circle: closed forms.
//!
//! Lengths in mm. Sources stand beside each rule; the table of examples checks them.

use std::f64::consts::{SQRT_2, TAU};

use crate::units::Mm;

/// A square of cloth for a length of bias strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BiasSquare {
    /// Side by area alone.
    pub side: Mm,
    /// The next whole inch or centimetre.
    pub cut_side: Mm,
}

/// A tube cut round and round to one long bias strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ContinuousBias {
    /// How many widths lie across the parallelogram.
    pub strips: u32,
    /// Side of the square to cut.
    pub side: Mm,
    /// Length it gives.
    pub length: Mm,
}

/// Length of bias strip in a piece of cloth: `area / width`. Joins not counted.
///
/// # Source
/// 20 in square, 2 in strip: 200 in (home-furnishing forum); 12 in, 2 in: 72 in (quilting answer page). Secondary.
pub fn bias_length(long: Mm, wide: Mm, strip: Mm) -> Mm {
    Mm(long.0 * wide.0 / strip.0)
}

/// The square that gives a length of bias strip: `side = sqrt(length x width)`, rounded up to a whole `step`.
///
/// # Source
/// 250 in of 2 in: 22.36, cut 23 in; 100 in of 3 1/2 in: 18.71, cut 19 in (quilting answer pages). Secondary.
pub fn bias_square(length: Mm, strip: Mm, step: Mm) -> BiasSquare {
    let side = (length.0 * strip.0).sqrt();
    BiasSquare {
        side: Mm(side),
        cut_side: Mm((side / step.0 - 1e-9).ceil() * step.0),
    }
}

/// The square to sew to a tube and cut round and round: `n = ceil(sqrt(length / (2 width)))`,
/// `side = n x width x sqrt 2 + 2 seam`, which gives `2 n^2 width`.
///
/// # Source
/// 98 in of 1 in with 1/4 in seams: 7 strips, 10.4 in (a maker's blog with derivation; algebra checked).
pub fn continuous_bias(length: Mm, strip: Mm, seam: Mm) -> ContinuousBias {
    let n = (length.0 / (2.0 * strip.0)).sqrt();
    let strips = (n - 1e-9).ceil().clamp(1.0, 1.0e6) as u32;
    let n = f64::from(strips);
    ContinuousBias {
        strips,
        side: Mm(n * strip.0 * SQRT_2 + 2.0 * seam.0),
        length: Mm(2.0 * n * n * strip.0),
    }
}

/// Width to cut a binding: twice its finished width, four times when folded double.
///
/// # Source
/// Double-fold binding 1/2 in: cut 2 in (sewing teaching page, secondary).
pub fn binding_width(finished: Mm, folded_double: bool) -> Mm {
    Mm(finished.0 * if folded_double { 4.0 } else { 2.0 })
}

/// Width to cut the cover of a piping: the girth of the cord and both allowances.
///
/// # Source
/// Geometry. "The New Dressmaker" (1921, via a paraphrase) cuts 32 mm for a seam 6 mm from the fold.
pub fn piping_width(cord_girth: Mm, allowance: Mm) -> Mm {
    Mm(cord_girth.0 + 2.0 * allowance.0)
}

/// Radius of the waist of a circle skirt that is this fraction of a whole circle: `waist / (2 pi fraction)`. The hem has
/// this radius and the length.
///
/// # Source
/// 25 in: 3.98 in (a maker's blog); 41 1/4 in: 6 1/2 in (sewing project page).
pub fn circle_radius(waist: Mm, fraction: f64) -> Mm {
    Mm(waist.0 / (TAU * fraction))
}
