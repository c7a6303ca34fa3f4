//! Closed lines: which lies inside of which, and which are frames, test squares and signs instead of pieces.

use std::collections::BTreeMap;

use petitoile_core::geometry::polygon::pieces_of;
use petitoile_core::kurbo::{ParamCurve, Point, Rect};

use super::strokes::Stroke;
use crate::bring_in::{BringInError, Pace};

/// A closed line smaller than this is a sign, not a piece, mm2. *Own; a cuff of a miniature has 60.*
pub(super) const SMALLEST_PIECE: f64 = 30.0;

/// How far chords may lie from a closed line when it is asked what lies inside, mm.
const COARSE: f64 = 0.02;

/// A closed line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Loop {
    /// Place of its stroke.
    pub stroke: usize,
    /// Short straight lines in its place.
    pub corners: Vec<Point>,
    /// Area inside, mm2.
    pub area: f64,
    /// Smallest upright rectangle around it.
    pub bounds: Rect,
    /// The smallest closed line around it, by its place in the list.
    pub parent: Option<usize>,
}

impl Loop {
    /// A closed stroke.
    pub fn of(at: usize, stroke: &Stroke) -> Self {
        let mut corners: Vec<Point> = Vec::with_capacity(stroke.segs.len());
        for seg in &stroke.segs {
            corners.push(seg.c.p0);
            if !seg.straight {
                let n = pieces_of(&seg.c, COARSE);
                corners.extend((1..n).map(|i| seg.c.eval(i as f64 / n as f64)));
            }
        }
        Self {
            stroke: at,
            area: petitoile_core::geometry::closed::area(&corners).abs(),
            corners,
            bounds: stroke.bounds,
            parent: None,
        }
    }

    /// Is the point inside?
    pub fn contains(&self, p: Point) -> bool {
        if !self.bounds.inflate(1e-9, 1e-9).contains(p) {
            return false;
        }
        let mut inside = false;
        let mut before = match self.corners.last() {
            Some(last) => *last,
            None => return false,
        };
        for here in &self.corners {
            if (here.y > p.y) != (before.y > p.y) {
                let x = here.x + (p.y - here.y) / (before.y - here.y) * (before.x - here.x);
                if p.x < x {
                    inside = !inside;
                }
            }
            before = *here;
        }
        inside
    }

    /// How far a point lies from the line.
    pub fn off(&self, p: Point) -> f64 {
        let Some(last) = self.corners.last() else {
            return f64::INFINITY;
        };
        let mut before = *last;
        let mut least = f64::INFINITY;
        for here in &self.corners {
            least = least.min(petitoile_core::geometry::closed::off_stroke(
                p, before, *here,
            ));
            before = *here;
        }
        least
    }

    /// Does it lie inside of another, edges touching allowed?
    pub fn lies_in(&self, other: &Self) -> bool {
        if self.area >= other.area
            || !other
                .bounds
                .inflate(0.01, 0.01)
                .contains(self.bounds.origin())
            || !other
                .bounds
                .inflate(0.01, 0.01)
                .contains(Point::new(self.bounds.x1, self.bounds.y1))
        {
            return false;
        }
        // Of the thousands of letters that may be drawn as lines, a few points each will do.
        let asked = if self.area < SMALLEST_PIECE { 2 } else { 24 };
        let step = (self.corners.len() / asked).max(1);
        let (mut inside, mut all) = (0, 0);
        for p in self.corners.iter().step_by(step) {
            all += 1;
            if other.contains(*p) || other.off(*p) <= 0.05 {
                inside += 1;
            }
        }
        inside == all
    }
}

/// Which closed line lies in which: a sweep along x, the widest reach first.
pub(super) fn nested(loops: &mut [Loop], pace: &Pace<'_>) -> Result<(), BringInError> {
    let mut order: Vec<usize> = (0..loops.len()).collect();
    let key = |i: &usize| loops.get(*i).map_or(0.0, |l| l.bounds.x0);
    order.sort_by(|a, b| key(a).total_cmp(&key(b)));
    let mut active: Vec<usize> = Vec::new();
    let mut parents: BTreeMap<usize, usize> = BTreeMap::new();
    // Equal left sides: the smaller may come first, so both ways are looked at.
    for (seen, i) in order.into_iter().enumerate() {
        pace.step(seen, loops.len())?;
        let Some(here) = loops.get(i) else { continue };
        active.retain(|a| {
            loops
                .get(*a)
                .is_some_and(|l| l.bounds.x1 >= here.bounds.x0 - 0.01)
        });
        for a in &active {
            let Some(other) = loops.get(*a) else { continue };
            let (y0, y1) = (here.bounds.y0 - 0.02, here.bounds.y1 + 0.02);
            if other.bounds.y1 < y0 || other.bounds.y0 > y1 {
                continue;
            }
            let (inner, outer) = if here.area < other.area {
                (i, *a)
            } else {
                (*a, i)
            };
            let (Some(small), Some(big)) = (loops.get(inner), loops.get(outer)) else {
                continue;
            };
            let is_nearer = parents
                .get(&inner)
                .and_then(|p| loops.get(*p))
                .is_none_or(|p| big.area < p.area);
            if is_nearer && small.lies_in(big) {
                parents.insert(inner, outer);
            }
        }
        active.push(i);
    }
    for (inner, outer) in parents {
        if let Some(l) = loops.get_mut(inner) {
            l.parent = Some(outer);
        }
    }
    Ok(())
}

/// The four sides of an upright or turned rectangle: width and height, mm.
pub(super) fn rectangle(stroke: &Stroke) -> Option<(f64, f64)> {
    let mut corners = stroke.points();
    corners.pop();
    let corners = petitoile_core::geometry::closed::tidied(&corners);
    if !stroke.closed || !stroke.segs.iter().all(|s| s.straight) {
        return None;
    }
    let [a, b, c, d] = corners.as_slice() else {
        return None;
    };
    let (u, v) = (*b - *a, *d - *a);
    let is_square_on = u.dot(v).abs() <= 1e-3 * u.hypot() * v.hypot();
    (is_square_on && (*c - (*b + v)).hypot() <= 0.02).then_some((u.hypot(), v.hypot()))
}
