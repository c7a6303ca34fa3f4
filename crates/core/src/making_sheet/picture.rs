//! The little picture of a step: the pieces in hand, right or wrong side up, with the edges that are worked.
//!
//! Everything comes from the finished pieces; mm, y up. What a painter does with it is its own business.

mod lie;
mod pictured;

use kurbo::{BezPath, Line as Stroke, Point, Rect, Shape};

use super::side::side_of;
use crate::edge::EdgeRef;
use crate::finish::Finished;
use crate::making_order::{Step, Work};
use crate::piece::{Copy, Face, Side};
use crate::seams::{Seam, SeamKind};

pub(super) use lie::turned_by;
pub use pictured::whole_cut;
use pictured::{Half, pictured};

/// More pieces than this are no little picture any more; only cutting out shows them all (*own*).
const MOST_PIECES: usize = 6;

/// The pieces of a step as they lie in front of the maker.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Picture {
    /// From the lowest to the uppermost.
    pub pieces: Vec<Pictured>,
    /// Does the last piece lie on the others, edge on edge?
    pub on_top: bool,
}

/// A piece in a little picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// The side that is up.
    pub up: Face,
    /// Its cut line, closed, unfolded.
    pub cut: BezPath,
    /// What is seen of the cut line: nothing of it that lies under another piece.
    pub seen: BezPath,
    /// Slanted lines over the wrong side.
    pub shade: BezPath,
    /// Stitch lines of the edges that are worked.
    pub worked: Vec<BezPath>,
    /// Names of these edges.
    pub edges: Vec<String>,
    /// Notches on these edges: from the cut line inwards.
    pub notches: Vec<Stroke>,
    /// Where its name fits best.
    pub label_at: Point,
}

impl Picture {
    /// Smallest upright rectangle around all pieces.
    pub fn bounds(&self) -> Rect {
        self.pieces
            .iter()
            .map(|piece| piece.cut.bounding_box())
            .reduce(|a, b| a.union(b))
            .unwrap_or_default()
    }

    /// What it shows: "front, right side up, side seam; on it back, wrong side up, side seam".
    pub fn words(&self) -> String {
        let last = self.pieces.len().saturating_sub(1);
        let each = self.pieces.iter().enumerate().map(|(i, piece)| {
            let on = if self.on_top && i == last && i > 0 {
                "on it "
            } else {
                ""
            };
            let mut words = format!("{on}{}, {} up", piece.piece, piece.up.words());
            for edge in &piece.edges {
                words.push_str(", ");
                words.push_str(edge);
            }
            words
        });
        each.collect::<Vec<_>>().join("; ")
    }
}

/// The picture of a step; `None` when there is nothing to see, or too much.
pub fn picture(finished: &Finished, step: &Step) -> Option<Picture> {
    let side = side_of(step);
    let seam = match &step.work {
        Work::Seam { seam } => {
            let seams = &finished.filled.adapted.made.seams;
            seams.iter().find(|own| own.name == *seam)
        }
        _ => None,
    };
    let mut pieces: Vec<Pictured> = copies(step)
        .into_iter()
        .filter_map(|(name, copy)| {
            let piece = finished.pieces.iter().find(|p| p.piece.name == name)?;
            let edges: Vec<&str> = step
                .edges
                .iter()
                .filter(|edge| edge.piece == name)
                .map(|edge: &EdgeRef| edge.edge.as_str())
                .collect();
            let half = Half::of(&piece.piece, side);
            Some(pictured(piece, copy, half, up(&step.work, seam), &edges))
        })
        .collect();
    if pieces.is_empty() || (pieces.len() > MOST_PIECES && step.work != Work::CutOut) {
        return None;
    }
    let on_top = seam.is_some_and(|seam| lay_on(finished, seam, side, &mut pieces));
    if !on_top {
        lie::beside(&mut pieces);
    }
    for piece in &mut pieces {
        if piece.up == Face::Wrong {
            piece.shade = lie::shade(&piece.cut);
        }
    }
    Some(Picture { pieces, on_top })
}

/// Every copy once; what is lined by the same piece is drawn once.
fn copies(step: &Step) -> Vec<(&str, Copy)> {
    let mut all: Vec<(&str, Copy)> = Vec::new();
    for (name, copy) in &step.copies {
        let known = |(n, c): &(&str, Copy)| *n == name && c.side == copy.side;
        if !all.iter().any(known) {
            all.push((name, *copy));
        }
    }
    if step.work == Work::CutOut {
        all.dedup_by(|a, b| a.0 == b.0);
    }
    all
}

/// Which side is up while it is done.
fn up(work: &Work, seam: Option<&Seam>) -> Face {
    // Folded right sides together, the wrong side is what she sees.
    if let Some(seam) = seam.filter(|s| !matches!(s.kind, SeamKind::Lapped | SeamKind::French)) {
        let mut all = seam.a.iter().chain(&seam.b);
        let first = all.next().map(|s| (&s.piece, s.copy));
        if first.is_some_and(|one| all.all(|s| (&s.piece, s.copy) == one)) {
            return Face::Wrong;
        }
    }
    match work {
        Work::Dart { .. }
        | Work::Hem
        | Work::Casing
        | Work::Slit
        | Work::FlatLine
        | Work::Neaten
        | Work::Fell { .. }
        | Work::Press => Face::Wrong,
        Work::CutOut
        | Work::PieceTogether { .. }
        | Work::Tucks { .. }
        | Work::Pleats { .. }
        | Work::Gather { .. }
        | Work::Seam { .. }
        | Work::Face
        | Work::Turn { .. }
        | Work::CloseGap
        | Work::Closure { .. }
        | Work::TryOn => Face::Right,
    }
}

/// Lays the second piece of a plain two-piece seam on the first, right sides together (French: wrong sides).
///
/// Done when each side of the seam is one whole piece and both are about as long. Otherwise the pieces stay as they are.
fn lay_on(finished: &Finished, seam: &Seam, side: Side, pieces: &mut [Pictured]) -> bool {
    let [first, second] = pieces else {
        return false;
    };
    let is_one = |side: &[crate::seams::Stretch], name: &str| {
        !side.is_empty() && side.iter().all(|stretch| stretch.piece == name)
    };
    let (a, b) = if is_one(&seam.a, &first.piece) && is_one(&seam.b, &second.piece) {
        (&seam.a, &seam.b)
    } else if is_one(&seam.b, &first.piece) && is_one(&seam.a, &second.piece) {
        (&seam.b, &seam.a)
    } else {
        return false;
    };
    let (lower, upper) = match seam.kind {
        SeamKind::French => (Face::Wrong, Face::Right),
        SeamKind::Lapped => (Face::Right, Face::Right),
        _ => (Face::Right, Face::Wrong),
    };
    let turned = |shown: &Pictured, up: Face, stretches: &[crate::seams::Stretch]| {
        let piece = finished
            .pieces
            .iter()
            .find(|p| p.piece.name == shown.piece)?;
        let edges: Vec<&str> = stretches.iter().map(|s| s.edge.as_str()).collect();
        let half = Half::of(&piece.piece, side);
        let laid = pictured(piece, shown.copy, half, up, &edges);
        let ends = pictured::ends(piece, shown.copy, half, up, stretches)?;
        Some((laid, ends))
    };
    let (Some((below, on)), Some((above, from))) =
        (turned(first, lower, a), turned(second, upper, b))
    else {
        return false;
    };
    let Some(laid) = lie::edge_on_edge(&below, on, &above, from, seam.kind == SeamKind::Lapped)
    else {
        return false;
    };
    *first = lie::hidden_under(below, &laid);
    *second = laid;
    true
}
