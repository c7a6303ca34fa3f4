//! Seams: two lists of stretches that are sewn together, and what is caught between them.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::edge::{Edge, EdgeRef};
use crate::geometry::curve::Line;
use crate::notch::NotchKind;
use crate::piece::{Copy, Piece};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Two lists of stretches sewn together, end to end on each side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Seam {
    /// Unique in its garment: "side seam", "sleeve into armscye".
    pub name: String,
    /// One side, in sewing order.
    pub a: Vec<Stretch>,
    /// The other side, in sewing order; its start meets the start of `a`.
    pub b: Vec<Stretch>,
    /// Is the same seam sewn mirrored on the other side of the body?
    pub mirrored: bool,
    /// How long `a` is against `b`.
    pub relation: Relation,
    /// How it is sewn.
    pub kind: SeamKind,
    /// What is caught in it.
    #[serde(default)]
    pub inserts: Vec<Insert>,
}

/// Part of an edge of one copy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stretch {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// Name of the edge.
    pub edge: String,
    /// Fraction where sewing starts. Above `to` when the edge is walked against its drawn direction.
    pub from: f64,
    /// Fraction where sewing ends.
    pub to: f64,
}

/// How long side `a` of a seam is against side `b`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Relation {
    /// Equal.
    Equal,
    /// `a` is longer by this much and eased in. In proportion after adapting, unless the fitting sets it.
    Eased(Mm),
    /// `a` is this many times as long (gathered or pleated into `b`).
    Ratio(f64),
}

/// How a seam is sewn. ISO 4916 classes stand in `making_order` once sourced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum SeamKind {
    /// Right sides together, one row.
    #[default]
    Plain,
    /// Sewn twice, raw edges inside.
    French,
    /// One allowance folded over the other and sewn down.
    Felled,
    /// Edges wrapped in a strip.
    Bound,
    /// Edges overcast.
    Overedged,
    /// One edge laid on the other.
    Lapped,
}

/// Something caught between the layers of a seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Insert {
    /// What it is, in the maker's words.
    pub name: String,
    /// What kind.
    pub kind: InsertKind,
    /// Thickness it adds to the stack.
    pub thickness: Mm,
    /// Fraction of side `a` where it starts.
    pub from: f64,
    /// Fraction of side `a` where it ends.
    pub to: f64,
}

/// Kinds of inserts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum InsertKind {
    /// A tie or ribbon end.
    Tie,
    /// A ruffle.
    Ruffle,
    /// A piping or cording.
    Piping,
    /// Lace or other edging.
    Lace,
}

impl Stretch {
    /// Its line on the given pieces, walked in sewing order. `None` when piece, edge or length is not there.
    pub fn line(&self, pieces: &[Arc<Piece>]) -> Option<Line> {
        let piece = pieces.iter().find(|piece| piece.name == self.piece)?;
        piece
            .outline
            .edge(&self.edge)?
            .line
            .between(self.from, self.to)
    }

    /// Its length on the given pieces.
    ///
    /// On finished pieces (source or adapted) this is the sewn length: darts are no part of an edge, and pleats and
    /// gathers are not yet let in. On cloth outlines it is the length before it is drawn in; see [`Self::sewn_length`].
    ///
    /// # Errors
    /// [`SeamError`] when the piece or the edge is not there.
    pub fn length(&self, pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let edge = self.edge_in(pieces)?;
        Ok(Mm(edge.line.length() * (self.to - self.from).abs()))
    }

    /// Its length on cloth outlines after pleats, tucks and gathers are taken up.
    ///
    /// `filled` are cloth outlines with fractions carried along ([`crate::fullness::Filled`]), and so is this stretch.
    ///
    /// # Errors
    /// [`SeamError`] when the piece or the edge is not there.
    pub fn sewn_length(&self, filled: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let whole = self.edge_in(filled)?.line.length();
        let (low, high) = (self.from.min(self.to), self.from.max(self.to));
        let ops = filled
            .iter()
            .filter(|piece| piece.name == self.piece)
            .flat_map(|piece| &piece.fullness)
            .filter(|op| op.edge == self.edge);
        let taken: f64 = ops
            .map(|op| {
                let cloth = whole * (op.to - op.from);
                let shared = (op.to.min(high) - op.from.max(low)).max(0.0) / (op.to - op.from);
                (cloth - op.fullness.finished_length(Mm(cloth)).0) * shared
            })
            .sum();
        Ok(Mm(whole * (high - low) - taken))
    }

    /// Fraction of this stretch, in sewing order, at a fraction of its edge; `None` beyond its ends.
    pub fn along(&self, edge_fraction: f64) -> Option<f64> {
        const NEAR: f64 = 1e-9;
        let along = (edge_fraction - self.from) / (self.to - self.from);
        (-NEAR..=1.0 + NEAR)
            .contains(&along)
            .then(|| along.clamp(0.0, 1.0))
    }

    fn edge_in<'a>(&self, pieces: &'a [Arc<Piece>]) -> Result<&'a Edge, SeamError> {
        let piece = pieces
            .iter()
            .find(|piece| piece.name == self.piece)
            .ok_or_else(|| SeamError::NoPiece(self.piece.clone()))?;
        let missing = || SeamError::NoEdge(EdgeRef::new(&self.piece, &self.edge));
        piece.outline.edge(&self.edge).ok_or_else(missing)
    }
}

/// Why a seam cannot be measured.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SeamError {
    /// A stretch names a piece that is not there.
    #[error("there is no piece called {0}")]
    NoPiece(String),
    /// A stretch names an edge that is not there.
    #[error("there is no edge {0}")]
    NoEdge(EdgeRef),
    /// A side without length.
    #[error("one side of the seam has no length")]
    NoLength,
}

/// Length of one side of a seam: the sum of its stretches. See [`Stretch::length`] for what counts.
///
/// # Errors
/// [`SeamError`] when a stretch names something that is not there.
pub fn side_length(side: &[Stretch], pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
    side.iter()
        .try_fold(Mm(0.0), |sum, stretch| Ok(sum + stretch.length(pieces)?))
}

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
    /// How much longer side `a` is than its relation to `b` asks: 0 fits, positive is too long.
    ///
    /// # Errors
    /// [`SeamError`] when a stretch names something that is not there.
    ///
    /// # Example
    /// A sleeve cap of 104 mm eased by 4 mm into an armscye of 99 mm is 1 mm too long.
    pub fn difference(&self, pieces: &[Arc<Piece>]) -> Result<Mm, SeamError> {
        let (a, b) = (side_length(&self.a, pieces)?, side_length(&self.b, pieces)?);
        Ok(a - self.relation.wanted(b))
    }

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

impl Relation {
    /// How long side `a` must be when `b` is this long.
    pub fn wanted(self, b: Mm) -> Mm {
        match self {
            Self::Equal => b,
            Self::Eased(by) => b + by,
            Self::Ratio(ratio) => Mm(b.0 * ratio),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::check::samples::{adapted, doll, garment, seam, stretch, strip};
    use crate::fullness::{Fullness, FullnessOp, fill};
    use crate::notch::Notch;

    fn pieces(list: Vec<Piece>) -> Vec<Arc<Piece>> {
        list.into_iter().map(Arc::new).collect()
    }

    fn notched(mut piece: Piece, edge: &str, fractions: &[f64]) -> Piece {
        let notch = |fraction: &f64| Notch {
            edge: edge.to_owned(),
            fraction: *fraction,
            kind: NotchKind::Single,
        };
        piece.notches.extend(fractions.iter().map(notch));
        piece
    }

    #[test]
    fn a_side_is_the_sum_of_its_stretches_whichever_way_they_run() {
        let pieces = pieces(vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)]);
        let side = [
            stretch("Front", "waist", 0.0, 0.5),
            stretch("Back", "waist", 1.0, 0.25),
        ];
        assert!((side_length(&side, &pieces).unwrap().0 - 110.0).abs() < 1e-9);
        assert_eq!(
            side_length(&[stretch("Yoke", "waist", 0.0, 1.0)], &pieces),
            Err(SeamError::NoPiece("Yoke".to_owned()))
        );
    }

    #[test]
    fn a_seam_is_measured_against_its_relation() {
        let pieces = pieces(vec![
            strip("Cap", 104.0, 60.0),
            strip("Armscye", 99.0, 60.0),
        ]);
        let difference = |relation| {
            let s = seam(
                "sleeve into armscye",
                vec![stretch("Cap", "waist", 0.0, 1.0)],
                vec![stretch("Armscye", "waist", 1.0, 0.0)],
                relation,
            );
            s.difference(&pieces).unwrap().0
        };
        assert!((difference(Relation::Equal) - 5.0).abs() < 1e-9);
        assert!((difference(Relation::Eased(Mm(4.0))) - 1.0).abs() < 1e-9);
        assert!((difference(Relation::Ratio(1.0)) - 5.0).abs() < 1e-9);
    }

    #[test]
    fn cloth_less_what_is_taken_up_is_the_sewn_length() {
        let mut skirt = strip("Skirt", 120.0, 40.0);
        let fullness = Fullness::KnifePleats {
            count: 4,
            depth: Mm(6.0),
        };
        skirt.fullness = vec![FullnessOp {
            edge: "waist".to_owned(),
            from: 0.25,
            to: 0.75,
            fullness,
            even_to: Some("hem".to_owned()),
        }];
        let filled = fill(&Arc::new(adapted(
            garment(vec![skirt], Vec::new()),
            doll("doll"),
        )))
        .outcome;
        let waist = stretch("Skirt", "waist", 0.0, 1.0);
        assert!((waist.length(&filled.pieces).unwrap().0 - 168.0).abs() < 1e-6);
        assert!((waist.sewn_length(&filled.pieces).unwrap().0 - 120.0).abs() < 1e-6);
    }

    #[test]
    fn walking_a_seam_pairs_its_notches_in_sewing_order() {
        let a = notched(strip("Front", 100.0, 60.0), "waist", &[0.2, 0.5, 1.0]);
        let b = notched(strip("Back", 100.0, 60.0), "waist", &[0.5, 0.79]);
        let s = seam(
            "waist",
            vec![stretch("Front", "waist", 0.0, 1.0)],
            vec![stretch("Back", "waist", 1.0, 0.0)],
            Relation::Equal,
        );
        let walked = s.walked(&pieces(vec![a, b])).unwrap();
        assert_eq!(walked.alone, Vec::new());
        assert!(
            (walked.pairs[0].apart.0 - 1.0).abs() < 1e-9 && walked.pairs[1].apart.0.abs() < 1e-9,
            "{walked:?}"
        );
    }

    #[test]
    fn a_notch_without_its_like_is_told() {
        let a = notched(strip("Front", 100.0, 60.0), "waist", &[0.2]);
        let s = seam(
            "waist",
            vec![stretch("Front", "waist", 0.0, 1.0)],
            vec![stretch("Back", "waist", 1.0, 0.0)],
            Relation::Equal,
        );
        let walked = s
            .walked(&pieces(vec![a, strip("Back", 100.0, 60.0)]))
            .unwrap();
        assert_eq!(walked.alone, vec![(NotchKind::Single, 1, 0)]);
    }
}
