//! The words of the window: every edit, choice and count in the maker's words. No layout, no state.

use petitoile_core::body::{BodyKind, Origin};
use petitoile_core::ease::EasePolicy;
use petitoile_core::finding::Gravity;
use petitoile_core::fitting::{DetailRule, Shaping};
use petitoile_core::notch::NotchKind;
use petitoile_core::paper::{PaperSize, PaperTurn};
use petitoile_core::piece::{Piece, Role};
use petitoile_core::tape::Hold;
use petitoile_core::units::MM_PER_INCH;
use petitoile_core::{LengthUnit, Mm};

/// Thinner than this, fractions of an inch say too little of a cloth: a sixteenth.
const THIN: f64 = MM_PER_INCH / 16.0;

/// A length in the chosen unit, with its sign: `2 3/4 in`, `70 mm`; very small ones in thousandths of an inch.
pub fn length(length: Mm, unit: LengthUnit) -> String {
    let size = length.0.abs();
    if unit == LengthUnit::Inch && 0.0 < size && size < THIN {
        return format!("{:.3} in", length.0 / MM_PER_INCH);
    }
    unit.show(length)
}

/// A difference of lengths: always with a plus or minus sign.
pub fn difference(by: Mm, unit: LengthUnit) -> String {
    let words = length(Mm(by.0.abs()), unit);
    if by.0 < 0.0 {
        format!("\u{2212}{words}")
    } else {
        format!("+{words}")
    }
}

/// Name of a unit.
pub fn unit_name(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimetre => "millimetres",
        LengthUnit::Centimetre => "centimetres",
        LengthUnit::Inch => "inches",
    }
}

/// How ease is brought over.
pub fn ease_policy(policy: EasePolicy) -> &'static str {
    match policy {
        EasePolicy::InProportion => "in proportion",
        EasePolicy::Absolute => "the same",
        EasePolicy::FromTable => "by handbook",
    }
}

/// What that does, in one line.
pub fn ease_policy_means(policy: EasePolicy) -> &'static str {
    match policy {
        EasePolicy::InProportion => "As many percent of the body as on the source.",
        EasePolicy::Absolute => "As wide as on the source, to the millimetre: roomy on a doll.",
        EasePolicy::FromTable => "What handbooks give for this kind of body.",
    }
}

/// How a piece keeps its shape.
pub fn shaping(how: Option<Shaping>) -> &'static str {
    match how {
        None => "as found",
        Some(Shaping::FollowBody) => "follow the body",
        Some(Shaping::KeepDirections) => "keep directions",
    }
}

/// What details follow.
pub fn detail_rule(rule: DetailRule) -> &'static str {
    match rule {
        DetailRule::Height => "height",
        DetailRule::Girth => "girth",
    }
}

/// Fitted or hanging.
pub fn hold(hold: Hold) -> &'static str {
    match hold {
        Hold::Auto => "as found",
        Hold::Fitted => "fitted",
        Hold::Hanging => "hanging",
    }
}

/// Layer of a garment.
pub fn role(role: Role) -> &'static str {
    match role {
        Role::Shell => "shell",
        Role::Lining => "lining",
        Role::Interlining => "interlining",
        Role::FlatLined => "flat lining",
    }
}

/// Where a figure comes from.
pub fn origin(origin: Origin) -> &'static str {
    match origin {
        Origin::Measured => "measured",
        Origin::Typical => "typical",
        Origin::Estimated => "estimated",
    }
}

/// Does a torso give?
pub fn torso(soft: bool) -> &'static str {
    if soft { "soft, stuffed" } else { "rigid" }
}

/// Kind of body, many of them.
pub fn body_kinds(kind: BodyKind) -> &'static str {
    match kind {
        BodyKind::Woman => "Women",
        BodyKind::Man => "Men",
        BodyKind::Child => "Children",
        BodyKind::Doll => "Dolls",
    }
}

/// How many strokes a notch has.
pub fn strokes(kind: NotchKind) -> &'static str {
    match kind {
        NotchKind::Single => "Single",
        NotchKind::Double => "Double",
        NotchKind::Triple => "Triple",
    }
}

/// So many findings of one gravity.
pub fn findings(number: usize, gravity: Gravity) -> String {
    match gravity {
        Gravity::Note => count(number, "note", "notes"),
        Gravity::Care => format!("{number} to look at"),
        Gravity::Unusable => format!("{number} unusable"),
    }
}

/// With a capital letter at the beginning.
pub fn sentence(words: &str) -> String {
    let mut rest = words.chars();
    rest.next()
        .map(|first| first.to_uppercase().chain(rest).collect())
        .unwrap_or_default()
}

/// Size of a sheet.
pub fn paper_size(size: PaperSize) -> &'static str {
    match size {
        PaperSize::A4 => "A4",
        PaperSize::Letter => "Letter",
    }
}

/// Which way round a sheet lies.
pub fn paper_turn(turn: PaperTurn) -> &'static str {
    match turn {
        PaperTurn::Portrait => "upright",
        PaperTurn::Landscape => "on its side",
    }
}

/// How many are cut, layer by layer: "cut 2", "cut 1 on fold, 1 lining on fold".
pub fn to_cut(piece: &Piece) -> String {
    let on_fold = if piece.fold_edge().is_some() {
        " on fold"
    } else {
        ""
    };
    let counts: Vec<String> = [
        Role::Shell,
        Role::Lining,
        Role::Interlining,
        Role::FlatLined,
    ]
    .into_iter()
    .filter_map(|layer| match (piece.copies_in(layer), layer) {
        (0, _) => None,
        (count, Role::Shell) => Some(format!("{count}{on_fold}")),
        (count, layer) => Some(format!("{count} {}{on_fold}", role(layer))),
    })
    .collect();
    if counts.is_empty() {
        "cut none".to_owned()
    } else {
        format!("cut {}", counts.join(", "))
    }
}

/// A count with its noun: "1 page", "3 pages".
pub fn count(number: usize, one: &str, many: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {many}")
    }
}

/// How many of the measures that were asked for came out, to follow a sentence; nothing where none was.
pub fn measures_kept(demands: usize, missed: usize) -> String {
    let measures = count(demands, "measure", "measures");
    match (demands, missed) {
        (0, _) => String::new(),
        (1, 0) => format!(", {measures} kept"),
        (_, 0) => format!(", all {measures} kept"),
        _ => format!(", {missed} of {measures} gave way"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thin_cloth_is_not_nothing_in_inches_and_is_read_back() {
        let words = length(Mm(0.4), LengthUnit::Inch);
        assert_eq!(words, "0.016 in");
        let back = petitoile_core::units::read_length(&words, LengthUnit::Inch);
        assert!(back.is_ok_and(|mm| (mm.0 - 0.4).abs() < 0.0127));
        assert_eq!(length(Mm(0.0), LengthUnit::Inch), "0 in");
        assert_eq!(length(Mm(6.35), LengthUnit::Inch), "1/4 in");
    }

    #[test]
    fn a_difference_carries_its_sign() {
        assert_eq!(difference(Mm(3.0), LengthUnit::Millimetre), "+3 mm");
        assert_eq!(
            difference(Mm(-3.5), LengthUnit::Millimetre),
            "\u{2212}3.5 mm"
        );
    }

    #[test]
    fn one_of_a_thing_is_not_counted_as_many() {
        assert_eq!(count(1, "page", "pages"), "1 page");
        assert_eq!(count(0, "page", "pages"), "0 pages");
        assert_eq!(measures_kept(1, 0), ", 1 measure kept");
        assert_eq!(measures_kept(1, 1), ", 1 of 1 measure gave way");
        assert_eq!(measures_kept(3, 0), ", all 3 measures kept");
        assert_eq!(measures_kept(3, 1), ", 1 of 3 measures gave way");
        assert_eq!(measures_kept(0, 0), "");
    }
}
