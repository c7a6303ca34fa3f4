//! The few questions about polygons that the check asks, answered by `geo` and `i_overlay` in f64.

use geo::{
    Area, BoundingRect, Contains, ConvexHull, Coord, Distance, Euclidean, Length, LineString,
    Polygon,
};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use petitoile_core::kurbo::Point;
use petitoile_core::tolerance::MEASURING;

/// A closed outline, straight between its points.
#[derive(Debug, Clone)]
pub(super) struct Outline {
    polygon: Polygon<f64>,
    contour: Vec<[f64; 2]>,
}

impl Outline {
    /// `None` for fewer than three points, or when a coordinate is no number.
    pub(super) fn new(points: &[Point]) -> Option<Self> {
        let finite = points.iter().all(|p| p.x.is_finite() && p.y.is_finite());
        if points.len() < 3 || !finite {
            return None;
        }
        let line: LineString<f64> = points.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
        Some(Self {
            polygon: Polygon::new(line, Vec::new()),
            contour: points.iter().map(|p| [p.x, p.y]).collect(),
        })
    }

    /// Shortest way between the two edges, mm; 0 where they cross.
    pub(super) fn between_edges(&self, other: &Self) -> f64 {
        Euclidean.distance(self.polygon.exterior(), other.polygon.exterior())
    }

    /// Are they surely farther apart than this?
    pub(super) fn far_from(&self, other: &Self, by: f64) -> bool {
        let (Some(a), Some(b)) = (self.polygon.bounding_rect(), other.polygon.bounding_rect())
        else {
            return false;
        };
        a.max().x + by < b.min().x
            || b.max().x + by < a.min().x
            || a.max().y + by < b.min().y
            || b.max().y + by < a.min().y
    }

    /// How far this sticks out of the other one, mm: the farthest point outside; where the other one only has a slit there, the
    /// width of the slit. 0 when it lies inside.
    pub(super) fn sticks_out(&self, of: &Self) -> f64 {
        let away = |p: &[f64; 2]| Euclidean.distance(&geo::Point::new(p[0], p[1]), &of.polygon);
        self.combined(of, OverlayRule::Difference)
            .iter()
            .filter(|outside| is_more_than_rounding(outside))
            .map(|outside| {
                let farthest = outside.iter().map(away).fold(0.0, f64::max);
                if farthest > MEASURING.0 {
                    farthest
                } else {
                    across(outside)
                }
            })
            .fold(0.0, f64::max)
    }

    /// How deep the two overlap, mm: how far a corner of one reaches into the other, or how wide they overlap, whichever is
    /// more. 0 when they only touch.
    pub(super) fn overlaps(&self, other: &Self) -> f64 {
        let shared: Vec<Vec<[f64; 2]>> = self
            .combined(other, OverlayRule::Intersect)
            .into_iter()
            .filter(|shared| is_more_than_rounding(shared))
            .collect();
        if shared.is_empty() {
            return 0.0;
        }
        let wide = shared.iter().map(|shared| across(shared));
        wide.fold(
            self.reaches_into(other).max(other.reaches_into(self)),
            f64::max,
        )
    }

    /// How far the corner that reaches deepest into the other one is from its edge; 0 when none does.
    fn reaches_into(&self, other: &Self) -> f64 {
        self.contour
            .iter()
            .map(|&[x, y]| geo::Point::new(x, y))
            .filter(|corner| other.polygon.contains(corner))
            .map(|corner| Euclidean.distance(&corner, other.polygon.exterior()))
            .fold(0.0, f64::max)
    }

    /// How far any point of one edge is from the other edge at most, either way, mm.
    pub(super) fn differs(&self, other: &Self) -> f64 {
        let one_way = |from: &Self, to: &Self| {
            from.contour
                .iter()
                .map(|&[x, y]| Euclidean.distance(&geo::Point::new(x, y), to.polygon.exterior()))
                .fold(0.0, f64::max)
        };
        one_way(self, other).max(one_way(other, self))
    }

    /// Longest way across, along a direction, mm.
    pub(super) fn length_along(&self, x: f64, y: f64) -> f64 {
        let (low, high) = extent(&self.contour, x, y);
        high - low
    }

    /// Outer edges of what comes out of both.
    fn combined(&self, other: &Self, rule: OverlayRule) -> Vec<Vec<[f64; 2]>> {
        self.contour
            .overlay(&other.contour, rule, FillRule::EvenOdd)
            .into_iter()
            .filter_map(|shape| shape.into_iter().next())
            .collect()
    }
}

fn extent(contour: &[[f64; 2]], x: f64, y: f64) -> (f64, f64) {
    contour
        .iter()
        .map(|p| p[0] * x + p[1] * y)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        })
}

/// Is a shape wider than what the integers inside `i_overlay` may leave along an edge?
fn is_more_than_rounding(contour: &[[f64; 2]]) -> bool {
    mean_width(contour) > MEASURING.0
}

/// Twice the area over the way round: the width of a strip, half that of a square.
fn mean_width(contour: &[[f64; 2]]) -> f64 {
    let polygon = polygon(contour);
    let round = Euclidean.length(polygon.exterior());
    if round > 0.0 {
        2.0 * polygon.unsigned_area() / round
    } else {
        0.0
    }
}

/// The width of the narrowest strip that takes a shape; of one that is bent, so that its hull is much larger, its own mean.
fn across(contour: &[[f64; 2]]) -> f64 {
    let polygon = polygon(contour);
    let hull = polygon.convex_hull();
    if polygon.unsigned_area() < BENT * hull.unsigned_area() {
        return mean_width(contour);
    }
    hull.exterior()
        .lines()
        .filter_map(|edge| {
            let (dx, dy) = (edge.end.x - edge.start.x, edge.end.y - edge.start.y);
            let length = libm::hypot(dx, dy);
            (length > 0.0).then(|| {
                let (low, high) = extent(contour, -dy / length, dx / length);
                high - low
            })
        })
        .fold(f64::MAX, f64::min)
}

/// Share of its hull that a shape which is not bent fills at least.
const BENT: f64 = 0.9;

fn polygon(contour: &[[f64; 2]]) -> Polygon<f64> {
    let line: LineString<f64> = contour.iter().map(|p| Coord { x: p[0], y: p[1] }).collect();
    Polygon::new(line, Vec::new())
}
