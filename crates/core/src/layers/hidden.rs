//! Which pieces of a layer lie wholly under other layers, and which at least along their fold.

use super::over::seen;
use super::{Together, Worn};
use crate::laying::{Hidden, HiddenPiece};
use crate::piece::Piece;
use crate::seams::Stretch;
use crate::tolerance::DRAWING;

/// What the layers over the one at this place hide of its pieces.
///
/// A piece is hidden when all its edges are: what covers a layer reaches round the body, so nothing shows between them.
pub fn hidden(together: &Together, place: usize) -> Hidden {
    let Some(worn) = together.layers.get(place) else {
        return Hidden::default();
    };
    let over: Vec<&Worn> = together
        .layers
        .iter()
        .skip(place + 1)
        .map(|worn| &**worn)
        .collect();
    let pieces = worn.adapted.made.pieces.iter();
    let pieces = pieces.filter_map(|piece| {
        let hidden = hidden_piece(worn, &over, piece)?;
        Some((piece.name.clone(), hidden))
    });
    Hidden {
        pieces: pieces.collect(),
    }
}

fn hidden_piece(worn: &Worn, over: &[&Worn], piece: &Piece) -> Option<HiddenPiece> {
    let copy = *piece.copies.first()?;
    let length = |over: &[&Worn], fold_only: bool| {
        let edges = piece.outline.edges().iter();
        edges
            .filter(|edge| !fold_only || edge.is_fold())
            .map(|edge| Stretch {
                piece: piece.name.clone(),
                copy,
                edge: edge.name.clone(),
                from: 0.0,
                to: 1.0,
            })
            .map(|stretch| seen(worn, over, &stretch))
            .fold((0.0, 0.0), |sum, (all, covered)| {
                (sum.0 + all, sum.1 + covered)
            })
    };
    let all = |(length, covered): (f64, f64)| length > 0.0 && length - covered < DRAWING.0;
    let whole = all(length(over, false));
    if !whole && !all(length(over, true)) {
        return None;
    }
    // Who covers most of it; the innermost of those that cover as much.
    let by = over.iter().rev().max_by(|a, b| {
        let covered = |worn: &Worn| length(&[worn], !whole).1;
        covered(a).total_cmp(&covered(b))
    })?;
    Some(HiddenPiece {
        by: by.name().to_owned(),
        whole,
    })
}
