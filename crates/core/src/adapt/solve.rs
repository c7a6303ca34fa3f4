//! Least change with every demand met: Newton steps on all pieces at once, demands in order of rank.
#![allow(
    clippy::indexing_slicing,
    reason = "rows, blocks and offsets are built together in this module"
)]

use kurbo::Point;

use super::block::Block;
use super::dense::{Factor, RankedFactor, dot};
use super::rules::{Row, Rule};

/// What a solve gives.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Control points of every block.
    pub(super) points: Vec<Vec<Point>>,
    /// Newton steps, over all rounds.
    pub(super) steps: u32,
}

/// Newton steps in one round.
const STEPS: u32 = 120;
/// A rule counts as kept below this, mm.
const KEPT: f64 = 1e-3;
/// Newton stops when every kept rule is met this well, mm.
const EXACT: f64 = 1e-11;
/// And when no unknown moves more than this share of the piece size any more.
const STILL: f64 = 1e-12;
/// The same while every kept rule is met exactly.
const NEARLY_STILL: f64 = 1e-11;
/// A step that wants to go farther than this share of the one before does not settle.
const SWINGS: f64 = 0.9;
/// The shortest share of a step.
const SHORTEST: f64 = 0.1;
/// The longest step, in mean legs of the largest piece.
const FARTHEST: f64 = 5.0;

/// Solves; rules must be sorted by rank.
///
/// When the rules contradict, the worst ranked of those that are missed gives way and the rest is solved again, until
/// all that are left are met: nothing is ever averaged away silently.
pub(super) fn solve(blocks: &[Block], rules: &[Rule]) -> Solution {
    let mut out: Vec<bool> = vec![false; rules.len()];
    let mut steps = 0;
    let start: Vec<Vec<f64>> = blocks.iter().map(|b| b.unknowns(&b.guess)).collect();
    loop {
        for pull in PULLS {
            let mut newton = Newton::new(blocks, rules, &out, &start, pull);
            let round = newton.run(0.0);
            steps += round.steps;
            if round.met {
                return Solution {
                    points: newton.points(),
                    steps,
                };
            }
        }
        // Which demand is in the way? Let all give a little, the lower ranks more, and see who does.
        let mut soft = Newton::new(blocks, rules, &out, &start, 0.0);
        steps += soft.run(SOFT).steps;
        let points = soft.points();
        let worst = (0..rules.len())
            .filter(|i| !out[*i])
            .map(|i| (i, rules[i].missed(blocks, &points).abs()))
            .filter(|(_, by)| *by > KEPT)
            .max_by(|a, b| {
                rules[a.0]
                    .rank
                    .cmp(&rules[b.0].rank)
                    .then(a.1.total_cmp(&b.1))
            });
        match worst {
            Some((index, _)) if steps < BUDGET => out[index] = true,
            // Demands that contradict this much are told as they are: the maker must not wait for ever.
            Some(_) => return Solution { points, steps },
            // Every rule is met by the soft solve: keep it.
            None => return Solution { points, steps },
        }
    }
}

/// Newton steps after which no further demand is taken out.
const BUDGET: u32 = 6000;

/// Pulls tried in turn: where plain steps do not settle, shorter and shorter ones do.
const PULLS: [f64; 3] = [0.0, 0.5, 4.0];

/// How much a demand may give in the search for the one in the way (share of its own stiffness, rank 1).
const SOFT: f64 = 1e-6;

struct Newton<'a> {
    blocks: &'a [Block],
    rules: &'a [Rule],
    /// Rules left out.
    out: &'a [bool],
    /// Mean leg of the largest piece.
    size: f64,
    unknowns: Vec<Vec<f64>>,
    /// With a pull: the factor of every block that holds its unknowns back.
    pulled: Vec<Factor>,
}

struct Round {
    met: bool,
    steps: u32,
}

impl<'a> Newton<'a> {
    fn new(
        blocks: &'a [Block],
        rules: &'a [Rule],
        out: &'a [bool],
        start: &[Vec<f64>],
        pull: f64,
    ) -> Self {
        let size = blocks.iter().map(Block::mean_leg).fold(1e-3, f64::max);
        let pulled = if pull > 0.0 {
            blocks.iter().map(|b| b.pulled(pull)).collect()
        } else {
            Vec::new()
        };
        Self {
            blocks,
            rules,
            out,
            size,
            unknowns: start.to_vec(),
            pulled,
        }
    }

    fn factor(&self, block: usize) -> &Factor {
        self.pulled.get(block).unwrap_or(&self.blocks[block].factor)
    }

    /// How the unknowns of a block would move if nothing were demanded. Worked out from where they are, so that a
    /// garment that needs no change gets none, to the last bits.
    fn free_move(&self, block: usize) -> Vec<f64> {
        let mut still = self.blocks[block].slope(&self.unknowns[block]);
        for value in &mut still {
            *value = -*value;
        }
        self.factor(block).forward(0, &mut still);
        self.factor(block).backward(&mut still);
        still
    }

    fn points(&self) -> Vec<Vec<Point>> {
        self.blocks
            .iter()
            .zip(&self.unknowns)
            .map(|(b, u)| b.points(u))
            .collect()
    }

    /// Steps until nothing moves any more. Where full steps swing to and fro, shorter ones settle.
    fn run(&mut self, soft: f64) -> Round {
        let (mut share, mut before) = (1.0_f64, f64::INFINITY);
        for step in 1..=STEPS {
            let (far, missed) = self.step(soft, share);
            if !far.is_finite() {
                return Round {
                    met: false,
                    steps: step,
                };
            }
            if far <= STILL * self.size
                || (missed <= EXACT * self.size.max(1.0) && far <= NEARLY_STILL * self.size)
            {
                return Round {
                    met: missed <= KEPT,
                    steps: step,
                };
            }
            share = if far > SWINGS * before {
                (share * 0.5).max(SHORTEST)
            } else {
                (share * 1.5).min(1.0)
            };
            before = far;
        }
        let points = self.points();
        let met = (0..self.rules.len())
            .filter(|i| !self.out[*i])
            .all(|i| self.rules[i].missed(self.blocks, &points).abs() <= KEPT);
        Round { met, steps: STEPS }
    }

    /// One step, a share of the full one; gives how far the farthest unknown would move in full, and how much the worst
    /// kept rule was missed before it.
    fn step(&mut self, soft: f64, share: f64) -> (f64, f64) {
        let points = self.points();
        let (mut ids, mut rows): (Vec<usize>, Vec<Row>) = (Vec::new(), Vec::new());
        for (i, rule) in self.rules.iter().enumerate().filter(|(i, _)| !self.out[*i]) {
            ids.push(i);
            rows.push(rule.linear(self.blocks, &points));
        }
        let system = System::new(self, &rows);
        let moves: Vec<Vec<f64>> = (0..self.blocks.len()).map(|b| self.free_move(b)).collect();
        let wants = moves.iter().flatten().map(|m| m.abs()).fold(0.0, f64::max);
        let worst = rows.iter().map(|row| row.missed.abs()).fold(0.0, f64::max);
        if wants <= STILL * self.size && worst <= EXACT {
            // Nothing wants to move and nothing is missed: rounding errors are no reason to.
            return (0.0, worst);
        }
        let give: Vec<f64> = ids
            .iter()
            .enumerate()
            .map(|(k, i)| soft * system.own(k) * 8f64.powi(i32::from(self.rules[*i].rank)))
            .collect();
        let factor = RankedFactor::new(rows.len(), &system.matrix, &give);
        // What would be missed after moving freely, by the rules made linear.
        let right: Vec<f64> = rows
            .iter()
            .map(|row| row.missed + self.shift(row, &moves))
            .collect();
        let forces = factor.solve(&right);
        let moves = self.held(&system, &factor.kept, &forces, moves);
        let missed = factor
            .kept
            .iter()
            .map(|k| rows[*k].missed.abs())
            .fold(0.0, f64::max);
        (self.go(&moves, share), missed)
    }

    /// Row times the free movement.
    fn shift(&self, row: &Row, moves: &[Vec<f64>]) -> f64 {
        let of_block = |(b, entries): &(usize, Vec<(usize, f64)>)| {
            entries.iter().map(|(i, v)| v * moves[*b][*i]).sum::<f64>()
        };
        row.parts.iter().map(of_block).sum()
    }

    /// The free movement, held back by the forces of the demands.
    fn held(
        &self,
        system: &System,
        kept: &[usize],
        forces: &[f64],
        mut moves: Vec<Vec<f64>>,
    ) -> Vec<Vec<f64>> {
        let mut pulls: Vec<Vec<f64>> = self.blocks.iter().map(|b| vec![0.0; b.size]).collect();
        for (k, force) in kept.iter().zip(forces) {
            for (b, first, part) in &system.parts[*k] {
                for (g, v) in pulls[*b][*first..].iter_mut().zip(&part[*first..]) {
                    *g += force * v;
                }
            }
        }
        for (block, (pull, go)) in pulls.iter_mut().zip(&mut moves).enumerate() {
            self.factor(block).backward(pull);
            for (go, pull) in go.iter_mut().zip(pull.iter()) {
                *go -= pull;
            }
        }
        moves
    }

    /// Goes a share of the way, never far at a time; gives how far the whole way is.
    fn go(&mut self, moves: &[Vec<f64>], share: f64) -> f64 {
        let farthest = moves.iter().flatten().map(|m| m.abs()).fold(0.0, f64::max);
        if moves.iter().flatten().any(|m| !m.is_finite()) {
            return f64::NAN;
        }
        let share = (self.size * FARTHEST / farthest.max(1e-300)).min(share);
        for (unknowns, moves) in self.unknowns.iter_mut().zip(moves) {
            for (unknown, by) in unknowns.iter_mut().zip(moves) {
                *unknown += share * by;
            }
        }
        farthest
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
    fn new(newton: &Newton<'_>, rows: &[Row]) -> Self {
        let count = rows.len();
        let parts: Vec<Vec<(usize, usize, Vec<f64>)>> = rows
            .iter()
            .map(|row| {
                row.parts
                    .iter()
                    .map(|(b, entries)| {
                        let mut full = vec![0.0; newton.blocks[*b].size];
                        for (i, v) in entries {
                            full[*i] += v;
                        }
                        let first = full.iter().position(|v| *v != 0.0).unwrap_or(full.len());
                        newton.factor(*b).forward(first, &mut full);
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
        Self {
            matrix,
            parts,
            count,
        }
    }

    fn own(&self, k: usize) -> f64 {
        self.matrix[k * self.count + k]
    }
}
