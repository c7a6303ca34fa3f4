//! Dashes that were drawn one by one, as some programs do, become one dashed line.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{Point, Vec2};

use super::strokes::{Seg, Stroke, Style, Styles};

/// Longest dash that is gathered, mm.
const LONGEST: f64 = 12.0;

/// Widest gap between two dashes, as a multiple of the longer of them.
const GAP: f64 = 1.6;

/// Two dashes differ in direction by no more than this (radians): dashes of curves turn.
const TURN: f64 = 0.25;

/// A dash lies this near to the way on from the one before, as a share of the gap, and at least [`OFF`].
const ASIDE: f64 = 0.15;

/// See [`ASIDE`], mm.
const OFF: f64 = 0.05;

/// So many dashes at least are a dashed line.
const FEWEST: usize = 5;

/// An end of a dash: which, whether it is its end, where, and the direction out of it.
#[derive(Debug, Clone, Copy)]
struct End {
    dash: usize,
    is_end: bool,
    at: Point,
    out: Vec2,
}

/// Gathers dashes of one way of drawing that lie in a row, about equally long, at about equal gaps.
pub(super) fn gathered(strokes: Vec<Stroke>, styles: &mut Styles) -> Vec<Stroke> {
    let is_dash = |s: &Stroke| {
        !s.closed
            && !s.filled
            && s.meaning.is_none()
            && s.length <= LONGEST
            && s.segs.len() <= 3
            && !styles.is_dashed(s.style)
    };
    let (dashes, mut rest): (Vec<Stroke>, Vec<Stroke>) = strokes.into_iter().partition(is_dash);
    let mates = mates(&dashes);
    let mut used = vec![false; dashes.len()];
    for first in 0..dashes.len() {
        if used.get(first).copied().unwrap_or(true) {
            continue;
        }
        let row = row(first, &mates, dashes.len());
        for (i, _) in &row {
            if let Some(used) = used.get_mut(*i) {
                *used = true;
            }
        }
        match (row.len() >= FEWEST).then(|| one_line(&row, &dashes, styles)) {
            Some(Some(line)) => rest.push(line),
            _ => rest.extend(row.iter().filter_map(|(i, _)| dashes.get(*i).cloned())),
        }
    }
    rest.sort_by_key(Stroke::first_line);
    rest
}

/// For every end the end that goes on from it: the nearest, when each is the nearest of the other.
fn mates(dashes: &[Stroke]) -> BTreeMap<(usize, bool), (usize, bool)> {
    let ends: Vec<End> = dashes
        .iter()
        .enumerate()
        .flat_map(|(dash, s)| {
            let end = |is_end, at, out| End {
                dash,
                is_end,
                at,
                out,
            };
            [
                end(false, s.start(), -s.leaves()),
                end(true, s.end(), s.comes()),
            ]
        })
        .collect();
    let cell = LONGEST;
    let square = |p: Point| ((p.x / cell).floor() as i64, (p.y / cell).floor() as i64);
    let mut squares: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (i, end) in ends.iter().enumerate() {
        squares.entry(square(end.at)).or_default().push(i);
    }
    let nearest = |end: &End| -> Option<usize> {
        let (x, y) = square(end.at);
        let own = dashes.get(end.dash)?;
        (-1..=1)
            .flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)))
            .filter_map(|key| squares.get(&key))
            .flat_map(|list| list.iter().take(400))
            .filter_map(|i| Some((*i, ends.get(*i)?)))
            .filter(|(_, other)| {
                dashes.get(other.dash).is_some_and(|o| {
                    other.dash != end.dash && o.style == own.style && goes_on(end, own, other, o)
                })
            })
            .min_by(|a, b| {
                let far = |e: &End| (e.at - end.at).hypot2();
                far(a.1).total_cmp(&far(b.1)).then(a.0.cmp(&b.0))
            })
            .map(|n| n.0)
    };
    let all: Vec<Option<usize>> = ends.iter().map(nearest).collect();
    let mut mates = BTreeMap::new();
    for (i, mate) in all.iter().enumerate() {
        let Some(mate) = mate else { continue };
        if all.get(*mate).copied().flatten() == Some(i)
            && let (Some(a), Some(b)) = (ends.get(i), ends.get(*mate))
        {
            mates.insert((a.dash, a.is_end), (b.dash, b.is_end));
        }
    }
    mates
}

/// Does the row go on from one end to the other?
fn goes_on(end: &End, own: &Stroke, other: &End, next: &Stroke) -> bool {
    let way = other.at - end.at;
    let gap = way.hypot();
    let (long, short) = (own.length.max(next.length), own.length.min(next.length));
    let ahead = way.dot(end.out);
    let turned = end
        .out
        .cross(-other.out)
        .abs()
        .atan2(end.out.dot(-other.out));
    gap > 0.1
        && gap <= GAP * long
        && long <= 3.0 * short.max(0.2)
        && ahead > 0.0
        && way.cross(end.out).abs() <= (ASIDE * gap).max(OFF)
        && turned <= TURN
}

/// The whole row a dash is in: which dashes, and whether each is walked backwards.
fn row(
    first: usize,
    mates: &BTreeMap<(usize, bool), (usize, bool)>,
    all: usize,
) -> Vec<(usize, bool)> {
    // Back to the first dash of the row, or once round.
    let mut start = (first, false);
    for _ in 0..all {
        let Some(&(before, is_end)) = mates.get(&start) else {
            break;
        };
        start = (before, !is_end);
        if start.0 == first {
            break;
        }
    }
    let mut row: Vec<(usize, bool)> = Vec::new();
    let mut here = start;
    for _ in 0..all {
        row.push(here);
        match mates.get(&(here.0, !here.1)) {
            Some(&next) if next.0 != start.0 => here = next,
            _ => break,
        }
    }
    row
}

/// A row as one stroke with dashes, straight from dash to dash.
fn one_line(row: &[(usize, bool)], dashes: &[Stroke], styles: &mut Styles) -> Option<Stroke> {
    let parts: Vec<Stroke> = row
        .iter()
        .filter_map(|(i, back)| {
            let mut part = dashes.get(*i)?.clone();
            if *back {
                part.segs.reverse();
                part.segs.iter_mut().for_each(|s| *s = s.turned());
            }
            Some(part)
        })
        .collect();
    let first = parts.first()?;
    let long = parts.iter().map(|p| p.length).sum::<f64>() / parts.len() as f64;
    let gaps: f64 = parts
        .iter()
        .zip(parts.iter().skip(1))
        .map(|(a, b)| (b.start() - a.end()).hypot())
        .sum();
    let gap = gaps / (parts.len() - 1).max(1) as f64;
    let whole: f64 = long * parts.len() as f64 + gaps;
    // A row of strokes across the way, such as a ruler's, is none.
    if whole < 4.0 * long {
        return None;
    }
    let mut segs: Vec<Seg> = Vec::new();
    for part in &parts {
        if let Some(last) = segs.last().copied() {
            segs.push(Seg::straight(last.c.p3, part.start(), last.line));
        }
        segs.extend(part.segs.iter().copied());
    }
    let hundredths = |mm: f64| (mm * 100.0).round() as i64;
    let style = Style {
        dash: vec![hundredths(long), hundredths(gap)],
        ..styles.0.get(first.style)?.clone()
    };
    let place = styles.0.iter().position(|s| *s == style);
    let place = place.unwrap_or_else(|| {
        styles.0.push(style);
        styles.0.len() - 1
    });
    let mut line = Stroke::new(segs, false, place);
    line.repeats = parts.iter().flat_map(|p| p.repeats.clone()).collect();
    Some(line)
}
