//! The search as its callers see it: one step after the other, the best plan at every moment.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, items and bays are numbered by the stock"
)]

use std::cmp::Ordering;

use super::aims::Aim;
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
    /// Every item is placed in its cheapest way, rooms are opened at their least (or one fewer was tried for long enough), and what
    /// is left over has not grown by 1 % for 3000 steps (10 000 where one room fewer might still do). Same seed and steps, same answer;
    /// it can become `false` again when more is found.
    pub settled: bool,
}

/// What the search works on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stage {
    /// Laying a first layout: this many of the order are done.
    Start(usize),
    /// Taking overlaps away.
    Untangle,
    /// Pushing what lies towards a corner: so many steps are left.
    Tidy(usize),
}

/// A search that goes on as long as it is asked to.
#[derive(Debug)]
pub struct Search {
    pub(super) stock: Stock,
    options: Options,
    pub(super) chance: Chance,
    pub(super) floor: Floor,
    pub(super) untangle: Untangle,
    /// Way taken for each item; `None` where there is none.
    pub(super) ways: Vec<Option<usize>>,
    pub(super) order: Vec<usize>,
    pub(super) stage: Stage,
    pub(super) aim: Aim,
    /// Attempts made since the best plan was found.
    pub(super) attempts: u32,
    /// Layouts that were given up: what overlapped, ways taken, where everything lay.
    pub(super) given_up: Vec<GivenUp>,
    steps_done: u64,
    most: f32,
    /// Rounds since the best valid part of the layout was last taken out.
    since_salvage: u32,
    quiet: Quiet,
    pub(super) best: Best,
}

/// A layout that was given up.
#[derive(Clone, Debug)]
pub(super) struct GivenUp {
    pub(super) overlap: f32,
    pub(super) ways: Vec<Option<usize>>,
    pub(super) poses: Vec<Option<Pose>>,
}

/// The best plan so far, with its ways and poses.
#[derive(Debug)]
pub(super) struct Best {
    pub(super) plan: Plan,
    pub(super) score: Score,
    pub(super) ways: Vec<Option<usize>>,
    pub(super) poses: Vec<Option<Pose>>,
}

/// Since when nothing much better was found.
#[derive(Clone, Copy, Debug, Default)]
struct Quiet {
    /// Steps done then.
    since: u64,
    /// Left over then, mm2.
    left_over: f64,
}

/// Left-over counts as grown from this share on.
const GROWN: f64 = 1.01;

/// Steps without anything better after which a search is settled; the second where one room fewer might still do.
const QUIET: u64 = 3_000;
const QUIET_ROOMS: u64 = 10_000;

/// Rounds without less overlap after which a layout is given up.
const PATIENCE: u32 = 100;

/// Rounds between two looks at what could be kept of a layout with overlaps.
const SALVAGE: u32 = 40;

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
            ways: ways.clone(),
            poses: floor.poses(),
        };
        Ok(Self {
            chance: Chance::new(options.seed),
            untangle,
            floor,
            ways,
            order,
            stage: Stage::Start(0),
            aim: Aim::All,
            attempts: 0,
            given_up: Vec::new(),
            steps_done: 0,
            most: 0.0,
            since_salvage: 0,
            quiet: Quiet::default(),
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
            settled: self.settled(),
        }
    }

    /// Steps made since the start.
    #[must_use]
    pub fn steps_done(&self) -> u64 {
        self.steps_done
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

    pub(super) fn complete(&self) -> bool {
        self.best.plan.not_placed.is_empty()
    }

    fn step_quietly(&mut self) {
        self.steps_done += 1;
        match self.stage {
            Stage::Start(done) => self.start(done),
            Stage::Untangle => self.untangle(),
            Stage::Tidy(left) => self.tidy(left),
        }
    }

    fn start(&mut self, done: usize) {
        if let Some(&body) = self.order.get(done) {
            let place = start::free_place(&self.stock, &mut self.floor, &mut self.chance, body);
            if let Some(pose) = place {
                self.floor.put(&self.stock, body, pose);
            }
            self.stage = Stage::Start(done + 1);
            return;
        }
        self.record();
        self.lay_the_rest();
        self.begin();
    }

    /// Lays everything that the ways taken ask for and that lies nowhere where it overlaps least.
    pub(super) fn lay_the_rest(&mut self) {
        for body in order(&self.stock, &self.ways) {
            if self.floor.pose(body).is_none()
                && let Some(found) =
                    start::least_bad(&self.stock, &mut self.floor, &mut self.chance, body)
            {
                self.floor.put(&self.stock, body, found.pose);
            }
        }
    }

    /// Begins to take the overlaps of what lies away.
    pub(super) fn begin(&mut self) {
        self.untangle.count(&self.stock, &mut self.floor);
        self.untangle.forget();
        self.most = self.untangle.total();
        self.since_salvage = 0;
        self.stage = Stage::Untangle;
    }

    fn untangle(&mut self) {
        match self
            .untangle
            .step(&self.stock, &mut self.floor, &mut self.chance)
        {
            Round::Going => {}
            Round::Clear => {
                if self.record() {
                    // What is too large for every room overlaps nothing, for it lies nowhere; another way of it may fit.
                    self.salvage();
                    let all_lie = order(&self.stock, &self.ways)
                        .iter()
                        .all(|&body| self.floor.pose(body).is_some());
                    self.next_aim(all_lie);
                }
            }
            Round::Over => {
                self.since_salvage += 1;
                let (overlap, poses, waited) = self.untangle.least();
                if waited > PATIENCE {
                    let poses = poses.to_vec();
                    self.floor.restore(&self.stock, &poses);
                    self.salvage();
                    if self.aim == Aim::All {
                        self.given_up.push(GivenUp {
                            overlap,
                            ways: self.ways.clone(),
                            poses,
                        });
                    }
                    self.next_aim(false);
                } else if waited == 0 && self.since_salvage >= SALVAGE {
                    self.salvage();
                }
            }
        }
    }

    /// Proves what lies on the floor and keeps it when it is better than the best so far. Bodies that overlap in f64 are told to the
    /// weights; then it is `false`.
    pub(super) fn record(&mut self) -> bool {
        let plan = plan_of(&self.stock, &self.floor);
        let proved = self.untangle.proved(&self.stock, &plan);
        if proved {
            self.offer(plan);
        }
        proved
    }

    /// Keeps a plan, which lies on the floor and is proved, when it is better; says whether it is.
    pub(super) fn offer(&mut self, plan: Plan) -> bool {
        let score = Score::of(&self.stock.problem, &plan);
        let is_better = score.against(&self.best.score) == Ordering::Greater;
        if is_better {
            let farther = (&score.placed, score.seams_added, score.rooms_opened)
                != (
                    &self.best.score.placed,
                    self.best.score.seams_added,
                    self.best.score.rooms_opened,
                );
            if farther {
                self.attempts = 0;
            }
            let left_over = score.left_over;
            if farther || left_over > self.quiet.left_over * GROWN {
                self.quiet = Quiet {
                    since: self.steps_done,
                    left_over,
                };
            }
            self.best = Best {
                plan,
                score,
                ways: self.ways.clone(),
                poses: self.floor.poses(),
            };
        }
        is_better
    }

    /// Is nothing more to be hoped for: everything lies, each in its cheapest way, no offcut more than needs be is opened as far as
    /// is known, and for some time nothing better was found?
    fn settled(&self) -> bool {
        if !self.complete() || !self.dear().is_empty() {
            return false;
        }
        let quiet = self.steps_done - self.quiet.since;
        // Where fewer rooms might do, more attempts at it are made.
        let wait = if self.best.score.rooms_opened > self.least_rooms() {
            QUIET_ROOMS
        } else {
            QUIET
        };
        quiet >= wait
    }

    /// Keeps what of the layout can be kept: takes out the least important items that overlap, then puts in again what finds a free
    /// place, in any of its ways. The floor is left as it was.
    fn salvage(&mut self) {
        self.since_salvage = 0;
        if self.complete() {
            return;
        }
        let (poses, ways) = (self.floor.poses(), self.ways.clone());
        let mut untangle = self.untangle.clone();
        untangle.count(&self.stock, &mut self.floor);
        let mut out = Vec::new();
        loop {
            while let Some(item) = self.least_important(&untangle) {
                for &body in self.stock.of[item].iter().flatten() {
                    if self.stock.fixed.iter().all(|fixed| fixed.0 != body) {
                        self.floor.lift(body);
                        untangle.take_out(body);
                    }
                }
                out.push(item);
            }
            let plan = plan_of(&self.stock, &self.floor);
            if untangle.proved(&self.stock, &plan) {
                break;
            }
        }
        let missing = plan_of(&self.stock, &self.floor).not_placed;
        self.fill(missing);
        let plan = plan_of(&self.stock, &self.floor);
        if untangle.proved(&self.stock, &plan) {
            self.offer(plan);
        }
        self.ways = ways;
        self.floor.restore(&self.stock, &poses);
    }

    /// Of the items that overlap, the one to take out: lowest priority, then most overlap.
    fn least_important(&self, untangle: &Untangle) -> Option<usize> {
        let overlap = |item: usize| -> f32 {
            let bodies = self.stock.of[item].iter().flatten();
            bodies
                .filter(|&&body| self.floor.pose(body).is_some())
                .map(|&body| untangle.of_body(body))
                .sum()
        };
        let movable = |item: usize| {
            let bodies = self.stock.of[item].iter().flatten();
            bodies.copied().any(|body| {
                self.floor.pose(body).is_some()
                    && self.stock.fixed.iter().all(|fixed| fixed.0 != body)
            })
        };
        (0..self.stock.of.len())
            .filter(|&item| movable(item))
            .map(|item| (item, overlap(item)))
            .filter(|(_, overlap)| *overlap > 0.0)
            .min_by(|a, b| {
                let priority = |item: usize| self.stock.problem.items[item].priority;
                priority(a.0).cmp(&priority(b.0)).then(b.1.total_cmp(&a.1))
            })
            .map(|found| found.0)
    }

    /// Puts items in where they are free, the most important and largest first.
    fn fill(&mut self, mut missing: Vec<usize>) {
        let area = |item: usize| {
            self.stock.of[item].first().map_or(0.0, |bodies| {
                bodies
                    .iter()
                    .map(|&body| self.stock.bodies[body].area)
                    .sum::<f32>()
            })
        };
        missing.sort_by(|&a, &b| {
            let priority = |item: usize| self.stock.problem.items[item].priority;
            priority(b)
                .cmp(&priority(a))
                .then(area(b).total_cmp(&area(a)))
        });
        for item in missing {
            for way in self.ways_by_cost(item) {
                self.lift_item(item);
                let bodies = self.stock.of[item][way].clone();
                let lies = bodies.iter().all(|&body| {
                    if self.floor.pose(body).is_some() {
                        return true;
                    }
                    let place =
                        start::free_place(&self.stock, &mut self.floor, &mut self.chance, body);
                    if let Some(pose) = place {
                        self.floor.put(&self.stock, body, pose);
                    }
                    place.is_some()
                });
                if lies {
                    self.ways[item] = Some(way);
                    break;
                }
                self.lift_item(item);
            }
        }
    }
}
