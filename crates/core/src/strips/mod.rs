//! Joined strips: a long strip made of several cut segments, for ruffles, flounces, bands and bindings.
//!
//! Lengths in mm. Every size says whether it is finished or cut. One engine for strips cut from the whole width of a
//! cloth and for bits of any lengths; where the bits come from (typed, or found on offcuts) is no matter here.

mod bias;
mod error;
mod joins;
mod pick;
mod ruffle;
mod sound;
mod tally;
#[cfg(test)]
mod tests;
mod wrong;

use serde::{Deserialize, Serialize};

pub use bias::{
    BiasCloth, BiasSquare, BiasWanted, ContinuousBias, PipingWanted, bias_length, bias_square,
    binding_width, circle_radius, continuous_bias, piping_width,
};
pub use error::{StripError, UnsoundStrip, WrongStrip};
pub use ruffle::{Tier, TiersWanted, gathered_instead, pleated_instead, pleats_wide, tiers};
pub use tally::Tally;
pub use wrong::{Unmade, Wrong};

use crate::fullness::{FoldedEdge, KeepOff};
use crate::units::Mm;

/// A length or width that says which it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Size {
    /// As it is when sewn: hems turned, joins and ends sewn, drawn in.
    Finished(Mm),
    /// As it is cut: hems and allowances at the edges included. A cut length is that of the whole joined strip.
    Cut(Mm),
}

/// What is asked of a strip.
#[derive(Debug, Clone, PartialEq)]
pub struct StripWanted {
    /// Its length.
    pub length: Size,
    /// Its width.
    pub width: Size,
    /// What is done with its long edges.
    pub make: Make,
    /// What is done with its ends.
    pub ends: Ends,
    /// Cloth length / finished length.
    pub ratio: f64,
    /// How segments are joined.
    pub slant: Slant,
    /// Allowance on each side of a join.
    pub allowance: Mm,
    /// Segments shorter than this are not worth joining, measured as cut.
    pub shortest: Mm,
    /// Places that joins keep off, as shares of the finished length: the centre front.
    pub keep_off: Vec<KeepOff>,
    /// Where joins are hidden.
    pub hiding: Hiding,
}

/// What is done with the two long edges of a strip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Make {
    /// One layer.
    Single {
        /// The edge that is sewn on.
        upper: LongEdge,
        /// The other.
        lower: LongEdge,
    },
    /// Folded double along its length, both raw edges in one seam: no hem.
    Double {
        /// Allowance of that seam.
        allowance: Mm,
    },
}

/// What is done with one edge of a strip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum LongEdge {
    /// Left as cut.
    Raw,
    /// Sewn on with this allowance.
    Seam(Mm),
    /// Turned by this width, once or twice.
    Hem {
        /// Width of one turn.
        width: Mm,
        /// 1 or 2.
        turns: u8,
    },
}

/// What is done with the ends of a joined strip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Ends {
    /// Joined to a ring, at its start.
    Ring,
    /// Two ends, both finished like this.
    Open(LongEdge),
}

/// How segments are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Slant {
    /// Straight across.
    #[default]
    Straight,
    /// Slanting by 45 degrees: laid on each other at right angles and sewn from corner to corner.
    Bias,
}

/// Where joins are hidden.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Hiding {
    /// Nowhere: they show.
    #[default]
    Nowhere,
    /// Anywhere: gathers hide them.
    InGathers,
    /// In the undersides of these pleats, which take the whole strip between its ends.
    UnderPleats(Box<FoldedEdge>),
}

/// Where segments come from.
#[derive(Debug, Clone, PartialEq)]
pub enum Source {
    /// As many as needed, each this long: strips cut across a cloth.
    Every(Mm),
    /// Bits of these lengths, each once; all of them as wide as the strip is cut.
    Bits(Vec<Mm>),
}

/// A strip made of several segments.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinedStrip {
    /// Length when sewn.
    pub finished: Mm,
    /// Width when sewn.
    pub finished_width: Mm,
    /// Length of the joined strip before it is drawn in, ends included.
    pub cloth: Mm,
    /// Width to cut.
    pub cut_width: Mm,
    /// The segments, in order.
    pub segments: Vec<Segment>,
    /// The joins, in order. That which closes a ring comes last.
    pub joins: Vec<Join>,
    /// Where all the cloth goes.
    pub tally: Tally,
}

/// A segment of a joined strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Length to cut.
    pub cut: Mm,
    /// The bit it is cut from: its place in [`Source::Bits`]; just its number for [`Source::Every`].
    pub bit: usize,
    /// Length of that bit.
    pub of: Mm,
    /// What it covers of the joined strip: from its start to its end.
    pub covers: (Mm, Mm),
}

/// A join of two segments.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    /// Where it lies on the joined strip, from its start.
    pub on_cloth: Mm,
    /// Where that is on the finished strip.
    pub on_finished: Mm,
    /// How well it is hidden.
    pub hidden: Hidden,
    /// A place it comes nearer to than asked, and how near.
    pub too_near: Option<(String, Mm)>,
}

/// How well a join is hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hidden {
    /// It shows.
    Shown,
    /// Gathers hide it.
    InGathers,
    /// It lies in the underside of this pleat.
    UnderPleat(u32),
}

impl StripWanted {
    /// A strip of one layer with raw edges and ends, not full, joined straight with 5 mm of allowance (common practice,
    /// no source).
    pub fn new(length: Size, width: Size) -> Self {
        Self {
            length,
            width,
            make: Make::Single {
                upper: LongEdge::Raw,
                lower: LongEdge::Raw,
            },
            ends: Ends::Open(LongEdge::Raw),
            ratio: 1.0,
            slant: Slant::default(),
            allowance: Mm(5.0),
            shortest: Mm(30.0),
            keep_off: Vec::new(),
            hiding: Hiding::default(),
        }
    }

    /// Width to cut and width when sewn.
    ///
    /// # Source
    /// A strip finished 40 mm wide, both edges turned twice by 5 mm, is cut 60 mm wide: w + 4h (computed).
    pub fn widths(&self) -> (Mm, Mm) {
        let (times, more) = match self.make {
            Make::Single { upper, lower } => (1.0, upper.takes() + lower.takes()),
            Make::Double { allowance } => (2.0, 2.0 * allowance.0),
        };
        match self.width {
            Size::Finished(width) => (Mm(times * width.0 + more), width),
            Size::Cut(cut) => (cut, Mm((cut.0 - more) / times)),
        }
    }

    /// Length of the joined strip before it is drawn in (ends included), and length when sewn.
    pub fn lengths(&self) -> (Mm, Mm) {
        let ends = self.at_ends();
        match self.length {
            Size::Finished(length) => (Mm(length.0 * self.ratio + ends), length),
            Size::Cut(cut) => (cut, Mm((cut.0 - ends) / self.ratio)),
        }
    }

    /// Cloth that both ends take together.
    fn at_ends(&self) -> f64 {
        match self.ends {
            Ends::Ring => 0.0,
            Ends::Open(edge) => 2.0 * edge.takes(),
        }
    }

    /// Length that is lost at each join: both allowances; a slanting join over a square takes the width.
    pub fn lost_in_join(&self) -> Mm {
        match self.slant {
            Slant::Straight => Mm(2.0 * self.allowance.0),
            Slant::Bias => self.widths().0,
        }
    }
}

impl LongEdge {
    /// Cloth it takes beyond the finished edge, mm.
    pub fn takes(self) -> f64 {
        match self {
            Self::Raw => 0.0,
            Self::Seam(allowance) => allowance.0,
            Self::Hem { width, turns } => f64::from(turns) * width.0,
        }
    }
}

/// Makes a strip of as few segments as can be.
///
/// The count is exact: no choice of the bits does with fewer (unless every way to do with fewer puts a join where it
/// shows or where it is to keep off; then up to three more are used, and if that does not help either, the joins that
/// are in the way say so). Of the bits the shortest that serve are taken.
///
/// # Errors
/// [`StripError`] for sizes that are none, and when the bits do not reach: by how much, and what they do give.
///
/// # Example
/// ```
/// # use petitoile_core::Mm;
/// # use petitoile_core::strips::{Ends, LongEdge, Size, Source, StripWanted, joined};
/// // 2360 mm from cloth 900 mm wide, 20 mm lost on each strip (handbook named in `fullness::cloth_length`, p. 188).
/// let strip = StripWanted {
///     allowance: Mm(10.0),
///     ends: Ends::Open(LongEdge::Seam(Mm(10.0))),
///     ..StripWanted::new(Size::Finished(Mm(2360.0)), Size::Cut(Mm(150.0)))
/// };
/// assert_eq!(joined(&strip, &Source::Every(Mm(900.0)))?.segments.len(), 3);
/// # Ok::<(), petitoile_core::strips::StripError>(())
/// ```
pub fn joined(wanted: &StripWanted, source: &Source) -> Result<JoinedStrip, StripError> {
    sound::sound(wanted, source)?;
    pick::joined(wanted, source)
}
