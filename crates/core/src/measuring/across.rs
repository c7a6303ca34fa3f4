//! Where a straight line lies on the cloth of a piece.

use kurbo::{CubicBez, Point, Vec2};

use super::ON_OUTLINE;
use crate::edge::OutlinePoint;
use crate::geometry::parallel::{at_spot, meets_line, right_of};
use crate::piece::Piece;
use crate::seams::place_near;
use crate::tolerance::MEASURING;

/// The parts of the straight line from one point to another that lie on the piece, in order.
pub(super) fn cloth_between(piece: &Piece, from: Point, to: Point) -> Vec<(Point, Point)> {
    let way = to - from;
    let length = way.hypot();
    if length <= 0.0 {
        return Vec::new();
    }
    let along = way / length;
    on_cloth(piece, from, along, (0.0, length))
}

/// The parts of the whole straight line through a point that lie on the piece, in order.
pub(super) fn cloth_through(piece: &Piece, at: Point, along: Vec2) -> Vec<(Point, Point)> {
    on_cloth(piece, at, along, (f64::NEG_INFINITY, f64::INFINITY))
}

fn on_cloth(piece: &Piece, at: Point, along: Vec2, (low, high): (f64, f64)) -> Vec<(Point, Point)> {
    let chain: Vec<CubicBez> = piece
        .outline
        .edges()
        .iter()
        .flat_map(|edge| edge.line.cubics().collect::<Vec<_>>())
        .collect();
    let mut stops: Vec<f64> = meets_line(&chain, at, right_of(along))
        .into_iter()
        .map(|spot| (at_spot(&chain, spot) - at).dot(along))
        // Edges that lie along the line are met at their ends.
        .chain(chain.iter().flat_map(|c| [c.p0, c.p3]).filter_map(|p| {
            let off = (p - at).cross(along).abs();
            (off <= MEASURING.0).then(|| (p - at).dot(along))
        }))
        .filter(|stop| low < *stop && *stop < high)
        .chain([low, high].into_iter().filter(|end| end.is_finite()))
        .collect();
    stops.sort_by(f64::total_cmp);
    let mut parts: Vec<(f64, f64)> = Vec::new();
    for pair in stops.windows(2) {
        let [a, b] = pair else { continue };
        let middle = at + along * f64::midpoint(*a, *b);
        if *b - *a <= MEASURING.0 * 1e-3 || !is_cloth(piece, middle) {
            continue;
        }
        match parts.last_mut() {
            Some(last) if (*a - last.1).abs() <= MEASURING.0 => last.1 = *b,
            _ => parts.push((*a, *b)),
        }
    }
    parts
        .into_iter()
        .map(|(a, b)| (at + along * a, at + along * b))
        .collect()
}

/// Inside the piece, or on its very edge.
fn is_cloth(piece: &Piece, point: Point) -> bool {
    piece.outline.contains(point)
        || place_near(piece, point).is_some_and(|(_, off)| off.0 <= MEASURING.0)
}

/// The two places of the outline to the left and right of a point inside; above and below where the line to the side is
/// too short to hold it.
pub(super) fn around(piece: &Piece, point: Point) -> Option<(OutlinePoint, OutlinePoint)> {
    if !piece.outline.contains(point) {
        return None;
    }
    let found = |along: Vec2| {
        let (a, b) = cloth_through(piece, point, along)
            .into_iter()
            .find(|(a, b)| (point - *a).dot(along) >= 0.0 && (*b - point).dot(along) >= 0.0)?;
        if (b - a).hypot() <= ON_OUTLINE.0 {
            return None;
        }
        let on = |p: Point| place_near(piece, p).map(|(at, _)| at);
        on(a).zip(on(b))
    };
    found(Vec2::new(1.0, 0.0)).or_else(|| found(Vec2::new(0.0, 1.0)))
}
