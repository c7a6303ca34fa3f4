//! The search as its callers see it: one step after the other, the best plan at every moment.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, items and bays are numbered by the stock"
)]

use std::cmp::Ordering;

use super::chance::Chance;
use super::floor::Floor;
use super::problem::{Plan, Problem, ProblemError};
use super::record::{first_ways, order, plan_of};
use super::score::Score;
use super::start;
use super::stock::{Pose, Stock};
use super::untangle::{Round, Untangle};

/// Settings of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Options {
    /// Where chance starts.
    ///
    /// Default: 1
    pub seed: u64,
    /// Steps after which [`Search::run`] ends. A step lays one part elsewhere: about 0.1 to 1 ms.
    ///
    /// Default: 20000
    pub steps: u64,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            seed: 1,
            steps: 20_000,
        }
    }
}

/// How far a search is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Steps made since the start.
    pub steps_done: u64,
    /// Items placed in the best plan.
    pub placed: usize,
    /// Items there are.
    pub of: usize,
    /// Seams added in the best plan ([`super::Way::cost`]).
    pub seams_added: u32,
    /// Rooms the best plan uses that were not open already.
    pub rooms_opened: usize,
    /// What still overlaps in the layout being worked on, against the most since it was begun: 1 at first, 0 when it is clear.
    pub overlap: f32,
    /// Every item is placed.
    pub complete: bool,
}

/// What the search works on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    /// Laying the first layout: this many of the order are done.
    Start(usize),
    /// Taking overlaps away.
    Untangle,
}

/// A search that goes on as long as it is asked to.
#[derive(Debug)]
pub struct Search {
    stock: Stock,
    options: Options,
    chance: Chance,
    floor: Floor,
    untangle: Untangle,
    /// Way taken for each item; `None` where there is none.
    ways: Vec<Option<usize>>,
    order: Vec<usize>,
    stage: Stage,
    steps_done: u64,
    most: f32,
    best: Best,
}

/// The best plan so far, with its poses.
#[derive(Debug)]
struct Best {
    plan: Plan,
    score: Score,
    poses: Vec<Option<Pose>>,
}

/// Rounds without less overlap after which a layout is given up.
const PATIENCE: u32 = 120;

impl Search {
    /// Makes a problem ready.
    ///
    /// # Errors
    /// [`ProblemError`] when an outline is no simple polygon, a number is not finite, or a fixed part is not there.
    pub fn new(problem: &Problem, options: Options) -> Result<Self, ProblemError> {
        let stock = Stock::new(problem)?;
        let mut floor = Floor::new(&stock);
        let untangle = Untangle::new(&stock, &mut floor);
        let ways = first_ways(&stock);
        let order = order(&stock, &ways);
        let plan = plan_of(&stock, &floor);
        let best = Best {
            score: Score::of(problem, &plan),
            plan,
            poses: floor.poses(),
        };
        Ok(Self {
            chance: Chance::new(options.seed),
            untangle,
            floor,
            ways,
            order,
            stage: Stage::Start(0),
            steps_done: 0,
            most: 0.0,
            best,
            options,
            stock,
        })
    }

    /// The problem that is searched.
    #[must_use]
    pub fn problem(&self) -> &Problem {
        &self.stock.problem
    }

    /// The best plan so far: every part in it lies right, whatever the moment.
    #[must_use]
    pub fn best(&self) -> &Plan {
        &self.best.plan
    }

    /// Its score.
    #[must_use]
    pub fn score(&self) -> &Score {
        &self.best.score
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> Progress {
        let of = self.stock.problem.items.len();
        let placed = of - self.best.plan.not_placed.len();
        Progress {
            steps_done: self.steps_done,
            placed,
            of,
            seams_added: self.best.score.seams_added,
            rooms_opened: self.best.score.rooms_opened,
            overlap: if self.most > 0.0 {
                (self.untangle.total() / self.most).min(1.0)
            } else {
                0.0
            },
            complete: placed == of,
        }
    }

    /// Makes steps until [`Options::steps`] are done.
    pub fn run(&mut self) -> Progress {
        self.run_for(self.options.steps.saturating_sub(self.steps_done))
    }

    /// Makes some more steps.
    pub fn run_for(&mut self, steps: u64) -> Progress {
        for _ in 0..steps {
            self.step_quietly();
        }
        self.progress()
    }

    /// Makes one more step.
    pub fn step(&mut self) -> Progress {
        self.run_for(1)
    }

    fn step_quietly(&mut self) {
        self.steps_done += 1;
        match self.stage {
            Stage::Start(done) => self.start(done),
            Stage::Untangle => self.untangle(),
        }
    }

    fn start(&mut self, done: usize) {
        if let Some(&body) = self.order.get(done) {
            let place =
                start::free_place(&self.stock, &mut self.floor, &mut self.chance, body, &[]);
            if let Some(pose) = place {
                self.floor.put(&self.stock, body, pose);
            }
            self.stage = Stage::Start(done + 1);
            return;
        }
        self.record();
        for body in self.order.clone() {
            if self.floor.pose(body).is_none()
                && let Some(found) =
                    start::least_bad(&self.stock, &mut self.floor, &mut self.chance, body, &[])
            {
                self.floor.put(&self.stock, body, found.pose);
            }
        }
        self.begin();
    }

    fn begin(&mut self) {
        self.untangle.count(&self.stock, &mut self.floor);
        self.untangle.forget();
        self.most = self.untangle.total();
        self.stage = Stage::Untangle;
    }

    fn untangle(&mut self) {
        match self
            .untangle
            .step(&self.stock, &mut self.floor, &mut self.chance)
        {
            Round::Going => {}
            Round::Clear => {
                self.record();
            }
            Round::Over => {
                let (_, poses, waited) = self.untangle.least();
                if waited > PATIENCE {
                    let poses = poses.to_vec();
                    self.floor.restore(&self.stock, &poses);
                    self.begin();
                }
            }
        }
    }

    /// Proves what lies on the floor and keeps it when it is better than the best so far. Bodies that overlap in f64 are told to the
    /// weights.
    fn record(&mut self) -> bool {
        let plan = plan_of(&self.stock, &self.floor);
        if !self.untangle.proved(&self.stock, &plan) {
            return false;
        }
        let score = Score::of(&self.stock.problem, &plan);
        if score.against(&self.best.score) == Ordering::Greater {
            self.best = Best {
                plan,
                score,
                poses: self.floor.poses(),
            };
        }
        true
    }
}
