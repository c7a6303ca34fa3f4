//! What tools that make new pieces and edges start from: names that are free, the thickness of the cloth, ways across
//! the edges.

use std::collections::BTreeSet;

use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::geometry::parallel::right_of;
use petitoile_core::piece::{Piece, Role};

use super::hand::Hand;
use super::on_edge::OnEdge;

/// A name that no piece has yet: this one, or with a number behind it.
pub fn piece_name(hand: &Hand<'_>, wanted: &str) -> String {
    let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
    free(wanted, pieces.map(|piece| piece.name.as_str()).collect())
}

/// A name that no seam has yet.
pub fn seam_name(hand: &Hand<'_>, wanted: &str) -> String {
    let seams = hand.garment.into_iter().flat_map(|garment| &garment.seams);
    free(wanted, seams.map(|seam| seam.name.as_str()).collect())
}

/// A name that no edge of the piece has yet.
pub fn edge_name(piece: &Piece, wanted: &str) -> String {
    let edges = piece.outline.edges().iter();
    free(wanted, edges.map(|edge| edge.name.as_str()).collect())
}

/// A name that no dart of the piece has yet.
pub fn dart_name(piece: &Piece, wanted: &str) -> String {
    free(
        wanted,
        piece.darts.iter().map(|dart| dart.name.as_str()).collect(),
    )
}

fn free(wanted: &str, taken: BTreeSet<&str>) -> String {
    if !taken.contains(wanted) {
        return wanted.to_owned();
    }
    (2..=taken.len().saturating_add(2))
        .map(|number| format!("{wanted} {number}"))
        .find(|name| !taken.contains(name.as_str()))
        .unwrap_or_else(|| wanted.to_owned())
}

/// How thick the cloth of the shell is; 0 while none is chosen.
pub fn thickness(hand: &Hand<'_>) -> Mm {
    let fitting = hand.session.fitting().map(|fitting| &fitting.cloths);
    let garment = hand.garment.map(|garment| &garment.cloths);
    [fitting, garment]
        .into_iter()
        .flatten()
        .find_map(|cloths| cloths.get(&Role::Shell))
        .map_or(Mm(0.0), |cloth| cloth.thickness)
}

/// A place on the table and the way outwards there, square to the edge.
pub fn outwards(hand: &Hand<'_>, place: &OnEdge) -> Option<(Point, Vec2)> {
    let line = &place.edge_of(hand)?.line;
    let way = line.direction(place.fraction);
    let size = way.hypot();
    (size > 0.0).then_some(())?;
    Some((place.on_table(hand)?, right_of(way) / size))
}

/// The edge before another one, counter-clockwise.
pub fn edge_before<'a>(piece: &'a Piece, edge: &str) -> Option<&'a str> {
    let edges = piece.outline.edges();
    let number = piece.outline.index_of(edge)?;
    let before = edges.get((number + edges.len() - 1) % edges.len())?;
    Some(&before.name)
}
