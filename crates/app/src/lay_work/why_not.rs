//! Why not everything fits, and what would help: the trials of `petitoile-lay`, each with the whole way behind it.

use std::sync::Arc;
use std::time::Instant;

use petitoile_core::LengthUnit;
use petitoile_core::cloth::Offcut;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::ToLay;
use petitoile_core::project::Project;
use petitoile_lay::why_not::{Answer, Question, WhyNot};

use crate::whole_way;

/// Steps of each trial where a search was given more.
pub const STEPS_EACH: u64 = 1500;
/// Steps between two looks at whether it is to end.
const CHUNK: u64 = 50;

/// Why not everything fits, in words, and what would help.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Why {
    /// "Not found in 1500 steps", or a proof that it is impossible.
    pub verdict: String,
    /// What does not lie, and by how much it misses the best place found.
    pub not_laid: Vec<String>,
    /// What would help.
    pub concessions: Vec<Concession>,
    /// What was tried in vain.
    pub in_vain: Vec<String>,
    /// How long was looked, seconds.
    pub seconds: f64,
    /// The plan that was kept then: what is said holds for no other.
    pub plan: Option<LayPlan>,
    /// With which seed and how many steps a remedy is laid again, so that it is found again.
    pub again: (u64, u64),
}

/// Something to give in on.
#[derive(Debug, Clone, PartialEq)]
pub struct Concession {
    /// "Fits with Back pieced".
    pub words: String,
    /// What its button says and does.
    pub remedy: Option<(String, Edit)>,
}

/// Who asks, and of what.
#[derive(Debug, Clone)]
pub struct Asker {
    /// The project it is asked in.
    pub project: Arc<Project>,
    /// Name of the fitting.
    pub fitting: String,
    /// Where chance starts.
    pub seed: u64,
    /// Steps of each trial.
    pub steps: u64,
}

impl Asker {
    /// Asks; `tell` hears what is being tried, `ended` says when it is enough.
    ///
    /// # Errors
    /// When the fitting has gone.
    pub fn ask(
        &self,
        to_lay: &ToLay,
        offcuts: &[Arc<Offcut>],
        plan: Option<&LayPlan>,
        ended: impl Fn() -> bool,
        tell: impl Fn(String),
    ) -> Result<Why, String> {
        let fitting = self.project.fitting(&self.fitting);
        let fitting =
            fitting.ok_or_else(|| format!("there is no fitting called {}", self.fitting))?;
        let unit = self.project.unit;
        let begun = Instant::now();
        let question = Question {
            fitting: self.fitting.clone(),
            to_lay: to_lay.clone(),
            offcuts: offcuts.to_vec(),
            plan: plan.cloned().unwrap_or_default(),
            laying: fitting.laying.clone(),
            allowance: fitting.allowances.seam,
            steps: self.steps,
            seed: self.seed,
        };
        let (project, name) = (self.project.clone(), self.fitting.clone());
        let remade = move |change: &FittingEdit| -> Option<ToLay> {
            let edit = Edit::Fitting {
                fitting: name.clone(),
                change: change.clone(),
            };
            let next = project.edited(&edit).ok()?;
            let worked = whole_way::work(&next, &name).ok()?;
            Some(ToLay::clone(&worked.beyond.cloth.to_lay))
        };
        let mut trials = WhyNot::new(question, Box::new(remade));
        while !ended() {
            let progress = trials.progress();
            let Some(now) = progress.now else { break };
            tell(format!(
                "{} of {}: {}",
                progress.done + 1,
                progress.of,
                now.words(unit)
            ));
            trials.step(CHUNK);
        }
        Ok(Why::of(
            trials.answer(),
            unit,
            begun.elapsed().as_secs_f64(),
            (self.seed, self.steps),
        ))
    }
}

impl Why {
    fn of(answer: &Answer, unit: LengthUnit, seconds: f64, again: (u64, u64)) -> Self {
        let concessions = answer.concessions.iter().map(|one| Concession {
            words: format!("It {}.", said(&one.words(unit))),
            remedy: one
                .remedy
                .clone()
                .map(|edit| (crate::wording::sentence(&edit.words(unit)), edit)),
        });
        Self {
            verdict: answer.verdict(unit),
            not_laid: answer.not_laid.iter().map(|one| one.words(unit)).collect(),
            concessions: concessions.collect(),
            in_vain: answer
                .in_vain
                .iter()
                .map(|change| change.words(unit))
                .collect(),
            seconds,
            plan: None,
            again,
        }
    }
}

/// "fits if ..." stays; "12 of 14 lie if ..." becomes "nearly fits: 12 of 14 lie if ...".
fn said(words: &str) -> String {
    if words.starts_with("fits") {
        words.to_owned()
    } else {
        format!("nearly fits: {words}")
    }
}
