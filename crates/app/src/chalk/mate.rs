//! What a place on an edge meets when its seam is sewn.

use petitoile_core::Mm;
use petitoile_core::seams::{Seam, SidePlace};
use petitoile_core::walk::Walk;

use super::hand::Hand;
use super::on_edge::OnEdge;

/// A place on an edge and what it meets on the mate, ease spread evenly from notch to notch.
pub struct Met {
    /// Name of the seam.
    pub seam: String,
    /// Share of side `a`.
    pub at: f64,
    /// Share of side `b`.
    pub at_mate: f64,
    /// The place on the mate.
    pub mate: OnEdge,
}

/// What a place meets in the first seam that it lies on; `None` where it is sewn to nothing.
pub fn met(hand: &Hand<'_>, place: &OnEdge) -> Option<Met> {
    let garment = hand.garment?;
    garment.seams.iter().find_map(|seam| {
        let walk = Walk::new(seam, &garment.pieces).ok()?;
        met_on(seam, &walk, place)
    })
}

fn met_on(seam: &Seam, walk: &Walk, place: &OnEdge) -> Option<Met> {
    let edge = place.edge_ref();
    let first = |list: Vec<Mm>| list.first().copied();
    let on_a = first(walk.a.along(&edge, place.fraction));
    let (a, b, mate) = match on_a {
        Some(a) => {
            let b = walk.beside(a);
            (a, b, walk.b.place(b)?)
        }
        None => {
            let b = first(walk.b.along(&edge, place.fraction))?;
            let a = walk.beside_b(b);
            (a, b, walk.a.place(a)?)
        }
    };
    Some(Met {
        seam: seam.name.clone(),
        at: a.0 / walk.a.length().0,
        at_mate: b.0 / walk.b.length().0,
        mate: on_edge(&mate),
    })
}

/// A place on a side of a seam, on its edge.
pub fn on_edge(place: &SidePlace) -> OnEdge {
    OnEdge::new(&place.edge.piece, &place.edge.edge, place.fraction)
}

/// The seams that an edge is part of.
pub fn seams_of<'a>(hand: &'a Hand<'_>, piece: &str, edge: &str) -> Vec<&'a Seam> {
    let garment = hand.garment.into_iter();
    garment
        .flat_map(|garment| &garment.seams)
        .filter(|seam| {
            let mut stretches = seam.a.iter().chain(&seam.b);
            stretches.any(|s| s.piece == piece && s.edge == edge)
        })
        .collect()
}
