//! What must hold after adapting, as sums of coordinates and lengths that must come to a number of millimetres.
#![allow(
    clippy::indexing_slicing,
    reason = "indices come from the blocks and the fixed quadrature tables"
)]

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

use super::block::Block;

/// A place on the outline of a block.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Site {
    /// Which block.
    pub(super) block: usize,
    /// Which edge of it.
    pub(super) edge: usize,
    /// Which cubic.
    pub(super) cubic: usize,
    /// Parameter on that cubic.
    pub(super) t: f64,
    /// Set when the place slides along its edge so as to stay on a level of the body.
    pub(super) level: Option<LevelLock>,
}

/// A level that a place slides along its edge to stay on: so far above a control point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LevelLock {
    /// Control point that the level is measured from.
    pub(super) from: usize,
    /// How far above it.
    pub(super) above: f64,
}

/// One term of a rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Term {
    /// x of a place.
    X(Site),
    /// y of a place.
    Y(Site),
    /// Coordinates of a control point, weighted.
    Point(usize, usize, Vec2),
    /// Length along cubic `.1` of block `.0` between two parameters.
    Arc(usize, usize, f64, f64),
    /// Product of two legs divided by a fixed length, mm: the part along when `.3`, else the part across.
    Legs(usize, (usize, usize), (usize, usize), LegProduct),
}

/// Products of two legs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum LegProduct {
    /// Zero when they are square to each other. Divided by this many mm.
    Dot(f64),
    /// Zero when they have one direction. Divided by this many mm.
    Cross(f64),
}

/// A rule: the weighted terms come to the target.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Rule {
    /// Index of the demand it belongs to, if the maker is told about it.
    pub(super) demand: Option<usize>,
    /// Rank: 1 is kept longest.
    pub(super) rank: u8,
    /// Weighted terms.
    pub(super) terms: Vec<(f64, Term)>,
    /// What they come to, mm.
    pub(super) target: f64,
}

/// A rule made linear at a point: entries per unknown, and by how much it is missed.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    /// Blocks it touches, each with (index in the block, factor).
    pub(super) parts: Vec<(usize, Vec<(usize, f64)>)>,
    /// Value minus target, mm.
    pub(super) missed: f64,
}

/// Abscissae and weights of 12-point Gauss-Legendre quadrature on 0..1.
///
/// # Source
/// Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4 (values on -1..1; halved and shifted here).
const GAUSS: [(f64, f64); 6] = [
    (0.125_233_408_511_468_9, 0.249_147_045_813_402_8),
    (0.367_831_498_998_180_2, 0.233_492_536_538_354_8),
    (0.587_317_954_286_617_4, 0.203_167_426_723_065_9),
    (0.769_902_674_194_304_7, 0.160_078_328_543_346_2),
    (0.904_117_256_370_474_9, 0.106_939_325_995_318_4),
    (0.981_560_634_246_719_3, 0.047_175_336_386_511_8),
];

/// Length of a cubic between two parameters, and how it changes with the four control points.
pub(super) fn arc(c: &CubicBez, t0: f64, t1: f64) -> (f64, [Vec2; 4]) {
    if is_even_line(c) {
        let (d, span) = (c.p3 - c.p0, t1 - t0);
        let unit = d / d.hypot();
        return (
            d.hypot() * span,
            [-unit * span, Vec2::ZERO, Vec2::ZERO, unit * span],
        );
    }
    let (d1, d2, d3) = (c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2);
    let (mut length, mut slope) = (0.0, [Vec2::ZERO; 4]);
    let (middle, half) = ((t0 + t1) / 2.0, (t1 - t0) / 2.0);
    for (x, w) in GAUSS {
        for t in [middle - half * x, middle + half * x] {
            let s = 1.0 - t;
            let (a, b, e) = (3.0 * s * s, 6.0 * s * t, 3.0 * t * t);
            let d = d1 * a + d2 * b + d3 * e;
            let speed = d.hypot();
            length += w * half * speed;
            if speed > 1e-12 {
                let u = d * (w * half / speed);
                slope[0] += u * -a;
                slope[1] += u * (a - b);
                slope[2] += u * (b - e);
                slope[3] += u * e;
            }
        }
    }
    (length, slope)
}

/// Are the inner control points at the thirds of a straight line?
fn is_even_line(c: &CubicBez) -> bool {
    let d = c.p3 - c.p0;
    let size = d.hypot();
    size > 1e-9
        && (c.p1 - c.p0.lerp(c.p3, 1.0 / 3.0)).hypot() < 1e-12 * size
        && (c.p2 - c.p0.lerp(c.p3, 2.0 / 3.0)).hypot() < 1e-12 * size
}

impl Site {
    /// Where the place lies for given control points: a cubic, the parameter on it.
    pub(super) fn locate(&self, block: &Block, points: &[Point]) -> (usize, f64) {
        let Some(lock) = self.level else {
            return (self.cubic, self.t);
        };
        let level = points[lock.from].y + lock.above;
        let mut best = (self.cubic, self.t, f64::INFINITY);
        for index in block.edges[self.edge].clone() {
            let c = block.cubic(index, points);
            if let Some(t) = crossing(&c, level, if index == self.cubic { self.t } else { 0.5 }) {
                let far = ((index as f64 + t) - (self.cubic as f64 + self.t)).abs();
                if far < best.2 {
                    best = (index, t, far);
                }
            }
        }
        (best.0, best.1)
    }

    /// The point there.
    pub(super) fn point(&self, block: &Block, points: &[Point]) -> Point {
        let (index, t) = self.locate(block, points);
        block.cubic(index, points).eval(t)
    }
}

/// Parameter where a cubic crosses a height, found near `start`; `None` when it stays on one side.
fn crossing(c: &CubicBez, level: f64, start: f64) -> Option<f64> {
    let mut brackets: Vec<(f64, f64)> = Vec::new();
    let mut before = (0.0, c.p0.y - level);
    for k in 1..=8 {
        let t = f64::from(k) / 8.0;
        let now = (t, c.eval(t).y - level);
        if before.1 == 0.0 || before.1 * now.1 < 0.0 || (k == 8 && now.1 == 0.0) {
            brackets.push((before.0, now.0));
        }
        before = now;
    }
    let (mut low, mut high) = brackets.into_iter().min_by(|a, b| {
        ((a.0 + a.1) / 2.0 - start)
            .abs()
            .total_cmp(&((b.0 + b.1) / 2.0 - start).abs())
    })?;
    let rising = c.eval(high).y > c.eval(low).y;
    let mut t = if (low..=high).contains(&start) {
        start
    } else {
        (low + high) / 2.0
    };
    for _ in 0..60 {
        let off = c.eval(t).y - level;
        if off.abs() < 1e-13 {
            break;
        }
        if (off > 0.0) == rising {
            high = t
        } else {
            low = t
        }
        let slope = c.deriv().eval(t).y;
        let next = t - off / slope;
        t = if next > low && next < high {
            next
        } else {
            (low + high) / 2.0
        };
    }
    Some(t)
}

impl Rule {
    /// By how much the rule is missed, mm (value minus target).
    pub(super) fn missed(&self, blocks: &[Block], points: &[Vec<Point>]) -> f64 {
        self.linear(blocks, points).missed
    }

    /// The rule made linear at the given control points.
    pub(super) fn linear(&self, blocks: &[Block], points: &[Vec<Point>]) -> Row {
        let mut row = Row {
            parts: Vec::new(),
            missed: -self.target,
        };
        for (factor, term) in &self.terms {
            let at = term.block();
            let (value, slopes) = term.value(&blocks[at], &points[at]);
            row.missed += factor * value;
            let index = row
                .parts
                .iter()
                .position(|(b, _)| *b == at)
                .unwrap_or_else(|| {
                    row.parts.push((at, Vec::new()));
                    row.parts.len() - 1
                });
            for (point, slope) in slopes {
                blocks[at].spread(point, slope * *factor, &mut row.parts[index].1);
            }
        }
        row
    }
}

impl Term {
    /// Length of an arc for given control points; 0 for every other term.
    pub(super) fn length(&self, block: &Block, points: &[Point]) -> f64 {
        match self {
            Self::Arc(_, cubic, t0, t1) => arc(&block.cubic(*cubic, points), *t0, *t1).0,
            _ => 0.0,
        }
    }

    fn block(&self) -> usize {
        match self {
            Self::X(site) | Self::Y(site) => site.block,
            Self::Point(block, ..) | Self::Arc(block, ..) | Self::Legs(block, ..) => *block,
        }
    }

    /// Value, and how it changes with control points of its block.
    fn value(&self, block: &Block, points: &[Point]) -> (f64, Vec<(usize, Vec2)>) {
        match self {
            Self::X(site) => coordinate(site, block, points, true),
            Self::Y(site) => coordinate(site, block, points, false),
            Self::Point(_, index, weights) => (
                points[*index].to_vec2().dot(*weights),
                vec![(*index, *weights)],
            ),
            Self::Arc(_, cubic, t0, t1) => {
                let (length, slope) = arc(&block.cubic(*cubic, points), *t0, *t1);
                (
                    length,
                    block.cubics[*cubic].iter().copied().zip(slope).collect(),
                )
            }
            Self::Legs(_, (a, b), (c, d), product) => {
                let (p, q) = (points[*b] - points[*a], points[*d] - points[*c]);
                let (value, by_p, by_q) = match product {
                    LegProduct::Dot(size) => (p.dot(q) / size, q / *size, p / *size),
                    LegProduct::Cross(size) => (
                        p.cross(q) / size,
                        Vec2::new(q.y, -q.x) / *size,
                        Vec2::new(-p.y, p.x) / *size,
                    ),
                };
                (
                    value,
                    vec![(*a, -by_p), (*b, by_p), (*c, -by_q), (*d, by_q)],
                )
            }
        }
    }
}

/// A coordinate of a place, and how it changes with the control points; a place on a level slides.
fn coordinate(
    site: &Site,
    block: &Block,
    points: &[Point],
    is_x: bool,
) -> (f64, Vec<(usize, Vec2)>) {
    let (index, t) = site.locate(block, points);
    let c = block.cubic(index, points);
    let s = 1.0 - t;
    let shares = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
    let at = c.eval(t);
    let ids = block.cubics[index];
    let Some(lock) = site.level else {
        let axis = if is_x {
            Vec2::new(1.0, 0.0)
        } else {
            Vec2::new(0.0, 1.0)
        };
        return (
            if is_x { at.x } else { at.y },
            ids.iter()
                .zip(shares)
                .map(|(i, w)| (*i, axis * w))
                .collect(),
        );
    };
    if !is_x {
        return (at.y, vec![(lock.from, Vec2::new(0.0, 1.0))]);
    }
    let d = c.deriv().eval(t).to_vec2();
    let lean = if d.y.abs() > 1e-9 * d.hypot().max(1e-9) {
        d.x / d.y
    } else {
        0.0
    };
    let mut slopes: Vec<(usize, Vec2)> = ids
        .iter()
        .zip(shares)
        .map(|(i, w)| (*i, Vec2::new(w, -lean * w)))
        .collect();
    slopes.push((lock.from, Vec2::new(0.0, lean)));
    (at.x, slopes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_circle_by_four_kappa_is_as_long_as_its_closed_form() {
        // kappa circle: length of the cubic itself, against kurbo's own quadrature at a fine tolerance.
        use kurbo::ParamCurveArclen;
        let k = 0.552_284_75;
        let c = CubicBez::new((1.0, 0.0), (1.0, k), (k, 1.0), (0.0, 1.0));
        approx::assert_abs_diff_eq!(arc(&c, 0.0, 1.0).0, c.arclen(1e-12), epsilon = 1e-10);
        approx::assert_abs_diff_eq!(
            arc(&c, 0.0, 0.4).0 + arc(&c, 0.4, 1.0).0,
            c.arclen(1e-12),
            epsilon = 1e-10
        );
    }

    #[test]
    fn a_length_changes_with_its_points_as_the_slope_says() {
        let c = CubicBez::new((0.0, 0.0), (10.0, 4.0), (22.0, -3.0), (30.0, 8.0));
        let (length, slope) = arc(&c, 0.1, 0.9);
        let moved = CubicBez::new(c.p0, c.p1 + (0.0, 1e-6), c.p2, c.p3);
        approx::assert_abs_diff_eq!(
            (arc(&moved, 0.1, 0.9).0 - length) / 1e-6,
            slope[1].y,
            epsilon = 1e-5
        );
        let moved = CubicBez::new(c.p0, c.p1, c.p2, c.p3 + (1e-6, 0.0));
        approx::assert_abs_diff_eq!(
            (arc(&moved, 0.1, 0.9).0 - length) / 1e-6,
            slope[3].x,
            epsilon = 1e-5
        );
    }
}
