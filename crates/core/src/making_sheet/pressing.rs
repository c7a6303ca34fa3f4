//! How each seam and dart is pressed.
//!
//! # Source
//! Common practice, no source.

use crate::piece::{Dart, DartPress, Piece};
use crate::seams::{Relation, SeamKind};
use crate::units::{LengthUnit, Mm};

/// Allowances narrower than this are not pressed open (common practice, no source).
pub const PRESSED_OPEN_FROM: Mm = Mm(4.0);

/// What a felled or French seam is trimmed to before it is closed, as a share of its allowance (common practice, no source).
const TRIMMED_TO: f64 = 0.5;

/// How a seam of this kind is pressed.
pub fn seam(kind: SeamKind, relation: Relation, allowance: Option<Mm>, unit: LengthUnit) -> String {
    let is_gathered = matches!(relation, Relation::Ratio(ratio) if ratio > 1.0);
    let is_eased = matches!(relation, Relation::Eased(by) if by.0 > 0.0);
    let trimmed = allowance.map_or_else(
        || "half".to_owned(),
        |width| unit.show_chosen(Mm(width.0 * TRIMMED_TO)),
    );
    match kind {
        SeamKind::Plain if is_gathered => {
            "Press the allowance alone, away from the gathers, with the tip of the iron.".to_owned()
        }
        SeamKind::Plain if is_eased => {
            "Press the allowance towards the eased piece; shrink the ease with steam first."
                .to_owned()
        }
        SeamKind::Plain => match allowance {
            Some(width) if width.0 < PRESSED_OPEN_FROM.0 => format!(
                "Press as sewn, then to one side: {} is too narrow to press open.",
                unit.show_chosen(width)
            ),
            _ => "Press as sewn, then open.".to_owned(),
        },
        SeamKind::French => format!(
            "Trim to {trimmed}, press, turn right sides together, sew again outside the trimmed edges, press to one side."
        ),
        SeamKind::Felled => format!(
            "Press to one side, trim the under allowance to {trimmed}, fold the other over it, press, sew down."
        ),
        SeamKind::Bound => "Press as sewn, bind both edges, press to one side.".to_owned(),
        SeamKind::Overedged => "Press both allowances together to one side.".to_owned(),
        SeamKind::Lapped => "Press the turned edge before it is lapped, then flat.".to_owned(),
    }
}

/// Towards which edge a dart is pressed.
pub fn dart(piece: &Piece, dart: &Dart) -> String {
    let edges = piece.outline.edges();
    let at = |name: &str| piece.outline.index_of(name);
    let towards = match dart.pressed {
        DartPress::Before => at(&dart.leg_in).map(|i| i + edges.len().saturating_sub(1)),
        DartPress::After => at(&dart.leg_out).map(|i| i + 1),
    };
    let edge = towards.and_then(|i| edges.iter().cycle().nth(i));
    match edge {
        Some(edge) => format!("Press it towards {}.", edge.name),
        None => "Press it flat.".to_owned(),
    }
}
