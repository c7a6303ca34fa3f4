//! Least change with every demand met: Newton steps on all pieces at once, demands in order of rank.
#![allow(clippy::indexing_slicing, reason = "rows, blocks and offsets are built together in this module")]

use kurbo::Point;

use super::block::Block;
use super::dense::{RankedFactor, dot};
use super::rules::{Row, Rule};

/// What a solve gives.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Control points of every block.
    pub(super) points: Vec<Vec<Point>>,
    /// Rules that had to give way, by index.
    pub(super) gave_way: Vec<usize>,
    /// Newton steps, over all rounds.
    pub(super) steps: u32,
}

/// Newton steps in one round.
const STEPS: u32 = 60;
/// A rule counts as kept below this, mm.
const KEPT: f64 = 1e-3;
/// Newton stops when every kept rule is met this well, mm.
const EXACT: f64 = 1e-11;
/// And when no unknown moves more than this share of the piece size any more.
const STILL: f64 = 1e-12;

/// Solves; rules must be sorted by rank. `skipped[i]` leaves rule `i` out from the start.
///
/// When the rules contradict, the worst ranked of those that are missed gives way and the rest is solved again, until
/// all that are left are met: nothing is ever averaged away silently.
pub(super) fn solve(blocks: &[Block], rules: &[Rule]) -> Solution {
    let mut out: Vec<bool> = vec![false; rules.len()];
    let mut steps = 0;
    let start: Vec<Vec<f64>> = blocks.iter().map(|b| b.unknowns(&b.guess)).collect();
    let size: f64 = blocks.iter().map(Block::mean_leg).fold(1e-3, f64::max);
    loop {
        let mut newton = Newton { blocks, rules, out: &out, size, unknowns: start.clone() };
        let round = newton.run(0.0);
        steps += round.steps;
        if round.met {
            let points = newton.points();
            let gave_way = missed(blocks, rules, &points);
            return Solution { points, gave_way, steps };
        }
        // Which demand is in the way? Let all give a little, the lower ranks more, and see who does.
        let mut soft = Newton { blocks, rules, out: &out, size, unknowns: start.clone() };
        steps += soft.run(SOFT).steps;
        let points = soft.points();
        let worst = (0..rules.len())
            .filter(|i| !out[*i])
            .map(|i| (i, rules[i].missed(blocks, &points).abs()))
            .filter(|(_, by)| *by > KEPT)
            .max_by(|a, b| rules[a.0].rank.cmp(&rules[b.0].rank).then(a.1.total_cmp(&b.1)));
        match worst {
            Some((index, _)) => out[index] = true,
            None => {
                // Every rule is met by the soft solve: keep it.
                let gave_way = missed(blocks, rules, &points);
                return Solution { points, gave_way, steps };
            }
        }
    }
}

/// How much a demand may give in the search for the one in the way (share of its own stiffness, rank 1).
const SOFT: f64 = 1e-6;

fn missed(blocks: &[Block], rules: &[Rule], points: &[Vec<Point>]) -> Vec<usize> {
    (0..rules.len()).filter(|i| rules[*i].missed(blocks, points).abs() > KEPT).collect()
}

struct Newton<'a> {
    blocks: &'a [Block],
    rules: &'a [Rule],
    out: &'a [bool],
    size: f64,
    unknowns: Vec<Vec<f64>>,
}

struct Round {
    met: bool,
    steps: u32,
}

impl Newton<'_> {
    fn points(&self) -> Vec<Vec<Point>> {
        self.blocks.iter().zip(&self.unknowns).map(|(b, u)| b.points(u)).collect()
    }

    fn run(&mut self, soft: f64) -> Round {
        let mut forces_before = 0.0_f64;
        for step in 1..=STEPS {
            let (moved, missed) = self.step(soft);
            let still = moved <= STILL * self.size || (missed <= EXACT * self.size.max(1.0) && moved <= 1e-9 * self.size);
            if !moved.is_finite() {
                return Round { met: false, steps: step };
            }
            if still {
                return Round { met: missed <= KEPT, steps: step };
            }
            forces_before = forces_before.max(moved);
        }
        let points = self.points();
        let met = (0..self.rules.len()).filter(|i| !self.out[*i]).all(|i| self.rules[i].missed(self.blocks, &points).abs() <= KEPT);
        Round { met, steps: STEPS }
    }

    /// One step; gives how far the farthest unknown moved, and how much the worst kept rule was missed before it.
    fn step(&mut self, soft: f64) -> (f64, f64) {
        let points = self.points();
        let (mut ids, mut rows): (Vec<usize>, Vec<Row>) = (Vec::new(), Vec::new());
        for (i, rule) in self.rules.iter().enumerate().filter(|(i, _)| !self.out[*i]) {
            ids.push(i);
            rows.push(rule.linear(self.blocks, &points));
        }
        let system = System::new(self.blocks, &rows);
        let give: Vec<f64> = ids.iter().enumerate().map(|(k, i)| soft * system.own(k) * 8f64.powi(i32::from(self.rules[*i].rank))).collect();
        let factor = RankedFactor::new(rows.len(), &system.matrix, &give);
        // Right side: what is missed at the unconstrained minimum, by the linear rules.
        let right: Vec<f64> = rows.iter().map(|row| row.missed + self.shift(row)).collect();
        let forces = factor.solve(&right);
        let goal = self.goal(&system, &factor.kept, &forces);
        let missed = factor.kept.iter().map(|k| rows[*k].missed.abs()).fold(0.0, f64::max);
        (self.move_towards(&goal), missed)
    }

    /// Row times (unconstrained minimum - unknowns).
    fn shift(&self, row: &Row) -> f64 {
        row.parts.iter().map(|(b, entries)| entries.iter().map(|(i, v)| v * (self.blocks[*b].rest[*i] - self.unknowns[*b][*i])).sum::<f64>()).sum()
    }

    fn goal(&self, system: &System, kept: &[usize], forces: &[f64]) -> Vec<Vec<f64>> {
        let mut goal: Vec<Vec<f64>> = self.blocks.iter().map(|b| vec![0.0; b.size]).collect();
        for (k, force) in kept.iter().zip(forces) {
            for (b, first, part) in &system.parts[*k] {
                for (g, v) in goal[*b][*first..].iter_mut().zip(&part[*first..]) {
                    *g += force * v;
                }
            }
        }
        for (block, g) in self.blocks.iter().zip(&mut goal) {
            block.factor.backward(g);
            for (g, rest) in g.iter_mut().zip(&block.rest) {
                *g = rest - *g;
            }
        }
        goal
    }

    /// Moves towards the goal, at most a fraction of a piece at a time; gives the largest movement.
    fn move_towards(&mut self, goal: &[Vec<f64>]) -> f64 {
        let farthest = goal.iter().zip(&self.unknowns).flat_map(|(g, u)| g.iter().zip(u)).map(|(g, u)| (g - u).abs()).fold(0.0, f64::max);
        if !farthest.is_finite() {
            return f64::NAN;
        }
        let share = (self.size * 20.0 / farthest.max(1e-300)).min(1.0);
        for (g, u) in goal.iter().zip(&mut self.unknowns) {
            for (g, u) in g.iter().zip(u) {
                *u += share * (g - *u);
            }
        }
        farthest * share
    }
}

/// The demands' matrix `J H^-1 J^T` and the half-solved rows it is made of.
struct System {
    /// Row by row.
    matrix: Vec<f64>,
    /// Per row: block, first entry that is not zero, `L^-1 J^T` of that block.
    parts: Vec<Vec<(usize, usize, Vec<f64>)>>,
    count: usize,
}

impl System {
    fn new(blocks: &[Block], rows: &[Row]) -> Self {
        let count = rows.len();
        let parts: Vec<Vec<(usize, usize, Vec<f64>)>> = rows
            .iter()
            .map(|row| {
                row.parts
                    .iter()
                    .map(|(b, entries)| {
                        let mut full = vec![0.0; blocks[*b].size];
                        for (i, v) in entries {
                            full[*i] += v;
                        }
                        let first = full.iter().position(|v| *v != 0.0).unwrap_or(full.len());
                        blocks[*b].factor.forward(first, &mut full);
                        (*b, first, full)
                    })
                    .collect()
            })
            .collect();
        let mut matrix = vec![0.0; count * count];
        for i in 0..count {
            for j in 0..=i {
                let mut sum = 0.0;
                for (b, first, part) in &parts[i] {
                    for (c, other_first, other) in &parts[j] {
                        if b == c {
                            let from = *first.max(other_first);
                            sum += dot(&part[from..], &other[from..]);
                        }
                    }
                }
                matrix[i * count + j] = sum;
                matrix[j * count + i] = sum;
            }
        }
        Self { matrix, parts, count }
    }

    fn own(&self, k: usize) -> f64 {
        self.matrix[k * self.count + k]
    }
}
