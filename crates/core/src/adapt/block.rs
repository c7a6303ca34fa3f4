//! One piece in the solve: its control points, which of them are free, and what should change least.
#![allow(
    clippy::indexing_slicing,
    reason = "indices come from the closed chain built here"
)]

use std::ops::Range;

use kurbo::{CubicBez, Point, Vec2};

use super::dense::{Factor, dot};
use super::guess::Warp;
use crate::fitting::Shaping;
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::tolerance::MEASURING;

/// What a control point depends on.
#[derive(Debug, Clone, Copy)]
pub(super) enum Hold {
    /// Its own two unknowns: x at this index of the block, y at the next.
    Free(usize),
    /// It lies on the straight line between two free points, at this share of the way.
    Between(usize, usize, f64),
}

/// One piece in the solve. All indices count from the start of the block.
#[derive(Debug, Clone)]
pub(super) struct Block {
    /// How many unknowns it has.
    pub(super) size: usize,
    /// What each control point of the closed chain depends on.
    pub(super) holds: Vec<Hold>,
    /// Control points of every cubic.
    pub(super) cubics: Vec<[usize; 4]>,
    /// Cubics of every edge.
    pub(super) edges: Vec<Range<usize>>,
    /// Control points of the source.
    pub(super) source: Vec<Point>,
    /// Control points by proportion, the starting guess.
    pub(super) guess: Vec<Point>,
    /// Height and width of every level by proportion: the last unknowns of a piece that follows the body.
    levels: Vec<f64>,
    /// What should change least.
    quadratic: Quadratic,
    /// Its factor.
    pub(super) factor: Factor,
}

/// Weight of keeping the direction of a leg, for pieces that keep directions.
///
/// # Source
/// This and the next two: trial weights of ADAPTATION.md, confirmed by the redraft benchmark.
const DIRECTION: f64 = 1.0;

/// Weight of an even scale along an edge.
const EVEN: f64 = 0.25;

/// Weight of the proportional guess along a leg.
const GUESS: f64 = 1e-4;

/// Weight that holds the levels of a piece that follows the body near their proportional places.
///
/// # Source
/// Chosen by the redraft benchmark.
const LEVELS: f64 = 1.0;

/// Pull on the middle of a piece that fixes where it lies on the table. No demand says where that is, so it pulls
/// against nothing.
const ANCHOR: f64 = 1.0;

/// Share of a piece's mean leg below which a leg counts as having no length of its own.
const SHORTEST: f64 = 1e-3;

impl Block {
    /// Builds the block of a piece from its source and the map that gives the proportional guess.
    ///
    /// A piece that follows the body has the map's own figures as unknowns too, behind those of its points: the levels
    /// may move and widen a little when the demands ask for it, instead of the curves between them.
    pub(super) fn new(piece: &Piece, shaping: Shaping, warp: &Warp) -> Self {
        let chain = Chain::of(piece);
        let guess: Vec<Point> = chain.source.iter().map(|p| warp.at(*p)).collect();
        let levels = if shaping == Shaping::FollowBody {
            warp.levels.len()
        } else {
            0
        };
        let size = chain.free * 2 + levels * 2;
        let mut block = Self {
            size,
            holds: chain.holds,
            cubics: chain.cubics,
            edges: chain.edges,
            source: chain.source,
            guess,
            levels: warp
                .levels
                .iter()
                .take(levels)
                .flat_map(|l| [l.goal, l.width])
                .collect(),
            quadratic: Quadratic::new(Vec::new()),
            factor: Factor::new(0, &[]),
        };
        block.settle(shaping, warp);
        block
    }

    /// Sets up the quadratic and factorises it.
    fn settle(&mut self, shaping: Shaping, warp: &Warp) {
        let mut quadratic = Quadratic::new(self.unknowns(&self.guess));
        match shaping {
            Shaping::KeepDirections => self.add_legs(&mut quadratic),
            Shaping::FollowBody => {
                self.add_body(&mut quadratic, warp);
                self.add_levels(&mut quadratic, warp);
            }
        }
        self.add_anchor(&mut quadratic);
        self.factor = Factor::new(self.size, &quadratic.matrix);
        self.quadratic = quadratic;
    }

    /// Factor of the quadratic with every unknown held back by this share of its own stiffness.
    pub(super) fn pulled(&self, pull: f64) -> Factor {
        let mut matrix = self.quadratic.matrix.clone();
        for i in 0..self.size {
            matrix[i * self.size + i] *= 1.0 + pull;
        }
        Factor::new(self.size, &matrix)
    }

    /// Slope of the quadratic at given unknowns.
    pub(super) fn slope(&self, unknowns: &[f64]) -> Vec<f64> {
        let moved: Vec<f64> = unknowns
            .iter()
            .zip(&self.quadratic.start)
            .map(|(u, s)| u - s)
            .collect();
        let rows = self.quadratic.matrix.chunks_exact(self.size.max(1));
        rows.zip(&self.quadratic.right)
            .map(|(row, right)| dot(row, &moved) - right)
            .collect()
    }

    /// Every leg near the map's leg.
    fn add_body(&self, quadratic: &mut Quadratic, warp: &Warp) {
        let first = self.size - self.levels.len();
        for (a, b, scale) in self.legs() {
            for axis in [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)] {
                let mut entries = Vec::with_capacity(12);
                self.spread(a, -axis, &mut entries);
                self.spread(b, axis, &mut entries);
                for (point, sign) in [(self.source[a], 1.0), (self.source[b], -1.0)] {
                    if axis.x != 0.0 {
                        entries.extend(warp.width_shares(point.y).map(|(i, share)| {
                            (first + 2 * i + 1, sign * share * (point.x - warp.axis))
                        }));
                    } else {
                        entries.extend(
                            warp.shares(point.y)
                                .map(|(i, share)| (first + 2 * i, sign * share)),
                        );
                    }
                }
                quadratic.add_square(&entries, 0.0, 1.0 / scale);
            }
        }
    }

    /// The map near the proportional one: intervals keep their length, levels their width.
    fn add_levels(&self, quadratic: &mut Quadratic, warp: &Warp) {
        let first = self.size - self.levels.len();
        let reach = self
            .source
            .iter()
            .map(|p| (p.x - warp.axis).abs())
            .fold(1e-6, f64::max);
        let whole = warp.levels.last().map_or(1.0, |l| l.goal)
            - warp.levels.first().map_or(0.0, |l| l.goal);
        let whole = whole.abs().max(1e-6);
        for (i, pair) in warp.levels.windows(2).enumerate() {
            let wished = pair[1].goal - pair[0].goal;
            quadratic.add_square(
                &[(first + 2 * i, -1.0), (first + 2 * i + 2, 1.0)],
                wished,
                LEVELS / wished.abs().max(whole * 0.02),
            );
        }
        for (i, level) in warp.levels.iter().enumerate() {
            quadratic.add_square(
                &[(first + 2 * i + 1, 1.0)],
                level.width,
                LEVELS * reach * reach / (reach * level.width).max(1e-6),
            );
        }
        // Where the whole map lies is told by nothing else.
        quadratic.add_square(&[(first, 1.0)], self.levels[0], ANCHOR / self.mean_leg());
    }

    /// Every leg that has a length, with the length it should have.
    fn legs(&self) -> Vec<(usize, usize, f64)> {
        let mean = self.mean_leg();
        let leg = |a: usize, b: usize| {
            (
                a,
                b,
                (self.guess[b] - self.guess[a]).hypot().max(mean * SHORTEST),
            )
        };
        self.cubics
            .iter()
            .flat_map(|c| c.windows(2).map(|w| leg(w[0], w[1])))
            .collect()
    }

    /// Every leg in its source direction, scaled evenly along its edge, near the guess.
    fn add_legs(&self, quadratic: &mut Quadratic) {
        let mean = self.mean_leg();
        for cubics in &self.edges {
            let mut before: Option<(usize, usize, Vec2, f64, f64)> = None;
            for cubic in cubics.clone() {
                for (a, b) in self.cubics[cubic].iter().zip(&self.cubics[cubic][1..]) {
                    let (old, wished) = (
                        self.source[*b] - self.source[*a],
                        self.guess[*b] - self.guess[*a],
                    );
                    let scale = wished.hypot().max(mean * SHORTEST);
                    if old.hypot() < mean * SHORTEST {
                        // A control point that sits on its corner stays there.
                        self.add_square(
                            quadratic,
                            &[(*a, Vec2::new(-1.0, 0.0)), (*b, Vec2::new(1.0, 0.0))],
                            wished.x,
                            1.0 / scale,
                        );
                        self.add_square(
                            quadratic,
                            &[(*a, Vec2::new(0.0, -1.0)), (*b, Vec2::new(0.0, 1.0))],
                            wished.y,
                            1.0 / scale,
                        );
                        before = None;
                        continue;
                    }
                    let along = old / old.hypot();
                    let across = Vec2::new(-along.y, along.x);
                    self.add_square(
                        quadratic,
                        &[(*a, -across), (*b, across)],
                        0.0,
                        DIRECTION / scale,
                    );
                    self.add_square(
                        quadratic,
                        &[(*a, -along), (*b, along)],
                        scale,
                        GUESS / scale,
                    );
                    if let Some((c, d, u, l, s)) = before {
                        let (s, k) = ((s + scale) / 2.0, (s / l + scale / old.hypot()) / 2.0);
                        let (now, then) = (along / old.hypot(), u / l);
                        let terms = [(*a, -now), (*b, now), (c, then), (d, -then)];
                        self.add_square(quadratic, &terms, 0.0, EVEN * s / (k * k));
                    }
                    before = Some((*a, *b, along, old.hypot(), scale));
                }
            }
        }
    }

    fn add_anchor(&self, quadratic: &mut Quadratic) {
        let n = self.guess.len() as f64;
        let middle = self
            .guess
            .iter()
            .fold(Vec2::ZERO, |sum, p| sum + p.to_vec2())
            / n;
        for (axis, wished) in [
            (Vec2::new(1.0, 0.0), middle.x),
            (Vec2::new(0.0, 1.0), middle.y),
        ] {
            let terms: Vec<(usize, Vec2)> = (0..self.guess.len()).map(|i| (i, axis / n)).collect();
            self.add_square(quadratic, &terms, wished, ANCHOR / self.mean_leg());
        }
    }

    /// Adds `weight (sum terms . points - wished)^2 / 2`.
    fn add_square(
        &self,
        quadratic: &mut Quadratic,
        terms: &[(usize, Vec2)],
        wished: f64,
        weight: f64,
    ) {
        let mut entries: Vec<(usize, f64)> = Vec::with_capacity(terms.len() * 4);
        for (point, factor) in terms {
            self.spread(*point, *factor, &mut entries);
        }
        quadratic.add_square(&entries, wished, weight);
    }

    /// Spreads a factor on a control point over the unknowns it depends on.
    pub(super) fn spread(&self, point: usize, factor: Vec2, entries: &mut Vec<(usize, f64)>) {
        let mut add = |at: usize, share: f64| {
            if factor.x != 0.0 {
                entries.push((at, factor.x * share));
            }
            if factor.y != 0.0 {
                entries.push((at + 1, factor.y * share));
            }
        };
        match self.holds[point] {
            Hold::Free(at) => add(at, 1.0),
            Hold::Between(a, b, share) => {
                add(a, 1.0 - share);
                add(b, share);
            }
        }
    }

    /// All control points for given unknowns of this block.
    pub(super) fn points(&self, unknowns: &[f64]) -> Vec<Point> {
        let at = |i: usize| Point::new(unknowns[i], unknowns[i + 1]);
        self.holds
            .iter()
            .map(|hold| match *hold {
                Hold::Free(i) => at(i),
                Hold::Between(a, b, share) => at(a).lerp(at(b), share),
            })
            .collect()
    }

    /// Unknowns that put every free point where `points` has it.
    pub(super) fn unknowns(&self, points: &[Point]) -> Vec<f64> {
        let mut unknowns = vec![0.0; self.size];
        let first = self.size - self.levels.len();
        unknowns[first..].copy_from_slice(&self.levels);
        for (hold, point) in self.holds.iter().zip(points) {
            if let Hold::Free(i) = *hold {
                unknowns[i] = point.x;
                unknowns[i + 1] = point.y;
            }
        }
        unknowns
    }

    /// One cubic for given control points.
    pub(super) fn cubic(&self, index: usize, points: &[Point]) -> CubicBez {
        let [a, b, c, d] = self.cubics[index];
        CubicBez::new(points[a], points[b], points[c], points[d])
    }

    /// The line of one edge for given control points.
    pub(super) fn line(&self, edge: usize, points: &[Point]) -> Option<Line> {
        let cubics: Vec<CubicBez> = self.edges[edge]
            .clone()
            .map(|i| self.cubic(i, points))
            .collect();
        Line::from_cubics(&cubics)
    }

    /// Mean length of the guessed legs.
    pub(super) fn mean_leg(&self) -> f64 {
        let total: f64 = self
            .cubics
            .iter()
            .flat_map(|c| c.windows(2))
            .map(|w| (self.guess[w[1]] - self.guess[w[0]]).hypot())
            .sum();
        (total / (3.0 * self.cubics.len() as f64)).max(1e-6)
    }
}

/// The control points of a piece's closed chain, in the order of a block's.
pub(super) fn control_points(piece: &Piece) -> Vec<Point> {
    Chain::of(piece).source
}

/// A growing quadratic `m^T matrix m / 2 - right^T m` of the movement `m` away from a start.
///
/// Counted from the start, so that what already lies right gives a right-hand side of zero instead of a difference of
/// large numbers.
#[derive(Debug, Clone)]
struct Quadratic {
    start: Vec<f64>,
    matrix: Vec<f64>,
    right: Vec<f64>,
}

impl Quadratic {
    fn new(start: Vec<f64>) -> Self {
        let size = start.len();
        Self {
            start,
            matrix: vec![0.0; size * size],
            right: vec![0.0; size],
        }
    }

    /// Adds `weight (entries . unknowns - wished)^2 / 2`.
    fn add_square(&mut self, entries: &[(usize, f64)], wished: f64, weight: f64) {
        let size = self.right.len();
        let short = wished - entries.iter().map(|(i, a)| a * self.start[*i]).sum::<f64>();
        for (i, a) in entries {
            self.right[*i] += weight * a * short;
            for (j, b) in entries {
                self.matrix[i * size + j] += weight * a * b;
            }
        }
    }
}

/// The closed chain of control points of a piece.
struct Chain {
    source: Vec<Point>,
    holds: Vec<Hold>,
    cubics: Vec<[usize; 4]>,
    edges: Vec<Range<usize>>,
    /// How many points are free.
    free: usize,
}

impl Chain {
    fn of(piece: &Piece) -> Self {
        let edges = piece.outline.edges();
        let total: usize = edges.iter().map(|edge| edge.line.points().len() - 1).sum();
        let mut chain = Self {
            source: Vec::with_capacity(total),
            holds: Vec::with_capacity(total),
            cubics: Vec::new(),
            edges: Vec::new(),
            free: 0,
        };
        let mut straight: Vec<(usize, usize)> = Vec::new();
        for edge in edges {
            let (start, count) = (chain.source.len(), edge.line.points().len() - 1);
            let first = chain.cubics.len();
            chain.source.extend(&edge.line.points()[..count]);
            for k in 0..count / 3 {
                chain
                    .cubics
                    .push([0, 1, 2, 3].map(|m| (start + 3 * k + m) % total));
            }
            chain.edges.push(first..chain.cubics.len());
            if edge.line.is_straight() {
                straight.push((start, count));
            }
        }
        chain.hold_straight(total, &straight);
        chain
    }

    /// Corners and curve points are free; everything inside a straight edge lies between its two corners.
    fn hold_straight(&mut self, total: usize, straight: &[(usize, usize)]) {
        let inside = |i: usize| {
            straight
                .iter()
                .find(|(start, count)| i > *start && i < start + count)
        };
        let mut at = vec![0; total];
        for (i, place) in at.iter_mut().enumerate() {
            if inside(i).is_none() {
                *place = 2 * self.free;
                self.free += 1;
            }
        }
        self.holds = (0..total)
            .map(|i| match inside(i) {
                None => Hold::Free(at[i]),
                Some((start, count)) => {
                    let (a, b) = (self.source[*start], self.source[(start + count) % total]);
                    let share = ((self.source[i] - a).dot(b - a)
                        / (b - a).hypot2().max(MEASURING.0 * MEASURING.0))
                    .clamp(0.0, 1.0);
                    Hold::Between(at[*start], at[(start + count) % total], share)
                }
            })
            .collect();
    }
}
