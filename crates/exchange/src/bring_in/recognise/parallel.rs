//! Is an inner closed line the stitch line of the one around it? The way between them, measured edge by edge.

use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::parallel::right_of;
use petitoile_core::geometry::polygon::pieces_of;
use petitoile_core::kurbo::{ParamCurve, Point, Vec2};

use super::corners::Smooth;

/// How far chords may lie from the outer line when a width is measured, mm.
const CHORD: f64 = 0.002;

/// Places along an edge at which the width is measured.
const PLACES: usize = 15;

/// A width that varies by more than this along an edge is not constant, mm.
const VARIES: f64 = 0.08;

/// Below this two lines run together, mm.
pub(super) const TOGETHER: f64 = 0.03;

/// Widest allowance that is believed, mm. *Own; coat hems have 50.*
const WIDEST: f64 = 70.0;

/// Widest usual allowance that is believed, mm. *Own; fitted seams of tailors have 25.*
const USUAL: f64 = 32.0;

/// The way from an inner edge out to the outer line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Way {
    /// The middle of all that was measured, mm.
    pub width: f64,
    /// From the least to the most among the places that agree, mm.
    pub spread: f64,
    /// Share of places that agree, 0 to 1.
    pub share: f64,
    /// Length of the edge, mm.
    pub length: f64,
}

/// A closed line in short straight lines, to be measured to.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wall(Vec<Point>);

impl Wall {
    /// Of edges end to end.
    pub fn of(edges: &[Smooth]) -> Self {
        let mut corners = Vec::new();
        for c in edges.iter().flat_map(|e| &e.cubics) {
            corners.push(c.p0);
            let n = if petitoile_core::geometry::parallel::is_straight(c) {
                1
            } else {
                pieces_of(c, CHORD)
            };
            corners.extend((1..n).map(|i| c.eval(i as f64 / n as f64)));
        }
        Self(corners)
    }

    /// How far it is from a point in a direction, mm; a little behind the point counts too.
    pub fn way(&self, from: Point, out: Vec2) -> Option<f64> {
        let mut before = *self.0.last()?;
        let mut least: Option<f64> = None;
        for here in &self.0 {
            let d = *here - before;
            let cross = out.cross(d);
            if cross.abs() > 1e-12 {
                let to = before - from;
                let (far, along) = (to.cross(d) / cross, to.cross(out) / cross);
                if (-1e-9..=1.0 + 1e-9).contains(&along)
                    && far >= -TOGETHER
                    && least.is_none_or(|l| far < l)
                {
                    least = Some(far);
                }
            }
            before = *here;
        }
        least
    }
}

/// The way from every edge out to the wall; `None` for one that never meets it.
pub(super) fn ways(edges: &[Smooth], wall: &Wall) -> Vec<Option<Way>> {
    edges.iter().map(|edge| way(edge, wall)).collect()
}

fn way(edge: &Smooth, wall: &Wall) -> Option<Way> {
    let line = Line::from_cubics(&edge.cubics)?;
    let mut widths: Vec<f64> = (0..PLACES)
        .filter_map(|i| {
            let at = (i as f64 + 0.5) / PLACES as f64;
            let out = right_of(line.direction(at));
            wall.way(line.at(at), out).map(f64::abs)
        })
        .collect();
    widths.sort_by(f64::total_cmp);
    let width = *widths.get(widths.len() / 2)?;
    let agree: Vec<f64> = widths
        .iter()
        .copied()
        .filter(|w| (w - width).abs() <= VARIES + 0.002 * width)
        .collect();
    let spread = agree.last()? - agree.first()?;
    Some(Way {
        width,
        spread,
        share: agree.len() as f64 / PLACES as f64,
        length: line.length(),
    })
}

/// How surely the ways are those from a stitch line to its cut line, 0 to 1, and the usual width. `legs` are edges that
/// belong to darts; `narrow` is four areas of the inner line by its
/// length, `filling` the share of the outer area it fills.
pub(super) fn is_allowance(
    ways: &[Option<Way>],
    legs: &[bool],
    narrow: f64,
    filling: f64,
) -> Option<(f64, f64)> {
    let counted = || {
        ways.iter()
            .zip(legs.iter().chain(std::iter::repeat(&false)))
            .filter(|(_, is_leg)| !**is_leg)
            .map(|(way, _)| way)
    };
    let length: f64 = counted().flatten().map(|w| w.length).sum();
    if length <= 0.0 || counted().any(Option::is_none) {
        return None;
    }
    let constant: f64 = counted().flatten().map(|w| w.length * w.share).sum();
    let widest = counted().flatten().map(|w| w.width).fold(0.0, f64::max);
    let usual = usual(counted().flatten());
    let (width, share) = usual?;
    let steady = constant / length;
    let fits = width <= USUAL && widest <= WIDEST && width <= 0.9 * narrow;
    (steady >= 0.75 && fits && (share >= 0.3 || filling >= 0.6)).then(|| {
        let alike = (0.5 * share + 0.5 * filling).clamp(0.0, 1.0);
        ((0.6 * steady + 0.4 * alike).clamp(0.0, 0.99), width)
    })
}

/// The width that most of the length has, and its share of all that has any.
pub(super) fn usual<'a>(ways: impl Iterator<Item = &'a Way>) -> Option<(f64, f64)> {
    let mut wide: Vec<(f64, f64)> = ways
        .filter(|w| w.width > TOGETHER)
        .map(|w| (w.width, w.length))
        .collect();
    wide.sort_by(|a, b| a.0.total_cmp(&b.0));
    let all: f64 = wide.iter().map(|w| w.1).sum();
    let mut best: Option<(f64, f64)> = None;
    for (i, (width, _)) in wide.iter().enumerate() {
        let near: f64 = wide
            .iter()
            .skip(i)
            .take_while(|w| w.0 - width <= 0.2)
            .map(|w| w.1)
            .sum();
        if best.is_none_or(|b| near > b.1) {
            best = Some((*width, near));
        }
    }
    best.map(|(width, length)| (width, length / all.max(1e-9)))
}
