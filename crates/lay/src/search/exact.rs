//! Every plan in f64: the search's own proof before it shows one. (`check_plan` proves it again and shares nothing with this.)

use kurbo::Rect;

use super::plane;
use super::problem::{Placed, Polygon, Problem};

/// What a plan may be short of a distance, mm: rounding of f64 only.
const ROUNDING: f64 = 1e-9;

/// One part as it lies, with its bounds.
pub(crate) struct Laid {
    pub(crate) placed: Placed,
    pub(crate) outline: Polygon,
    bounds: Rect,
}

impl Laid {
    pub(crate) fn new(problem: &Problem, placed: Placed) -> Option<Self> {
        let outline = problem.lying(&placed)?;
        let bounds = plane::bounds(&outline);
        Some(Self {
            placed,
            outline,
            bounds,
        })
    }

    /// Whether it lies inside its room by the margin and keeps off holes and zones.
    pub(crate) fn fits_room(&self, problem: &Problem) -> bool {
        let Some(room) = problem.rooms.get(self.placed.room) else {
            return false;
        };
        let Some(part) = problem.part(&self.placed) else {
            return false;
        };
        let Some(&first) = self.outline.first() else {
            return false;
        };
        let crosses = plane::edges(&self.outline).any(|(a, b)| {
            plane::edges(&room.outline).any(|(c, d)| plane::segments_cross(a, b, c, d))
        });
        if crosses || !plane::inside(&room.outline, first) {
            return false;
        }
        if room.margin > 0.0
            && plane::edge_distance(&self.outline, &room.outline) < room.margin - ROUNDING
        {
            return false;
        }
        if room.margin <= 0.0
            && self
                .outline
                .iter()
                .any(|&point| !plane::inside(&room.outline, point))
        {
            return false;
        }
        let keep_off = |polygon: &Polygon, by: f64| self.apart(polygon, by);
        room.holes
            .iter()
            .all(|hole| keep_off(hole, room.margin.max(problem.gap)))
            && room.zones.iter().all(|zone| {
                part.min_quality.is_some_and(|least| zone.quality >= least)
                    || keep_off(&zone.polygon, problem.gap)
            })
    }

    /// Whether it keeps a distance from another outline.
    fn apart(&self, other: &Polygon, by: f64) -> bool {
        far_apart(self.bounds, plane::bounds(other), by)
            || (!plane::overlap(&self.outline, other)
                && (by <= 0.0 || plane::distance(&self.outline, other) >= by - ROUNDING))
    }

    /// Whether two parts lie apart by the gap; they do when they lie in different rooms.
    pub(crate) fn keeps_off(&self, other: &Self, gap: f64) -> bool {
        self.placed.room != other.placed.room
            || far_apart(self.bounds, other.bounds, gap)
            || self.apart(&other.outline, gap)
    }
}

fn far_apart(a: Rect, b: Rect, by: f64) -> bool {
    a.x1 + by < b.x0 || b.x1 + by < a.x0 || a.y1 + by < b.y0 || b.y1 + by < a.y0
}
