//! Edges moved by a whole width: the usable part of a room, and what a part keeps others away from.
//!
//! The line moved sideways comes from `i_overlay` (f64 in and out, arcs as short edges).

use i_overlay::mesh::outline::offset::OutlineOffset as _;
use i_overlay::mesh::style::{LineJoin, OutlineStyle};
use kurbo::Point;

use super::{plane, problem::Polygon};

/// Angle of one short edge of an arc.
const ARC: f64 = 0.35;

/// Moves the edge of a counter-clockwise polygon outwards (`by` > 0) or inwards. An inward move can leave nothing, or split the
/// polygon. Outward arcs are never nearer than `by` to the polygon; pockets that close up are filled.
pub(crate) fn moved(polygon: &[Point], by: f64) -> Vec<Polygon> {
    if by == 0.0 {
        return vec![polygon.to_vec()];
    }
    let contour: Vec<[f64; 2]> = polygon.iter().map(|point| [point.x, point.y]).collect();
    // The short edges of an arc cut its inside: half their angle more keeps even their middles far enough away.
    let by = if by > 0.0 {
        by / libm::cos(ARC * 0.5)
    } else {
        by
    };
    let style = OutlineStyle::new(by).line_join(LineJoin::Round(ARC));
    contour
        .outline(&style)
        .into_iter()
        .filter_map(|shape| {
            let outer: Polygon = shape
                .first()?
                .iter()
                .map(|&[x, y]| Point::new(x, y))
                .collect();
            plane::tidied(&simplified(&outer)).ok()
        })
        .collect()
}

/// Without points so near to the one before that f32 could not tell them apart.
fn simplified(polygon: &[Point]) -> Polygon {
    let size = plane::bounds(polygon);
    let least = (size.width() + size.height()) * 2e-6;
    let mut points: Polygon = Vec::with_capacity(polygon.len());
    for &point in polygon {
        if points
            .last()
            .is_none_or(|&last| plane::long(point - last) > least)
        {
            points.push(point);
        }
    }
    if points.len() > 3
        && points
            .first()
            .zip(points.last())
            .is_some_and(|(&a, &b)| plane::long(a - b) <= least)
    {
        points.pop();
    }
    points
}
