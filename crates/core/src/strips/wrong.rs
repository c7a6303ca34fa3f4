//! What is wrong with a request that cannot be made, and the nearest one that can.
//!
//! Lengths in mm. No limit here has a source; they are common practice and say what is done by hand.

use crate::units::{LengthUnit, Mm};

/// Narrowest strip, binding, cord or seam that is still sewn by hand, mm (common practice, no source).
pub(super) const NARROWEST: Mm = Mm(1.0);

/// Widest strip or binding, mm (common practice, no source).
pub(super) const WIDEST: Mm = Mm(500.0);

/// Longest length, mm: 100 m, as long as can be typed.
pub(super) const LONGEST: Mm = Mm(100_000.0);

/// Widest cloth that is woven, mm (common practice, no source): no larger square can be cut.
pub(super) const WIDEST_CLOTH: Mm = Mm(3_000.0);

/// Greatest ratio of cloth to finished length.
pub(super) const FULLEST: f64 = 20.0;

/// Sizes that come this near to a limit keep it (rounding), as a share.
pub(super) const NEAR: f64 = 1e-9;

/// A request that cannot be made: why, the nearest that can, and what that gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmade<Request, Gives> {
    /// Everything that is wrong with it.
    pub why: Vec<Wrong>,
    /// The nearest request that can be made.
    pub nearest: Request,
    /// What that gives.
    pub gives: Gives,
}

impl<Request, Gives> Unmade<Request, Gives> {
    /// Everything that is wrong, lengths in `unit`: a sentence for each.
    pub fn words(&self, unit: LengthUnit) -> String {
        let all: Vec<String> = self.why.iter().map(|wrong| wrong.words(unit)).collect();
        all.join(" ")
    }
}

/// One thing that is wrong with a request.
#[derive(Debug, Clone, PartialEq)]
pub enum Wrong {
    /// A size below what can be made, or none.
    TooSmall {
        /// Which size.
        what: &'static str,
        /// What was asked.
        asked: Mm,
        /// The least.
        least: Mm,
    },
    /// A size above what can be made.
    TooLarge {
        /// Which size.
        what: &'static str,
        /// What was asked.
        asked: Mm,
        /// The most.
        most: Mm,
    },
    /// Bias strip shorter than a square of any use gives: a strip does not lie slanting in it.
    TooShortForBias {
        /// Length asked.
        asked: Mm,
        /// Width of the strip.
        strip: Mm,
        /// The least length: twice the width.
        least: Mm,
    },
    /// A strip too wide to lie slanting in a piece of cloth.
    TooWideForCloth {
        /// Width of the strip.
        strip: Mm,
        /// Short side of the cloth.
        cloth: Mm,
        /// The most that lies in it.
        most: Mm,
    },
    /// Bias strip that takes a square wider than cloth is woven.
    TooWideSquare {
        /// Side of the square.
        side: Mm,
        /// Length asked.
        asked: Mm,
        /// The most length.
        most: Mm,
    },
    /// A tier that cannot be drawn in.
    Ratio {
        /// Which tier, from 1.
        tier: usize,
        /// Times as long as the one above it.
        asked: f64,
        /// The nearest that can be.
        nearest: f64,
    },
    /// A tier longer than any cloth.
    TierTooLong {
        /// Which tier, from 1.
        tier: usize,
        /// Cloth it would take.
        cloth: Mm,
    },
}

impl Wrong {
    /// What is wrong and what could be had, one sentence, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let show = |mm: Mm| unit.show_computed(mm);
        match *self {
            Self::TooSmall { what, asked, least } => format!(
                "The {what} cannot be {}; {} is the least.",
                show(asked),
                show(least)
            ),
            Self::TooLarge { what, asked, most } => format!(
                "The {what} cannot be {}; {} is the most.",
                show(asked),
                show(most)
            ),
            Self::TooShortForBias {
                asked,
                strip,
                least,
            } => format!(
                "{} of a strip {} wide does not lie slanting in a square; {} is the least.",
                show(asked),
                show(strip),
                show(least)
            ),
            Self::TooWideForCloth { strip, cloth, most } => format!(
                "A strip {} wide does not lie slanting in cloth {} wide; {} is the most.",
                show(strip),
                show(cloth),
                show(most)
            ),
            Self::TooWideSquare { side, asked, most } => format!(
                "{} takes a square of {}, wider than cloth is woven ({}; common practice, no source); {} is the most.",
                show(asked),
                show(side),
                show(WIDEST_CLOTH),
                show(most)
            ),
            Self::Ratio {
                tier,
                asked,
                nearest,
            } => format!(
                "Tier {tier} cannot be {asked} times as long as what it is sewn to; 1 to {FULLEST:.0} times can, {nearest} is the nearest."
            ),
            Self::TierTooLong { tier, cloth } => format!(
                "Tier {tier} would take {} of cloth; {} is the most.",
                show(cloth),
                show(LONGEST)
            ),
        }
    }
}

/// Sizes brought between what is least and most, and what was wrong with them.
#[derive(Default)]
pub(super) struct Bounds {
    pub why: Vec<Wrong>,
}

impl Bounds {
    /// The nearest size from `least` to `most`.
    pub fn kept(&mut self, what: &'static str, asked: Mm, least: Mm, most: Mm) -> Mm {
        if asked.0 > most.0 * (1.0 + NEAR) {
            self.why.push(Wrong::TooLarge { what, asked, most });
            return most;
        }
        // What is no number is below everything.
        let is_there = asked.0 >= least.0 * (1.0 - NEAR);
        if !is_there {
            self.why.push(Wrong::TooSmall { what, asked, least });
            return least;
        }
        asked
    }

    /// What the nearest request gives, as an outcome where nothing was wrong.
    pub fn outcome<R, G>(self, nearest: R, gives: G) -> Result<G, Unmade<R, G>> {
        if self.why.is_empty() {
            return Ok(gives);
        }
        Err(Unmade {
            why: self.why,
            nearest,
            gives,
        })
    }
}

#[cfg(test)]
#[path = "wrong_tests.rs"]
mod tests;
