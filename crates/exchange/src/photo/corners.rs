//! Corners pointed at by hand are moved to where the sides of the sheet meet: a line is fitted to each side.

use petitoile_core::kurbo::{Point, Vec2};

use super::level::{Colour, Light, add, dot, median, scale, sub};
use super::picture::Picture;

/// How far off a hand may point, as a share of the shortest side, and in pixels.
const REACH_SHARE: f64 = 0.025;
const REACH: (f64, f64) = (8.0, 60.0);
/// Looks across a side at most at so many places.
const PLACES: usize = 240;
/// A place belongs to the line when it lies so near, pixels.
const NEAR: f64 = 0.8;
/// Widest printed line whose middle is meant, pixels.
const LINE: f64 = 12.0;
/// So many of the places must lie on one line for it to be a side.
const SHARE_ON_LINE: f64 = 0.45;
/// Standard error of a corner that was found on four good sides, pixels: measured on drawn photographs it is below.
const AT_BEST: f64 = 0.06;

/// Corners of a known rectangle, as found in the picture.
pub(super) struct Refined {
    pub corners: [Point; 4],
    /// Standard error of each, pixels.
    pub error_px: f64,
    /// How much the sides bow, pixels.
    pub bow_px: f64,
    /// Was the side from this corner to the next one made out?
    pub seen: [bool; 4],
}

/// A straight side: a point on it and its direction.
#[derive(Clone, Copy)]
struct Side {
    at: Point,
    along: Vec2,
    /// Standard error of its place, and its bow, pixels; `None` when it is only what was pointed at.
    found: Option<(f64, f64)>,
}

/// Moves the corners to where the sides meet: once with the reach of a hand, then closer by.
pub(super) fn refine(picture: &Picture, clicks: [Point; 4]) -> Refined {
    let light = Light::of(picture);
    let shortest = sides_of(&clicks)
        .map(|(a, b)| (b - a).hypot())
        .into_iter()
        .fold(f64::MAX, f64::min);
    let reach = (shortest * REACH_SHARE).clamp(REACH.0, REACH.1);
    let mut corners = clicks;
    let mut sides = sides_of(&corners).map(|ends| side(&light, ends, reach));
    corners = meets(&sides, clicks);
    for closer in [reach.min(8.0), 5.0] {
        let again = sides_of(&corners).map(|ends| side(&light, ends, closer));
        let mut next = sides;
        for (old, new) in next.iter_mut().zip(again) {
            if new.found.is_some() {
                *old = new;
            }
        }
        sides = next;
        corners = meets(&sides, clicks);
    }
    let seen = sides.map(|side| side.found.is_some());
    let of = |pick: fn((f64, f64)) -> f64| {
        let found = sides.iter().filter_map(|side| side.found.map(pick));
        found.fold(0.0, f64::max)
    };
    let bow_px = of(|(_, bow)| bow);
    let error_px = if seen.iter().all(|seen| *seen) {
        // Two lines make a corner; a bow moves a straight line's ends by two thirds of it.
        (2.0 * of(|(error, _)| error).powi(2) + (bow_px * 0.67).powi(2)).sqrt() + AT_BEST
    } else {
        2.0
    };
    Refined {
        corners,
        error_px,
        bow_px,
        seen,
    }
}

fn sides_of([a, b, c, d]: &[Point; 4]) -> [(Point, Point); 4] {
    [(*a, *b), (*b, *c), (*c, *d), (*d, *a)]
}

/// Where each side meets the one before it; a corner between two sides that were not found stays.
fn meets([ab, bc, cd, da]: &[Side; 4], clicks: [Point; 4]) -> [Point; 4] {
    let mut corners = clicks;
    for (corner, (before, after)) in
        corners
            .iter_mut()
            .zip([(da, ab), (ab, bc), (bc, cd), (cd, da)])
    {
        let cross = before.along.cross(after.along);
        if (before.found.is_none() && after.found.is_none()) || cross.abs() < 0.1 {
            continue;
        }
        let t = (after.at - before.at).cross(after.along) / cross;
        *corner = before.at + before.along * t;
    }
    corners
}

/// Fits a line to the side between two points, looking so far to both hands.
fn side(light: &Light<'_>, (from, to): (Point, Point), reach: f64) -> Side {
    let pointed = Side {
        at: from,
        along: (to - from).normalize(),
        found: None,
    };
    let length = (to - from).hypot();
    let (along, across) = (pointed.along, pointed.along.turn_90());
    let count = ((length / 2.0) as usize).clamp(12, PLACES);
    // The ends are left out: there the neighbouring side is as near.
    let margin = (reach * 1.5 / length).clamp(0.03, 0.2);
    let places: Vec<Place> = (0..count)
        .filter_map(|i| {
            let share = margin + (1.0 - 2.0 * margin) * i as f64 / (count - 1) as f64;
            let at = from.lerp(to, share);
            let (off, strength) = step_across(light, at, along, across, reach)?;
            Some(Place {
                t: share * 2.0 - 1.0,
                off,
                strength,
            })
        })
        .collect();
    let Some(line) = line_through(&places, count) else {
        return pointed;
    };
    let (start, end) = (from + across * line.at(-1.0), to + across * line.at(1.0));
    Side {
        at: start,
        along: (end - start).normalize(),
        found: Some((line.error, line.bow)),
    }
}

/// Where the light changes most, at one place along a side.
#[derive(Clone, Copy)]
struct Place {
    /// -1 at the start of the side, 1 at its end.
    t: f64,
    /// How far to the left.
    off: f64,
    strength: f64,
}

/// The place of the strongest step of light across a side, and how strong it is. Between two equal steps up and down
/// (a printed line) it is their middle.
fn step_across(
    light: &Light<'_>,
    at: Point,
    along: Vec2,
    across: Vec2,
    reach: f64,
) -> Option<(f64, f64)> {
    let steps = (reach * 2.0) as i32 + 4;
    let offset = |i: i32| f64::from(i) * 0.5;
    let row: Vec<Colour> = (-steps..=steps)
        .map(|i| {
            let p = at + across * offset(i);
            let sum = [-1.0, 0.0, 1.0]
                .map(|s| light.at(p + along * s))
                .into_iter()
                .fold([0.0; 3], add);
            scale(sum, 1.0 / 3.0)
        })
        .collect();
    let change: Vec<Colour> = row
        .windows(5)
        .map(|w| match w {
            [a, b, _, d, e] => scale(add(sub(*e, *a), sub(*d, *b)), 0.5),
            _ => [0.0; 3],
        })
        .collect();
    let (_, axis) = change
        .iter()
        .map(|c| (dot(*c, *c), *c))
        .max_by(|(a, _), (b, _)| a.total_cmp(b))?;
    let length = dot(axis, axis).sqrt();
    if length <= f32::EPSILON {
        return None;
    }
    let along_axis: Vec<f64> = change
        .iter()
        .map(|c| f64::from(dot(*c, axis) / length))
        .collect();
    let first = offset(2 - steps);
    let up = peak(&along_axis, first, 1.0)?;
    let down = peak(&along_axis, first, -1.0);
    match down {
        Some((off, strength))
            if strength > 0.6 * up.1 && (off - up.0).abs() < LINE.min(reach * 1.6) =>
        {
            Some(((off + up.0) / 2.0, up.1))
        }
        _ => Some(up),
    }
}

/// Centre of the highest hill of a row (of its deepest dale when turned over), and its height.
fn peak(row: &[f64], first: f64, sign: f64) -> Option<(f64, f64)> {
    let (top, height) = row
        .iter()
        .enumerate()
        .map(|(i, value)| (i, value * sign))
        .max_by(|(_, a), (_, b)| a.total_cmp(b))?;
    if height <= 0.0 {
        return None;
    }
    let mut sums = (0.0, 0.0);
    let mut take = |i: usize| {
        let value = row.get(i).map_or(0.0, |value| value * sign) - 0.15 * height;
        if value > 0.0 {
            sums = (sums.0 + value, sums.1 + value * i as f64);
        }
        value > 0.0
    };
    let mut left = top;
    while take(left) && left > 0 && top - left < 8 {
        left -= 1;
    }
    let mut right = top + 1;
    while right < row.len() && right - top < 9 && take(right) {
        right += 1;
    }
    (sums.0 > 0.0).then(|| (first + sums.1 / sums.0 * 0.5, height))
}

struct FittedLine {
    middle: f64,
    slope: f64,
    /// Standard error of its ends, pixels.
    error: f64,
    /// Height of the arc that fits better, pixels.
    bow: f64,
}

impl FittedLine {
    fn at(&self, t: f64) -> f64 {
        self.middle + self.slope * t
    }
}

/// The line that most places lie on, fitted to those; `None` when they are too few.
fn line_through(places: &[Place], count: usize) -> Option<FittedLine> {
    let mut strengths: Vec<f64> = places.iter().map(|p| p.strength).collect();
    let usual = median(&mut strengths);
    let strong: Vec<Place> = places
        .iter()
        .copied()
        .filter(|p| p.strength > usual * 0.3)
        .collect();
    let (mut middle, mut slope) = most_agreed(&strong)?;
    for near in [3.0 * NEAR, 2.0 * NEAR, NEAR, NEAR] {
        let on = strong
            .iter()
            .filter(|p| (p.off - middle - slope * p.t).abs() < near);
        (middle, slope) = least_squares(on)?;
    }
    let off_line = |p: &&Place| (p.off - middle - slope * p.t).abs();
    let on: Vec<&Place> = strong.iter().filter(|p| off_line(p) < NEAR).collect();
    if (on.len() as f64) < SHARE_ON_LINE * count as f64 {
        return None;
    }
    let squares: f64 = on.iter().map(|p| off_line(p).powi(2)).sum();
    let rms = (squares / on.len() as f64).sqrt();
    // Bow: the part of the rest that goes like t² - 1/3; neighbouring places share pixels, hence the factor of 2.
    let bend = |t: f64| t * t - 1.0 / 3.0;
    let over: f64 = on
        .iter()
        .map(|p| (p.off - middle - slope * p.t) * bend(p.t))
        .sum();
    let under: f64 = on.iter().map(|p| bend(p.t).powi(2)).sum();
    Some(FittedLine {
        middle,
        slope,
        error: 2.0 * 2.0 * rms / (on.len() as f64).sqrt(),
        bow: if under > 0.0 {
            (over / under).abs()
        } else {
            0.0
        },
    })
}

/// Of the lines through any two of some places the one that most places lie on.
fn most_agreed(places: &[Place]) -> Option<(f64, f64)> {
    let step = (places.len() / 28).max(1);
    let few: Vec<&Place> = places.iter().step_by(step).collect();
    let mut best = None;
    for (i, a) in few.iter().enumerate() {
        for b in few.iter().skip(i + 1) {
            if (b.t - a.t).abs() < 0.3 {
                continue;
            }
            let slope = (b.off - a.off) / (b.t - a.t);
            let middle = a.off - slope * a.t;
            let on = few
                .iter()
                .filter(|p| (p.off - middle - slope * p.t).abs() < 1.5 * NEAR)
                .count();
            if best.is_none_or(|(most, _, _)| most < on) {
                best = Some((on, middle, slope));
            }
        }
    }
    best.map(|(_, middle, slope)| (middle, slope))
}

fn least_squares<'a>(places: impl Iterator<Item = &'a Place>) -> Option<(f64, f64)> {
    let (mut n, mut t, mut tt, mut o, mut to) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for p in places {
        n += 1.0;
        t += p.t;
        tt += p.t * p.t;
        o += p.off;
        to += p.t * p.off;
    }
    let det = n * tt - t * t;
    (n >= 6.0 && det > 0.0).then(|| ((o * tt - t * to) / det, (n * to - t * o) / det))
}
