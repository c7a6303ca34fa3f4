//! The trials one after the other. Those that differ only in how much is given in on are the rungs of a ladder: the first that
//! is enough ends it.

use std::collections::VecDeque;
use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::edit::Edit;
use petitoile_core::lay_plan::LayPlan;

use super::extra::ExtraTrial;
use super::ladders::{edit, is_worth_more, ladders, larger_offcut, piece_of, remedy};
use super::{Answer, Change, Concession, Question, Remade, TrialProgress, proof};
use crate::job::{Job, JobOptions, lies, take_off_faulty};

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
    larger: Larger,
}

/// How much larger offcuts must be, as far as is known: percent.
struct Larger {
    /// Too little, found or proved.
    not: f64,
    /// Enough.
    enough: Option<f64>,
}

impl Larger {
    /// What is to be tried next once something is enough: whole percents halfway to what is not.
    fn between(&self) -> Option<f64> {
        let enough = self.enough?;
        let middle = f64::midpoint(self.not, enough).floor();
        (middle > self.not && middle < enough).then_some(middle)
    }
}

impl Trials {
    pub(super) fn new(question: Question, remade: Remade, answer: &Answer) -> Self {
        let ladders = if answer.everything_lies() {
            VecDeque::new()
        } else {
            ladders(&question, answer)
        };
        let of = ladders.iter().map(VecDeque::len).sum();
        let least = proof::least_growth(&question.to_lay, &question.offcuts, &question.plan);
        Self {
            larger: Larger {
                not: (least.ceil() - 1.0).max(0.0),
                enough: None,
            },
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
        if matches!(change, Change::Pieced(piece) if !is_worth_more(piece, answer)) {
            return None;
        }
        if let Change::Extra(_) = change {
            let trial = ExtraTrial::new(question, answer)?;
            return Some(Running::Extra(Box::new(trial)));
        }
        let (to_lay, offcuts) = match change {
            Change::LargerOffcuts(percent) => {
                let larger = |offcut: &Arc<Offcut>| Arc::new(larger_offcut(offcut, *percent));
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
        let enough = tried.placed.0 >= tried.placed.1;
        let was_enough = self.larger.enough.is_some();
        if let Change::LargerOffcuts(percent) = change {
            self.look_closer(*percent, enough);
            // Less than what is known to be enough was in vain, which the least that is enough says.
            if was_enough && !enough {
                return;
            }
        }
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
        put(answer, concession);
        let is_closer = matches!(change, Change::LargerOffcuts(_));
        if enough
            && !is_closer
            && let Some(ladder) = self.ladders.pop_front()
        {
            self.done += ladder.len();
        }
    }

    /// After offcuts so much larger were tried: what lies halfway between enough and not enough comes next, instead of what
    /// would be tried otherwise.
    fn look_closer(&mut self, percent: f64, enough: bool) {
        if enough {
            self.larger.enough = Some(percent);
        } else {
            self.larger.not = self.larger.not.max(percent);
        }
        if self.larger.enough.is_none() {
            return;
        }
        let others = self.ladders.pop_front().unwrap_or_default();
        self.done += others.len();
        let next: VecDeque<Change> = self
            .larger
            .between()
            .map(Change::LargerOffcuts)
            .into_iter()
            .collect();
        self.of += next.len();
        self.ladders.push_front(next);
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
    let ladder = piece_of(&concession.change).is_none();
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
