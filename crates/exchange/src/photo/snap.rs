//! A rough line is moved to the edge that is there: across it the light goes from that of the piece to that of the table,
//! and the edge is where it has gone half the way, at the full size of the picture.

use petitoile_core::kurbo::{Point, Vec2};

use super::level::{Colour, Light, add, apart, coded, dot, linear, median, scale, sub};
use super::trace::TraceError;
use crate::bring_in::Pace;

/// Places along the line are so far apart, pixels.
pub(super) const STEP: f64 = 1.25;
/// Looks across the line are so fine, pixels.
const FINE: f64 = 0.5;
/// So many places to either hand say what is usual.
const NEIGHBOURS: usize = 7;

/// A place on an edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct EdgePoint {
    /// Pixels of the picture.
    pub at: Point,
    /// Was a clear edge found here?
    pub is_clear: bool,
    /// How far the edge may be off by noise, pixels (standard error).
    pub error: f64,
    /// How far off the edge would be found if light were taken as it is coded, pixels.
    pub tone: f64,
    /// Step of light over the noise beside it.
    pub over_noise: f64,
    /// Step of coded light, 0 to 255.
    pub contrast: f64,
}

/// Moves a closed line to its edge; the inside is kept on its hand.
///
/// # Errors
/// Stopped.
pub(super) fn snap(
    light: &Light<'_>,
    rough: &[Point],
    by: usize,
    pace: &Pace<'_>,
) -> Result<Vec<EdgePoint>, TraceError> {
    let outward = if super::contour::area(rough) > 0.0 {
        -1.0
    } else {
        1.0
    };
    let by = by as f64;
    let mut line = evenly(rough, STEP);
    let passes = [(1.5 * by + 3.0, 0.75 + 0.5 * by), (4.5, 1.0), (4.0, 0.75)];
    let mut found = Vec::new();
    for (n, (reach, most)) in passes.into_iter().enumerate() {
        let pace = pace.part(n as f64 / 3.0, (n + 1) as f64 / 3.0);
        found = one_pass(light, &line, outward, (reach, most), &pace)?;
        if n + 1 < passes.len() {
            let moved: Vec<Point> = found.iter().map(|p| p.at).collect();
            line = evenly(&forward_only(&moved), STEP);
        }
    }
    Ok(found)
}

fn one_pass(
    light: &Light<'_>,
    line: &[Point],
    outward: f64,
    (reach, most): (f64, f64),
    pace: &Pace<'_>,
) -> Result<Vec<EdgePoint>, TraceError> {
    let n = line.len();
    let at = |i: usize| line.get(i % n.max(1)).copied().unwrap_or_default();
    let arm = if reach > 5.0 { 5 } else { 3 };
    let mut looks: Vec<(Point, Vec2, Option<Step>)> = Vec::with_capacity(n);
    for i in 0..n {
        if i.is_multiple_of(256) {
            pace.at(i as f64 / n as f64)?;
        }
        let along = at(i + arm) - at(i + n - arm.min(n));
        let along = if along.hypot() > 0.0 {
            along.normalize()
        } else {
            Vec2::new(1.0, 0.0)
        };
        let out = along.turn_90() * outward;
        looks.push((at(i), out, step_at(light, at(i), along, out, reach)));
    }
    let off = |i: usize| looks.get(i % n).and_then(|(_, _, step)| step.as_ref());
    let mut found = Vec::with_capacity(n);
    for (i, (p, out, step)) in looks.iter().enumerate() {
        let around = (0..=2 * NEIGHBOURS).map(|j| i + n + j - NEIGHBOURS.min(n));
        let mut around: Vec<f64> = around.filter_map(|j| off(j).map(|step| step.off)).collect();
        let usual = median(&mut around);
        let step = step.filter(|step| (step.off - usual).abs() <= most);
        found.push(EdgePoint {
            at: *p + *out * step.map_or(usual, |step| step.off),
            is_clear: step.is_some_and(|step| step.is_clear()),
            error: step.map_or(reach, |step| step.error),
            tone: step.map_or(0.0, |step| step.tone),
            over_noise: step.map_or(0.0, |step| step.over_noise),
            contrast: step.map_or(0.0, |step| step.contrast),
        });
    }
    Ok(found)
}

/// A step of light found across a line.
#[derive(Clone, Copy)]
struct Step {
    /// How far outward.
    off: f64,
    error: f64,
    tone: f64,
    over_noise: f64,
    contrast: f64,
}

impl Step {
    fn is_clear(self) -> bool {
        self.over_noise > 4.0 && self.error < 0.6
    }
}

fn step_at(light: &Light<'_>, at: Point, along: Vec2, out: Vec2, reach: f64) -> Option<Step> {
    let half = (reach / FINE) as i32;
    let offset = |i: usize| (i as i32 - half) as f64 * FINE;
    let row: Vec<Colour> = (-half..=half)
        .map(|i| {
            let p = at + out * (f64::from(i) * FINE);
            let sum = [-1.0, 0.0, 1.0]
                .map(|s| light.at(p + along * s))
                .into_iter()
                .fold([0.0; 3], add);
            scale(sum, 1.0 / 3.0)
        })
        .collect();
    let end = row.len() / 3;
    let (inner, outer) = (mean(row.get(..end)?), mean(row.get(row.len() - end..)?));
    let across = sub(inner, outer);
    let contrast = dot(across, across).sqrt();
    if contrast <= f32::EPSILON {
        return None;
    }
    // 1 in the piece, 0 on the table.
    let share: Vec<f64> = row
        .iter()
        .map(|c| f64::from(dot(sub(*c, outer), across) / (contrast * contrast)))
        .collect();
    let noise = spread(share.get(..end)?).hypot(spread(share.get(share.len() - end..)?))
        / std::f64::consts::SQRT_2;
    let (i, slope) = share
        .windows(6)
        .enumerate()
        .filter_map(|(i, w)| match w {
            [a, b, c, d, e, f] => {
                let (before, after) = ((a + b + c) / 3.0, (d + e + f) / 3.0);
                let is_here = (b + c + d) / 3.0 >= 0.5 && (c + d + e) / 3.0 < 0.5;
                let o = (offset(i + 2) + offset(i + 3)) / 2.0 / reach;
                is_here.then_some((i, (before - after) * (1.0 - 0.5 * o * o)))
            }
            _ => None,
        })
        .max_by(|(_, a), (_, b)| a.total_cmp(b))?;
    if slope <= 0.0 {
        return None;
    }
    // A line through the six nearest looks.
    let first = i;
    let near = share.get(first..(first + 6).min(share.len()))?;
    let (o, s) = (
        (0..near.len()).map(|j| offset(first + j)).sum::<f64>() / near.len() as f64,
        near.iter().sum::<f64>() / near.len() as f64,
    );
    let (mut over, mut under) = (0.0, 0.0);
    for (j, value) in near.iter().enumerate() {
        let d = offset(first + j) - o;
        over += d * (value - s);
        under += d * d;
    }
    let fall = -over / under;
    if fall <= 0.02 {
        return None;
    }
    let off = o + (s - 0.5) / fall;
    let (inner_code, outer_code) = (coded(inner), coded(outer));
    let middle = linear(scale(add(inner_code, outer_code), 0.5));
    let at_middle = f64::from(dot(sub(middle, outer), across) / (contrast * contrast));
    // Looks half a pixel apart share pixels: six of them are as good as three.
    Some(Step {
        off: off.clamp(-reach, reach),
        error: noise / fall / 3.0_f64.sqrt(),
        tone: (0.5 - at_middle).abs() / fall,
        over_noise: 1.0 / noise.max(1e-3),
        contrast: f64::from(apart(inner_code, outer_code)),
    })
}

fn mean(row: &[Colour]) -> Colour {
    let sum = row.iter().copied().fold([0.0; 3], add);
    scale(sum, 1.0 / row.len().max(1) as f32)
}

/// Standard deviation from a straight slope.
fn spread(row: &[f64]) -> f64 {
    let n = row.len() as f64;
    if n < 3.0 {
        return 0.0;
    }
    let (mid, level) = ((n - 1.0) / 2.0, row.iter().sum::<f64>() / n);
    let (mut over, mut under) = (0.0, 0.0);
    for (i, value) in row.iter().enumerate() {
        let d = i as f64 - mid;
        over += d * (value - level);
        under += d * d;
    }
    let slope = over / under;
    let rest = |(i, value): (usize, &f64)| (value - level - slope * (i as f64 - mid)).powi(2);
    (row.iter().enumerate().map(rest).sum::<f64>() / (n - 2.0)).sqrt()
}

/// The same closed line with a point at every step of it.
fn evenly(line: &[Point], step: f64) -> Vec<Point> {
    let next = line.iter().cycle().skip(1);
    let length: f64 = line.iter().zip(next).map(|(a, b)| (*b - *a).hypot()).sum();
    let count = (length / step).round().max(8.0);
    let step = length / count;
    let mut even = Vec::with_capacity(count as usize + 1);
    let mut left = 0.0;
    for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
        let stretch = (*b - *a).hypot();
        while left < stretch && even.len() < count as usize {
            even.push(a.lerp(*b, left / stretch));
            left += step;
        }
        left -= stretch;
    }
    even
}

/// Leaves out points that go back: at an inner corner the looks of both sides cross.
fn forward_only(line: &[Point]) -> Vec<Point> {
    let n = line.len();
    let at = |i: usize| line.get(i % n.max(1)).copied().unwrap_or_default();
    (0..n)
        .filter(|i| {
            let along = at(i + 4) - at(i + n - 4.min(n));
            along.dot(at(i + 1) - at(*i)) > 0.0
        })
        .map(at)
        .collect()
}
