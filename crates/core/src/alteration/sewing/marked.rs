//! Notches that meet, and notches that tell the sides of a piece apart.

use std::sync::Arc;

use super::words::notch_word;
use super::{note, refused, seam_of};
use crate::alteration::{AlterationError, Altered, Carried};
use crate::check::alike::told_apart;
use crate::finding::Place;
use crate::garment::Garment;
use crate::notch::{Notch, NotchKind};
use crate::seams::Side;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Puts notches that meet on both sides, at these shares of side `a` and `b`.
pub(super) fn match_notch(
    garment: &Garment,
    name: &str,
    (at, at_mate): (f64, f64),
    kind: NotchKind,
) -> Result<Altered, AlterationError> {
    let seam = seam_of(garment, name)?;
    let mut next = garment.clone();
    let mut notes = Vec::new();
    for (stretches, share) in [(&seam.a, at), (&seam.b, at_mate)] {
        if !share.is_finite() {
            return Err(AlterationError::NotFinite);
        }
        let side = Side::new(stretches, &garment.pieces).map_err(refused)?;
        let along = Mm(share * side.length().0);
        let left = along.0.min(side.length().0 - along.0);
        if left <= JOINING.0 {
            return Err(AlterationError::Refused(format!(
                "the notch would lie {:.1} mm from the start of a side that is {:.1} mm long; put it between the ends, the ends meet anyway",
                along.0,
                side.length().0
            )));
        }
        let Some((piece, notch)) = side.notch(along, kind) else {
            continue;
        };
        if !add_notch(&mut next, &piece, &notch) {
            let what = format!(
                "{piece}, {} has a {} notch there already.",
                notch.edge,
                notch_word(kind)
            );
            notes.push(note(name, what, "Nothing to do: it serves this seam too."));
        }
    }
    Ok(Altered {
        garment: next,
        carried: Carried::default(),
        notes,
    })
}

/// Marks a notch on a piece; says no when one of the same strokes lies there already.
pub(super) fn add_notch(garment: &mut Garment, piece: &str, notch: &Notch) -> bool {
    let Some(piece) = garment.pieces.iter_mut().find(|p| p.name == piece) else {
        return false;
    };
    let length = piece
        .outline
        .edge(&notch.edge)
        .map_or(0.0, |edge| edge.line.length());
    let same = |other: &Notch| {
        other.edge == notch.edge
            && other.kind == notch.kind
            && (other.fraction - notch.fraction).abs() * length <= JOINING.0
    };
    if piece.notches.iter().any(same) {
        return false;
    }
    Arc::make_mut(piece).notches.push(notch.clone());
    true
}

/// Gives distinguishing notches to the seams of a piece that could be set the wrong way round.
pub(super) fn distinguish(garment: &Garment, name: &str) -> Result<Altered, AlterationError> {
    let piece = garment
        .piece(name)
        .ok_or_else(|| AlterationError::NoPiece(name.to_owned()))?;
    let Some(next) = told_apart(garment, piece) else {
        return Err(AlterationError::Refused(format!(
            "{name} cannot be set the wrong way round: turned over or round it looks different, its edges go to the same mates, or its notches tell already; nothing to mark"
        )));
    };
    let marked = |(old, new): (&Arc<crate::piece::Piece>, &Arc<crate::piece::Piece>)| {
        let added = new.notches.iter().skip(old.notches.len());
        added
            .map(|notch| format!("{}, {} ({})", new.name, notch.edge, notch_word(notch.kind)))
            .collect::<Vec<_>>()
    };
    let places: Vec<String> = garment
        .pieces
        .iter()
        .zip(&next.pieces)
        .flat_map(marked)
        .collect();
    let mut told = note(
        name,
        format!("notches added on {}.", places.join(", ")),
        "Match them when the piece is sewn.",
    );
    told.place = Place::piece(name);
    Ok(Altered {
        garment: next,
        carried: Carried::default(),
        notes: vec![told],
    })
}
