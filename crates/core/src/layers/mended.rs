//! What one change mends where a layer shows by chance: the layer underneath cut back at that end, or the one over it let out.

use std::sync::Arc;

use super::ends::{self, EndKind};
use super::height::Half;
use super::{Peep, Together, Worn};
use crate::adapt::Adapted;
use crate::alteration::Alteration;
use crate::dressing::{edit_of, made};
use crate::edge::EdgeRef;
use crate::edit::Edit;
use crate::garment::Garment;
use crate::units::Mm;

/// A peep is mended when less than this shows: half of what is told.
const LEFT: Mm = Mm(0.25);

/// The change that hides what shows, and which layer it changes: the layer's own end moved in, or where a seam is sewn along
/// it, the end of the layer over it moved out. `None` where both are sewn to something.
pub(super) fn hidden(together: &Together, layer: &str, peep: &Peep) -> Option<(String, Edit)> {
    let find = |name: &str| together.layers.iter().find(|worn| worn.name() == name);
    let (under, over) = (find(layer)?, find(&peep.over)?);
    let tries = [(under, -peep.by.0), (over, peep.by.0)];
    tries.into_iter().find_map(|(worn, out)| {
        let steps = moved(worn, peep.end.kind, out)?;
        let then = again(worn, &steps)?;
        let height = |worn: &Worn, half: Half| {
            let mut ends = worn.ends.iter();
            let end = ends.find(|end| end.kind == peep.end.kind && end.half.meets(half))?;
            Some(end.height)
        };
        let half = peep.end.half;
        let (own, other) = if worn.name() == layer {
            (height(&then, half)?, height(over, half)?)
        } else {
            (height(under, half)?, height(&then, half)?)
        };
        let sign = if peep.end.kind == EndKind::Neckline {
            1.0
        } else {
            -1.0
        };
        let shows = sign * (own - other);
        let edit = edit_of(&worn.adapted, &steps)?;
        (shows <= LEFT.0).then(|| (worn.name().to_owned(), edit))
    })
}

/// Moves every edge of a kind of end out by so many mm, all round alike, so that the seams beside it still fit; `None` where
/// one of them is sewn to something.
fn moved(worn: &Worn, kind: EndKind, out: f64) -> Option<Vec<Alteration>> {
    let garment = &worn.adapted.made;
    let edges: Vec<EdgeRef> = ends::edges_of(&worn.adapted, &worn.placed, kind);
    let is_free = |at: &EdgeRef| !is_sewn(garment, at);
    let all = !edges.is_empty() && edges.iter().all(is_free);
    all.then(|| {
        edges
            .into_iter()
            .map(|edge| Alteration::MoveEdge {
                edge,
                outwards: Mm(out),
            })
            .collect()
    })
}

fn is_sewn(garment: &Garment, at: &EdgeRef) -> bool {
    let mut all = garment
        .seams
        .iter()
        .flat_map(|seam| seam.a.iter().chain(&seam.b));
    all.any(|s| s.piece == at.piece && s.edge == at.edge)
}

/// The same garment after these steps, laid on its body again.
fn again(worn: &Worn, steps: &[Alteration]) -> Option<Worn> {
    let garment = made(&worn.adapted.made, steps)?;
    let adapted = Adapted {
        pieces: garment.pieces.clone(),
        made: Arc::new(garment),
        ..Adapted::clone(&worn.adapted)
    };
    Some(Worn::new(Arc::new(adapted)))
}
