//! The notches met as a seam is walked, and which of them meet.

use std::sync::Arc;

use super::{Seam, SeamError, Stretch, side_length};
use crate::notch::NotchKind;
use crate::piece::Piece;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// A notch met while walking one side of a seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WalkedNotch {
    /// Distance from the start of that side.
    pub at: Mm,
    /// The same as a share of the whole side.
    pub share: f64,
    /// How many strokes it has.
    pub kind: NotchKind,
}

/// A notch of side `a` beside its like on side `b`, as the seam is walked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotchPair {
    /// On side `a`.
    pub a: WalkedNotch,
    /// On side `b`.
    pub b: WalkedNotch,
    /// How far apart they lie when the seam is sewn, measured on side `b`, with ease spread evenly.
    pub apart: Mm,
}

/// Notches of one side in the order they are met. Those at the very ends of the side are left out: they meet anyway.
///
/// # Errors
/// [`SeamError`] when a stretch names something that is not there.
pub fn walked_notches(
    side: &[Stretch],
    pieces: &[Arc<Piece>],
) -> Result<Vec<WalkedNotch>, SeamError> {
    let whole = side_length(side, pieces)?.0;
    if whole <= 0.0 {
        return Err(SeamError::NoLength);
    }
    let mut found = Vec::new();
    let mut before = 0.0;
    for stretch in side {
        let length = stretch.length(pieces)?.0;
        let notches = pieces
            .iter()
            .filter(|piece| piece.name == stretch.piece)
            .flat_map(|piece| &piece.notches);
        for notch in notches.filter(|notch| notch.edge == stretch.edge) {
            let Some(along) = stretch.along(notch.fraction) else {
                continue;
            };
            let at = before + along * length;
            found.push(WalkedNotch {
                at: Mm(at),
                share: at / whole,
                kind: notch.kind,
            });
        }
        before += length;
    }
    found.retain(|notch| JOINING.0 < notch.at.0 && notch.at.0 < whole - JOINING.0);
    found.sort_by(|x, y| x.at.0.total_cmp(&y.at.0));
    // A notch where two stretches meet is met twice.
    found.dedup_by(|x, y| (x.at.0 - y.at.0).abs() <= JOINING.0 && x.kind == y.kind);
    Ok(found)
}

impl Seam {
    /// Walks the seam: each notch of one side with its like on the other, where both sides have as many of a kind.
    ///
    /// # Errors
    /// [`SeamError`] when a stretch names something that is not there.
    pub fn walked(&self, pieces: &[Arc<Piece>]) -> Result<Walked, SeamError> {
        let length = side_length(&self.b, pieces)?.0;
        let (a, b) = (
            walked_notches(&self.a, pieces)?,
            walked_notches(&self.b, pieces)?,
        );
        let mut walked = Walked {
            pairs: Vec::new(),
            alone: Vec::new(),
        };
        for kind in [NotchKind::Single, NotchKind::Double, NotchKind::Triple] {
            let of = |side: &[WalkedNotch]| -> Vec<WalkedNotch> {
                side.iter()
                    .filter(|notch| notch.kind == kind)
                    .copied()
                    .collect()
            };
            let (a, b) = (of(&a), of(&b));
            if a.len() == b.len() {
                let pair = |(a, b): (&WalkedNotch, &WalkedNotch)| NotchPair {
                    a: *a,
                    b: *b,
                    apart: Mm((a.share - b.share).abs() * length),
                };
                walked.pairs.extend(a.iter().zip(&b).map(pair));
            } else {
                walked.alone.push((kind, a.len(), b.len()));
            }
        }
        Ok(walked)
    }
}

/// What walking a seam found.
#[derive(Debug, Clone, PartialEq)]
pub struct Walked {
    /// Notches that have a like on the other side.
    pub pairs: Vec<NotchPair>,
    /// Kinds of notches that one side has more of: kind, how many on `a`, how many on `b`.
    pub alone: Vec<(NotchKind, usize, usize)>,
}
