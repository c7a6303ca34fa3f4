//! Does a closed line cross itself?

use kurbo::{PathEl, Point, Rect};

use crate::geometry::outline::Outline;
use crate::tolerance::{DRAWING, JOINING};

/// The first place, in drawing order, where an outline crosses itself; touching is not crossing.
///
/// Curves are taken as short straight lines within [`DRAWING`] of them, so a loop smaller than that is not seen.
pub fn crosses_itself(outline: &Outline) -> Option<Point> {
    let corners = corners(outline);
    let strokes: Vec<(Point, Point, Rect)> = corners
        .iter()
        .zip(corners.iter().cycle().skip(1))
        .map(|(a, b)| (*a, *b, Rect::from_points(*a, *b)))
        .collect();
    strokes.iter().enumerate().find_map(|(i, first)| {
        let others = strokes.iter().skip(i + 2);
        others
            .filter(|other| overlaps(first.2, other.2))
            .find_map(|other| crossing((first.0, first.1), (other.0, other.1)))
    })
}

/// The outline as short straight lines, doubled corners left out.
pub fn corners(outline: &Outline) -> Vec<Point> {
    let mut corners: Vec<Point> = Vec::new();
    kurbo::flatten(outline.path(), DRAWING.0, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element
            && corners
                .last()
                .is_none_or(|last| (*last - p).hypot() > JOINING.0)
        {
            corners.push(p);
        }
    });
    while corners.len() > 1
        && corners
            .first()
            .zip(corners.last())
            .is_some_and(|(a, b)| (*a - *b).hypot() <= JOINING.0)
    {
        corners.pop();
    }
    corners
}

fn overlaps(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Where two strokes cross well inside both.
pub(super) fn crossing((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<Point> {
    let (first, second) = (b - a, d - c);
    let cross = first.cross(second);
    if cross.abs() < f64::EPSILON {
        return None;
    }
    let (t, u) = ((c - a).cross(second) / cross, (c - a).cross(first) / cross);
    let inside =
        |share: f64, length: f64| share * length > JOINING.0 && (1.0 - share) * length > JOINING.0;
    (inside(t, first.hypot()) && inside(u, second.hypot())).then(|| a.lerp(b, t))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::edge::Edge;
    use crate::geometry::curve::Line;

    fn closed(points: &[(f64, f64)]) -> Outline {
        let points: Vec<Point> = points.iter().map(|p| Point::from(*p)).collect();
        let ends = points.iter().zip(points.iter().cycle().skip(1));
        Outline::new(
            ends.enumerate()
                .map(|(i, (a, b))| Edge::seam(format!("{i}"), Line::straight(*a, *b)))
                .collect(),
        )
        .unwrap()
    }

    #[test]
    fn a_kerchief_does_not_cross_itself_and_a_bow_does() {
        assert_eq!(
            crosses_itself(&closed(&[(0.0, 0.0), (100.0, 0.0), (50.0, 60.0)])),
            None
        );
        let bow = closed(&[(0.0, 0.0), (100.0, 60.0), (100.0, 0.0), (0.0, 50.0)]);
        let at = crosses_itself(&bow).unwrap();
        assert!(
            (at.y - at.x * 0.6).abs() < 1e-9 && (at.y - (50.0 - at.x * 0.5)).abs() < 1e-9,
            "{at:?}"
        );
    }
}
