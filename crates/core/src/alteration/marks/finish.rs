//! How a stretch of an edge is finished: spliced into what the edge has already.

use crate::alteration::AlterationError;
use crate::edge::{Edge, Finish, FinishStretch};
use crate::piece::Piece;

/// Stretches shorter than this share of an edge are dropped: they are what rounding left over.
const SLIVER: f64 = 1e-9;

/// The edge with one stretch finished otherwise; the rest keeps what it had.
///
/// The list stays in order without overlaps; neighbours with the same finish become one. Where nothing is said, an
/// edge is a seam: such gaps are written out where the list has other stretches.
pub(super) fn spliced(edge: &Edge, from: f64, to: f64, finish: Finish) -> Edge {
    let mut list: Vec<FinishStretch> = Vec::new();
    let mut add = |from: f64, to: f64, finish: Finish| {
        if to - from <= SLIVER {
            return;
        }
        match list.last_mut() {
            Some(last) if last.finish == finish => last.to = to,
            _ => list.push(FinishStretch { from, to, finish }),
        }
    };
    let old = crate::allowance::stretches(edge);
    for (a, b, kept) in &old {
        add(*a, b.min(from), *kept);
    }
    add(from, to, finish);
    for (a, b, kept) in &old {
        add(a.max(to), *b, *kept);
    }
    let all_seam = list.iter().all(|stretch| stretch.finish == Finish::Seam);
    Edge {
        finish: if all_seam { Vec::new() } else { list },
        ..edge.clone()
    }
}

/// Refuses a finish that the edge cannot have.
pub(super) fn possible(
    piece: &Piece,
    edge: &Edge,
    (from, to): (f64, f64),
    finish: Finish,
) -> Result<(), AlterationError> {
    let refuse = |why: String| Err(AlterationError::Refused(why));
    let name = &edge.name;
    if is_dart_leg(piece, name) {
        return refuse(format!(
            "{name} is a dart leg and is sewn to the other leg; finish the edges beside the dart"
        ));
    }
    let whole = from <= SLIVER && to >= 1.0 - SLIVER;
    if !whole && (finish == Finish::Fold || edge.is_fold()) {
        return refuse(format!(
            "a fold runs along the whole of {name}; split the edge first"
        ));
    }
    if finish == Finish::Fold {
        return foldable(piece, edge);
    }
    match finish {
        Finish::Hem { turns, .. } if !(1..=2).contains(&turns) => {
            refuse(format!("a hem is turned once or twice, not {turns} times"))
        }
        Finish::Hem {
            width: Some(width), ..
        }
        | Finish::Casing { width }
        | Finish::Placket { width }
            if width.0.is_nan() || width.0 <= 0.0 =>
        {
            refuse(format!(
                "a {} needs a width; {:.1} mm is none",
                finish.noun(),
                width.0
            ))
        }
        _ => Ok(()),
    }
}

fn foldable(piece: &Piece, edge: &Edge) -> Result<(), AlterationError> {
    if let Some(other) = piece.fold_edge().filter(|other| other.name != edge.name) {
        return Err(AlterationError::Refused(format!(
            "the piece is folded along {} already; open it out first",
            other.name
        )));
    }
    let (a, along) = (edge.line.start(), edge.line.end() - edge.line.start());
    let off = edge
        .line
        .points()
        .iter()
        .map(|p| ((*p - a).cross(along) / along.hypot().max(f64::MIN_POSITIVE)).abs())
        .fold(0.0, f64::max);
    if edge.line.is_straight() {
        Ok(())
    } else {
        Err(AlterationError::Refused(format!(
            "{} is curved by {off:.1} mm and cloth folds straight; straighten it first",
            edge.name
        )))
    }
}

pub(super) fn is_dart_leg(piece: &Piece, edge: &str) -> bool {
    piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge || dart.leg_out == edge)
}
