//! Notches cut into an outline, or standing out of it: a short V on an edge that else runs on. The outline is mended over
//! them before anything is made of it, so that they are neither corners nor darts.

use petitoile_core::geometry::curve::direction_on;
use petitoile_core::kurbo::{CubicBez, Point};

use super::chain::turn;
use super::loops::SMALLEST_PIECE;
use super::strokes::{Seg, Stroke};
use super::types::Choices;

/// Depth of a V that may be a notch, mm. *Own; home patterns have 3 to 8.*
const DEPTH: std::ops::RangeInclusive<f64> = 1.5..=8.5;

/// Widest mouth, mm.
const MOUTH: f64 = 12.0;

/// A mouth this narrow is a slit, mm.
const SLIT: f64 = 0.3;

/// A V deeper than this many times its mouth is a dart on a piece of doll size.
const DEEP: f64 = 1.25;

/// A piece this many times as long as a V is deep is too large for it to be a dart.
const LARGE: f64 = 40.0;

/// The edge runs on across the mouth when it turns less than this, radians: 15 degrees.
const RUNS_ON: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// A notch that was cut into a closed line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct VCut {
    /// Place of the stroke.
    pub stroke: usize,
    /// The line of the sheet.
    pub line: usize,
    /// Which V along this line.
    pub number: usize,
    /// The middle of its mouth.
    pub foot: Point,
    /// How deep, mm.
    pub depth: f64,
}

/// Mends every closed line over the notches cut into it; gives these.
pub(super) fn mended(strokes: &mut [Stroke], choices: &Choices) -> Vec<VCut> {
    let mut found = Vec::new();
    for (at, stroke) in strokes.iter_mut().enumerate() {
        let may = stroke.closed
            && !stroke.filled
            && stroke.own == usize::MAX
            && stroke.segs.len() >= 6
            && stroke.bounds.area() >= 4.0 * SMALLEST_PIECE;
        if may {
            found.extend(mend(at, stroke, choices));
        }
    }
    found
}

fn mend(at: usize, stroke: &mut Stroke, choices: &Choices) -> Vec<VCut> {
    let n = stroke.segs.len();
    let seg = |i: usize| stroke.segs.get(i % n).copied();
    let (long, across) = (
        stroke.length,
        stroke.bounds.width().hypot(stroke.bounds.height()),
    );
    let mut found = Vec::new();
    let mut bridges: Vec<Option<Seg>> = vec![None; n];
    let mut gone = vec![false; n];
    for i in 0..n {
        let parts = (seg(i + n - 1), seg(i), seg(i + 1), seg(i + 2));
        let (Some(before), Some(a), Some(b), Some(after)) = parts else {
            continue;
        };
        let is_free = |k: usize| !gone.get(k % n).copied().unwrap_or(true);
        if !(is_free(i) && is_free(i + 1)) {
            continue;
        }
        let Some((foot, depth)) = v_of(&before, &a, &b, &after, across) else {
            continue;
        };
        let mouth = (b.c.p3 - a.c.p0).hypot();
        if long < 10.0 * mouth + 4.0 * depth {
            continue;
        }
        let number = found.len();
        // The maker's word goes by the place of the V along the line, so it is counted all the same.
        let is_notch = choices.cut(a.line, number).unwrap_or(true);
        found.push(VCut {
            stroke: at,
            line: a.line,
            number,
            foot,
            depth: if is_notch { depth } else { 0.0 },
        });
        if !is_notch {
            continue;
        }
        for k in [i, i + 1] {
            if let Some(gone) = gone.get_mut(k % n) {
                *gone = true;
            }
        }
        if let Some(place) = bridges.get_mut(i) {
            *place = bridge(&before, &a, &b, &after);
        }
    }
    if gone.contains(&true) {
        let kept = stroke.segs.iter().enumerate().filter_map(|(i, own)| {
            let is_gone = gone.get(i).copied().unwrap_or(false);
            let bridge = bridges.get(i).copied().flatten();
            if is_gone { bridge } else { Some(*own) }
        });
        stroke.segs = kept.collect();
        stroke.measure();
    }
    found.retain(|cut| cut.depth > 0.0);
    found
}

/// The middle of the mouth and the depth of a V between two stretches that run on.
fn v_of(before: &Seg, a: &Seg, b: &Seg, after: &Seg, across: f64) -> Option<(Point, f64)> {
    if !(a.straight && b.straight) {
        return None;
    }
    let (from, apex, to) = (a.c.p0, a.c.p3, b.c.p3);
    let (first, second) = (a.length(), b.length());
    let alike = (first - second).abs() <= (0.12 * first.max(second)).max(0.3);
    let mouth = (to - from).hypot();
    let (u, v) = (direction_on(&before.c, 1.0), direction_on(&after.c, 0.0));
    let runs_on = turn(u, v) <= RUNS_ON && (mouth <= SLIT || turn(u, to - from) <= RUNS_ON);
    let foot = from.midpoint(to);
    let depth = (apex - foot).hypot();
    let leans = (apex - foot).dot(u).abs() / u.hypot().max(1e-12);
    let is_slit = mouth <= SLIT;
    let is_v = mouth <= MOUTH.min(2.4 * depth)
        && leans <= 0.25 * mouth + 0.3
        && (is_slit || depth <= DEEP * mouth || across > LARGE * depth);
    (alike && runs_on && DEPTH.contains(&depth) && is_v).then_some((foot, depth))
}

/// What closes the mouth: straight between straight stretches, else in the direction of both sides.
fn bridge(before: &Seg, a: &Seg, b: &Seg, after: &Seg) -> Option<Seg> {
    let (from, to) = (a.c.p0, b.c.p3);
    let mouth = (to - from).hypot();
    if mouth <= super::strokes::SAME {
        return None;
    }
    if before.straight && after.straight {
        return Some(Seg::straight(from, to, a.line));
    }
    let unit = |d: petitoile_core::kurbo::Vec2| d * (mouth / 3.0 / d.hypot().max(1e-12));
    let (u, v) = (
        unit(direction_on(&before.c, 1.0)),
        unit(direction_on(&after.c, 0.0)),
    );
    Some(Seg {
        c: CubicBez::new(from, from + u, to - v, to),
        straight: false,
        line: a.line,
    })
}
