//! Why there is no joined strip, in the maker's words and unit.

use super::wrong::FULLEST;
use super::{JoinedStrip, StripWanted};
use crate::units::{LengthUnit, Mm};

/// Why there is no joined strip.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StripError {
    /// A size that is none.
    #[error("{}", .0.wrong.words(LengthUnit::Millimetre))]
    Unsound(Box<UnsoundStrip>),
    /// The bits do not reach.
    #[error("{}", self.words(LengthUnit::Millimetre))]
    TooShort {
        /// Length needed.
        needed: Mm,
        /// Length that all bits give.
        got: Mm,
        /// How many bits were too short to be worth joining.
        left_out: usize,
        /// The shortest worth joining.
        shortest: Mm,
        /// What the bits do give: the same strip with this finished length; `None` when not even one bit serves.
        nearest: Option<Box<JoinedStrip>>,
    },
}

/// A request with sizes that are none.
#[derive(Debug, Clone, PartialEq)]
pub struct UnsoundStrip {
    /// What is wrong.
    pub wrong: WrongStrip,
    /// The nearest request that can be made; `None` where it is the cloth or the pleats that are wrong.
    pub nearest: Option<StripWanted>,
}

/// What is wrong with a request.
#[derive(Debug, Clone, PartialEq)]
pub enum WrongStrip {
    /// A length or width that is none, or longer than 1 km.
    Size(&'static str, Mm),
    /// An allowance or hem that cannot be cut.
    Allowance(Mm),
    /// Cloth that is shorter than its edge, or too long to be drawn in.
    Ratio(f64),
    /// A bit of cloth that is none.
    Bit(Mm),
    /// More segments than can be joined.
    Segments(usize),
    /// Pleats that take another length of cloth than the strip has between its ends.
    Pleats(Mm, Mm),
}

impl StripError {
    /// In the maker's words, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let show = |mm: &Mm| unit.show_computed(*mm);
        match self {
            Self::Unsound(unsound) => unsound.wrong.words(unit),
            Self::TooShort {
                needed,
                got,
                left_out,
                shortest,
                ..
            } => {
                let bits = if *left_out > 0 {
                    format!(
                        "bits of {} or more ({left_out} were too short), ",
                        show(shortest)
                    )
                } else {
                    String::new()
                };
                format!(
                    "the bits give {} joined, {} less than the {} needed; find {bits}more cloth, or make the strip shorter or less full",
                    show(got),
                    show(&Mm(needed.0 - got.0)),
                    show(needed)
                )
            }
        }
    }
}

impl WrongStrip {
    /// In the maker's words, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let show = |mm: &Mm| unit.show_computed(*mm);
        match self {
            Self::Size(what, size) => format!(
                "a strip with a {what} of {} cannot be made; look at its hems and allowances",
                show(size)
            ),
            Self::Allowance(size) => {
                format!("an allowance or hem of {} cannot be cut", show(size))
            }
            Self::Ratio(ratio) => format!(
                "cloth {ratio:.2} times as long cannot be drawn in; 1 to {FULLEST:.0} times can"
            ),
            Self::Bit(length) => {
                format!("a bit of cloth {} long cannot be used", show(length))
            }
            Self::Segments(most) => {
                format!("more than {most} segments would be needed; take longer bits")
            }
            Self::Pleats(pleats, strip) => format!(
                "the pleats take {} of cloth, and the strip has {} between its ends; give both the same length",
                show(pleats),
                show(strip)
            ),
        }
    }
}

impl From<WrongStrip> for StripError {
    fn from(wrong: WrongStrip) -> Self {
        Self::Unsound(Box::new(UnsoundStrip {
            wrong,
            nearest: None,
        }))
    }
}
