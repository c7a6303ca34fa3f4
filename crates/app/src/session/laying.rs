//! The search for where pieces lie: beside the window, with the best so far at every moment; can be held and ended.
//!
//! What it finds is taken over as one edit. An answer to a question that the project no longer asks is told and dropped.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use petitoile_core::cloth::Offcut;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::ToLay;
use petitoile_core::{LengthUnit, Mm};
use petitoile_lay::{Job, JobOptions, Progress, better};

use super::Session;
use crate::background::Background;
use crate::command::LayAsk;
use crate::lay_work::{self, Asker, Needed, STEPS_EACH, Why};

/// How long a held search sleeps before it looks again.
const NAP: Duration = Duration::from_millis(30);
/// How long it works before it tells how far it is.
const TELL_EVERY: Duration = Duration::from_millis(50);

/// The search for where pieces lie.
pub struct Laying {
    background: Background<LayQuestion, (u64, LayAnswer)>,
    /// How many questions were asked: an answer to an older one is dropped.
    count: u64,
    control: Arc<Control>,
    /// What is being worked on.
    asked: Option<Asked>,
    /// How the last search ended.
    pub ended: Option<Ended>,
    /// Why not everything fits, and what would help.
    pub why: Option<Why>,
    /// A search that begins once the pieces are worked out anew: seed and steps.
    then: Option<(u64, u64)>,
    /// How much cloth is needed.
    pub needed: Option<Needed>,
}

/// What the worker and the window share while it works.
#[derive(Default)]
struct Control {
    held: AtomicBool,
    ended: AtomicBool,
    now: Mutex<Option<Now>>,
    trying: Mutex<String>,
}

/// How far a search is.
#[derive(Debug, Clone, PartialEq)]
pub struct Now {
    /// In numbers.
    pub progress: Progress,
    /// The best plan so far.
    pub best: Arc<LayPlan>,
    /// How long it has worked, without the time it was held.
    pub worked: Duration,
}

/// How a search ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Ended {
    /// Of which fitting.
    pub fitting: String,
    /// In numbers.
    pub progress: Progress,
    /// How long it worked.
    pub worked: Duration,
    /// What is to be said of it.
    pub words: String,
    /// The plan that was kept then: what is said holds for no other.
    pub plan: Option<LayPlan>,
}

/// A question, and what it was asked of.
struct Asked {
    what: What,
    fitting: String,
    to_lay: Arc<ToLay>,
    offcuts: Arc<Vec<Arc<Offcut>>>,
    before: Option<LayPlan>,
}

/// What is being worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A plan.
    Plan,
    /// What would make everything fit.
    WhyNot,
    /// How much cloth is needed.
    Needed,
}

/// What the worker is asked.
struct LayQuestion {
    number: u64,
    what: Task,
    to_lay: Arc<ToLay>,
    offcuts: Arc<Vec<Arc<Offcut>>>,
    before: Option<LayPlan>,
    control: Arc<Control>,
}

enum Task {
    Plan { seed: u64, steps: u64 },
    WhyNot(Asker),
    Needed(Mm, LengthUnit),
}

enum LayAnswer {
    Plan(Result<(Now, Vec<String>), String>),
    WhyNot(Result<Why, String>),
    Needed(Result<Needed, String>),
}

impl Laying {
    /// A worker beside the window; `wake` is called when an answer has come.
    pub fn beside(wake: impl Fn() + Send + 'static) -> Self {
        Self::with(Background::new("laying", answer, wake))
    }

    /// Works everything out before the next line: for tests.
    pub fn at_once() -> Self {
        Self::with(Background::at_once(answer))
    }

    fn with(background: Background<LayQuestion, (u64, LayAnswer)>) -> Self {
        Self {
            background,
            count: 0,
            control: Arc::default(),
            asked: None,
            ended: None,
            why: None,
            then: None,
            needed: None,
        }
    }

    /// What is being tried, while it is looked for what would help.
    pub fn trying(&self) -> String {
        self.control.trying()
    }

    /// What is being worked on.
    pub fn busy_with(&self) -> Option<What> {
        let asked = self.asked.as_ref()?;
        self.background.is_waiting().then_some(asked.what)
    }

    /// Is it held?
    pub fn is_held(&self) -> bool {
        self.control.held.load(Ordering::Relaxed)
    }

    /// How far the search for a plan of this fitting is.
    pub fn now(&self, fitting: &str) -> Option<Now> {
        let asked = self.asked.as_ref()?;
        if self.busy_with() != Some(What::Plan) || asked.fitting != fitting {
            return None;
        }
        self.control.shared()
    }

    /// Ends what is being worked on and forgets what was found: another project is on the table.
    pub fn forget(&mut self) {
        self.control.end();
        self.asked = None;
        self.ended = None;
        self.why = None;
        self.then = None;
        self.needed = None;
    }

    fn ask(&mut self, what: What, fitting: &str, mut question: LayQuestion) {
        self.count += 1;
        question.number = self.count;
        self.control.end();
        self.control = question.control.clone();
        self.asked = Some(Asked {
            what,
            fitting: fitting.to_owned(),
            to_lay: question.to_lay.clone(),
            offcuts: question.offcuts.clone(),
            before: question.before.clone(),
        });
        self.background.ask(question);
    }
}

impl Drop for Laying {
    fn drop(&mut self) {
        self.control.end();
    }
}

impl Control {
    fn end(&self) {
        self.ended.store(true, Ordering::Relaxed);
    }

    fn is_ended(&self) -> bool {
        self.ended.load(Ordering::Relaxed)
    }

    fn shared(&self) -> Option<Now> {
        self.now
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    fn tell(&self, now: Now) {
        *self.now.lock().unwrap_or_else(PoisonError::into_inner) = Some(now);
    }

    fn trying(&self) -> String {
        let trying = self.trying.lock();
        trying.unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn try_next(&self, words: String) {
        *self.trying.lock().unwrap_or_else(PoisonError::into_inner) = words;
    }

    /// Sleeps while it is held.
    fn wait(&self) {
        while self.held.load(Ordering::Relaxed) && !self.is_ended() {
            std::thread::sleep(NAP);
        }
    }
}

fn answer(question: LayQuestion) -> (u64, LayAnswer) {
    let answer = match &question.what {
        Task::Plan { seed, steps } => LayAnswer::Plan(searched(&question, *seed, *steps)),
        Task::WhyNot(asker) => {
            let stop = || question.control.is_ended();
            LayAnswer::WhyNot(asker.ask(
                &question.to_lay,
                &question.offcuts,
                question.before.as_ref(),
                stop,
                |words| question.control.try_next(words),
            ))
        }
        Task::Needed(width, unit) => {
            LayAnswer::Needed(lay_work::needed(&question.to_lay, *width, *unit, || {
                question.control.is_ended()
            }))
        }
    };
    (question.number, answer)
}

/// Steps until it is ended or has made as many as it may; the best plan, and what cannot be laid at all.
fn searched(question: &LayQuestion, seed: u64, steps: u64) -> Result<(Now, Vec<String>), String> {
    let begun = Instant::now();
    let options = JobOptions { seed };
    let mut job = Job::new(
        &question.to_lay,
        &question.offcuts,
        question.before.as_ref(),
        options,
    )
    .map_err(|why| why.to_string())?;
    let mut worked = begun.elapsed();
    let mut chunk = 8;
    loop {
        let progress = job.progress();
        let now = Now {
            progress,
            best: Arc::new(job.best()),
            worked,
        };
        question.control.tell(now.clone());
        let left = steps.saturating_sub(progress.steps);
        // What has settled is not searched on: nothing better has come for long.
        if left == 0 || progress.settled || question.control.is_ended() {
            let unusable = job.unusable().iter();
            let told = unusable
                .filter(|one| one.whole)
                .map(|one| format!("{}: {}", petitoile_lay::lying::copy_name(&one.of), one.why));
            return Ok((now, told.collect()));
        }
        question.control.wait();
        let from = Instant::now();
        let before = progress.steps;
        let after = job.step(chunk.min(left)).steps;
        let took = from.elapsed();
        worked += took;
        if after == before {
            // It has nothing more to do.
            return Ok((
                Now {
                    progress: job.progress(),
                    best: Arc::new(job.best()),
                    worked,
                },
                Vec::new(),
            ));
        }
        chunk = if took < TELL_EVERY {
            chunk.saturating_mul(2).min(10_000)
        } else {
            (chunk / 2).max(1)
        };
    }
}

impl Session {
    /// What is asked of the search.
    pub(super) fn lay(&mut self, ask: LayAsk) {
        match ask {
            LayAsk::Pause => self.laying.control.held.store(true, Ordering::Relaxed),
            LayAsk::GoOn => self.laying.control.held.store(false, Ordering::Relaxed),
            LayAsk::Stop => self.laying.control.end(),
            LayAsk::LayOut { seed, steps } => {
                self.laying.ended = None;
                self.laying.why = None;
                self.ask_laying(What::Plan, |_| Some(Task::Plan { seed, steps }));
            }
            LayAsk::WhyNot { seed, steps } => self.ask_laying(What::WhyNot, |session| {
                Some(Task::WhyNot(Asker {
                    project: session.project().clone(),
                    fitting: session.fitting.clone()?,
                    seed,
                    steps,
                }))
            }),
            LayAsk::GiveIn { edit, seed, steps } => {
                let before = self.project.clone();
                self.edit(*edit);
                if !Arc::ptr_eq(&before, &self.project) {
                    self.laying.then = Some((seed, steps));
                }
            }
            LayAsk::Needed(width) => {
                let unit = self.project().unit;
                self.ask_laying(What::Needed, |_| Some(Task::Needed(width, unit)));
            }
        }
    }

    fn ask_laying(&mut self, what: What, task: impl FnOnce(&Self) -> Option<Task>) {
        let Some((fitting, worked)) = self
            .project
            .fitting(self.fitting.as_deref().unwrap_or(""))
            .cloned()
            .zip(self.work.done.clone())
        else {
            self.message = Some("There is nothing to lay yet: open a fitting first.".to_owned());
            return;
        };
        let Some(task) = task(self) else { return };
        let question = LayQuestion {
            number: 0,
            what: task,
            to_lay: worked.beyond.cloth.to_lay.clone(),
            offcuts: Arc::new(worked.beyond.cloth.offcuts.clone()),
            before: fitting.lay_plan.clone(),
            control: Arc::default(),
        };
        self.laying.ask(what, &fitting.name, question);
    }

    /// Begins the search that waited for the pieces.
    pub(super) fn lay_now(&mut self) {
        if !self.is_working()
            && let Some((seed, steps)) = self.laying.then.take()
        {
            self.lay(LayAsk::LayOut { seed, steps });
        }
    }

    fn kept_plan(&self, fitting: &str) -> Option<LayPlan> {
        self.project.fitting(fitting)?.lay_plan.clone()
    }

    /// Takes over what the search has found. Gives whether anything came.
    pub(super) fn collect_laying(&mut self) -> bool {
        let Some(answer) = self.laying.background.answer() else {
            return false;
        };
        let late = matches!(&answer, Ok((number, _)) if *number != self.laying.count);
        if late {
            return false;
        }
        let Some(asked) = self.laying.asked.take() else {
            return false;
        };
        let answer = answer.map(|(_, answer)| answer);
        match answer {
            Ok(LayAnswer::Plan(Ok((now, unusable)))) => self.take_over(&asked, now, &unusable),
            Ok(LayAnswer::WhyNot(Ok(why))) => {
                let plan = asked.before.clone();
                self.laying.why = Some(Why { plan, ..why });
            }
            Ok(LayAnswer::Needed(Ok(needed))) => self.laying.needed = Some(needed),
            Ok(
                LayAnswer::Plan(Err(why))
                | LayAnswer::WhyNot(Err(why))
                | LayAnswer::Needed(Err(why)),
            ) => self.message = Some(why),
            Err(broken) => self.message = Some(broken.to_string()),
        }
        true
    }

    fn take_over(&mut self, asked: &Asked, now: Now, unusable: &[String]) {
        let same = self.work.done.as_ref().is_some_and(|worked| {
            let cloth = &worked.beyond.cloth;
            worked.adapted.fitting.name == asked.fitting
                && *cloth.to_lay == *asked.to_lay
                && cloth.offcuts == *asked.offcuts
                && self.kept_plan(&asked.fitting) == asked.before
        });
        if !same {
            self.message = Some(
                "Pieces or cloth have changed since the search began; lay out again.".to_owned(),
            );
            return;
        }
        let mut words = ended_words(&now);
        for why in unusable {
            words.push_str(&format!(" It cannot be laid at all: {why}."));
        }
        let keeps = asked
            .before
            .as_ref()
            .filter(|plan| !plan.placed.is_empty())
            .is_some_and(|plan| !better(&asked.to_lay, &asked.offcuts, &now.best, plan));
        if keeps {
            words.push_str(" The plan that was there is as good or better, so it stays.");
        } else {
            self.edit(Edit::Fitting {
                fitting: asked.fitting.clone(),
                change: FittingEdit::SetLayPlan(Some(LayPlan::clone(&now.best))),
            });
        }
        self.laying.ended = Some(Ended {
            fitting: asked.fitting.clone(),
            progress: now.progress,
            worked: now.worked,
            words,
            plan: self.kept_plan(&asked.fitting),
        });
        if !now.progress.complete {
            self.lay(LayAsk::WhyNot {
                seed: now.best.seed,
                steps: now.progress.steps.clamp(1, STEPS_EACH),
            });
        }
    }
}

/// "Everything lies, 1 seam added (3.2 s)." or what is missing.
fn ended_words(now: &Now) -> String {
    let seconds = now.worked.as_secs_f64();
    let progress = &now.progress;
    if progress.complete {
        format!(
            "Everything lies: {} (found within {seconds:.1} s, {} steps).",
            progress.words(),
            progress.steps
        )
    } else {
        format!(
            "Not found in {seconds:.1} s ({} steps): {}. That proves nothing; more steps or another seed may find it.",
            progress.steps,
            progress.words()
        )
    }
}
