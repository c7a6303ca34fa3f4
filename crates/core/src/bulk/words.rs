//! What stacks are called.

use super::section::{Lies, Work};
use super::stacks::Stack;
use crate::seams::SeamKind;
use crate::units::{LengthUnit, Mm};

/// What a kind of seam is called: "plain".
pub fn seam_kind(kind: SeamKind) -> &'static str {
    match kind {
        SeamKind::Plain => "plain",
        SeamKind::French => "French",
        SeamKind::Felled => "felled",
        SeamKind::Bound => "bound",
        SeamKind::Overedged => "overcast",
        SeamKind::Lapped => "lapped",
    }
}

/// A thickness: two decimals in mm, three in cm, thousandths of an inch. Fractions of an inch are too coarse for cloth.
pub fn thick(thickness: Mm, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Millimetre => format!("{:.2} mm", thickness.0),
        LengthUnit::Centimetre => format!("{:.3} cm", thickness.0 / 10.0),
        LengthUnit::Inch => format!("{:.3} in", thickness.inches()),
    }
}

impl Work {
    /// In the maker's words: "plain seam", "hem, turned twice".
    pub fn words(self) -> String {
        match self {
            Self::Seam(SeamKind::Plain, Lies::Turned) => "turned edge".to_owned(),
            Self::Seam(kind, _) => format!("{} seam", seam_kind(kind)),
            Self::BoundEdge => "bound edge".to_owned(),
            Self::Hem { turns: 0 | 1 } => "hem, turned once".to_owned(),
            Self::Hem { .. } => "hem, turned twice".to_owned(),
            Self::Faced => "faced edge".to_owned(),
            Self::Corner => "turned corner".to_owned(),
        }
    }
}

impl Stack {
    /// Where on its seam: "where it crosses side seam", or nothing for the run between.
    pub fn where_words(&self) -> String {
        if self.meets.is_empty() {
            return String::new();
        }
        let meets = self.meets.join(" and ");
        match self.work {
            Work::Corner => format!("in the corner with {meets}"),
            _ => format!("where it crosses {meets}"),
        }
    }
}
