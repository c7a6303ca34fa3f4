//! Pieces added, taken out and renamed.

use std::sync::Arc;

use super::naming::{free_piece, piece_of, refuse};
use crate::alteration::{AlterationError, Altered, Carried};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::geometry::simple::crosses_itself;
use crate::piece::Piece;

pub(super) fn add(garment: &Garment, piece: &Arc<Piece>) -> Result<Altered, AlterationError> {
    free_piece(garment, &piece.name, &[])?;
    if piece.copies.is_empty() {
        return refuse(format!(
            "{} is cut no time at all; say how many are cut",
            piece.name
        ));
    }
    if crosses_itself(&piece.outline).is_some() {
        return Err(AlterationError::Crosses);
    }
    let mut garment = garment.clone();
    garment.pieces.push(piece.clone());
    Ok(Altered {
        garment,
        carried: Carried::default(),
        notes: Vec::new(),
    })
}

/// Takes a piece out. Its seams, its parts of tape lines and its edges in openings go with it, each with a note.
pub(super) fn remove(garment: &Garment, name: &str) -> Result<Altered, AlterationError> {
    piece_of(garment, name)?;
    let mut before = garment.clone();
    let mut carried = Carried::default().with_piece(name, &[]);
    let mut notes = Vec::new();
    before.seams.retain(|seam| {
        let mut sides = seam.a.iter().chain(&seam.b);
        let stays = sides.all(|stretch| stretch.piece != name);
        if !stays {
            carried.seams.insert(seam.name.clone(), Vec::new());
            notes.push(Finding {
                gravity: Gravity::Note,
                place: Place::part(&seam.name),
                what: format!("the seam went with {name}."),
                advice: "Sew what is left of its other side to another piece, or finish the edge."
                    .to_owned(),
                remedy: None,
            });
        }
        stays
    });
    let pieces = garment
        .pieces
        .iter()
        .filter(|piece| piece.name != name)
        .cloned()
        .collect();
    let mut altered = carried.altered(&before, pieces);
    notes.append(&mut altered.notes);
    altered.notes = notes;
    Ok(altered)
}

pub(super) fn rename(garment: &Garment, old: &str, new: &str) -> Result<Altered, AlterationError> {
    piece_of(garment, old)?;
    free_piece(garment, new, &[old])?;
    let pieces = garment
        .pieces
        .iter()
        .map(|piece| {
            if piece.name == old {
                Arc::new(Piece {
                    name: new.to_owned(),
                    ..Piece::clone(piece)
                })
            } else {
                piece.clone()
            }
        })
        .collect();
    let carried = Carried::default().with_piece(old, &[new]);
    Ok(carried.altered(garment, pieces))
}
