//! The two sides of a seam that is being sewn: which copy, how long against each other, what it is called.

use petitoile_core::Mm;
use petitoile_core::edge::OutlinePoint;
use petitoile_core::garment::Garment;
use petitoile_core::mates::sewable;
use petitoile_core::piece::{Copy, Piece, Role, Side};
use petitoile_core::seams::{Relation, Stretch, side_length};

use super::hand::{At, Hand};
use super::on_edge::OnEdge;

/// Difference that no hand notices (common practice, no source).
const FITS: f64 = 0.5;
/// From here on a longer side is gathered, not eased (common practice, no source).
const GATHERED: f64 = 1.15;

/// The copy of a piece that is sewn in this layer: the right one of a pair, the one that lies across both sides.
pub fn copy_of(piece: &Piece, role: Role) -> Option<Copy> {
    let of = |side: Side| {
        let mut copies = piece.copies.iter();
        copies.find(|copy| copy.role == role && copy.side == side)
    };
    [Side::Right, Side::Whole, Side::Left]
        .into_iter()
        .find_map(of)
        .or(piece.copies.first())
        .copied()
}

/// All that can be sewn of an edge, as drawn.
pub fn stretch_of(hand: &Hand<'_>, place: &OnEdge, role: Role) -> Option<Stretch> {
    let garment = hand.garment?;
    let copy = copy_of(garment.piece(&place.piece)?, role)?;
    sewable(garment, &place.piece, copy, &place.edge)
}

/// The same stretch walked from its other end.
pub fn turned(stretch: Stretch) -> Stretch {
    Stretch {
        from: stretch.to,
        to: stretch.from,
        ..stretch
    }
}

/// A whole side walked from its other end.
pub fn turned_round(side: Vec<Stretch>) -> Vec<Stretch> {
    side.into_iter().rev().map(turned).collect()
}

/// How the two sides are to each other, judged by their lengths: equal, eased, gathered.
pub fn relation_of(garment: &Garment, a: &[Stretch], b: &[Stretch]) -> Option<Relation> {
    let length = |side| side_length(side, &garment.pieces).ok();
    let (a, b) = (length(a)?.0, length(b)?.0);
    let ratio = a / b;
    if !ratio.is_finite() || ratio <= 0.0 {
        return None;
    }
    Some(if (a - b).abs() <= FITS {
        Relation::Equal
    } else if (1.0 / GATHERED..=GATHERED).contains(&ratio) {
        Relation::Eased(Mm(a - b))
    } else {
        Relation::Ratio(ratio)
    })
}

/// Is the same sewn on the other side of the body? Not where right and left are sewn to each other.
pub fn is_mirrored(garment: &Garment, a: &[Stretch], b: &[Stretch]) -> bool {
    let sides: Vec<Side> = a.iter().chain(b).map(|s| s.copy.side).collect();
    if sides.contains(&Side::Right) && sides.contains(&Side::Left) {
        return false;
    }
    let on_fold = |s: &Stretch| {
        let piece = garment.piece(&s.piece);
        piece.is_some_and(|piece| piece.fold_edge().is_some())
    };
    sides.iter().any(|side| *side != Side::Whole) || a.iter().chain(b).any(on_fold)
}

/// What a seam is called when no name was typed: by its edges, with a number where that is taken.
pub fn name_of(garment: &Garment, a: &[Stretch], b: &[Stretch]) -> String {
    let edge = |side: &[Stretch]| side.first().map_or(String::new(), |s| s.edge.clone());
    let (first, second) = (edge(a), edge(b));
    let name = if first == second {
        first
    } else {
        format!("{first} to {second}")
    };
    let taken = |name: &String| garment.seams.iter().any(|seam| seam.name == *name);
    let numbered = (2..=garment.seams.len() + 2).map(|number| format!("{name} {number}"));
    let mut free = std::iter::once(name.clone()).chain(numbered);
    free.find(|name| !taken(name)).unwrap_or(name)
}

/// The place on an outline under the pointer; a dot within reach stands for the nearest place.
pub fn place_under(hand: &Hand<'_>, at: &At) -> Option<(String, OutlinePoint)> {
    let name = at.piece.clone()?;
    let piece = hand.piece(&name)?;
    let own = hand.in_piece(&name, at.pointer);
    let dot = piece.marks.iter().find(|mark| {
        matches!(mark.kind, petitoile_core::piece::MarkKind::Dot(dot) if (dot - own).hypot() <= hand.reach)
    });
    if let Some((place, _)) = dot.and_then(|dot| piece.dot_on_outline(&dot.name)) {
        return Some((name, place));
    }
    let (place, _) = OnEdge::drawn_to(hand, at)?;
    Some((name, place.in_outline()))
}
