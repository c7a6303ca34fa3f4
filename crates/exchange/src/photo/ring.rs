//! A closed line of many noisy points and its corners.
//!
//! A corner is where two arms turn sharply, and just as sharply when they are halved (a tight curve turns less over shorter
//! arms). Its point is where the curves of both arms meet when drawn on, since a lens rounds what it shows.

use petitoile_core::kurbo::{Point, Vec2};

use super::level::median;

/// Arms of a corner are so long, mm, or so many pixels.
const ARM_MM: f64 = 1.5;
const ARM_PX: f64 = 10.0;
/// So near to a corner the edge is rounded by the lens, pixels.
pub(super) const ROUNDED_PX: f64 = 2.5;
/// A corner turns by so much at least, radians (24 degrees).
const TURN: f64 = 0.42;
/// Halved arms turn by so much of it at least.
const STILL: f64 = 0.82;
/// For a turn of more than this (46 degrees) a smaller share will do.
const GREAT: f64 = 0.8;
const GREAT_STILL: f64 = 0.7;
/// The point of a corner lies at most so far from the edge that is seen, pixels.
const BLUNT_PX: f64 = 4.0;
/// Points that are so many places apart share no pixels.
pub(super) const APART: usize = 3;

/// A point of an edge, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct FitPoint {
    pub at: Point,
    /// Does it count?
    pub is_clear: bool,
}

/// A corner of a closed line.
pub(super) struct Corner {
    /// How far along the line, mm.
    pub s: f64,
    /// Where both arms meet.
    pub point: Point,
}

/// The closed line with the length along it.
pub(super) struct Ring<'a> {
    points: &'a [FitPoint],
    /// Length along it at each point, mm.
    along: Vec<f64>,
    /// All round, mm.
    pub length: f64,
    pixel: f64,
}

impl<'a> Ring<'a> {
    pub fn new(points: &'a [FitPoint], pixel: f64) -> Self {
        let mut length = 0.0;
        let next = points.iter().cycle().skip(1);
        let along = points
            .iter()
            .zip(next)
            .map(|(p, next)| {
                let here = length;
                length += (next.at - p.at).hypot();
                here
            })
            .collect();
        Self {
            points,
            along,
            length,
            pixel,
        }
    }

    /// The clear points from one length to another (which may lie beyond the end), less so much at both ends, with their
    /// length from the start.
    pub fn between(&self, from: f64, to: f64, less: f64) -> Vec<(f64, Point)> {
        let n = self.points.len();
        let (low, high) = (from + less, to - less);
        if n == 0 || high <= low {
            return Vec::new();
        }
        let turns = (low / self.length).floor();
        let start = self
            .along
            .partition_point(|s| *s < low - turns * self.length);
        let mut found = Vec::new();
        for i in start..start + 2 * n {
            let s = self.along.get(i % n).copied().unwrap_or_default()
                + (turns + (i / n) as f64) * self.length;
            if s >= high || s >= low + self.length {
                break;
            }
            if let Some(p) = self.points.get(i % n).filter(|p| p.is_clear) {
                found.push((s - from, p.at));
            }
        }
        found
    }

    /// How far points lie off the curve of their neighbours: by third differences, which no smooth curve has.
    pub fn scatter(&self) -> f64 {
        let mut rest: Vec<f64> = self
            .points
            .windows(3 * APART + 1)
            .filter(|w| w.iter().all(|p| p.is_clear))
            .filter_map(|w| match w {
                [a, _, _, b, _, _, c, _, _, d] => {
                    let third = (d.at - a.at) - 3.0 * (c.at - b.at);
                    let across = (d.at - a.at).normalize().turn_90();
                    Some(third.dot(across).abs())
                }
                _ => None,
            })
            .collect();
        // Of normal numbers the third difference is sqrt(20) times as wide; the median of their size is 0.6745 of that.
        median(&mut rest) / (0.6745 * 20.0_f64.sqrt())
    }

    fn arm(&self) -> f64 {
        ARM_MM.max(ARM_PX * self.pixel).min(self.length / 8.0)
    }

    /// Direction of the points of an arm, away from a place; `hand` is -1 for the one before it.
    fn direction(&self, s: f64, arm: f64, hand: f64) -> Option<Vec2> {
        let gap = ROUNDED_PX * self.pixel;
        let (near, far) = (s + hand * gap, s + hand * (gap + arm));
        let points = self.between(
            near.min(far) + self.length,
            near.max(far) + self.length,
            0.0,
        );
        if points.len() < 3 {
            return None;
        }
        let n = points.len() as f64;
        let middle = points.iter().map(|(_, p)| p.to_vec2()).sum::<Vec2>() / n;
        let mean = points.iter().map(|(s, _)| s).sum::<f64>() / n;
        let along: Vec2 = points
            .iter()
            .map(|(s, p)| (p.to_vec2() - middle) * (s - mean))
            .sum();
        (along.hypot() > 0.0).then(|| along.normalize() * hand)
    }

    /// By how much the line turns at a place, radians.
    fn turn(&self, s: f64, arm: f64) -> f64 {
        let arms = self
            .direction(s, arm, -1.0)
            .zip(self.direction(s, arm, 1.0));
        arms.map_or(0.0, |(before, after)| {
            let (from, to) = (-before, after);
            from.cross(to).atan2(from.dot(to)).abs()
        })
    }

    /// How far the turn between two arms may be off by scatter, radians (standard error).
    fn turn_error(&self, scatter: f64, arm: f64) -> f64 {
        let step = self.length / self.points.len().max(1) as f64;
        let free = (arm / step / APART as f64).max(1.0);
        // Slope of a line through so many free points over its length, twice.
        scatter * 12.0_f64.sqrt() / (arm * free.sqrt()) * std::f64::consts::SQRT_2
    }

    pub fn corners(&self, scatter: f64) -> Vec<Corner> {
        let arm = self.arm();
        let (least, still) = (
            TURN + 3.0 * self.turn_error(scatter, arm),
            2.5 * self.turn_error(scatter, arm / 2.0),
        );
        let turns: Vec<f64> = self.along.iter().map(|s| self.turn(*s, arm)).collect();
        let n = turns.len();
        let step = self.length / n.max(1) as f64;
        let reach = ((ROUNDED_PX * self.pixel + arm / 2.0) / step).ceil() as usize;
        let mut corners: Vec<Corner> = Vec::new();
        for (i, turn) in turns.iter().enumerate() {
            let around = (1..=reach.min(n / 2)).flat_map(|j| [(i + j) % n, (i + n - j) % n]);
            let is_most = around
                .filter_map(|j| turns.get(j).map(|other| (j, other)))
                .all(|(j, other)| other < turn || (other == turn && i < j));
            if *turn < least || !is_most {
                continue;
            }
            let Some(s) = self.along.get(i).copied() else {
                continue;
            };
            // No curve of a garment turns by so much over such short arms, so a great turn is proof enough.
            let wanted = if *turn > GREAT {
                GREAT_STILL * turn
            } else {
                STILL * turn + still
            };
            if self.turn(s, arm / 2.0) < wanted {
                continue;
            }
            if let Some(point) = self.point_of_corner(s, arm) {
                corners.push(Corner { s, point });
            }
        }
        corners
    }

    /// Where the curves of both arms meet; `None` when that is too far off: a rounded corner.
    fn point_of_corner(&self, s: f64, arm: f64) -> Option<Point> {
        let before = self.arm_curve(s, 1.5 * arm, -1.0)?;
        let after = self.arm_curve(s, 1.5 * arm, 1.0)?;
        let (mut u, mut v) = (0.0, 0.0);
        for _ in 0..12 {
            let ((p, along), (q, other)) = (before.at(u), after.at(v));
            let cross = along.cross(other);
            if cross.abs() < 0.1 {
                return None;
            }
            let gap = q - p;
            u += (gap.cross(other) / cross).clamp(-arm, arm);
            v += (gap.cross(along) / cross).clamp(-arm, arm);
        }
        let point = before.at(u).0;
        let i = self.along.partition_point(|along| *along < s);
        let near = (0..9).filter_map(|j| {
            let n = self.points.len();
            self.points
                .get((i + n + j - 4) % n)
                .map(|p| (p.at - point).hypot())
        });
        let nearest = near.fold(f64::MAX, f64::min);
        let is_met = (after.at(v).0 - point).hypot() < self.pixel / 100.0;
        (is_met && nearest < BLUNT_PX * self.pixel).then_some(point)
    }

    /// A parabola along an arm.
    fn arm_curve(&self, s: f64, arm: f64, hand: f64) -> Option<Parabola> {
        let along = self.direction(s, arm, hand)?;
        let gap = ROUNDED_PX * self.pixel;
        let (near, far) = (s + hand * gap, s + hand * (gap + arm));
        let points = self.between(
            near.min(far) + self.length,
            near.max(far) + self.length,
            0.0,
        );
        Parabola::through(&points, along)
    }
}

/// `y = a + b x + c x²` in a frame of its own.
struct Parabola {
    origin: Point,
    along: Vec2,
    terms: [f64; 3],
}

impl Parabola {
    fn through(points: &[(f64, Point)], along: Vec2) -> Option<Self> {
        let n = points.len() as f64;
        let middle = points.iter().map(|(_, p)| p.to_vec2()).sum::<Vec2>() / n.max(1.0);
        let origin = middle.to_point();
        let own = points.iter().map(|(_, p)| {
            let d = *p - origin;
            (d.dot(along), along.cross(d))
        });
        // Sums of powers; x has no mean, by the choice of the origin.
        let (mut x2, mut x3, mut x4, mut xy, mut x2y, mut y1) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        for (x, y) in own {
            x2 += x * x;
            x3 += x * x * x;
            x4 += x * x * x * x;
            xy += x * y;
            x2y += x * x * y;
            y1 += y;
        }
        if points.len() < 3 || x2 <= 0.0 {
            return None;
        }
        // Orthogonal: 1, x, x² - (x3/x2) x - x2/n.
        let under = x4 - x3 * x3 / x2 - x2 * x2 / n;
        let bend = if points.len() < 7 || under <= 0.0 {
            0.0
        } else {
            (x2y - x3 / x2 * xy - x2 / n * y1) / under
        };
        Some(Self {
            origin,
            along,
            terms: [y1 / n - bend * x2 / n, (xy - bend * x3) / x2, bend],
        })
    }

    fn at(&self, x: f64) -> (Point, Vec2) {
        let [a, b, c] = self.terms;
        let left = self.along.turn_90();
        let point = self.origin + self.along * x + left * (a + b * x + c * x * x);
        (point, self.along + left * (b + 2.0 * c * x))
    }
}
