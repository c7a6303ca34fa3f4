//! What changes to marks are called in the undo list.

use super::MarkChange;
use crate::edge::Finish;
use crate::notch::NotchKind;
use crate::piece::{Copy, Mark, Placement, Role, Side};
use crate::units::LengthUnit;

impl MarkChange {
    /// What the undo step is called, lengths in `unit`; the piece is named before it.
    pub(in crate::alteration) fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::AddNotch(notch) => format!(
                "{} on {} at {}",
                notch_words(notch.kind),
                notch.edge,
                percent(notch.fraction)
            ),
            Self::SetNotch { number, at, kind } => format!(
                "notch {} to {} at {}, {}",
                number.saturating_add(1),
                at.edge,
                percent(at.fraction),
                strokes(*kind)
            ),
            Self::RemoveNotch { number } => {
                format!("take out notch {}", number.saturating_add(1))
            }
            Self::SetGrain(Some((a, b))) => {
                let across = libm::atan2((b.x - a.x).abs(), (b.y - a.y).abs()).to_degrees();
                format!("grain {across:.0} degrees from upright")
            }
            Self::SetGrain(None) => "grain upright".to_owned(),
            Self::AddMark(mark) => mark_words(mark, unit),
            Self::SetMark { number, mark } => {
                format!(
                    "mark {}: {}",
                    number.saturating_add(1),
                    mark_words(mark, unit)
                )
            }
            Self::RemoveMark { number } => format!("take out mark {}", number.saturating_add(1)),
            Self::SetCopies(copies) => copies_words(copies),
            Self::SetFinish {
                edge,
                from,
                to,
                finish,
            } => {
                let finish = finish_words(*finish, unit);
                if *from <= 0.0 && *to >= 1.0 {
                    format!("{edge} {finish}")
                } else {
                    format!(
                        "{edge} {finish} from {} to {}",
                        percent(*from),
                        percent(*to)
                    )
                }
            }
            Self::SetBodyLine(line) => format!(
                "{} from {} at {} to {} at {}",
                line.level.label().to_lowercase(),
                line.from.edge,
                percent(line.from.fraction),
                line.to.edge,
                percent(line.to.fraction)
            ),
            Self::RemoveBodyLine(level) => format!("take out {}", level.label().to_lowercase()),
            Self::SetFace(face) => format!("drawn with the {} up", face.words()),
            Self::SetPlacement(Placement::Framed(frame)) => {
                format!("lies on the {}", frame.label())
            }
            Self::SetPlacement(Placement::Follows(_)) => "follows what it is sewn to".to_owned(),
        }
    }
}

fn percent(fraction: f64) -> String {
    let tenths = (fraction * 1000.0).round();
    if tenths % 10.0 == 0.0 {
        format!("{:.0} %", tenths / 10.0)
    } else {
        format!("{:.1} %", tenths / 10.0)
    }
}

fn notch_words(kind: NotchKind) -> &'static str {
    match kind {
        NotchKind::Single => "single notch",
        NotchKind::Double => "double notch",
        NotchKind::Triple => "triple notch",
    }
}

fn strokes(kind: NotchKind) -> &'static str {
    match kind {
        NotchKind::Single => "one stroke",
        NotchKind::Double => "two strokes",
        NotchKind::Triple => "three strokes",
    }
}

fn mark_words(mark: &Mark, unit: LengthUnit) -> String {
    let size = mark
        .kind
        .size()
        .map_or_else(String::new, |size| format!(", {}", unit.show_chosen(size)));
    let name = if mark.name.is_empty() {
        String::new()
    } else {
        format!(" \u{201c}{}\u{201d}", mark.name)
    };
    format!("{}{name}{size}", mark.kind.noun())
}

fn finish_words(finish: Finish, unit: LengthUnit) -> String {
    match finish {
        Finish::Hem {
            width: Some(width),
            turns,
        } => format!("hem {} turned {}", unit.show_chosen(width), times(turns)),
        Finish::Hem { width: None, turns } => format!("hem turned {}", times(turns)),
        Finish::Casing { width } | Finish::Placket { width } => {
            format!("{} {}", finish.noun(), unit.show_chosen(width))
        }
        other => other.noun().to_owned(),
    }
}

fn times(turns: u8) -> &'static str {
    if turns == 1 { "once" } else { "twice" }
}

/// "cut 4: 1 left, 1 right of shell, 1 left, 1 right of lining".
fn copies_words(copies: &[Copy]) -> String {
    let mut words = Vec::new();
    for (role, name) in [
        (Role::Shell, "shell"),
        (Role::Lining, "lining"),
        (Role::Interlining, "interlining"),
        (Role::FlatLined, "flat lining"),
    ] {
        let mut sides = Vec::new();
        for (side, word) in [
            (Side::Whole, ""),
            (Side::Left, " left"),
            (Side::Right, " right"),
        ] {
            let count = copies
                .iter()
                .filter(|copy| copy.role == role && copy.side == side)
                .count();
            if count > 0 {
                sides.push(format!("{count}{word}"));
            }
        }
        if !sides.is_empty() {
            words.push(format!("{} of {name}", sides.join(", ")));
        }
    }
    format!("cut {}: {}", copies.len(), words.join(", "))
}
