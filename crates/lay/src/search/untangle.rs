//! Takes overlaps away: bodies that overlap are laid elsewhere, one after the other; overlaps that stay get heavier.

#![allow(
    clippy::indexing_slicing,
    reason = "rows and columns are numbered by the stock"
)]

use super::bay::Thing;
use super::chance::Chance;
use super::floor::Floor;
use super::problem::Plan;
use super::record::wrong_pairs;
use super::sample::{Effort, Found, Looking};
use super::stock::{Pose, Stock};
use super::weights::Weights;

/// Heaviest and lightest growth of the weight of an overlap per round, and how weights fade where there is none.
const GROWS: (f32, f32) = (1.15, 1.8);
const FADES: f32 = 0.95;

/// Overlaps that are this share of what they were count as much less.
const MUCH: f32 = 0.98;

/// How hard to look for a better place.
const EFFORT: Effort = Effort {
    anywhere: 30,
    around: 12,
    kept: 3,
};

/// What a round ended with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Round {
    /// It goes on.
    Going,
    /// A round is over; overlaps are left.
    Over,
    /// Nothing overlaps any more.
    Clear,
}

/// All overlaps of one layout and their weights.
#[derive(Clone, Debug)]
pub(crate) struct Untangle {
    weights: Weights,
    /// Overlaps, unweighted, in the places of the weights.
    losses: Vec<f32>,
    /// Bodies that may be moved.
    movable: Vec<bool>,
    /// Still to be looked at in this round.
    queue: Vec<usize>,
    /// Least sum of overlaps since the start, and where everything lay then.
    least: f32,
    least_poses: Vec<Option<Pose>>,
    /// Sum of overlaps when it last became much less, and rounds since.
    mark: f32,
    waited: u32,
}

impl Untangle {
    /// Counts all overlaps afresh, all weights 1.
    pub(crate) fn new(stock: &Stock, floor: &mut Floor) -> Self {
        let weights = Weights::new(stock);
        let mut movable = vec![true; stock.bodies.len()];
        for (body, _) in &stock.fixed {
            movable[*body] = false;
        }
        let mut new = Self {
            losses: vec![0.0; stock.bodies.len() * weights.columns()],
            weights,
            movable,
            queue: Vec::new(),
            least: f32::INFINITY,
            least_poses: Vec::new(),
            mark: f32::INFINITY,
            waited: 0,
        };
        new.count(stock, floor);
        new
    }

    /// Counts all overlaps again (after the floor was changed by others). Weights stay.
    pub(crate) fn count(&mut self, stock: &Stock, floor: &mut Floor) {
        self.losses.fill(0.0);
        let bodies: Vec<_> = floor.bodies().collect();
        for (body, pose) in bodies {
            self.count_one(stock, floor, body, &pose);
        }
        self.queue.clear();
        self.least = self.total();
        self.least_poses = floor.poses();
        self.mark = self.least;
        self.waited = 0;
    }

    /// Forgets the weights.
    pub(crate) fn forget(&mut self) {
        self.weights.reset();
    }

    fn count_one(&mut self, stock: &Stock, floor: &mut Floor, body: usize, pose: &Pose) {
        let columns = self.weights.columns();
        for column in 0..columns {
            self.set(body, column, 0.0);
        }
        let mut met: Vec<(Thing, f32)> = Vec::new();
        floor.ask(stock, body, pose, &mut |thing, loss| {
            met.push((thing, loss));
            false
        });
        for (thing, loss) in met {
            self.set(body, self.weights.column(thing), loss);
        }
    }

    fn set(&mut self, body: usize, column: usize, loss: f32) {
        let columns = self.weights.columns();
        self.losses[body * columns + column] = loss;
        if column < self.movable.len() {
            self.losses[column * columns + body] = loss;
        }
    }

    /// Forgets the overlaps of a body that was taken up.
    pub(crate) fn take_out(&mut self, body: usize) {
        for column in 0..self.weights.columns() {
            self.set(body, column, 0.0);
        }
    }

    fn row(&self, body: usize) -> &[f32] {
        let columns = self.weights.columns();
        &self.losses[body * columns..(body + 1) * columns]
    }

    /// Sum of a body's overlaps.
    pub(crate) fn of_body(&self, body: usize) -> f32 {
        self.row(body).iter().sum()
    }

    /// Sum of all overlaps; those between fixed parts do not count.
    pub(crate) fn total(&self) -> f32 {
        let mut sum = 0.0;
        for body in 0..self.movable.len() {
            for (column, loss) in self.row(body).iter().enumerate() {
                let fixed_other = self.movable.get(column).is_none_or(|movable| !movable);
                let counts = self.movable[body] && (fixed_other || column > body);
                if counts {
                    sum += loss;
                }
            }
        }
        sum
    }

    /// Least sum of overlaps since the last count, where everything lay then, and the rounds since it last became much less.
    pub(crate) fn least(&self) -> (f32, &[Option<Pose>], u32) {
        (self.least, &self.least_poses, self.waited)
    }

    /// Whether a plan holds in f64. Where it does not, the bodies are made to overlap a little for the weights, so that they move.
    pub(crate) fn proved(&mut self, stock: &Stock, plan: &Plan) -> bool {
        let wrong = wrong_pairs(stock, plan);
        for (body, thing) in &wrong {
            let column = self.weights.column(*thing);
            self.set(*body, column, stock.bodies[*body].area * 1e-6);
        }
        wrong.is_empty()
    }

    /// One step: looks for a better place for one body that overlaps.
    pub(crate) fn step(&mut self, stock: &Stock, floor: &mut Floor, chance: &mut Chance) -> Round {
        if self.queue.is_empty() {
            self.queue = (0..self.movable.len())
                .filter(|&body| self.movable[body] && self.of_body(body) > 0.0)
                .collect();
            chance.shuffle(&mut self.queue);
        }
        while let Some(body) = self.queue.pop() {
            if self.of_body(body) <= 0.0 {
                continue;
            }
            self.relocate(stock, floor, chance, body);
            if !self.queue.is_empty() {
                return Round::Going;
            }
        }
        self.end_round(floor)
    }

    fn end_round(&mut self, floor: &Floor) -> Round {
        let total = self.total();
        if total <= 0.0 {
            return Round::Clear;
        }
        self.waited += 1;
        if total < self.least {
            self.least = total;
            self.least_poses = floor.poses();
        }
        if total < self.mark * MUCH {
            self.mark = total;
            self.waited = 0;
        }
        self.reweigh();
        Round::Over
    }

    fn reweigh(&mut self) {
        let columns = self.weights.columns();
        let largest = self
            .losses
            .iter()
            .copied()
            .fold(0.0, f32::max)
            .max(f32::MIN_POSITIVE);
        let losses = &self.losses;
        self.weights.change(|row, column, weight| {
            let loss = losses[row * columns + column];
            if loss > 0.0 {
                (weight * (GROWS.0 + (GROWS.1 - GROWS.0) * loss / largest)).min(1e12)
            } else {
                (weight * FADES).max(1.0)
            }
        });
    }

    fn relocate(&mut self, stock: &Stock, floor: &mut Floor, chance: &mut Chance, body: usize) {
        let Some(pose) = floor.pose(body) else { return };
        let weights = &self.weights;
        let row = weights.row(body);
        let cost: f32 = self
            .row(body)
            .iter()
            .zip(row)
            .map(|(loss, weight)| loss * weight)
            .sum();
        let mut looking = Looking {
            stock,
            floor,
            chance,
            body,
            cost: |floor: &mut Floor, pose: &Pose, bound: f32| {
                floor.weigh(stock, body, pose, bound, weights)
            },
        };
        let found = looking.best(Some(Found { pose, cost }), EFFORT);
        let Some(found) = found.filter(|found| found.cost < cost && found.pose != pose) else {
            return;
        };
        floor.put(stock, body, found.pose);
        self.count_one(stock, floor, body, &found.pose);
    }
}
