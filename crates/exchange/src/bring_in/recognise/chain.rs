//! Strokes whose ends meet become one line; small gaps are closed, with a doubt.
//!
//! Ends are found in squares as wide as the gap, so that thousands of strokes stay quick.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{Point, Vec2};

use super::strokes::{Seg, Stroke};

/// Ends nearer than this meet, mm: what drawing programs lose in rounding.
pub(super) const MEETS: f64 = 0.05;

/// Widest gap that is closed, mm.
pub(super) const GAP: f64 = 1.0;

/// Sharper than this (radians) two strokes go on into each other only when they are about as long as each other.
const SHARP: f64 = 2.1;

/// How many neighbours of an end are looked at.
const NEIGHBOURS: usize = 12;

/// Joins strokes: first those drawn alike, then any; first those that meet, then over gaps. `alone` are left as they are.
pub(super) fn joined(strokes: Vec<Stroke>, alone: impl Fn(&Stroke) -> bool) -> Vec<Stroke> {
    let (mut done, mut open): (Vec<Stroke>, Vec<Stroke>) =
        strokes.into_iter().partition(|s| s.closed || alone(s));
    for (gap, alike) in [(MEETS, true), (MEETS, false), (GAP, true), (GAP, false)] {
        let (closed, still): (Vec<Stroke>, Vec<Stroke>) =
            pass(open, gap, alike).into_iter().partition(|s| s.closed);
        done.extend(closed);
        open = still;
    }
    done.extend(open);
    done.sort_by_key(Stroke::first_line);
    done
}

/// An end of a stroke: which, and whether it is its end (else its start).
type End = (usize, bool);

/// Joins ends within `gap` mm.
fn pass(strokes: Vec<Stroke>, gap: f64, alike: bool) -> Vec<Stroke> {
    let at = |(i, is_end): End| {
        strokes
            .get(i)
            .map_or(Point::ZERO, |s| if is_end { s.end() } else { s.start() })
    };
    let out = |(i, is_end): End| {
        strokes
            .get(i)
            .map_or(Vec2::ZERO, |s| if is_end { s.comes() } else { -s.leaves() })
    };
    let square = |p: Point| ((p.x / gap).floor() as i64, (p.y / gap).floor() as i64);
    let mut squares: BTreeMap<(i64, i64), Vec<End>> = BTreeMap::new();
    for i in 0..strokes.len() {
        for is_end in [false, true] {
            squares
                .entry(square(at((i, is_end))))
                .or_default()
                .push((i, is_end));
        }
    }
    let mut pairs: Vec<(f64, End, End)> = Vec::new();
    for i in 0..strokes.len() {
        for is_end in [false, true] {
            let end = (i, is_end);
            let p = at(end);
            let (x, y) = square(p);
            let mut near: Vec<(f64, End)> = (-1..=1)
                .flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)))
                .filter_map(|key| squares.get(&key))
                .flat_map(|ends| ends.iter().take(4 * NEIGHBOURS))
                .filter(|other| end < **other)
                .map(|other| ((at(*other) - p).hypot(), *other))
                .filter(|(far, _)| *far <= gap)
                .collect();
            near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            for (far, other) in near.into_iter().take(NEIGHBOURS) {
                let (Some(a), Some(b)) = (strokes.get(i), strokes.get(other.0)) else {
                    continue;
                };
                let turn = turn(out(end), -out(other));
                if may_join(a, b, i == other.0, far, turn, alike) {
                    // Over a gap the nearest goes first, at a meeting the straightest.
                    let cost = if gap > MEETS { far + 0.1 * turn } else { turn };
                    pairs.push((cost, end, other));
                }
            }
        }
    }
    if !alike {
        // Where several lines could go on into one, they are sizes that share an edge: see `shared`.
        let mut count: BTreeMap<End, usize> = BTreeMap::new();
        let long = |e: End| strokes.get(e.0).map_or(0.0, |s| s.length);
        for (_, a, b) in &pairs {
            for (one, other) in [(*a, *b), (*b, *a)] {
                if long(other) > 0.1 * long(one) {
                    *count.entry(one).or_default() += 1;
                }
            }
        }
        let single = |e: &End| count.get(e).is_none_or(|n| *n < 2);
        pairs.retain(|(_, a, b)| single(a) && single(b));
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut mates: BTreeMap<End, End> = BTreeMap::new();
    for (_, a, b) in pairs {
        if !mates.contains_key(&a) && !mates.contains_key(&b) {
            mates.insert(a, b);
            mates.insert(b, a);
        }
    }
    walked(strokes, &mates)
}

/// Angle between two directions, 0 to pi.
pub(super) fn turn(a: Vec2, b: Vec2) -> f64 {
    a.cross(b).abs().atan2(a.dot(b))
}

fn may_join(a: &Stroke, b: &Stroke, is_one: bool, far: f64, turn: f64, alike: bool) -> bool {
    if alike && a.style != b.style
        || a.meaning != b.meaning && a.meaning.is_some() && b.meaning.is_some()
    {
        return false;
    }
    if is_one {
        // A stroke closes on itself when it goes round something.
        return a.segs.len() > 1 && a.length > 8.0 * far && a.length > 1.0
            || a.segs.iter().any(|s| !s.straight) && a.length > 20.0 * far.max(SMALLEST);
    }
    let (short, long) = (a.length.min(b.length), a.length.max(b.length));
    if far > MEETS && short < 20.0 * far {
        return false;
    }
    // Legs of a dart meet sharply; lines drawn differently that do are two sizes that leave a common point.
    turn <= SHARP || (alike && short > 0.25 * long)
}

/// A loop shorter than this many times is none, mm.
const SMALLEST: f64 = 0.05;

/// Walks from end to mate and makes one stroke of each way.
fn walked(strokes: Vec<Stroke>, mates: &BTreeMap<End, End>) -> Vec<Stroke> {
    let mut used = vec![false; strokes.len()];
    let mut made = Vec::new();
    for first in 0..strokes.len() {
        if used.get(first).copied().unwrap_or(true) {
            continue;
        }
        // Back to the loose end, if there is one; round once where there is none.
        let mut start: End = (first, false);
        for _ in 0..strokes.len() {
            let Some(&(before, is_end)) = mates.get(&start) else {
                break;
            };
            start = (before, !is_end);
            if start == (first, false) {
                break;
            }
        }
        made.push(one_way(&strokes, mates, start, &mut used));
    }
    made
}

fn one_way(
    strokes: &[Stroke],
    mates: &BTreeMap<End, End>,
    start: End,
    used: &mut [bool],
) -> Stroke {
    let mut segs: Vec<Seg> = Vec::new();
    let mut gaps = Vec::new();
    let mut repeats = Vec::new();
    let (mut style, mut longest) = (0, -1.0);
    let mut meaning = None;
    let mut parts = 0;
    let mut here = start;
    let mut closed = false;
    loop {
        let (i, from_end) = here;
        let Some(stroke) = strokes.get(i) else { break };
        if let Some(used) = used.get_mut(i) {
            *used = true;
        }
        parts += 1;
        let mut part = stroke.segs.clone();
        if from_end {
            part.reverse();
            part.iter_mut().for_each(|s| *s = s.turned());
        }
        join_onto(&mut segs, part, &mut gaps);
        gaps.extend(stroke.gaps.iter().copied());
        repeats.extend(stroke.repeats.iter().copied());
        meaning = meaning.or(stroke.meaning);
        if stroke.length > longest {
            (style, longest) = (stroke.style, stroke.length);
        }
        let Some(&next) = mates.get(&(i, !from_end)) else {
            break;
        };
        if next == start {
            closed = true;
            break;
        }
        if used.get(next.0).copied().unwrap_or(true) {
            break;
        }
        here = next;
    }
    if parts == 1
        && !closed
        && let Some(stroke) = strokes.get(start.0)
    {
        return stroke.clone();
    }
    if closed {
        close(&mut segs, &mut gaps);
    }
    let mut made = Stroke::new(segs, closed, style);
    made.gaps = gaps;
    made.repeats = repeats;
    made.meaning = meaning;
    made
}

/// Appends a part, its start moved onto the end before it.
fn join_onto(segs: &mut Vec<Seg>, mut part: Vec<Seg>, gaps: &mut Vec<(Point, f64)>) {
    if let (Some(last), Some(first)) = (segs.last_mut(), part.first_mut()) {
        let (a, b, meet) = met(*last, *first, gaps);
        (*last, *first) = (a.to(meet), b.from(meet));
    }
    segs.extend(part);
}

/// Moves end and start of a closed line together.
fn close(segs: &mut [Seg], gaps: &mut Vec<(Point, f64)>) {
    let (Some(last), Some(first)) = (segs.last().copied(), segs.first().copied()) else {
        return;
    };
    let (_, _, meet) = met(last, first, gaps);
    if let Some(first) = segs.first_mut() {
        *first = first.from(meet);
    }
    if let Some(last) = segs.last_mut() {
        *last = last.to(meet);
    }
}

/// Where an end and a start are brought together: where their lines cross close by, else half way.
fn met(last: Seg, first: Seg, gaps: &mut Vec<(Point, f64)>) -> (Seg, Seg, Point) {
    let (p, q) = (last.c.p3, first.c.p0);
    let far = (q - p).hypot();
    let mut meet = p.midpoint(q);
    if far > MEETS {
        gaps.push((meet, far));
        let (a, b) = (last.c.p3 - last.c.p0, first.c.p3 - first.c.p0);
        let cross = a.cross(b);
        if last.straight && first.straight && cross.abs() > 0.34 * a.hypot() * b.hypot() {
            let at = p + a * ((q - p).cross(b) / cross);
            if (at - p).hypot() <= 1.5 * GAP && (at - q).hypot() <= 1.5 * GAP {
                meet = at;
            }
        }
    }
    (last, first, meet)
}
