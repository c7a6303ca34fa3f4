//! Bias strips, binding, piping, and the circle: closed forms.
//!
//! Lengths in mm. Sources stand beside each rule; the table of examples checks them.

use std::f64::consts::{SQRT_2, TAU};

use super::wrong::{Bounds, LONGEST, NARROWEST, NEAR, Unmade, WIDEST, WIDEST_CLOTH, Wrong};
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

/// A piece of cloth that is cut up into bias strips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BiasCloth {
    /// One side.
    pub long: Mm,
    /// The other.
    pub wide: Mm,
    /// Width of the strips.
    pub strip: Mm,
}

/// A length of bias strip that is to be had from a square.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BiasWanted {
    /// Length in all.
    pub length: Mm,
    /// Width of the strip.
    pub strip: Mm,
    /// Seam of the tube, where it is cut round and round.
    pub seam: Mm,
}

/// A cord that is covered to a piping.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipingWanted {
    /// Girth of the cord.
    pub cord: Mm,
    /// Allowance on each side.
    pub allowance: Mm,
}

/// Length of bias strip in a piece of cloth: `area / width`. Joins not counted.
///
/// # Errors
/// [`Unmade`] for sizes that are none, and for a strip too wide to lie slanting in the cloth: across the bias a cloth is
/// at least `width x sqrt 2` wide (geometry).
///
/// # Source
/// 20 in square, 2 in strip: 200 in (home-furnishing forum); 12 in, 2 in: 72 in (quilting answer page). Secondary.
pub fn bias_length(asked: BiasCloth) -> Result<Mm, Unmade<BiasCloth, Mm>> {
    let mut bounds = Bounds::default();
    let mut side = |what, mm| bounds.kept(what, mm, Mm(NARROWEST.0 * SQRT_2), LONGEST);
    let (long, wide) = (
        side("long side of the cloth", asked.long),
        side("short side of the cloth", asked.wide),
    );
    let mut strip = bounds.kept("width of the strip", asked.strip, NARROWEST, WIDEST);
    let cloth = Mm(long.0.min(wide.0));
    let most = Mm(cloth.0 / SQRT_2);
    if strip.0 > most.0 * (1.0 + NEAR) {
        bounds
            .why
            .push(Wrong::TooWideForCloth { strip, cloth, most });
        strip = most;
    }
    let gives = Mm(long.0 * wide.0 / strip.0);
    bounds.outcome(BiasCloth { long, wide, strip }, gives)
}

/// The square that gives a length of bias strip: `side = sqrt(length x width)`, rounded up to a whole `step`.
///
/// # Errors
/// [`Unmade`] for sizes that are none, for less than twice the width (no strip lies slanting in so small a square:
/// geometry), and for more than a square as wide as cloth is woven gives.
///
/// # Source
/// 250 in of 2 in: 22.36, cut 23 in; 100 in of 3 1/2 in: 18.71, cut 19 in (quilting answer pages). Secondary.
pub fn bias_square(
    asked: BiasWanted,
    step: Mm,
) -> Result<BiasSquare, Unmade<BiasWanted, BiasSquare>> {
    let mut bounds = Bounds::default();
    let mut near = long_enough(asked, &mut bounds);
    let most = Mm(WIDEST_CLOTH.0 * WIDEST_CLOTH.0 / near.strip.0);
    if near.length.0 > most.0 * (1.0 + NEAR) {
        bounds.why.push(Wrong::TooWideSquare {
            side: Mm((near.length.0 * near.strip.0).sqrt()),
            asked: near.length,
            most,
        });
        near.length = most;
    }
    let side = (near.length.0 * near.strip.0).sqrt();
    let step = if step.0 > 0.0 { step.0 } else { 1.0 };
    let square = BiasSquare {
        side: Mm(side),
        cut_side: Mm((side / step - 1e-9).ceil() * step),
    };
    bounds.outcome(near, square)
}

/// The square to sew to a tube and cut round and round: `n = ceil(sqrt(length / (2 width)))`,
/// `side = n x width x sqrt 2 + 2 seam`, which gives `2 n^2 width`.
///
/// # Errors
/// As [`bias_square`]; and for a seam wider than the strip, which would be cut apart again.
///
/// # Source
/// 98 in of 1 in with 1/4 in seams: 7 strips, 10.4 in (a maker's blog with derivation; algebra checked).
pub fn continuous_bias(
    asked: BiasWanted,
) -> Result<ContinuousBias, Unmade<BiasWanted, ContinuousBias>> {
    let mut bounds = Bounds::default();
    let mut near = long_enough(asked, &mut bounds);
    near.seam = bounds.kept("seam of the tube", asked.seam, NARROWEST, near.strip);
    let across = |length: Mm| {
        let n = (length.0 / (2.0 * near.strip.0)).sqrt();
        (n - 1e-9).ceil().clamp(1.0, 1.0e6)
    };
    let side = |n: f64| n * near.strip.0 * SQRT_2 + 2.0 * near.seam.0;
    let gives = |n: f64| Mm(2.0 * n * n * near.strip.0);
    let mut n = across(near.length);
    let room = WIDEST_CLOTH.0 - 2.0 * near.seam.0;
    let most = (room / (near.strip.0 * SQRT_2)).floor().max(1.0);
    if n > most {
        bounds.why.push(Wrong::TooWideSquare {
            side: Mm(side(n)),
            asked: near.length,
            most: gives(most),
        });
        n = most;
        near.length = gives(most);
    }
    let tube = ContinuousBias {
        strips: n as u32,
        side: Mm(side(n)),
        length: gives(n),
    };
    bounds.outcome(near, tube)
}

/// Sizes that are some, and at least twice as long as wide.
fn long_enough(asked: BiasWanted, bounds: &mut Bounds) -> BiasWanted {
    let strip = bounds.kept("width of the strip", asked.strip, NARROWEST, WIDEST);
    let least = Mm(2.0 * strip.0);
    let mut length = bounds.kept("length of strip", asked.length, NARROWEST, LONGEST);
    if length.0 < least.0 * (1.0 - NEAR) {
        bounds.why.push(Wrong::TooShortForBias {
            asked: length,
            strip,
            least,
        });
        length = least;
    }
    BiasWanted {
        length,
        strip,
        ..asked
    }
}

/// Width to cut a binding: twice its finished width, four times when folded double.
///
/// # Errors
/// [`Unmade`] for a width that is none.
///
/// # Source
/// Double-fold binding 1/2 in: cut 2 in (sewing teaching page, secondary).
pub fn binding_width(finished: Mm, folded_double: bool) -> Result<Mm, Unmade<Mm, Mm>> {
    let mut bounds = Bounds::default();
    let near = bounds.kept("width when sewn", finished, NARROWEST, WIDEST);
    let times = if folded_double { 4.0 } else { 2.0 };
    bounds.outcome(near, Mm(near.0 * times))
}

/// Width to cut the cover of a piping: the girth of the cord and both allowances.
///
/// # Errors
/// [`Unmade`] for a cord or an allowance that is none.
///
/// # Source
/// Geometry. "The New Dressmaker" (1921, via a paraphrase) cuts 32 mm for a seam 6 mm from the fold.
pub fn piping_width(asked: PipingWanted) -> Result<Mm, Unmade<PipingWanted, Mm>> {
    let mut bounds = Bounds::default();
    let near = PipingWanted {
        cord: bounds.kept("girth of the cord", asked.cord, NARROWEST, WIDEST),
        allowance: bounds.kept("allowance", asked.allowance, NARROWEST, WIDEST),
    };
    bounds.outcome(near, Mm(near.cord.0 + 2.0 * near.allowance.0))
}

/// Radius of the waist of a circle skirt that is this fraction of a whole circle: `waist / (2 pi fraction)`. The hem has
/// this radius and the length.
///
/// # Source
/// 25 in: 3.98 in (a maker's blog); 41 1/4 in: 6 1/2 in (sewing project page).
pub fn circle_radius(waist: Mm, fraction: f64) -> Mm {
    Mm(waist.0 / (TAU * fraction))
}
