//! Finds a bright sheet of paper on its own: a proposal for the four corners, when there is one to be seen.

use petitoile_core::kurbo::{Point, Vec2};

use super::ground::Small;
use super::level::Colour;
use super::picture::Picture;
use super::straighten::{Bottom, KnownRectangle, in_order, sides_on_table};
use super::trace::TraceError;
use crate::bring_in::Pace;
use crate::bring_in::Watch;

/// The longer side of the picture in which a sheet is looked for, pixels.
const SMALL: usize = 480;
/// Brightnesses that are tried.
const TRIES: usize = 24;
/// How much of the picture a sheet may cover.
const COVERS: (f64, f64) = (0.01, 0.85);
/// How much of its four corners' area a sheet fills at least.
const FILLS: f64 = 0.93;
/// How far the ratio of the sides may look from the true one.
const RATIO: f64 = 1.45;

/// The four corners of a bright sheet, pixels, when one can be made out: lower left, lower right, upper right, upper left.
///
/// It is a proposal: show it, let it be moved, and hand it to [`super::straighten::by_rectangle`], which finds the corners
/// exactly. Of several, the one that best fills its corners is taken.
///
/// # Errors
/// [`TraceError`] when it is stopped.
pub fn find_sheet(
    picture: &Picture,
    known: &KnownRectangle,
    watch: &Watch<'_>,
) -> Result<Option<[Point; 4]>, TraceError> {
    let whole = Pace::new(watch, &picture.file);
    let small = Small::at_most(picture, SMALL, &whole.part(0.0, 0.3))?;
    let bright: Vec<f32> = small.pixels.iter().map(brightness).collect();
    let mut sorted = bright.clone();
    sorted.sort_by(f32::total_cmp);
    let pace = whole.part(0.3, 1.0);
    let mut best: Option<(f64, [Point; 4])> = None;
    for n in 1..TRIES {
        pace.at(n as f64 / TRIES as f64)?;
        let lowest = sorted.first().copied().unwrap_or_default();
        let highest = sorted.last().copied().unwrap_or_default();
        let limit = lowest + (highest - lowest) * n as f32 / TRIES as f32;
        for blob in bright_blobs(&small, &bright, limit) {
            if let Some((score, corners)) = as_sheet(&small, &blob, known)
                && best.is_none_or(|(so_far, _)| so_far < score)
            {
                best = Some((score, corners));
            }
        }
    }
    Ok(best.map(|(_, corners)| corners))
}

fn brightness([r, g, b]: &Colour) -> f32 {
    // Paper is bright in every sample; a bright colour is not.
    r.min(*g).min(*b)
}

/// Joined bright places of a fitting size that do not touch the rim, as their pixels.
fn bright_blobs(small: &Small, bright: &[f32], limit: f32) -> Vec<Vec<usize>> {
    let total = bright.len() as f64;
    let mut seen: Vec<bool> = bright.iter().map(|b| *b < limit).collect();
    let mut blobs = Vec::new();
    for start in 0..bright.len() {
        if seen.get(start) != Some(&false) {
            continue;
        }
        let mut blob = vec![start];
        let mut touches = false;
        if let Some(seen) = seen.get_mut(start) {
            *seen = true;
        }
        let mut next = 0;
        while let Some(i) = blob.get(next).copied() {
            next += 1;
            let mut around = 0;
            for j in small.neighbours(i) {
                around += 1;
                if let Some(seen) = seen.get_mut(j).filter(|seen| !**seen) {
                    *seen = true;
                    blob.push(j);
                }
            }
            touches |= around < 4;
        }
        let share = blob.len() as f64 / total;
        if !touches && (COVERS.0..COVERS.1).contains(&share) {
            blobs.push(blob);
        }
    }
    blobs
}

/// The corners of a blob that is a sheet, and how well it is one.
fn as_sheet(small: &Small, blob: &[usize], known: &KnownRectangle) -> Option<(f64, [Point; 4])> {
    let hull = hull_of(small, blob);
    let corners = four_sides(hull)?;
    let corners = in_order(corners).ok()?;
    let area = area_of(&corners).abs();
    let own = (blob.len() * small.by * small.by) as f64;
    let fills = own / area;
    if !(FILLS..1.05).contains(&fills) {
        return None;
    }
    let [a, b, c, d] = corners;
    let (across, up) = sides_on_table(&corners, known, Bottom::AsItLooks);
    let looks = ((b - a).hypot() + (d - c).hypot()) / ((c - b).hypot() + (a - d).hypot());
    let off = looks / (across / up);
    let off = off.max(1.0 / off);
    (off < RATIO).then(|| (1.0 - (1.0 - fills).abs() * 2.0 - (off - 1.0) * 0.2, corners))
}

/// The convex outline of a blob, around the outer corners of its pixels.
fn hull_of(small: &Small, blob: &[usize]) -> Vec<Point> {
    let mut rows: Vec<Option<(usize, usize)>> = vec![None; small.height];
    for i in blob {
        let (x, y) = small.place(*i);
        if let Some(row) = rows.get_mut(y) {
            let (left, right) = row.unwrap_or((x, x));
            *row = Some((left.min(x), right.max(x)));
        }
    }
    let by = small.by as f64;
    let mut points: Vec<Point> = Vec::new();
    for (y, row) in rows.iter().enumerate() {
        let Some((left, right)) = row else { continue };
        for x in [*left, *right + 1] {
            points.extend([y, y + 1].map(|y| Point::new(x as f64 * by, y as f64 * by)));
        }
    }
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice()
                && (*b - *a).cross(p - *b) <= 0.0
            {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

/// Takes sides away from a convex outline, each time the one that adds least when its neighbours are drawn on until they
/// meet, down to four.
fn four_sides(mut hull: Vec<Point>) -> Option<[Point; 4]> {
    while hull.len() > 4 {
        let n = hull.len();
        let of = |i: usize| hull.get(i % n).copied().unwrap_or_default();
        let (_, side, meet) = (0..n)
            .filter_map(|i| {
                let (before, from, to, after) = (of(i), of(i + 1), of(i + 2), of(i + 3));
                let meet = meet_of(before, from - before, after, to - after)?;
                let adds = ((meet - from).cross(to - from) / 2.0).abs();
                Some((adds, i + 1, meet))
            })
            .min_by(|(a, ..), (b, ..)| a.total_cmp(b))?;
        if let Some(from) = hull.get_mut(side % n) {
            *from = meet;
        }
        hull.remove((side + 1) % n);
    }
    hull.try_into().ok()
}

/// Where two rays meet, each beyond its first point.
fn meet_of(a: Point, along: Vec2, b: Point, other: Vec2) -> Option<Point> {
    let cross = along.cross(other);
    let (t, u) = ((b - a).cross(other) / cross, (b - a).cross(along) / cross);
    (t >= 1.0 && u >= 1.0 && t.is_finite() && u.is_finite()).then(|| a + along * t)
}

fn area_of(corners: &[Point; 4]) -> f64 {
    let [a, b, c, d] = corners;
    ((*c - *a).cross(*d - *b)) / 2.0
}
