//! A closed line cut at its corners: edges that are smooth, chords of a curve made curves again.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use petitoile_core::geometry::curve::direction_on;
use petitoile_core::geometry::parallel::straight;
use petitoile_core::kurbo::{BezPath, CubicBez, Point, Shape, Vec2};

use super::chain::turn;
use super::fit;
use super::strokes::{SAME, Seg, Stroke};

/// A turn above this is a corner, radians: 20 degrees.
const CORNER: f64 = 20.0 * std::f64::consts::PI / 180.0;

/// Chords of a curve turn less than this from one to the next, radians: 50 degrees.
const CHORD_TURN: f64 = 50.0 * std::f64::consts::PI / 180.0;

/// Chords of a curve are shorter than this, mm.
const CHORD: f64 = 30.0;

/// Neighbouring chords of a curve are about equally long: at most this many times.
const ALIKE: f64 = 5.0;

/// Chords of a curve bow from it by no more than this, mm; two straight edges that meet at a slight kink do.
const BOW: f64 = 0.2;

/// Joined stretches that turn less than this run on straight, radians.
const STRAIGHT: f64 = 1e-3;

/// A smooth stretch of outline between two corners.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Smooth {
    /// Its curves, end to end.
    pub cubics: Vec<CubicBez>,
    /// The lines of the sheet it comes from, each once, in order of appearance.
    pub lines: Vec<usize>,
}

impl Smooth {
    /// Where it starts.
    pub fn start(&self) -> Point {
        self.cubics.first().map_or(Point::ZERO, |c| c.p0)
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        self.cubics.last().map_or(Point::ZERO, |c| c.p3)
    }
}

/// A closed line as a path.
pub(super) fn path_of(segs: &[Seg]) -> BezPath {
    let mut path = BezPath::new();
    for seg in segs {
        if path.is_empty() {
            path.move_to(seg.c.p0);
        }
        if seg.straight {
            path.line_to(seg.c.p3);
        } else {
            path.curve_to(seg.c.p1, seg.c.p2, seg.c.p3);
        }
    }
    path.close_path();
    path
}

/// The edges of a closed line, counter-clockwise, the first starting at the lowest, then leftmost corner that was drawn.
pub(super) fn edges(stroke: &Stroke) -> Vec<Smooth> {
    let mut segs: Vec<Seg> = stroke
        .segs
        .iter()
        .copied()
        .filter(|s| s.length() > SAME)
        .collect();
    if path_of(&segs).area() < 0.0 {
        segs.reverse();
        segs.iter_mut().for_each(|s| *s = s.turned());
    }
    let segs = straightened(segs);
    let n = segs.len();
    if n == 0 {
        return Vec::new();
    }
    let corners: Vec<usize> = (0..n).filter(|i| is_corner(&segs, *i)).collect();
    // A line without corners starts where it was drawn from.
    let Some(&first) = corners.first() else {
        return vec![smooth(&segs)];
    };
    let mut edges = Vec::with_capacity(corners.len());
    for (k, from) in corners.iter().enumerate() {
        let to = corners.get(k + 1).copied().unwrap_or(first + n);
        let part: Vec<Seg> = (*from..to).map(|i| segs[i % n]).collect();
        edges.push(smooth(&part));
    }
    let lowest = |a: &Point, b: &Point| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x));
    let start = (0..edges.len())
        .min_by(|a, b| lowest(&edges[*a].start(), &edges[*b].start()))
        .unwrap_or(0);
    edges.rotate_left(start);
    edges
}

/// The smooth stretches of an open line, in its own direction.
pub(super) fn open_edges(stroke: &Stroke) -> Vec<Smooth> {
    let segs: Vec<Seg> = stroke
        .segs
        .iter()
        .copied()
        .filter(|s| s.length() > SAME)
        .collect();
    let mut parts = Vec::new();
    let mut part: Vec<Seg> = Vec::new();
    for i in 0..segs.len() {
        if i > 0 && open_corner(&segs, i) {
            parts.push(smooth(&part));
            part.clear();
        }
        part.push(segs[i]);
    }
    if !part.is_empty() {
        parts.push(smooth(&part));
    }
    parts
}

fn open_corner(segs: &[Seg], i: usize) -> bool {
    let at = signed_turn(&segs[i - 1], &segs[i]).abs();
    if at <= CORNER {
        return false;
    }
    if at > CHORD_TURN || !are_chords(&segs[i - 1], &segs[i]) {
        return true;
    }
    let before = (i >= 2).then(|| (segs[i - 2], segs[i - 1]));
    let after = segs.get(i + 1).map(|next| (segs[i], *next));
    let here = signed_turn(&segs[i - 1], &segs[i]);
    !before
        .into_iter()
        .chain(after)
        .any(|(a, b)| goes_on(here, &a, &b))
}

/// Straight stretches that run on straight become one; the closed line starts at a true joint.
fn straightened(segs: Vec<Seg>) -> Vec<Seg> {
    let n = segs.len();
    if n < 3 {
        return segs;
    }
    let runs_on = |a: &Seg, b: &Seg| {
        a.straight && b.straight && signed_turn(a, b).abs() <= STRAIGHT && {
            let d = b.c.p3 - a.c.p0;
            let off = (a.c.p3 - a.c.p0).cross(d).abs() / d.hypot().max(SAME);
            off <= 0.002
        }
    };
    let first = (0..n).find(|i| !runs_on(&segs[(i + n - 1) % n], &segs[*i]));
    let Some(first) = first else {
        return segs;
    };
    let mut out: Vec<Seg> = Vec::with_capacity(n);
    for k in 0..n {
        let seg = segs[(first + k) % n];
        match out.last_mut() {
            // The line is kept, so that a fold drawn as a stroke of its own stays told.
            Some(last) if last.line == seg.line && runs_on(last, &seg) => {
                *last = Seg::straight(last.c.p0, seg.c.p3, last.line);
            }
            _ => out.push(seg),
        }
    }
    out
}

/// Turn from one stretch to the next, radians, positive to the left.
fn signed_turn(a: &Seg, b: &Seg) -> f64 {
    let (u, v) = (direction_on(&a.c, 1.0), direction_on(&b.c, 0.0));
    let size = turn(u, v);
    if u.cross(v) < 0.0 { -size } else { size }
}

fn are_chords(a: &Seg, b: &Seg) -> bool {
    let (x, y) = (a.length(), b.length());
    let bow = x.max(y) * signed_turn(a, b).abs() / 8.0;
    let long = x.max(y);
    a.straight && b.straight && long <= CHORD && long <= ALIKE * x.min(y) && bow <= BOW
}

/// Does the turn go on alike at the next joint, as along a curve?
fn goes_on(here: f64, a: &Seg, b: &Seg) -> bool {
    let there = signed_turn(a, b);
    are_chords(a, b)
        && there.signum() == here.signum()
        && there.abs() <= CHORD_TURN
        && there.abs() >= 0.4 * here.abs()
}

/// Is there a corner where stretch `i` of a closed line starts?
fn is_corner(segs: &[Seg], i: usize) -> bool {
    let n = segs.len();
    let (a, b) = (&segs[(i + n - 1) % n], &segs[i]);
    let here = signed_turn(a, b);
    if here.abs() <= CORNER {
        return false;
    }
    if here.abs() > CHORD_TURN || !are_chords(a, b) {
        return true;
    }
    let before = (&segs[(i + n - 2) % n], a);
    let after = (b, &segs[(i + 1) % n]);
    ![before, after].iter().any(|(a, b)| goes_on(here, a, b))
}

/// Stretches without a corner between them, runs of chords made curves.
fn smooth(segs: &[Seg]) -> Smooth {
    let mut lines: Vec<usize> = Vec::new();
    for seg in segs {
        if lines.last() != Some(&seg.line) && !lines.contains(&seg.line) {
            lines.push(seg.line);
        }
    }
    let mut cubics = Vec::new();
    let mut i = 0;
    while i < segs.len() {
        let mut j = i;
        while j + 1 < segs.len() && are_chords(&segs[j], &segs[j + 1]) {
            j += 1;
        }
        let run = &segs[i..=j];
        if run.len() < 2 {
            cubics.push(segs[i].c);
        } else if let Some((a, b)) = one_straight(run) {
            cubics.push(straight(a, b));
        } else if run.len() < 3 {
            cubics.extend(run.iter().map(|s| s.c));
        } else {
            // A long chord beside the run lies half a turn off the curve: only a curve tells a direction.
            let bent = |s: &&Seg| !s.straight;
            let last = i.checked_sub(1).and_then(|k| segs.get(k));
            let before = last.filter(bent).map(|s| direction_on(&s.c, 1.0));
            let after = segs.get(j + 1).filter(bent);
            let after = after.map(|s| direction_on(&s.c, 0.0));
            cubics.extend(refitted(run, before, after));
        }
        i = j + 1;
    }
    Smooth { cubics, lines }
}

/// Start and end of a run that is straight within a hundredth of a millimetre.
fn one_straight(run: &[Seg]) -> Option<(Point, Point)> {
    let (a, b) = (run.first()?.c.p0, run.last()?.c.p3);
    let d = b - a;
    let long = d.hypot();
    let off = |p: Point| (p - a).cross(d).abs() / long;
    let forward = run.iter().all(|s| (s.c.p3 - s.c.p0).dot(d) > 0.0);
    (long > SAME && forward && run.iter().all(|s| off(s.c.p3) <= 0.006)).then_some((a, b))
}

fn refitted(run: &[Seg], before: Option<Vec2>, after: Option<Vec2>) -> Vec<CubicBez> {
    let mut points: Vec<Point> = Vec::with_capacity(run.len() + 1);
    points.push(run[0].c.p0);
    points.extend(run.iter().map(|s| s.c.p3));
    // Into the neighbour's direction only where the chords come in by it.
    let near = |known: Option<Vec2>, chord: Vec2| known.filter(|d| turn(*d, chord) <= CORNER / 2.0);
    let first = near(before, run[0].c.p3 - run[0].c.p0);
    let last = run.last().map_or(Vec2::ZERO, |s| s.c.p3 - s.c.p0);
    fit::through(&points, first, near(after, last))
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;

    fn polygon(points: &[(f64, f64)]) -> Stroke {
        let n = points.len();
        let segs = (0..n)
            .map(|i| Seg::straight(points[i].into(), points[(i + 1) % n].into(), 0))
            .collect();
        Stroke::new(segs, true, 0)
    }

    #[test]
    fn a_rectangle_has_four_edges_whichever_way_it_was_drawn() {
        let round = polygon(&[(0.0, 0.0), (0.0, 30.0), (40.0, 30.0), (40.0, 0.0)]);
        let edges = edges(&round);
        assert_eq!(edges.len(), 4);
        assert_eq!(edges[0].start(), Point::new(0.0, 0.0));
        assert_eq!(edges[0].end(), Point::new(40.0, 0.0));
    }

    #[test]
    fn chords_of_a_half_circle_are_one_edge_and_its_ends_are_corners() {
        for chords in [24, 60, 200] {
            let mut points = vec![(-40.0, 0.0), (40.0, 0.0)];
            points.extend((1..chords).map(|i| {
                let a = std::f64::consts::PI * f64::from(i) / f64::from(chords);
                (40.0 * a.cos(), 40.0 * a.sin())
            }));
            let edges = edges(&polygon(&points));
            assert_eq!(edges.len(), 2, "{chords} chords");
            assert!(edges[1].cubics.len() <= 6, "{}", edges[1].cubics.len());
        }
    }

    #[test]
    fn a_straight_line_in_steps_is_one_straight_edge() {
        let mut points: Vec<(f64, f64)> = (0..50).map(|i| (f64::from(i) * 2.0, 0.0)).collect();
        points.extend([(98.0, 40.0), (0.0, 40.0)]);
        let edges = edges(&polygon(&points));
        assert_eq!(edges.len(), 4);
        assert_eq!(edges[0].cubics.len(), 1);
    }
}
