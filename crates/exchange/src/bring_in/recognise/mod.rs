//! Garment pieces out of a neutral drawing of lines and texts.
//!
//! The way runs forward only: lines become `strokes`, strokes whose ends meet are joined (`chain`), closed ones are
//! nested (`loops`), an inner parallel line is the stitch line (`parallel`), edges are cut at corners (`corners`),
//! and what lies on a piece is read as marks and words. Every guess is told with its doubt and with what else it may be; the
//! maker puts it right in [`Choices`] and the whole runs again: same sheet, same choices, same outcome. What is in no piece
//! is told in [`Recognised::left`].
//!
//! Lengths in mm, y up. Never here: files and their formats, seams, body lines (the core proposes those).

mod blocks;
mod chain;
mod copies;
mod corners;
mod counts;
mod dashes;
mod draft;
mod fit;
mod folds;
mod frames;
mod kept;
mod labels;
mod loops;
mod marks;
mod outlines;
mod parallel;
mod pieces;
mod shared;
mod sizes;
mod strokes;
mod told;
mod types;
mod vcuts;
mod words;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_cuts;
#[cfg(test)]
mod tests_given;
#[cfg(test)]
mod tests_marks;
#[cfg(test)]
mod tests_sizes;

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::body::Body;
use petitoile_core::edge::EdgeRef;
use petitoile_core::garment::Garment;

use super::{BringInError, FoundSheet, Pace};

pub use types::{
    ALLOWANCE, Alternative, Choices, Correction, Drawn, FoundAllowance, FoundSize, Guess,
    GuessKind, LeftOver, OneLine, PieceId, Recognised, RecognisedPiece, Taken, Thing,
};

/// Makes pieces of a sheet.
///
/// Every guess can be corrected: put the correction in `choices` and recognise again. Pure: the same sheet and choices
/// give the same outcome.
pub fn recognise(sheet: &FoundSheet, choices: &Choices) -> Recognised {
    // Nobody watches, so nobody stops it.
    recognise_at(sheet, choices, &Pace::default()).unwrap_or_default()
}

/// The same, watched.
///
/// # Errors
/// [`BringInError::Stopped`] when it is stopped from outside.
pub fn recognise_at(
    sheet: &FoundSheet,
    choices: &Choices,
    pace: &Pace<'_>,
) -> Result<Recognised, BringInError> {
    Ok(match blocks::Apart::of(sheet) {
        Some(apart) => apart.back(pieces::recognise(&apart.sheet, choices, pace)?),
        None => pieces::recognise(sheet, choices, pace)?,
    })
}

/// The pieces as a garment: no seams yet, allowances that are drawn in still to be taken off.
pub fn garment(recognised: &Recognised, name: &str, made_for: Arc<Body>) -> Garment {
    let mut included_allowance: BTreeMap<EdgeRef, Mm> = BTreeMap::new();
    for piece in recognised
        .pieces
        .iter()
        .filter(|p| p.drawn == Drawn::CutOnly)
    {
        for (edge, allowance) in piece.piece.outline.edges().iter().zip(&piece.allowances) {
            if !edge.is_fold() && allowance.width.0 > 0.0 {
                included_allowance
                    .insert(EdgeRef::new(&piece.piece.name, &edge.name), allowance.width);
            }
        }
    }
    Garment {
        name: name.to_owned(),
        made_for,
        pieces: recognised
            .pieces
            .iter()
            .map(|p| Arc::new(p.piece.clone()))
            .collect(),
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance,
    }
}
