//! The proportional guess: girth ratio across, length ratio along, interpolated smoothly between body lines.

use kurbo::{Point, Vec2};

/// A smooth map of a piece's plane: every level goes to its target height, widths scale by the level's ratio.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Warp {
    /// x that stays where it is: the fold, a straight centre edge, or the middle.
    pub(super) axis: f64,
    /// Height of each level on the source, rising.
    heights: Vec<f64>,
    /// Height of each level on the target.
    goals: Smooth,
    /// Width ratio at each level.
    widths: Smooth,
}

/// One level of a [`Warp`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct WarpLevel {
    /// Height on the source.
    pub(super) height: f64,
    /// Height on the target.
    pub(super) goal: f64,
    /// Width ratio.
    pub(super) width: f64,
}

impl Warp {
    /// A map through the given levels; levels closer than 1e-6 mm to a lower one are dropped. `along` and `across` are
    /// the ratios used when there are fewer than two levels.
    pub(super) fn new(axis: f64, mut levels: Vec<WarpLevel>, along: f64, across: f64) -> Self {
        levels.sort_by(|a, b| a.height.total_cmp(&b.height));
        levels.dedup_by(|a, b| (a.height - b.height).abs() < 1e-6);
        match levels.first().copied() {
            None => {
                levels = vec![
                    WarpLevel { height: 0.0, goal: 0.0, width: across },
                    WarpLevel { height: 1.0, goal: along, width: across },
                ];
            }
            Some(one) if levels.len() == 1 => {
                levels.push(WarpLevel { height: one.height + 1.0, goal: one.goal + along, width: one.width });
            }
            Some(_) => {}
        }
        let heights: Vec<f64> = levels.iter().map(|l| l.height).collect();
        let goals = Smooth::through(&heights, levels.iter().map(|l| l.goal).collect(), true);
        let widths = Smooth::through(&heights, levels.iter().map(|l| l.width).collect(), false);
        Self { axis, heights, goals, widths }
    }

    /// Where a point of the source goes.
    pub(super) fn at(&self, p: Point) -> Point {
        let goal = self.goals.at(&self.heights, p.y);
        let width = self.widths.at(&self.heights, p.y);
        Point::new(self.axis + width * (p.x - self.axis), goal)
    }
}

/// Values at rising places, joined by monotone cubic pieces (no overshoot).
///
/// # Source
/// Slopes by the weighted harmonic mean of Fritsch and Butland (1984), from memory.
#[derive(Debug, Clone, PartialEq)]
struct Smooth {
    values: Vec<f64>,
    slopes: Vec<f64>,
    /// Goes on straight beyond its ends; otherwise stays at the end's value.
    goes_on: bool,
}

impl Smooth {
    fn through(places: &[f64], values: Vec<f64>, goes_on: bool) -> Self {
        let steps: Vec<(f64, f64)> =
            places.windows(2).zip(values.windows(2)).filter_map(|(p, v)| match (p, v) {
                ([a, b], [c, d]) => Some((b - a, (d - c) / (b - a))),
                _ => None,
            }).collect();
        let inner = steps.windows(2).map(|pair| match pair {
            [(h0, d0), (h1, d1)] if d0 * d1 > 0.0 => {
                let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
                (w0 + w1) / (w0 / d0 + w1 / d1)
            }
            _ => 0.0,
        });
        let first = steps.first().map_or(0.0, |s| s.1);
        let last = steps.last().map_or(0.0, |s| s.1);
        let ends = if goes_on { (first, last) } else { (0.0, 0.0) };
        let slopes = std::iter::once(ends.0).chain(inner).chain(std::iter::once(ends.1)).collect();
        Self { values, slopes, goes_on }
    }

    fn at(&self, places: &[f64], y: f64) -> f64 {
        let last = places.len().saturating_sub(1);
        let upper = places.iter().position(|p| y <= *p).unwrap_or(last + 1);
        let get = |i: usize| (places.get(i).copied().unwrap_or(0.0), self.values.get(i).copied().unwrap_or(1.0), self.slopes.get(i).copied().unwrap_or(0.0));
        if upper == 0 || upper > last {
            let (p, v, slope) = get(if upper == 0 { 0 } else { last });
            return if self.goes_on { v + slope * (y - p) } else { v };
        }
        let ((p0, v0, s0), (p1, v1, s1)) = (get(upper - 1), get(upper));
        let h = p1 - p0;
        let t = (y - p0) / h;
        let (t2, t3) = (t * t, t * t * t);
        v0 * (2.0 * t3 - 3.0 * t2 + 1.0) + h * s0 * (t3 - 2.0 * t2 + t) + v1 * (3.0 * t2 - 2.0 * t3) + h * s1 * (t3 - t2)
    }
}

/// Carries a point inside a piece along with its outline: the affine map that fits the outline's own movement best,
/// near points counting most.
///
/// # Source
/// Moving least squares with weights 1/d^4 (textbook method, from memory).
pub(super) fn carried(point: Point, before: &[Point], after: &[Point]) -> Point {
    let (mut total, mut mean0, mut mean1) = (0.0, Vec2::ZERO, Vec2::ZERO);
    let size = before.iter().fold(1e-9_f64, |m, p| m.max((*p - point).hypot()));
    let weight = |p: &Point| {
        let d2 = (*p - point).hypot2() / (size * size) + 1e-8;
        1.0 / (d2 * d2)
    };
    for (p, q) in before.iter().zip(after) {
        let w = weight(p);
        total += w;
        mean0 += p.to_vec2() * w;
        mean1 += q.to_vec2() * w;
    }
    if total <= 0.0 {
        return point;
    }
    let (mean0, mean1) = (mean0 / total, mean1 / total);
    let (mut xx, mut xy, mut yy, mut ax, mut ay) = (0.0, 0.0, 0.0, Vec2::ZERO, Vec2::ZERO);
    for (p, q) in before.iter().zip(after) {
        let (w, d, e) = (weight(p), p.to_vec2() - mean0, q.to_vec2() - mean1);
        xx += w * d.x * d.x;
        xy += w * d.x * d.y;
        yy += w * d.y * d.y;
        ax += e * (w * d.x);
        ay += e * (w * d.y);
    }
    let determinant = xx * yy - xy * xy;
    let d = point.to_vec2() - mean0;
    if determinant.abs() <= 1e-18 * (xx + yy) * (xx + yy) {
        return (mean1 + d).to_point();
    }
    let by_x = (ax * yy - ay * xy) / determinant;
    let by_y = (ay * xx - ax * xy) / determinant;
    (mean1 + by_x * d.x + by_y * d.y).to_point()
}
