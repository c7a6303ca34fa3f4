//! Sizes whose shared edge is drawn once: an open line of one size is closed along the line both its ends stand on.
//!
//! A line across a piece also stands on its outline with both ends. So this is done only where the way of drawing is
//! known to be that of a size (closed lines elsewhere are drawn so), or where lines drawn in two ways end at the same two
//! places.

use std::collections::BTreeSet;

use petitoile_core::kurbo::{ParamCurve, ParamCurveNearest, Point};

use super::corners::path_of;
use super::loops::SMALLEST_PIECE;
use super::strokes::{SAME, Seg, Stroke};

/// Ends this near stand on a line, mm.
const STANDS: f64 = 0.3;

/// Shorter open lines are not closed, mm.
const SHORTEST: f64 = 40.0;

/// Ends of several sizes meet the shared edge this near to each other, mm.
const TOGETHER: f64 = 1.0;

/// How many pairs of lines are looked at.
const MOST: usize = 3_000_000;

/// A place on a stroke: which stretch, and the parameter on it.
type Spot = (usize, f64);

/// An open line and the one it stands on.
struct Standing {
    line: usize,
    on: usize,
    from: Spot,
    to: Spot,
}

/// Closes open lines of sizes along the edge they share.
pub(super) fn closed(mut strokes: Vec<Stroke>) -> Vec<Stroke> {
    let known: BTreeSet<usize> = strokes
        .iter()
        .filter(|s| s.closed && !s.filled && s.bounds.area() >= 10.0 * SMALLEST_PIECE)
        .map(|s| s.style)
        .collect();
    let mut budget = MOST;
    let standing: Vec<Standing> = (0..strokes.len())
        .flat_map(|at| standing(&strokes, at, &mut budget))
        .collect();
    let mut made: Vec<(usize, Stroke)> = Vec::new();
    for one in &standing {
        if made.iter().any(|m| m.0 == one.line) {
            continue;
        }
        let Some(own) = strokes.get(one.line) else {
            continue;
        };
        let near = |other: &Stroke| {
            let (a, b) = (own.start(), own.end());
            let (p, q) = (other.start(), other.end());
            let close = |x: Point, y: Point| (x - y).hypot() <= TOGETHER;
            close(a, p) && close(b, q) || close(a, q) && close(b, p)
        };
        let has_like = standing.iter().any(|other| {
            strokes
                .get(other.line)
                .is_some_and(|s| s.style != own.style && near(s))
        });
        if !(has_like || known.contains(&own.style)) {
            continue;
        }
        if let Some(stroke) = strokes
            .get(one.on)
            .and_then(|on| along(own, on, one.from, one.to))
        {
            made.push((one.line, stroke));
        }
    }
    for (at, stroke) in made {
        if let Some(old) = strokes.get_mut(at) {
            *old = stroke;
        }
    }
    strokes
}

/// The lines drawn otherwise on which an open line stands with both ends.
fn standing(strokes: &[Stroke], at: usize, budget: &mut usize) -> Vec<Standing> {
    let Some(own) = strokes.get(at) else {
        return Vec::new();
    };
    let is_mark = own.closed || own.filled || own.meaning.is_some();
    if is_mark || own.length < SHORTEST || own.is_straight(0.5) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (on, other) in strokes.iter().enumerate() {
        let reach = other.bounds.inflate(STANDS, STANDS);
        let differs = other.style != own.style && other.length >= SHORTEST && !other.filled;
        if !differs || !reach.contains(own.start()) || !reach.contains(own.end()) {
            continue;
        }
        let cost = 2 * other.segs.len();
        if *budget < cost {
            break;
        }
        *budget -= cost;
        if let (Some(from), Some(to)) = (spot(other, own.start()), spot(other, own.end()))
            && from != to
        {
            found.push(Standing {
                line: at,
                on,
                from,
                to,
            });
        }
    }
    found
}

fn spot(stroke: &Stroke, p: Point) -> Option<Spot> {
    let mut best: Option<(f64, Spot)> = None;
    for (i, seg) in stroke.segs.iter().enumerate() {
        let b = seg.c.bounding_box_of_points().inflate(STANDS, STANDS);
        if !b.contains(p) {
            continue;
        }
        let near = seg.c.nearest(p, 1e-6);
        if best.is_none_or(|b| near.distance_sq < b.0) {
            best = Some((near.distance_sq, (i, near.t)));
        }
    }
    best.filter(|b| b.0.sqrt() <= STANDS).map(|b| b.1)
}

/// A box that holds a cubic: that of its four points.
trait BoxOfPoints {
    fn bounding_box_of_points(&self) -> petitoile_core::kurbo::Rect;
}

impl BoxOfPoints for petitoile_core::kurbo::CubicBez {
    fn bounding_box_of_points(&self) -> petitoile_core::kurbo::Rect {
        petitoile_core::kurbo::Rect::from_points(self.p0, self.p3)
            .union_pt(self.p1)
            .union_pt(self.p2)
    }
}

/// The open line closed along the other one, the way that holds more.
fn along(own: &Stroke, on: &Stroke, from: Spot, to: Spot) -> Option<Stroke> {
    use petitoile_core::kurbo::Shape;
    // Back from the end of the open line to its start.
    let mut ways = vec![stretch(on, to, from)];
    if on.closed {
        let mut other = stretch(on, from, to);
        other.reverse();
        other.iter_mut().for_each(|s| *s = s.turned());
        ways.push(other);
    }
    let (area, segs) = ways
        .into_iter()
        .filter_map(|mut way| {
            if let Some(first) = way.first_mut() {
                *first = first.from(own.end());
            }
            if let Some(last) = way.last_mut() {
                *last = last.to(own.start());
            }
            if way.is_empty() {
                return None;
            }
            let mut segs = own.segs.clone();
            segs.extend(way);
            Some((path_of(&segs).area().abs(), segs))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    if area < SMALLEST_PIECE {
        return None;
    }
    let mut made = Stroke::new(segs, true, own.style);
    made.own = own.segs.len();
    made.repeats.clone_from(&own.repeats);
    made.gaps.clone_from(&own.gaps);
    Some(made)
}

/// The part of a stroke from one place to another: forwards on a closed one, else backwards where need be.
fn stretch(on: &Stroke, from: Spot, to: Spot) -> Vec<Seg> {
    if from > to && !on.closed {
        let mut back = stretch(on, to, from);
        back.reverse();
        back.iter_mut().for_each(|s| *s = s.turned());
        return back;
    }
    let n = on.segs.len();
    let last = if from <= to { to.0 } else { to.0 + n };
    (from.0..=last)
        .filter_map(|i| {
            let seg = on.segs.get(i % n.max(1))?;
            let a = if i == from.0 { from.1 } else { 0.0 };
            let b = if i == last { to.1 } else { 1.0 };
            let part = Seg {
                c: seg.c.subsegment(a..b.max(a)),
                ..*seg
            };
            let part = if seg.straight {
                Seg::straight(part.c.p0, part.c.p3, seg.line)
            } else {
                part
            };
            (part.length() > SAME).then_some(part)
        })
        .collect()
}
