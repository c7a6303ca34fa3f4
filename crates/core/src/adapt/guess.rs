//! The proportional guess: girth ratio across, length ratio along, interpolated smoothly between body lines.

#![allow(
    clippy::indexing_slicing,
    reason = "a warp has two levels at least, and shares name two of them"
)]

use kurbo::{Point, Vec2};

/// A map of a piece's plane: every level goes to its height on the target, widths scale by the level's ratio, both
/// in even steps between the levels.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Warp {
    /// x that stays where it is: the fold, a straight centre edge, or the middle.
    pub(super) axis: f64,
    /// The levels, rising; two at least, no two at one height.
    pub(super) levels: Vec<WarpLevel>,
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

/// Levels nearer to each other than this, mm, are one.
const SAME_LEVEL: f64 = 1e-6;

impl Warp {
    /// A map through the given levels. `along` is the ratio used when there are fewer than two.
    pub(super) fn new(axis: f64, mut levels: Vec<WarpLevel>, along: f64, across: f64) -> Self {
        levels.sort_by(|a, b| a.height.total_cmp(&b.height));
        levels.dedup_by(|a, b| (a.height - b.height).abs() < SAME_LEVEL);
        let first = levels.first().copied().unwrap_or(WarpLevel {
            height: 0.0,
            goal: 0.0,
            width: across,
        });
        if levels.len() < 2 {
            levels = vec![
                first,
                WarpLevel {
                    height: first.height + 1.0,
                    goal: first.goal + along,
                    width: first.width,
                },
            ];
        }
        Self { axis, levels }
    }

    /// The two levels a height lies between (or next to), and how much of each it has: they add up to 1.
    pub(super) fn shares(&self, y: f64) -> [(usize, f64); 2] {
        let last = self.levels.len() - 1;
        let upper = self
            .levels
            .iter()
            .position(|l| y <= l.height)
            .unwrap_or(last)
            .clamp(1, last);
        let (low, high) = (self.levels[upper - 1].height, self.levels[upper].height);
        let share = (y - low) / (high - low);
        [(upper - 1, 1.0 - share), (upper, share)]
    }

    /// The same for widths: beyond the outermost levels they stay even.
    pub(super) fn width_shares(&self, y: f64) -> [(usize, f64); 2] {
        self.shares(y)
            .map(|(level, share)| (level, share.clamp(0.0, 1.0)))
    }

    /// Where a point of the source goes.
    pub(super) fn at(&self, p: Point) -> Point {
        let goal: f64 = self
            .shares(p.y)
            .iter()
            .map(|(i, share)| share * self.levels[*i].goal)
            .sum();
        let width: f64 = self
            .width_shares(p.y)
            .iter()
            .map(|(i, share)| share * self.levels[*i].width)
            .sum();
        Point::new(self.axis + width * (p.x - self.axis), goal)
    }
}

/// Carries a point inside a piece along with its outline: the affine map that fits the outline's own movement best,
/// near points counting most.
///
/// # Source
/// Moving least squares with weights 1/d^4 (textbook method, from memory).
pub(super) fn carried(point: Point, before: &[Point], after: &[Point]) -> Point {
    let (mut total, mut mean0, mut mean1) = (0.0, Vec2::ZERO, Vec2::ZERO);
    let size = before
        .iter()
        .fold(1e-9_f64, |m, p| m.max((*p - point).hypot()));
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
