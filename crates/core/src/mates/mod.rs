//! The likely mates of an edge: what it could be sewn to, told from lengths and shapes.
//!
//! Looked at are length (with ease and fullness), how both curve, notches, what begins and ends beside them, and
//! whether they are sewn already. Names count for next to nothing. A mate may be one edge, an edge that a dart
//! interrupts, or several edges of neighbouring pieces in a row (front and back armscye against a sleeve cap).
//! All weights are our own, set on the garments of the wardrobe; no source.

mod likeness;
mod runs;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use crate::garment::Garment;
use crate::piece::{Copy, Frame, Piece, Placement, Side};
use crate::seams::{SeamError, Stretch, side_length};
use crate::units::Mm;

use likeness::{Likeness, Profile};
use runs::{Run, runs_of};

/// How many are proposed.
const PROPOSED: usize = 8;

/// What is taken off for each: sewn to its own mirror image, to its own lining, to another edge of its own torso piece.
const OWN_IMAGE: f64 = 0.24;
const OWN_LINING: f64 = 0.18;
const OWN_PIECE: f64 = 0.10;

/// Taken off the own lining of an edge with notches: those were made to meet another edge.
const NOTCHED_LINING: f64 = 0.36;

/// Taken off own edges that cannot close a tube: those that lie beside, are of another shape, or are more than one.
const NO_TUBE: f64 = 0.35;

/// How much a candidate gives way that fits another edge better: share of how much better.
const GIVES_WAY: f64 = 0.6;

/// What is taken off an edge that is sewn already, and one that is faced.
const SEWN: f64 = 0.30;
const FACED: f64 = 0.25;

/// What is taken off for every further edge in a row, and given for a row whose neighbours fit each other.
const FURTHER: f64 = 0.015;

/// Added when both edges have one name: a hint, no more.
const SAME_NAME: f64 = 0.01;

/// A likely mate.
#[derive(Debug, Clone, PartialEq)]
pub struct Mate {
    /// What it is, in sewing order: its start meets the start of the side that was asked about.
    pub stretches: Vec<Stretch>,
    /// How likely, about 1 for the best there can be; only the order counts.
    pub score: f64,
    /// How much longer the side that was asked about is.
    pub difference: Mm,
    /// Share of it that is sewn already.
    pub sewn: f64,
    /// Why it is proposed, in a maker's words.
    pub reason: String,
}

/// How a candidate lies to the side that was asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kin {
    /// An edge of another piece, or of several.
    Other,
    /// Another edge of the same copy.
    OwnPiece,
    /// The same edge of the copy for the other side of the body.
    OwnImage,
    /// The same edge of another layer.
    OwnLining,
}

/// The part of an edge that can be sewn: between hem, facing and whatever else it is finished with. The longest where
/// there are several; `None` for folds and dart legs, and where the piece is not there.
pub fn sewable(garment: &Garment, piece: &str, copy: Copy, edge: &str) -> Option<Stretch> {
    let piece = garment.piece(piece)?;
    let parts = runs::sewable_parts(piece, piece.outline.edge(edge)?);
    let longest = parts
        .into_iter()
        .max_by(|x, y| (x.1 - x.0).total_cmp(&(y.1 - y.0)))?;
    Some(Stretch {
        piece: piece.name.clone(),
        copy,
        edge: edge.to_owned(),
        from: longest.0,
        to: longest.1,
    })
}

/// The likely mates of one side of a seam (one stretch, or neighbouring ones), the likeliest first.
///
/// # Errors
/// [`SeamError`] when the side names something that is not there, or has no length.
///
/// # Example
/// Asked about a sleeve cap, the first mate of a plain blouse is its front and back armscye in a row.
pub fn mates(garment: &Garment, side: &[Stretch]) -> Result<Vec<Mate>, SeamError> {
    let length = side_length(side, &garment.pieces)?;
    let Some(asked) = Run::asked(garment, side).filter(|_| length.0 > 0.0) else {
        return Err(SeamError::NoLength);
    };
    let mut found = all_mates(garment, &asked);
    found.truncate(PROPOSED);
    give_way(garment, &asked, &mut found);
    if asked.turned {
        for mate in &mut found {
            turn(&mut mate.stretches);
        }
    }
    Ok(found)
}

/// Every candidate for itself, the likeliest first.
fn all_mates(garment: &Garment, asked: &Run) -> Vec<Mate> {
    let mut found: Vec<Mate> = Vec::new();
    for (run, kin) in candidates(garment, asked) {
        let Some(mate) = weighed(garment, asked, &run, kin) else {
            continue;
        };
        match found.iter_mut().find(|m| m.stretches == mate.stretches) {
            Some(same) if same.score < mate.score => *same = mate,
            Some(_) => {}
            None => found.push(mate),
        }
    }
    sort(&mut found);
    found
}

fn sort(found: &mut [Mate]) {
    found.sort_by(|x, y| {
        y.score
            .total_cmp(&x.score)
            .then_with(|| x.stretches.len().cmp(&y.stretches.len()))
    });
}

/// What fits another edge better than the one that was asked about is likely meant for that.
fn give_way(garment: &Garment, asked: &Run, found: &mut [Mate]) {
    for mate in found.iter_mut() {
        let Some(run) = Run::asked(garment, &mate.stretches) else {
            continue;
        };
        let better = all_mates(garment, &run)
            .into_iter()
            .filter(|other| {
                Run::asked(garment, &other.stretches).is_none_or(|other| !other.overlaps(asked))
            })
            .map(|other| other.score - mate.score)
            .fold(0.0, f64::max);
        mate.score -= GIVES_WAY * better;
    }
    sort(found);
}

fn turn(stretches: &mut [Stretch]) {
    stretches.reverse();
    for stretch in stretches {
        std::mem::swap(&mut stretch.from, &mut stretch.to);
    }
}

/// Everything the side could be sewn to.
fn candidates(garment: &Garment, asked: &Run) -> Vec<(Run, Kin)> {
    let role = asked.copy().role;
    let side = asked.copy().side;
    let single = runs_of(garment, role, side);
    let mut all: Vec<(Run, Kin)> = single
        .iter()
        .filter(|run| !run.overlaps(asked))
        .map(|run| {
            let own = run.pieces().any(|piece| asked.pieces().any(|p| p == piece));
            let kin = if own { Kin::OwnPiece } else { Kin::Other };
            (run.clone(), kin)
        })
        .collect();
    let rows = runs::rows(garment, &single, asked.length);
    all.extend(
        rows.into_iter()
            .filter(|row| !row.overlaps(asked))
            .map(|row| (row, Kin::Other)),
    );
    all.extend(own_image(garment, asked).map(|run| (run, Kin::OwnImage)));
    all.extend(own_lining(garment, asked).map(|run| (run, Kin::OwnLining)));
    all
}

/// The one piece that the side lies on.
fn own_piece<'a>(garment: &'a Garment, asked: &Run) -> Option<&'a Arc<Piece>> {
    let mut pieces = asked.pieces();
    let first = pieces.next()?;
    pieces.all(|piece| piece == first).then_some(())?;
    garment.piece(first)
}

/// The same edges of the copy for the other side of the body.
fn own_image(garment: &Garment, asked: &Run) -> Option<Run> {
    let piece = own_piece(garment, asked)?;
    if piece.placement == Placement::Framed(Frame::Arm) {
        return None;
    }
    let other = match asked.copy().side {
        Side::Right => Side::Left,
        Side::Left => Side::Right,
        Side::Whole => return None,
    };
    let copy = Copy {
        side: other,
        ..asked.copy()
    };
    piece.copies.contains(&copy).then(|| asked.on_copy(copy))
}

/// The same edges of another layer.
fn own_lining(garment: &Garment, asked: &Run) -> Option<Run> {
    let piece = own_piece(garment, asked)?;
    let other = piece
        .copies
        .iter()
        .find(|copy| copy.role != asked.copy().role && copy.side == asked.copy().side)?;
    Some(asked.on_copy(*other))
}

fn weighed(garment: &Garment, asked: &Run, run: &Run, kin: Kin) -> Option<Mate> {
    let same_hand = matches!(kin, Kin::OwnImage | Kin::OwnLining);
    let (mine, theirs) = (
        Profile::of(garment, asked)?,
        Profile::of(garment, run)?.seen_from(same_hand),
    );
    let like = Likeness::between(&mine, &theirs)?;
    let sewn = run.sewn;
    let mut score = like.score() - FURTHER * (run.stretches.len() as f64 - 1.0) + run.joined;
    score -= match kin {
        Kin::Other => 0.0,
        Kin::OwnPiece
            if run.stretches.len() > asked.stretches.len()
                || !like.is_like()
                || lie_beside(garment, asked, run) =>
        {
            NO_TUBE
        }
        Kin::OwnPiece if is_tube(garment, asked) => 0.0,
        Kin::OwnPiece => OWN_PIECE,
        Kin::OwnImage if like.triple => 0.0,
        Kin::OwnImage => OWN_IMAGE,
        Kin::OwnLining if mine.is_notched() => NOTCHED_LINING + OWN_LINING,
        Kin::OwnLining => OWN_LINING,
    };
    score -= SEWN * sewn;
    if run.faced != asked.faced {
        score -= FACED;
    }
    let one_name = |run: &Run| match run.stretches.as_slice() {
        [only] => Some(only.edge.clone()),
        _ => None,
    };
    if kin == Kin::Other && one_name(asked).is_some() && one_name(asked) == one_name(run) {
        score += SAME_NAME;
    }
    let mut stretches = run.stretches.clone();
    if !same_hand {
        turn(&mut stretches);
    }
    Some(Mate {
        difference: Mm(asked.length - run.length),
        score,
        sewn,
        reason: reason(&like, kin, run, asked.length - run.length),
        stretches,
    })
}

/// Do the two runs share a corner of their piece?
fn lie_beside(garment: &Garment, a: &Run, b: &Run) -> bool {
    let index = |stretch: &Stretch| {
        let piece = garment.piece(&stretch.piece)?;
        Some((
            piece.outline.index_of(&stretch.edge)?,
            piece.outline.edges().len(),
        ))
    };
    a.stretches.iter().filter_map(index).any(|(i, count)| {
        b.stretches
            .iter()
            .filter_map(index)
            .any(|(j, _)| (i + 1) % count == j || (j + 1) % count == i)
    })
}

/// A piece that goes round an arm or follows what it is sewn to is closed to a tube by its own edges.
fn is_tube(garment: &Garment, asked: &Run) -> bool {
    own_piece(garment, asked).is_some_and(|piece| {
        matches!(
            piece.placement,
            Placement::Framed(Frame::Arm) | Placement::Follows(_)
        )
    })
}

fn reason(like: &Likeness, kin: Kin, run: &Run, difference: f64) -> String {
    let mut words = vec![like.length_words(difference), like.shape_words().to_owned()];
    words.extend(like.notch_words().map(str::to_owned));
    words.extend(like.end_words().map(str::to_owned));
    words.extend(
        match kin {
            Kin::Other if run.stretches.len() > 1 => Some("several edges in a row"),
            Kin::Other => None,
            Kin::OwnPiece => Some("closes the piece"),
            Kin::OwnImage => Some("its own mirror image"),
            Kin::OwnLining => Some("the same edge of the other layer"),
        }
        .map(str::to_owned),
    );
    if run.sewn > 0.0 {
        words.push("sewn already".to_owned());
    }
    words.join(", ")
}
