//! The trials one after the other. Those that differ only in how much is given in on are the rungs of a ladder: the first that
//! is enough ends it.

use std::collections::VecDeque;
use std::sync::Arc;

use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::PieceLaying;
use petitoile_core::{Degrees, Mm};

use super::extra::{self, ExtraTrial};
use super::{Answer, Change, Concession, Question, Remade, TrialProgress, proof};
use crate::job::{Job, JobOptions, lies, take_off_faulty};

/// Gaps tried, shares of the gap now.
const GAPS: [f64; 2] = [0.5, 0.0];

/// Degrees added to the turn off the grain.
const GRAINS: [f64; 3] = [1.0, 3.0, 6.0];

/// Allowances become narrower by this each time, mm, down to the least that can be sewn (common practice, no source).
const ALLOWANCE_STEP: f64 = 1.0;
const LEAST_ALLOWANCE: f64 = 3.0;

/// Larger offcuts tried, percent longer and wider.
const LARGER: [f64; 12] = [
    1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0, 75.0,
];

/// Pieces that are tried pieced or upside down at most.
const PIECES: usize = 6;

/// Steps made before it is looked whether all lies, so that it does not matter in what portions steps are asked for.
const PORTION: u64 = 20;

/// What runs.
enum Running {
    Lay(Box<Job>),
    Extra(Box<ExtraTrial>),
}

pub(super) struct Trials {
    question: Question,
    remade: Remade,
    ladders: VecDeque<VecDeque<Change>>,
    running: Option<(Change, Running)>,
    steps: u64,
    done: usize,
    of: usize,
}

impl Trials {
    pub(super) fn new(question: Question, remade: Remade, answer: &Answer) -> Self {
        let ladders = if answer.everything_lies() {
            VecDeque::new()
        } else {
            ladders(&question, answer)
        };
        let of = ladders.iter().map(VecDeque::len).sum();
        Self {
            question,
            remade,
            ladders,
            running: None,
            steps: 0,
            done: 0,
            of,
        }
    }

    pub(super) fn progress(&self) -> TrialProgress {
        let waiting = || {
            self.ladders
                .iter()
                .find_map(|ladder| ladder.front().cloned())
        };
        TrialProgress {
            steps: self.steps,
            done: self.done,
            of: self.of,
            now: self
                .running
                .as_ref()
                .map(|running| running.0.clone())
                .or_else(waiting),
        }
    }

    /// Makes at least so many steps, unless all trials end before.
    pub(super) fn step(&mut self, steps: u64, answer: &mut Answer) {
        let until = self.steps.saturating_add(steps);
        while self.steps < until {
            if self.running.is_none() {
                self.start(answer);
            }
            if self.running.is_none() {
                return;
            }
            self.portion(answer);
        }
    }

    fn portion(&mut self, answer: &mut Answer) {
        let Some((change, running)) = &mut self.running else {
            return;
        };
        let limit = self.question.steps;
        match running {
            Running::Lay(job) => {
                let left = limit.saturating_sub(job.progress().steps).min(PORTION);
                let progress = job.step(left);
                self.steps += left;
                if !progress.complete && progress.steps < limit {
                    return;
                }
                let tried = Tried {
                    placed: (progress.placed, progress.of),
                    plan: job.best(),
                };
                let change = change.clone();
                self.end(&change, tried, answer);
            }
            Running::Extra(trial) => {
                self.steps += trial.step(PORTION);
                if trial.is_done() {
                    let found = trial.found();
                    self.end_extra(found, answer);
                }
            }
        }
    }

    /// Makes the next trial ready; those that cannot be made are passed over.
    fn start(&mut self, answer: &mut Answer) {
        while let Some(ladder) = self.ladders.front_mut() {
            let Some(change) = ladder.pop_front() else {
                self.ladders.pop_front();
                continue;
            };
            if let Some(running) = self.made(&change, answer) {
                self.running = Some((change, running));
                return;
            }
            self.done += 1;
        }
    }

    fn made(&self, change: &Change, answer: &Answer) -> Option<Running> {
        let question = &self.question;
        if let Change::Extra(_) = change {
            let trial = ExtraTrial::new(question, answer)?;
            return Some(Running::Extra(Box::new(trial)));
        }
        let (to_lay, offcuts) = match change {
            Change::LargerOffcuts(percent) => {
                let larger = |offcut: &Arc<Offcut>| Arc::new(larger(offcut, *percent));
                (
                    question.to_lay.clone(),
                    question.offcuts.iter().map(larger).collect(),
                )
            }
            _ => {
                let to_lay = (self.remade)(&edit(question, change)?)?;
                (to_lay, question.offcuts.clone())
            }
        };
        if to_lay == question.to_lay && !matches!(change, Change::LargerOffcuts(_)) {
            return None;
        }
        let options = JobOptions {
            seed: question.seed,
        };
        let job = Job::new(&to_lay, &offcuts, Some(&question.plan), options).ok()?;
        Some(Running::Lay(Box::new(job)))
    }

    fn end(&mut self, change: &Change, tried: Tried, answer: &mut Answer) {
        self.running = None;
        self.done += 1;
        let placed_now = self.question.to_lay.copies.len() - answer.not_laid.len();
        if tried.placed.0 <= placed_now {
            answer.in_vain.push(change.clone());
            return;
        }
        let concession = Concession {
            change: change.clone(),
            remedy: remedy(&self.question, change),
            placed: tried.placed,
            plan: tried.plan,
        };
        let enough = concession.is_enough();
        put(answer, concession);
        if enough && let Some(ladder) = self.ladders.pop_front() {
            self.done += ladder.len();
        }
    }

    fn end_extra(&mut self, found: Option<(Arc<Offcut>, LayPlan)>, answer: &mut Answer) {
        self.running = None;
        self.done += 1;
        let Some((offcut, plan)) = found else {
            return;
        };
        let to_lay = &self.question.to_lay;
        let mut offcuts = self.question.offcuts.clone();
        offcuts.push(Arc::clone(&offcut));
        let mut plan = plan;
        take_off_faulty(to_lay, &offcuts, &mut plan);
        let lie = to_lay
            .copies
            .iter()
            .filter(|copy| lies(to_lay, &plan, &copy.of))
            .count();
        let change = Change::Extra(Arc::clone(&offcut));
        if lie <= to_lay.copies.len() - answer.not_laid.len() {
            answer.in_vain.push(change);
            return;
        }
        put(
            answer,
            Concession {
                change,
                remedy: Some(Edit::PutOffcut(offcut)),
                placed: (lie, to_lay.copies.len()),
                plan,
            },
        );
    }
}

/// What came of a trial.
struct Tried {
    placed: (usize, usize),
    plan: LayPlan,
}

/// Keeps a concession; of a ladder only the last rung, and what is enough before what is not.
fn put(answer: &mut Answer, concession: Concession) {
    let same = std::mem::discriminant(&concession.change);
    let ladder = !matches!(concession.change, Change::Pieced(_) | Change::UpsideDown(_));
    if ladder {
        answer
            .concessions
            .retain(|other| std::mem::discriminant(&other.change) != same);
        answer
            .in_vain
            .retain(|other| std::mem::discriminant(other) != same);
    }
    let at = if concession.is_enough() {
        answer
            .concessions
            .iter()
            .take_while(|other| other.is_enough())
            .count()
    } else {
        answer.concessions.len()
    };
    answer.concessions.insert(at, concession);
}

/// Everything that is tried: what costs least first. Where there is too little cloth, only what makes pieces smaller or cloth
/// larger can help.
fn ladders(question: &Question, answer: &Answer) -> VecDeque<VecDeque<Change>> {
    let mut ladders = VecDeque::new();
    if answer.impossible.is_empty() {
        ladders.push_back(gaps(question));
        ladders.push_back(grains(question));
        for piece in pieces(question, answer) {
            ladders.push_back([Change::Pieced(piece.clone())].into());
            ladders.push_back([Change::UpsideDown(piece)].into());
        }
    }
    ladders.push_back(allowances(question));
    let least = proof::least_growth(&question.to_lay, &question.offcuts, &question.plan);
    ladders.push_back(
        LARGER
            .into_iter()
            .filter(|percent| *percent >= least)
            .map(Change::LargerOffcuts)
            .collect(),
    );
    if let Some(offcut) = extra::first_guess(question, answer) {
        ladders.push_back([Change::Extra(offcut)].into());
    }
    ladders
}

fn gaps(question: &Question) -> VecDeque<Change> {
    let from = question.laying.gap;
    GAPS.into_iter()
        .map(|share| Mm(from.0 * share))
        .filter(|to| to.0 < from.0)
        .map(|to| Change::Gap { from, to })
        .collect()
}

fn grains(question: &Question) -> VecDeque<Change> {
    let from = question.laying.grain_tolerance;
    GRAINS
        .into_iter()
        .map(|more| Change::Grain {
            from,
            to: Degrees(from.0 + more),
        })
        .collect()
}

fn allowances(question: &Question) -> VecDeque<Change> {
    let from = question.allowance;
    let mut rungs = VecDeque::new();
    let mut to = from.0 - ALLOWANCE_STEP;
    while to >= LEAST_ALLOWANCE {
        rungs.push_back(Change::Allowance { from, to: Mm(to) });
        to -= ALLOWANCE_STEP;
    }
    rungs
}

/// Pieces that do not lie, then the largest others.
fn pieces(question: &Question, answer: &Answer) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let mut others: Vec<(f64, &String)> = question
        .to_lay
        .copies
        .iter()
        .map(|copy| (crate::bridge::area(&copy.whole.outline), &copy.of.piece))
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    let left = answer.not_laid.iter().map(|left| &left.of.piece);
    for name in left.chain(others.into_iter().map(|other| other.1)) {
        if !names.contains(name) && names.len() < PIECES {
            names.push(name.clone());
        }
    }
    names
}

/// The change of the fitting that a trial stands for.
fn edit(question: &Question, change: &Change) -> Option<FittingEdit> {
    let of_piece = |piece: &String| {
        let chosen = question.laying.pieces.get(piece).copied();
        chosen.unwrap_or_default()
    };
    match change {
        Change::Allowance { to, .. } => Some(FittingEdit::SetSeamAllowance(*to)),
        Change::Gap { to, .. } => Some(FittingEdit::SetLayGap(*to)),
        Change::Grain { to, .. } => Some(FittingEdit::SetGrainTolerance(*to)),
        Change::Pieced(piece) => {
            let laying = PieceLaying {
                seam_on_fold: Some(true),
                patch: Some(true),
                join: Some(true),
                ..of_piece(piece)
            };
            Some(FittingEdit::SetPieceLaying(piece.clone(), Some(laying)))
        }
        Change::UpsideDown(piece) => {
            let laying = PieceLaying {
                upside_down: Some(true),
                ..of_piece(piece)
            };
            Some(FittingEdit::SetPieceLaying(piece.clone(), Some(laying)))
        }
        Change::LargerOffcuts(_) | Change::Extra(_) => None,
    }
}

fn remedy(question: &Question, change: &Change) -> Option<Edit> {
    Some(Edit::Fitting {
        fitting: question.fitting.clone(),
        change: edit(question, change)?,
    })
}

/// The same offcut, longer and wider about its middle, with its blemishes.
fn larger(offcut: &Offcut, percent: f64) -> Offcut {
    let count = offcut.outline.len().max(1) as f64;
    let sum = offcut
        .outline
        .iter()
        .fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    let middle = (sum / count).to_point();
    let scale = 1.0 + percent / 100.0;
    let scaled = |points: &[Point]| {
        points
            .iter()
            .map(|p| middle + (*p - middle) * scale)
            .collect()
    };
    let mut larger = offcut.clone();
    larger.outline = scaled(&offcut.outline);
    for blemish in &mut larger.blemishes {
        // What was cut from it stays where it is.
        if blemish.good_for > GoodFor::Inside || !blemish.is_hole {
            blemish.outline = scaled(&blemish.outline);
        }
    }
    larger
}
