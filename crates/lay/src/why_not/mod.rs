//! Why does it not fit, and what would help: short trials, each with one thing given in on.
//!
//! Proofs come first. What is not proved impossible is "not found in so many steps". A trial is a [`Job`](crate::Job) on what is to be laid
//! after the change; the caller makes that, because it needs the whole way from the project ([`Remade`]).

mod answer;
mod extra;
mod ladders;
mod nearest;
mod proof;
mod trials;

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::cloth::Offcut;
use petitoile_core::edit::FittingEdit;
use petitoile_core::lay_plan::{CopyRef, LayPlan};
use petitoile_core::laying::{Laying, ToLay};

use crate::job::lies;
pub use answer::{Answer, Change, Concession, Impossible, Nearest, NotLaid};
pub use ladders::larger_offcut;
use trials::Trials;

/// What is asked.
#[derive(Debug, Clone)]
pub struct Question {
    /// Name of the fitting, for the remedies.
    pub fitting: String,
    /// What is to be laid.
    pub to_lay: ToLay,
    /// The offcuts.
    pub offcuts: Vec<Arc<Offcut>>,
    /// The best plan that was found; what is pinned or cut in it stays.
    pub plan: LayPlan,
    /// How pieces are laid now.
    pub laying: Laying,
    /// The seam allowance now.
    pub allowance: Mm,
    /// Steps of each trial.
    pub steps: u64,
    /// Seed of each trial.
    pub seed: u64,
}

/// What is to be laid after a change of the fitting; `None` when the change is refused or the garment cannot be finished then.
pub type Remade = Box<dyn Fn(&FittingEdit) -> Option<ToLay> + Send>;

/// How far the trials are.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialProgress {
    /// Steps made in all trials.
    pub steps: u64,
    /// Trials that are done or no longer needed.
    pub done: usize,
    /// Trials there are at most.
    pub of: usize,
    /// The one that runs; `None` when all are done.
    pub now: Option<Change>,
}

/// The trials, as a job that goes on as long as it is asked to.
pub struct WhyNot {
    answer: Answer,
    trials: Trials,
}

impl WhyNot {
    /// Looks for proofs and for the nearest places at once; trials run when [`Self::step`] is called.
    pub fn new(question: Question, remade: Remade) -> Self {
        let not_laid: Vec<CopyRef> = question
            .to_lay
            .copies
            .iter()
            .map(|copy| copy.of.clone())
            .filter(|of| !lies(&question.to_lay, &question.plan, of))
            .collect();
        let answer = Answer {
            not_laid: not_laid
                .iter()
                .map(|of| NotLaid {
                    of: of.clone(),
                    nearest: nearest::find(&question.to_lay, &question.offcuts, &question.plan, of),
                })
                .collect(),
            impossible: if not_laid.is_empty() {
                Vec::new()
            } else {
                proof::all(&question.to_lay, &question.offcuts, &question.plan)
            },
            steps_each: question.steps,
            ..Answer::default()
        };
        let trials = Trials::new(question, remade, &answer);
        Self { answer, trials }
    }

    /// Makes steps of the trial that runs; does nothing when all are done.
    pub fn step(&mut self, steps: u64) -> TrialProgress {
        self.trials.step(steps, &mut self.answer);
        self.progress()
    }

    /// How far it is.
    pub fn progress(&self) -> TrialProgress {
        self.trials.progress()
    }

    /// What is known so far.
    pub fn answer(&self) -> &Answer {
        &self.answer
    }
}

/// The whole answer at once.
pub fn why_not(question: Question, remade: Remade) -> Answer {
    let steps = question.steps.max(1);
    let mut trials = WhyNot::new(question, remade);
    while trials.progress().now.is_some() {
        trials.step(steps);
    }
    trials.answer
}
