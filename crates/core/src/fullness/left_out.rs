//! Fullness that cannot be spread is told, never left out silently.

use std::sync::Arc;

use crate::adapt::Adapted;
use crate::edit::Edit;
use crate::finding::{Finding, Gravity, Place};
use crate::piece::Piece;

/// A fullness that was left out. The remedy takes it off the source piece.
pub(super) fn cannot_spread(
    adapted: &Adapted,
    finished: &Piece,
    number: usize,
    why: &str,
) -> Option<Finding> {
    let op = finished.fullness.get(number)?;
    let source = adapted
        .garment
        .pieces
        .iter()
        .find(|piece| piece.name == finished.name);
    let remedy = source.map(|source| {
        let mut plain = Piece::clone(source);
        plain.fullness = source
            .fullness
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != number)
            .map(|(_, op)| op.clone())
            .collect();
        Edit::PutPiece {
            garment: adapted.garment.name.clone(),
            piece: Arc::new(plain),
        }
    });
    Some(Finding {
        gravity: Gravity::Unusable,
        place: Place::edge(&finished.name, &op.edge),
        what: format!("the fullness cannot be let in: {why}."),
        advice:
            "Let in less, spread it even to the opposite edge, or take the fullness off this edge."
                .to_owned(),
        remedy,
    })
}
