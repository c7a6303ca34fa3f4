//! What a place on the table snaps to: the scene as the hand sees it. The geometry is `petitoile_core::snapping`.

use kurbo::Point;
use petitoile_core::snapping::Scene;

use super::hand::Hand;
use super::tool::SnapsTo;
use crate::canvas::rulers;

/// What a place snapped to.
#[derive(Debug, Clone, PartialEq)]
pub struct Snapped {
    /// Where.
    pub at: Point,
    /// What it is, in the maker's words: "corner of Front", "square to the line before".
    pub what: String,
    /// Helping lines to show.
    pub lines: Vec<(Point, Point)>,
}

/// Everything a place can snap to now.
pub fn scene(hand: &Hand<'_>, tool: SnapsTo) -> Scene {
    let steps = rulers::steps(hand.unit, super::REACH / hand.reach, 56.0);
    let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
    Scene {
        pieces: pieces
            .map(|piece| (piece.clone(), hand.moved(&piece.name)))
            .collect(),
        points: tool.points,
        start: tool.start,
        moving: tool.moving,
        grid: steps.numbered / f64::from(steps.small),
    }
}
