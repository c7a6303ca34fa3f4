//! Laying as a job that goes on as long as it is asked to, with the best plan at every moment.
//!
//! ```
//! use std::sync::Arc;
//! use petitoile_core::cloth::Offcut;
//! use petitoile_core::laying::ToLay;
//! use petitoile_lay::{Job, JobOptions};
//! # fn all(to_lay: &ToLay, offcuts: &[Arc<Offcut>]) -> Result<(), petitoile_lay::LayError> {
//! let mut job = Job::new(to_lay, offcuts, None, JobOptions { seed: 1 })?;
//! while !job.progress().complete && job.progress().steps < 20_000 {
//!     job.step(100);
//! }
//! let plan = job.best();
//! # Ok(()) }
//! ```

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::{ToLay, words};
use thiserror::Error;

use crate::bridge::Bridge;
use crate::check_plan::check_plan;
use crate::lying::shapes_of;
use crate::made_later::{MadeLater, Table};
use crate::needed_length::Bolt;
use crate::search::{self, ProblemError, Search, StripSearch, What};

/// Settings of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JobOptions {
    /// Where chance starts: same seed and number of steps, same plan.
    ///
    /// Default: 1
    pub seed: u64,
}

impl Default for JobOptions {
    fn default() -> Self {
        Self { seed: 1 }
    }
}

/// How far a job is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Steps made since the start.
    pub steps: u64,
    /// Copies that lie in the best plan, all parts of them.
    pub placed: usize,
    /// Copies there are.
    pub of: usize,
    /// Seams that piecing adds in the best plan.
    pub seams_added: usize,
    /// Offcuts it uses that nothing has been cut from.
    pub offcuts_opened: usize,
    /// Left-over that is still of use: the largest free rectangle along the grain of every offcut, together, mm2.
    pub usable_left_mm2: f64,
    /// What still overlaps in the attempt being worked on: 1 at its start, 0 when it is clear.
    pub overlap: f32,
    /// Everything lies.
    pub complete: bool,
    /// Everything lies without a seam that might be saved, offcuts are opened at their least as far as is known, and for 3000 steps
    /// (10 000 where one offcut fewer might still do) what is left over has not grown by 1 %: a caller that waits may stop. Same
    /// seed and number of steps, same answer.
    pub settled: bool,
}

impl Progress {
    /// "12 of 14 lie, 1 seam added, 2 offcuts used".
    pub fn words(&self) -> String {
        let mut words = format!("{} of {} lie", self.placed, self.of);
        if self.seams_added > 0 {
            words.push_str(&format!(", {} added", counted(self.seams_added, "seam")));
        }
        if self.offcuts_opened > 0 {
            words.push_str(&format!(
                ", {} opened",
                counted(self.offcuts_opened, "offcut")
            ));
        }
        words
    }
}

/// "1 seam", "2 seams".
pub(crate) fn counted(number: usize, thing: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{plural}")
}

/// Why nothing can be laid.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LayError {
    /// No copy of any piece is to be laid.
    #[error("there is nothing to lay: no piece has a copy that is cut; give a piece a copy first")]
    NothingToLay,
    /// No offcut.
    #[error("there is no cloth to lay on; add an offcut first")]
    NoCloth,
    /// The outline of an offcut or of a place on it cannot be used.
    #[error("{offcut}, {part}: {why}; draw it anew")]
    Offcut {
        /// Name of the offcut.
        offcut: String,
        /// "its outline", "hole 1", "blemish 2".
        part: String,
        /// What is wrong.
        why: String,
    },
    /// A number that is none.
    #[error("{0} is no usable number; type it again")]
    Number(String),
}

/// A copy, or a way of piecing it, that cannot be searched because of its outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Unusable {
    /// Which copy.
    pub of: CopyRef,
    /// Is it the whole copy, or only a way of piecing it?
    pub whole: bool,
    /// What is wrong with its cut line.
    pub why: String,
}

/// A search for a plan.
#[derive(Debug)]
pub struct Job {
    to_lay: ToLay,
    offcuts: Vec<Arc<Offcut>>,
    bridge: Bridge,
    search: Search,
    unusable: Vec<Unusable>,
    seed: u64,
    before: LayPlan,
    /// What the search had when `best` was made, and the plan it gave.
    known: search::Plan,
    best: LayPlan,
    /// Copies of the last plan that the check took off again.
    taken_off: usize,
    /// Ways to piece that are made from what the best plan leaves over.
    made_later: MadeLater,
}

impl Job {
    /// Makes a job ready. What is pinned or cut in `before` stays exactly; everything else is laid anew.
    ///
    /// # Errors
    /// [`LayError`] when there is nothing to lay or to lay on, or when an offcut cannot be used.
    pub fn new(
        to_lay: &ToLay,
        offcuts: &[Arc<Offcut>],
        before: Option<&LayPlan>,
        options: JobOptions,
    ) -> Result<Self, LayError> {
        if to_lay.copies.is_empty() {
            return Err(LayError::NothingToLay);
        }
        if offcuts.is_empty() {
            return Err(LayError::NoCloth);
        }
        let before = before.cloned().unwrap_or_default();
        let mut bridge = Bridge::new(to_lay, offcuts, &before);
        let (search, unusable) = ready(&mut bridge, options.seed)?;
        let mut job = Self {
            to_lay: to_lay.clone(),
            offcuts: offcuts.to_vec(),
            known: search.best().clone(),
            best: LayPlan::default(),
            taken_off: 0,
            made_later: MadeLater::default(),
            bridge,
            search,
            unusable,
            seed: options.seed,
            before,
        };
        job.prove();
        Ok(job)
    }

    /// Makes steps; a step lays one part elsewhere and takes about 0.1 to 1 ms.
    pub fn step(&mut self, steps: u64) -> Progress {
        let mut left = steps;
        while left > 0 {
            let next = MadeLater::next(self.search.steps_done());
            let now = next.min(left);
            self.search.run_for(now);
            left -= now;
            if now == next {
                let table = &mut Table {
                    offcuts: &self.offcuts,
                    bridge: &mut self.bridge,
                    search: &mut self.search,
                };
                self.made_later.look(&self.to_lay, &self.before, table);
            }
        }
        if self.known != *self.search.best() {
            self.known = self.search.best().clone();
            self.prove();
        }
        self.progress()
    }

    /// How far it is.
    pub fn progress(&self) -> Progress {
        let now = self.search.progress();
        let placed = self
            .to_lay
            .copies
            .iter()
            .filter(|copy| self.lies(&copy.of))
            .count();
        let of = self.to_lay.copies.len();
        Progress {
            steps: now.steps_done,
            placed,
            of,
            seams_added: seams_added(&self.best),
            offcuts_opened: now.rooms_opened,
            usable_left_mm2: self.search.score().left_over,
            overlap: now.overlap,
            complete: placed == of,
            settled: placed == of && now.settled,
        }
    }

    /// The best plan so far. It has passed [`check_plan`]: what has a fault was taken off, except what is pinned or cut, which
    /// stays as it is.
    pub fn best(&self) -> LayPlan {
        let mut best = self.best.clone();
        best.steps = self.search.progress().steps_done;
        best
    }

    /// Copies that cannot be laid because of their outlines.
    pub fn unusable(&self) -> &[Unusable] {
        &self.unusable
    }

    /// Copies of the best plan that the search took for placed and the check took off again: 0 unless one of them is wrong.
    pub fn taken_off(&self) -> usize {
        self.taken_off
    }

    /// Do all parts of a copy lie?
    fn lies(&self, of: &CopyRef) -> bool {
        lies(&self.to_lay, &self.best, of)
    }

    fn prove(&mut self) {
        let mut plan = self.told();
        self.taken_off = take_off_faulty(&self.to_lay, &self.offcuts, &mut plan);
        without_idle_piecings(&mut plan);
        self.best = plan;
    }

    /// What the search found, as a plan.
    fn told(&self) -> LayPlan {
        let mut plan = LayPlan {
            seed: self.seed,
            steps: 0,
            placed: Vec::new(),
            ..LayPlan::default()
        };
        let found = &self.known.placed;
        for one in found {
            plan.placed.extend(self.bridge.to_plan(one));
            let way = self
                .bridge
                .items
                .get(one.item)
                .and_then(|item| Some((&item.of, item.ways.get(one.way)?.piecing.as_ref()?)));
            if let Some((of, piecing)) = way
                && plan.piecing(of).is_none()
            {
                plan.piecings.push(piecing.clone());
            }
        }
        // What the maker chose is kept for when the copy finds a place.
        for piecing in &self.before.piecings {
            let now = plan.piecing(&piecing.of);
            if self.before.chosen(&piecing.of).is_none() || now.is_some_and(|now| now != piecing) {
                continue;
            }
            if now.is_none() {
                plan.piecings.push(piecing.clone());
            }
            plan.chosen.push(piecing.of.clone());
        }
        // What is kept but not all of whose parts found a place, and what was cut from offcuts that are no longer there.
        for placed in self.before.placed.iter().filter(|placed| stays(placed)) {
            let there = plan.placed(&placed.part_ref()).is_some();
            let kept = self.bridge.kept.contains(placed) || placed.as_cut.is_some();
            if kept && !there {
                plan.placed.push(placed.clone());
                let piecing = self.before.piecing(&placed.of());
                if let Some(piecing) = piecing.filter(|piecing| plan.piecing(&piecing.of).is_none())
                {
                    plan.piecings.push(piecing.clone());
                }
            }
        }
        plan
    }
}

/// Takes what has a fault off a plan, except what is pinned or cut; how many parts that were.
pub(crate) fn take_off_faulty(
    to_lay: &ToLay,
    offcuts: &[Arc<Offcut>],
    plan: &mut LayPlan,
) -> usize {
    let found = plan.placed.len();
    // Every round takes something off, so it ends.
    for _ in 0..=found {
        let faulty: Vec<CopyRef> = check_plan(to_lay, offcuts, plan)
            .into_iter()
            .map(|fault| fault.part.of)
            .collect();
        let before = plan.placed.len();
        plan.placed
            .retain(|placed| stays(placed) || !faulty.contains(&placed.of()));
        if plan.placed.len() == before {
            break;
        }
    }
    found - plan.placed.len()
}

/// Is it never moved?
fn stays(placed: &Placed) -> bool {
    placed.pinned || placed.as_cut.is_some()
}

/// Do all parts of a copy lie in this plan?
pub fn lies(to_lay: &ToLay, plan: &LayPlan, of: &CopyRef) -> bool {
    let parts = to_lay
        .copies
        .iter()
        .find(|copy| copy.of == *of)
        .map_or(0, |copy| shapes_of(copy, plan).len());
    let lies = |part: usize| {
        plan.placed
            .iter()
            .any(|placed| placed.part == part && placed.of() == *of)
    };
    parts > 0 && (0..parts).all(lies)
}

/// Seams that the piecings of a plan add.
pub fn seams_added(plan: &LayPlan) -> usize {
    plan.piecings
        .iter()
        .map(|piecing| piecing.lines.len())
        .sum()
}

fn without_idle_piecings(plan: &mut LayPlan) {
    let placed: Vec<CopyRef> = plan.placed.iter().map(Placed::of).collect();
    let chosen = &plan.chosen;
    plan.piecings
        .retain(|piecing| placed.contains(&piecing.of) || chosen.contains(&piecing.of));
}

/// Makes the search; ways whose outlines cannot be searched are left out and told.
fn ready(bridge: &mut Bridge, seed: u64) -> Result<(Search, Vec<Unusable>), LayError> {
    made_ready(bridge, |bridge| {
        Search::new(&bridge.problem, with_seed(seed))
    })
}

/// The same for a length of cloth.
pub(crate) fn strip_ready(
    bridge: &mut Bridge,
    bolt: &Bolt,
) -> Result<(StripSearch, Vec<Unusable>), LayError> {
    made_ready(bridge, |bridge| {
        let strip = search::StripProblem {
            items: bridge.problem.items.clone(),
            width: bolt.width.0,
            gap: bridge.problem.gap,
            margin: bolt.margin.0,
            grain: search::Grain {
                angle_deg: 90.0,
                doubt_deg: 0.0,
            },
        };
        StripSearch::new(&strip, with_seed(bolt.seed))
    })
}

fn with_seed(seed: u64) -> search::Options {
    search::Options {
        seed,
        ..search::Options::default()
    }
}

fn made_ready<T>(
    bridge: &mut Bridge,
    make: impl Fn(&Bridge) -> Result<T, ProblemError>,
) -> Result<(T, Vec<Unusable>), LayError> {
    let mut unusable = Vec::new();
    loop {
        match make(bridge) {
            Ok(search) => return Ok((search, unusable)),
            Err(error) => match left_out(bridge, &error) {
                Some(left_out) => unusable.push(left_out),
                None => return Err(told_error(bridge, &error)),
            },
        }
    }
}

/// Takes the way out that an error is about, if it is about one.
fn left_out(bridge: &mut Bridge, error: &ProblemError) -> Option<Unusable> {
    let (item, way, why) = match error {
        ProblemError::Outline {
            what: What::Part(item, way, _),
            why,
        } => (*item, *way, why.to_string()),
        ProblemError::Number(What::Part(item, way, _)) => {
            (*item, *way, "a number of it cannot be used".to_owned())
        }
        _ => return None,
    };
    let of = bridge.items.get(item)?;
    let made = Unusable {
        of: of.of.clone(),
        whole: of.ways.get(way)?.piecing.is_none(),
        why,
    };
    bridge.without_way(item, way);
    Some(made)
}

fn told_error(bridge: &Bridge, error: &ProblemError) -> LayError {
    let offcut = |room: usize, part: String, why: String| LayError::Offcut {
        offcut: bridge
            .rooms
            .get(room)
            .map_or_else(String::new, |room| room.name.clone()),
        part,
        why,
    };
    match error {
        ProblemError::Outline { what, why } => match *what {
            What::Room(room) => offcut(room, "its outline".to_owned(), why.to_string()),
            What::Hole(room, hole) => offcut(room, format!("hole {}", hole + 1), why.to_string()),
            What::Zone(room, zone) => {
                offcut(room, format!("blemish {}", zone + 1), why.to_string())
            }
            _ => LayError::Number(what.to_string()),
        },
        ProblemError::Number(What::Room(room)) => offcut(
            *room,
            "its margin or grain".to_owned(),
            "it is no usable number".to_owned(),
        ),
        ProblemError::Number(what) => LayError::Number(what.to_string()),
        ProblemError::Fixed(fixed) => {
            let name = bridge
                .kept
                .get(*fixed)
                .map_or_else(String::new, |kept| words::copy(&kept.of()));
            LayError::Number(format!("the place of {name}"))
        }
    }
}
