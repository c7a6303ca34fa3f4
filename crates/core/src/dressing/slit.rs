//! How far an edge is open: what of it no seam closes.
//!
//! A seam closes an edge when both its sides are cut in the outer cloth; a lining, a facing or a band sewn along an
//! open edge leaves it open.

use std::sync::Arc;

use crate::alteration::{Alteration, MarkChange};
use crate::edge::{Edge, EdgeRef, Finish};
use crate::garment::{Garment, Opening, Passing, times_on_tape};
use crate::measure::Measure;
use crate::piece::{Piece, Placement, Role};
use crate::seams::{Seam, Stretch};
use crate::tolerance::{DRAWING, JOINING};
use crate::units::Mm;

/// Shares of an edge closer than this are the same place.
const SAME: f64 = 1e-9;

/// The measure whose tape meets the pieces round an opening as often as the hole does.
pub(super) fn girth_of(passes: Passing) -> Measure {
    match passes {
        Passing::Head => Measure::NeckGirth,
        Passing::Hand => Measure::WristGirth,
        Passing::Foot => Measure::AnkleGirth,
        Passing::Trunk => Measure::WaistGirth,
    }
}

pub(super) fn edge_of<'a>(pieces: &'a [Arc<Piece>], at: &EdgeRef) -> Option<(&'a Piece, &'a Edge)> {
    let piece = pieces.iter().find(|piece| piece.name == at.piece)?;
    Some((piece, piece.outline.edge(&at.edge)?))
}

/// Does this seam close the edges it runs along?
fn closes(garment: &Garment, seam: &Seam) -> bool {
    let is_framed = |stretch: &Stretch| {
        let piece = garment.piece(&stretch.piece);
        piece.is_some_and(|piece| matches!(piece.placement, Placement::Framed(_)))
    };
    let outer = |side: &[Stretch]| side.iter().all(|s| s.copy.role == Role::Shell);
    let framed = |side: &[Stretch]| side.iter().all(is_framed);
    outer(&seam.a) && outer(&seam.b) && framed(&seam.a) == framed(&seam.b)
}

/// Shares of an edge that a seam closes, in order, joined where they touch.
pub(super) fn sewn(garment: &Garment, at: &EdgeRef) -> Vec<(f64, f64)> {
    let here = |stretch: &&Stretch| stretch.piece == at.piece && stretch.edge == at.edge;
    let closing = garment.seams.iter().filter(|seam| closes(garment, seam));
    let mut list: Vec<(f64, f64)> = closing
        .flat_map(|seam| seam.a.iter().chain(&seam.b))
        .filter(here)
        .map(|s| (s.from.min(s.to), s.from.max(s.to)))
        .collect();
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (from, to) in list {
        match joined.last_mut() {
            Some(last) if from <= last.1 + SAME => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}

/// The longest share of an edge that is open; `None` when it is sewn, or folded, from end to end.
pub(super) fn free(garment: &Garment, at: &EdgeRef) -> Option<(f64, f64)> {
    let (_, edge) = edge_of(&garment.pieces, at)?;
    if edge.is_fold() {
        return None;
    }
    let mut gaps = Vec::new();
    let mut before = 0.0;
    for (from, to) in sewn(garment, at).into_iter().chain([(1.0, 1.0)]) {
        gaps.push((before, from));
        before = to;
    }
    let longest = gaps
        .into_iter()
        .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    longest.filter(|(from, to)| to - from > SAME)
}

/// Length of the slit of an opening: the open part of each edge it names, once each; and the open edges it does not
/// name that begin at a corner of its hole, each side counting half.
pub(super) fn length(garment: &Garment, opening: &Opening) -> Mm {
    let open = |at: &EdgeRef| {
        let length = edge_of(&garment.pieces, at).map_or(0.0, |(_, edge)| edge.line.length());
        free(garment, at).map_or(0.0, |(from, to)| (to - from) * length)
    };
    let named: f64 = opening.slit.iter().map(open).sum();
    let found: f64 = beside(garment, opening)
        .iter()
        .filter(|side| !opening.slit.contains(&side.at))
        .map(|side| side.open_at_corner(garment))
        .sum();
    Mm(named + found)
}

/// An edge that begins or ends at a corner of a hole.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Beside {
    pub at: EdgeRef,
    /// Is the hole at the end of the edge (1) or at its start (0)?
    pub at_end: bool,
    /// How many sides of slits it makes where it is open, halved.
    sides: f64,
}

impl Beside {
    /// Open from the hole's corner on, counted in slits; only where a finish says so, or it is one from end to end.
    fn open_at_corner(&self, garment: &Garment) -> f64 {
        let Some((_, edge)) = edge_of(&garment.pieces, &self.at) else {
            return 0.0;
        };
        let Some((from, to)) = free(garment, &self.at) else {
            return 0.0;
        };
        let corner = if self.at_end { 1.0 } else { 0.0 };
        let touches = if self.at_end {
            to > 1.0 - SAME
        } else {
            from < SAME
        };
        let opens = matches!(
            edge.finish_at(corner),
            Finish::Slit | Finish::Open | Finish::Placket { .. }
        );
        if touches && opens {
            self.sides * (to - from) * edge.line.length()
        } else {
            0.0
        }
    }
}

/// Every edge next to the hole of an opening that is no part of the hole itself.
pub(super) fn beside(garment: &Garment, opening: &Opening) -> Vec<Beside> {
    let measure = girth_of(opening.passes);
    let mut list: Vec<Beside> = Vec::new();
    for hole in &opening.hole {
        let Some(piece) = garment.piece(&hole.piece) else {
            continue;
        };
        let sides = times_on_tape(piece, measure) / 2.0;
        for (name, at_end) in neighbours(piece, &hole.edge) {
            let at = EdgeRef::new(&piece.name, name);
            let is_known = opening.hole.contains(&at) || list.iter().any(|other| other.at == at);
            if !is_known {
                list.push(Beside { at, at_end, sides });
            }
        }
    }
    list
}

/// The edges before and after an edge, with whether they meet it at their end.
pub(super) fn neighbours<'a>(piece: &'a Piece, edge: &str) -> Vec<(&'a str, bool)> {
    let edges = piece.outline.edges();
    let Some(at) = piece.outline.index_of(edge) else {
        return Vec::new();
    };
    let count = edges.len();
    let name = |i: usize| edges.get(i % count.max(1)).map(|edge| edge.name.as_str());
    let before = name(at + count.saturating_sub(1)).map(|name| (name, true));
    let after = name(at + 1).map(|name| (name, false));
    before.into_iter().chain(after).collect()
}

/// The hand work that makes the slit of an opening longer by this much, in one step: a seam that goes on where the slit
/// ends, or that begins at the hole, is left open. `None` when no single seam is long enough.
pub(super) fn longer(garment: &Garment, opening: &Opening, by: Mm) -> Option<Alteration> {
    let named = opening
        .slit
        .iter()
        .filter_map(|at| extended(garment, at, by.0));
    let first = named.into_iter().next();
    first.or_else(|| {
        let mut sides = beside(garment, opening);
        sides.retain(|side| !opening.slit.contains(&side.at) || free(garment, &side.at).is_none());
        // The back first: there a slit shows least.
        sides.sort_by_key(|side| !side.at.edge.contains("back"));
        sides.iter().find_map(|side| begun(garment, side, by.0))
    })
}

fn left_open(at: &EdgeRef, from: f64, to: f64, finish: Finish) -> Alteration {
    let finish = match finish {
        Finish::Placket { .. } | Finish::Open => finish,
        _ => Finish::Slit,
    };
    Alteration::Mark {
        piece: at.piece.clone(),
        change: MarkChange::SetFinish {
            edge: at.edge.clone(),
            from,
            to,
            finish,
        },
    }
}

/// Opens a named edge on from where its open part ends.
fn extended(garment: &Garment, at: &EdgeRef, by: f64) -> Option<Alteration> {
    let (_, edge) = edge_of(&garment.pieces, at)?;
    let share = by / edge.line.length().max(JOINING.0);
    let (from, to) = free(garment, at)?;
    let finish = edge.finish_at(f64::midpoint(from, to));
    if to < 1.0 - SAME && to + share <= 1.0 + SAME {
        return Some(left_open(at, to, (to + share).min(1.0), finish));
    }
    (from > SAME && from - share >= -SAME)
        .then(|| left_open(at, (from - share).max(0.0), from, finish))
}

/// Opens a sewn edge from the hole's corner.
fn begun(garment: &Garment, side: &Beside, by: f64) -> Option<Alteration> {
    let (_, edge) = edge_of(&garment.pieces, &side.at)?;
    let share = by / edge.line.length().max(JOINING.0);
    let (from, to) = if side.at_end {
        (1.0 - share, 1.0)
    } else {
        (0.0, share)
    };
    let covered = sewn(garment, &side.at)
        .iter()
        .any(|(a, b)| *a <= from + SAME && to - SAME <= *b);
    (share <= 1.0 && covered).then(|| left_open(&side.at, from, to, Finish::Slit))
}

/// Is this length of slit enough?
pub(super) fn reaches(slit: Mm, needed: Mm) -> bool {
    slit.0 >= needed.0 - DRAWING.0
}
