//! What a change of a seam is called, in a maker's words.

use super::{SeamChange, TrueTo};
use crate::notch::NotchKind;
use crate::seams::{Relation, SeamKind};
use crate::units::{LengthUnit, Mm};

impl SeamChange {
    /// What the undo step is called, lengths in `unit`.
    pub(in crate::alteration) fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::Sew(seam) => format!("sew {}", seam.name),
            Self::Unpick { seam } => format!("unpick {seam}"),
            Self::Rename { seam, name } => format!("call the seam {seam} {name}"),
            Self::SetRelation { seam, relation } => {
                format!("{seam}: {}", relation_words(*relation, unit))
            }
            Self::SetKind { seam, kind } => format!("{seam}: {} seam", kind_word(*kind)),
            Self::MatchNotch { seam, kind, .. } => {
                format!("{seam}: matching {} notches", notch_word(*kind))
            }
            Self::MoveLine {
                seam,
                at_start,
                at_end,
            } => format!("{seam}: {}", moved(*at_start, *at_end, unit)),
            Self::True { seam, at_start, to } => {
                let end = if *at_start { "start" } else { "end" };
                format!("true {seam} {} at its {end}", true_word(*to))
            }
            Self::Distinguish { piece } => format!("{piece}: notches that tell its sides apart"),
        }
    }
}

fn moved(start: Mm, end: Mm, unit: LengthUnit) -> String {
    if start == end {
        return format!("seam line moved by {}", unit.show(start));
    }
    format!(
        "seam line moved by {} at its start, {} at its end",
        unit.show(start),
        unit.show(end)
    )
}

fn relation_words(relation: Relation, unit: LengthUnit) -> String {
    match relation {
        Relation::Equal => "both sides equal".to_owned(),
        Relation::Eased(by) => format!("eased by {}", unit.show(by)),
        Relation::Ratio(ratio) => format!("gathered {ratio:.2} to 1"),
    }
}

pub(super) fn kind_word(kind: SeamKind) -> &'static str {
    match kind {
        SeamKind::Plain => "plain",
        SeamKind::French => "French",
        SeamKind::Felled => "felled",
        SeamKind::Bound => "bound",
        SeamKind::Overedged => "overcast",
        SeamKind::Lapped => "lapped",
    }
}

pub(super) fn notch_word(kind: NotchKind) -> &'static str {
    match kind {
        NotchKind::Single => "single",
        NotchKind::Double => "double",
        NotchKind::Triple => "triple",
    }
}

fn true_word(to: TrueTo) -> &'static str {
    match to {
        TrueTo::Straight => "straight",
        TrueTo::Square => "square",
        TrueTo::Smooth => "smooth",
    }
}
