//! A seam where the cloth would be folded.

use super::Asked;
use crate::lay_plan::PiecingKind;
use crate::laying::PiecedWay;
use crate::laying::seen::Seen;

/// Cut as two halves instead of one piece on the fold.
pub(super) fn way(asked: &Asked<'_>) -> Option<PiecedWay> {
    let fold = asked.whole.fold?;
    let role = asked.of.copy.role;
    let piece = &asked.finished.piece;
    let seen = Seen::along_fold(asked.garment, piece, role, asked.hidden);
    let at = piece.fold_edge().map_or("", |edge| edge.name.as_str());
    let at = match at.to_lowercase().as_str() {
        // Names that say where on the body it is.
        name if name.contains("centre") || name.contains("middle") => format!("at the {at}"),
        _ => match seen {
            Seen::CentreFront => "at the centre front".to_owned(),
            Seen::Back => "at the centre back".to_owned(),
            _ => "along the former fold".to_owned(),
        },
    };
    let why = format!("a seam {at}{}", seen.words());
    asked.way(PiecingKind::AlongFold, &[fold], seen.cost(), why)
}
