//! Hand work that mends what does not go on: a band made longer, a kerchief larger, a hem shorter, a sleeve wider.
//!
//! Every step is tried out on the garment first; what would not help is not offered.

use super::slit::sewn;
use super::tied::TieKind;
use crate::adapt::Adapted;
use crate::alteration::{Alteration, ShapeChange};
use crate::edge::{Edge, EdgeRef};
use crate::edit::{Edit, FittingEdit};
use crate::garment::Garment;
use crate::piece::Piece;
use crate::units::Mm;

/// The same steps as one change of the fitting; `None` for no step.
pub(crate) fn edit_of(adapted: &Adapted, steps: &[Alteration]) -> Option<Edit> {
    let change = match steps {
        [] => return None,
        [one] => FittingEdit::AddAlteration(one.clone()),
        all => FittingEdit::AddAlterations(all.to_vec()),
    };
    Some(Edit::Fitting {
        fitting: adapted.fitting.name.clone(),
        change,
    })
}

/// The garment with these steps made; `None` when one of them does not apply.
pub(crate) fn made(garment: &Garment, steps: &[Alteration]) -> Option<Garment> {
    let mut made = garment.clone();
    for step in steps {
        made = step.applied(&made).ok()?.garment;
    }
    Some(made)
}

/// Makes a piece that is tied longer by so many mm (shorter below 0), a kerchief so many times as large.
pub(super) fn resized(
    adapted: &Adapted,
    piece: &Piece,
    kind: TieKind,
    by: f64,
    times: f64,
) -> Vec<Alteration> {
    let steps = match kind {
        TieKind::Kerchief => scaled(piece, times),
        TieKind::Ties | TieKind::Sash => moved_end(adapted, piece, by).into_iter().collect(),
    };
    match made(&adapted.made, &steps) {
        Some(_) => steps,
        None => Vec::new(),
    }
}

/// Every corner moved away from one place: the same shape, so many times as large. Only straight edges keep theirs.
fn scaled(piece: &Piece, times: f64) -> Vec<Alteration> {
    let edges = piece.outline.edges();
    if !times.is_finite() || !edges.iter().all(|edge| edge.line.is_straight()) {
        return Vec::new();
    }
    // What is cut on a fold grows along it.
    let anchor = match piece.fold_edge() {
        Some(fold) => fold.line.start(),
        None => piece.outline.bounds().center(),
    };
    let moved = edges.iter().map(|edge| {
        let by = (edge.line.start() - anchor) * (times - 1.0);
        (edge, by)
    });
    moved
        .filter(|(_, by)| by.hypot() > 1e-9)
        .map(|(edge, by)| Alteration::MoveCorner {
            edge: EdgeRef::new(&piece.name, &edge.name),
            right: Mm(by.x),
            up: Mm(by.y),
        })
        .collect()
}

/// Moves a free end of a straight band out, so that it becomes longer by this much.
fn moved_end(adapted: &Adapted, piece: &Piece, by: f64) -> Option<Alteration> {
    let edges = piece.outline.edges();
    if edges.len() != 4 || !edges.iter().all(|edge| edge.line.is_straight()) {
        return None;
    }
    let ends = edges
        .iter()
        .filter(|edge| is_free(adapted, piece, edge) && !edge.is_fold());
    let short = ends.min_by(|a, b| a.line.length().total_cmp(&b.line.length()))?;
    let longest = edges
        .iter()
        .map(|edge| edge.line.length())
        .fold(0.0, f64::max);
    let is_across = short.line.length() < 0.9 * longest;
    let is_halved = piece.fold_edge().is_some_and(|fold| {
        let fold = fold.line.end() - fold.line.start();
        let end = short.line.end() - short.line.start();
        fold.cross(end).abs() < 0.1 * fold.hypot() * end.hypot()
    });
    is_across.then(|| Alteration::MoveEdge {
        edge: EdgeRef::new(&piece.name, &short.name),
        outwards: Mm(if is_halved { by / 2.0 } else { by }),
    })
}

fn is_free(adapted: &Adapted, piece: &Piece, edge: &Edge) -> bool {
    sewn(&adapted.made, &EdgeRef::new(&piece.name, &edge.name)).is_empty()
}

/// The free edge that lies lowest and runs across a piece rather than down it.
fn lowest(adapted: &Adapted, piece: &Piece) -> Option<EdgeRef> {
    let across = |edge: &&Edge| {
        let way = edge.line.end() - edge.line.start();
        way.x.abs() >= 0.5 * way.y.abs()
    };
    let middle = |edge: &Edge| edge.line.at(0.5).y;
    let edges = piece.outline.edges().iter().filter(across);
    let lowest = edges.min_by(|a, b| middle(a).total_cmp(&middle(b)))?;
    let is_hem = is_free(adapted, piece, lowest) && !lowest.is_fold();
    is_hem.then(|| EdgeRef::new(&piece.name, &lowest.name))
}

/// Raises the lowest edge of these pieces, each by its own mm.
pub(super) fn raised(adapted: &Adapted, pieces: &[(&Piece, f64)]) -> Vec<Alteration> {
    let steps: Option<Vec<Alteration>> = pieces
        .iter()
        .map(|(piece, by)| {
            Some(Alteration::MoveEdge {
                edge: lowest(adapted, piece)?,
                outwards: Mm(-by),
            })
        })
        .collect();
    let steps = steps.unwrap_or_default();
    match made(&adapted.made, &steps) {
        Some(_) => steps,
        None => Vec::new(),
    }
}

/// Widens a piece at the end of both edges beside one of its edges, by so many mm in all; nothing at their other ends.
pub(super) fn widened(adapted: &Adapted, piece: &Piece, at: &str, by: f64) -> Vec<Alteration> {
    let beside = super::slit::neighbours(piece, at);
    let folds = beside
        .iter()
        .filter(|(name, _)| piece.outline.edge(name).is_some_and(Edge::is_fold))
        .count();
    let sides = beside.len().saturating_sub(folds).max(1) as f64;
    let steps: Vec<Alteration> = beside
        .into_iter()
        .filter(|(name, _)| !piece.outline.edge(name).is_some_and(Edge::is_fold))
        .map(|(name, at_end)| {
            let own = Mm(by / sides);
            let (at_start, at_end) = if at_end {
                (Mm(0.0), own)
            } else {
                (own, Mm(0.0))
            };
            ShapeChange::Widen {
                edge: name.to_owned(),
                at_start,
                at_end,
            }
            .of(&piece.name)
        })
        .collect();
    match made(&adapted.made, &steps) {
        Some(_) => steps,
        None => Vec::new(),
    }
}
