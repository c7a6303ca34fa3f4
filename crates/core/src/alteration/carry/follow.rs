//! A garment follows: what stands on its pieces, its seams, tape lines, openings and included allowances.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::on_piece::{finishes, follow, lost, share_of_chord};
use super::{Carried, EdgePart, NEAR};
use crate::alteration::Altered;
use crate::edge::{EdgeRef, OutlinePoint};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::{Garment, Opening};
use crate::piece::Piece;
use crate::seams::{Seam, Stretch};
use crate::tape::{TapeLine, TapePart, TapePath};
use crate::units::Mm;

impl Carried {
    /// The garment with these pieces in place of its own, everything that named an old edge or piece following.
    ///
    /// `pieces` have their new outlines, marks, grainlines and copies. Finishes of the edges that old ones went to, and
    /// the notches, body lines, darts and fullness of every piece that came of a listed one, are put there by this:
    /// what stood in their place is left out. Pieces that came of none keep what they bring, and so do pieces none of
    /// whose edges is listed. A seam that was cut in two gets its first new name. What a change adds of its own (a new
    /// dart, the second half of a seam) it adds afterwards.
    ///
    /// The notes say what could not follow.
    pub fn altered(mut self, before: &Garment, pieces: Vec<Arc<Piece>>) -> Altered {
        let mut pieces = pieces;
        let mut notes = Vec::new();
        let listed = self.listed();
        self.empty(&listed, &mut pieces);
        finishes(&self, &before.pieces, &mut pieces);
        for old in before
            .pieces
            .iter()
            .filter(|old| listed.contains(&old.name))
        {
            if !self.piece(&old.name).is_empty() {
                follow(&self, old, &mut pieces, &mut notes);
            }
        }
        let mut garment = Garment {
            pieces,
            ..before.clone()
        };
        garment.seams = self.seams_of(before, &listed, &mut notes);
        garment.tape_lines = self.tapes_of(before, &listed, &garment.pieces, &mut notes);
        garment.openings = self.openings_of(before, &garment.pieces, &listed, &mut notes);
        garment.included_allowance = self.widths(&before.included_allowance);
        Altered {
            garment,
            carried: self,
            notes,
        }
    }

    /// Old pieces that something was said about.
    fn listed(&self) -> BTreeSet<String> {
        let of_edges = self.edges.keys().map(|edge| edge.piece.clone());
        of_edges.chain(self.pieces.keys().cloned()).collect()
    }

    /// Takes off the new pieces what will be carried over to them.
    fn empty(&self, listed: &BTreeSet<String>, pieces: &mut [Arc<Piece>]) {
        let names: BTreeSet<String> = listed.iter().flat_map(|old| self.piece(old)).collect();
        for piece in pieces
            .iter_mut()
            .filter(|piece| names.contains(&piece.name))
        {
            let piece = Arc::make_mut(piece);
            piece.notches.clear();
            piece.body_lines.clear();
            piece.darts.clear();
            piece.fullness.clear();
        }
    }

    fn seams_of(
        &mut self,
        before: &Garment,
        listed: &BTreeSet<String>,
        notes: &mut Vec<Finding>,
    ) -> Vec<Seam> {
        let mut seams = Vec::new();
        for seam in &before.seams {
            let touched = seam
                .a
                .iter()
                .chain(&seam.b)
                .any(|s| listed.contains(&s.piece));
            let followed = if touched {
                self.followed_seam(seam, notes)
            } else {
                Some(seam.clone())
            };
            let Some(followed) = followed else {
                self.seams.entry(seam.name.clone()).or_default();
                continue;
            };
            if let Some(name) = self.seam(&seam.name).into_iter().next() {
                seams.push(Seam { name, ..followed });
            }
        }
        seams
    }

    fn followed_seam(&self, seam: &Seam, notes: &mut Vec<Finding>) -> Option<Seam> {
        if self.seam(&seam.name).is_empty() {
            return None;
        }
        let mut lost_share = 0.0;
        let mut side = |stretches: &[Stretch]| -> Vec<Stretch> {
            let mut side: Vec<Stretch> = Vec::new();
            for stretch in stretches {
                let edge = EdgeRef::new(&stretch.piece, &stretch.edge);
                let parts = self.range(&edge, stretch.from, stretch.to);
                lost_share += self.gone(&edge, stretch.from, stretch.to);
                side.extend(parts.into_iter().map(|part| of_part(stretch, part)));
            }
            with_neighbours(side)
        };
        let (a, b) = (side(&seam.a), side(&seam.b));
        if a.is_empty() || b.is_empty() {
            let what = "one of its sides is gone with its edge, so the seam is gone.".to_owned();
            notes.push(lost(
                Place::part(&seam.name),
                what,
                "Say anew what is sewn to what.",
            ));
            return None;
        }
        if lost_share > NEAR {
            let what = "part of one of its sides is gone with its edge.".to_owned();
            notes.push(lost(
                Place::part(&seam.name),
                what,
                "Walk the seam and say anew what is sewn to what.",
            ));
        }
        Some(Seam {
            a,
            b,
            ..seam.clone()
        })
    }

    /// How much of a part of an old edge is no edge any more, as a fraction of the edge.
    fn gone(&self, edge: &EdgeRef, from: f64, to: f64) -> f64 {
        let (low, high) = (from.min(to), from.max(to));
        let kept = self.bits(edge).iter().fold(0.0, |sum, bit| {
            sum + (high.min(bit.to) - low.max(bit.from)).max(0.0)
        });
        (high - low - kept).max(0.0)
    }

    fn tapes_of(
        &self,
        before: &Garment,
        listed: &BTreeSet<String>,
        pieces: &[Arc<Piece>],
        notes: &mut Vec<Finding>,
    ) -> Vec<TapeLine> {
        let mut tapes = Vec::new();
        for tape in &before.tape_lines {
            let mut parts = Vec::new();
            for part in &tape.parts {
                if !listed.contains(&part.piece) {
                    parts.push(part.clone());
                    continue;
                }
                let followed = self.tape_part(before, part, pieces);
                if followed.is_empty() {
                    let what = format!("its part on {} could not follow.", part.piece);
                    notes.push(lost(
                        Place::part(&tape.name),
                        what,
                        "Lay the tape anew, so that the garment can be adapted by it.",
                    ));
                }
                parts.extend(followed);
            }
            if !parts.is_empty() || tape.parts.is_empty() {
                tapes.push(TapeLine {
                    parts,
                    ..tape.clone()
                });
            }
        }
        tapes
    }

    fn tape_part(&self, before: &Garment, part: &TapePart, pieces: &[Arc<Piece>]) -> Vec<TapePart> {
        match &part.path {
            TapePath::Along { edge, from, to } => {
                let edge = EdgeRef::new(&part.piece, edge);
                let along = |part: EdgePart| TapePart {
                    piece: part.edge.piece,
                    path: TapePath::Along {
                        edge: part.edge.edge,
                        from: part.from,
                        to: part.to,
                    },
                };
                self.range(&edge, *from, *to)
                    .into_iter()
                    .map(along)
                    .collect()
            }
            TapePath::Across(a, b) => {
                let ends = self.tape_ends(before, &part.piece, (a, b), pieces);
                ends.into_iter()
                    .map(|(piece, a, b)| TapePart {
                        piece,
                        path: TapePath::Across(a, b),
                    })
                    .collect()
            }
            TapePath::Upright(a, b) => {
                let ends = self.tape_ends(before, &part.piece, (a, b), pieces);
                ends.into_iter()
                    .map(|(piece, a, b)| TapePart {
                        piece,
                        path: TapePath::Upright(a, b),
                    })
                    .collect()
            }
        }
    }

    /// Both ends of a straight tape; two parts of it where its piece was cut across.
    fn tape_ends(
        &self,
        before: &Garment,
        piece: &str,
        (a, b): (&OutlinePoint, &OutlinePoint),
        pieces: &[Arc<Piece>],
    ) -> Vec<(String, OutlinePoint, OutlinePoint)> {
        let ends = self.point(piece, a).zip(self.point(piece, b));
        let Some(((first, a_now), (second, b_now))) = ends else {
            return Vec::new();
        };
        if first == second {
            return vec![(first, a_now, b_now)];
        }
        let old = before.piece(piece);
        let chord = old.and_then(|old| old.point_at(a).zip(old.point_at(b)));
        let Some((from, to)) = chord else {
            return Vec::new();
        };
        let halves = share_of_chord(pieces, &first, &a_now, (from, to)).zip(share_of_chord(
            pieces,
            &second,
            &b_now,
            (to, from),
        ));
        let Some((a_end, b_start)) = halves else {
            return Vec::new();
        };
        vec![(first, a_now, a_end), (second, b_start, b_now)]
    }

    fn openings_of(
        &self,
        before: &Garment,
        pieces: &[Arc<Piece>],
        listed: &BTreeSet<String>,
        notes: &mut Vec<Finding>,
    ) -> Vec<Opening> {
        let mut openings = Vec::new();
        for opening in &before.openings {
            let mut edges = |old: &[EdgeRef]| {
                let now = self.whole_edges(old);
                let touched = old.iter().any(|edge| listed.contains(&edge.piece));
                if touched && (now.is_empty() || self.counts_more(old, &now, pieces)) {
                    notes.push(Finding {
                        gravity: Gravity::Note,
                        place: Place::part(&opening.name),
                        what: "its edges are no longer the same stretch of the outline.".to_owned(),
                        advice: "Look whether it still opens where it should.".to_owned(),
                        remedy: None,
                    });
                }
                now
            };
            let (hole, slit) = (edges(&opening.hole), edges(&opening.slit));
            if !(hole.is_empty() && slit.is_empty()) {
                openings.push(Opening {
                    hole,
                    slit,
                    ..opening.clone()
                });
            }
        }
        openings
    }

    /// The edges that old whole edges are now, each once.
    fn whole_edges(&self, old: &[EdgeRef]) -> Vec<EdgeRef> {
        let mut now: Vec<EdgeRef> = Vec::new();
        for bit in old.iter().flat_map(|edge| self.bits(edge)) {
            if !now.contains(&bit.edge) {
                now.push(bit.edge);
            }
        }
        now
    }

    /// Do these new edges hold more, or less, than the old ones?
    fn counts_more(&self, old: &[EdgeRef], now: &[EdgeRef], pieces: &[Arc<Piece>]) -> bool {
        let bits: Vec<_> = old.iter().flat_map(|edge| self.bits(edge)).collect();
        let covered = |edge: &EdgeRef| {
            let own = bits.iter().filter(|bit| bit.edge == *edge);
            own.map(|bit| (bit.end - bit.start).abs()).sum::<f64>()
        };
        let there = |edge: &EdgeRef| {
            let piece = pieces.iter().find(|piece| piece.name == edge.piece);
            piece.is_some_and(|piece| piece.outline.edge(&edge.edge).is_some())
        };
        now.iter()
            .any(|edge| there(edge) && (covered(edge) - 1.0).abs() > 1e-6)
    }

    /// Widths by edge: every edge that one became has its width; where two edges became one, the wider.
    pub(super) fn widths(&self, before: &BTreeMap<EdgeRef, Mm>) -> BTreeMap<EdgeRef, Mm> {
        let mut now: BTreeMap<EdgeRef, Mm> = BTreeMap::new();
        for (old, width) in before {
            for bit in self.bits(old) {
                let wider = |there: &mut Mm| there.0 = there.0.max(width.0);
                now.entry(bit.edge).and_modify(wider).or_insert(*width);
            }
        }
        now
    }
}

fn of_part(stretch: &Stretch, part: EdgePart) -> Stretch {
    Stretch {
        piece: part.edge.piece,
        edge: part.edge.edge,
        from: part.from,
        to: part.to,
        ..stretch.clone()
    }
}

/// Stretches of one edge and copy that follow each other become one.
fn with_neighbours(side: Vec<Stretch>) -> Vec<Stretch> {
    let mut whole: Vec<Stretch> = Vec::new();
    for stretch in side {
        match whole.last_mut() {
            Some(last)
                if last.piece == stretch.piece
                    && last.edge == stretch.edge
                    && last.copy == stretch.copy
                    && (last.to - stretch.from).abs() <= NEAR
                    && (last.to - last.from) * (stretch.to - stretch.from) > 0.0 =>
            {
                last.to = stretch.to;
            }
            _ => whole.push(stretch),
        }
    }
    whole
}
