//! `petitoile lay FILE`: every piece of a fitting on the offcuts of its project; or with `--width`, how much cloth to buy.

use std::path::PathBuf;

use clap::Args;
use petitoile_core::Mm;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::project::Project;
use petitoile_core::units::{LengthUnit, read_length};
use petitoile_lay::{Bolt, Job, JobOptions, LengthJob, check_plan};

use super::check::with_remark;
use super::trouble::BadInput;
use super::{Asked, Outcome, out, which};
use crate::lay_work::OnCloth;
use crate::report::json;
use crate::report::lay::{LayReport, NeededReport, Saved};
use crate::whole_way::Worked;
use crate::{files, lay_work, whole_way};

/// Lays the pieces on the offcuts of the project, or says how much cloth to buy.
#[derive(Debug, Args)]
pub struct LayJob {
    #[command(flatten)]
    asked: Asked,
    /// Where chance starts: same seed and steps, same plan
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Steps to make; a step lays one part elsewhere
    #[arg(long, value_name = "N", default_value_t = 6000)]
    steps: u64,
    /// Steps of each trial of what would help, when not everything fits; 0 leaves them out
    #[arg(long, value_name = "N", default_value_t = lay_work::STEPS_EACH)]
    trials: u64,
    /// Project file to write with the plan; may be FILE itself, its version before is kept
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Instead: length to buy of a cloth of this width, selvedges included ("140 cm")
    #[arg(long, value_name = "WIDTH", conflicts_with = "out")]
    width: Option<String>,
    /// Strip along every edge of the bought cloth that is not used
    #[arg(
        long,
        value_name = "WIDTH",
        default_value = "10 mm",
        requires = "width"
    )]
    margin: String,
    /// Which cloth is bought, when the pieces are of several
    #[arg(long, value_name = "NAME", requires = "width")]
    cloth: Option<String>,
}

/// Steps between two looks at how far it is.
const PORTION: u64 = 50;

impl LayJob {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let opened = files::open(file)?;
        let chosen = which::fitting(&opened.project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&opened.project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        if let Some(width) = &self.width {
            let report = self.needed(&opened.project, &worked, width)?;
            let words = if self.asked.json {
                json(&report)
            } else {
                with_remark(report.text(opened.project.unit), chosen.remark.as_deref())
            };
            return Ok(Outcome::of(words, report.length.is_some()));
        }
        let plan = self.plan(&worked.beyond.cloth, chosen.fitting.lay_plan.as_ref())?;
        let mut report = self.report(&opened.project, &worked, &plan)?;
        if let Some(out) = &self.out {
            let next = with_plan(&opened.project, &chosen.fitting.name, plan)
                .map_err(|bad| bad.in_file(file))?;
            let same_file = std::fs::canonicalize(file).ok() == std::fs::canonicalize(out).ok();
            files::save(out, &next, same_file.then_some(opened.seal))?;
            report.saved = Some(Saved::of(out, &chosen.fitting.name));
        }
        let words = if self.asked.json {
            json(&report)
        } else {
            with_remark(report.text(opened.project.unit), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, report.complete))
    }

    /// Lays, and proves the plan once more.
    fn plan(&self, cloth: &OnCloth, before: Option<&LayPlan>) -> Result<LayPlan, BadInput> {
        let file = &self.asked.file;
        let options = JobOptions { seed: self.seed };
        let mut job = Job::new(&cloth.to_lay, &cloth.offcuts, before, options)
            .map_err(|error| BadInput::new(error.to_string()).in_file(file))?;
        let mut told = None;
        while job.progress().steps < self.steps {
            let left = self.steps - job.progress().steps;
            let progress = job.step(left.min(PORTION));
            let words = progress.words();
            if told.as_ref() != Some(&words) {
                out::progress(&format!("{} steps: {words}", progress.steps));
                told = Some(words);
            }
        }
        Ok(job.best())
    }

    fn report(
        &self,
        project: &Project,
        worked: &Worked,
        plan: &LayPlan,
    ) -> Result<LayReport, BadInput> {
        let cloth = &worked.beyond.cloth;
        let faults = check_plan(&cloth.to_lay, &cloth.offcuts, plan);
        let mut report = LayReport::of(worked, plan, &faults, project.unit);
        let lies_all = report.placed == report.of;
        if !lies_all && self.trials > 0 {
            let asker = lay_work::Asker {
                project: std::sync::Arc::new(project.clone()),
                fitting: worked.adapted.fitting.name.clone(),
                seed: self.seed,
                steps: self.trials,
            };
            let why = asker
                .ask(
                    &cloth.to_lay,
                    &cloth.offcuts,
                    Some(plan),
                    || false,
                    |now| out::progress(&now),
                )
                .map_err(|why| BadInput::new(why).in_file(&self.asked.file))?;
            report.put_why(&why);
        }
        Ok(report)
    }

    fn needed(
        &self,
        project: &Project,
        worked: &Worked,
        width: &str,
    ) -> Result<NeededReport, BadInput> {
        let file = &self.asked.file;
        let (width, margin) = (
            length(width, project.unit)?,
            length(&self.margin, project.unit)?,
        );
        let bolt = Bolt {
            cloth: self.cloth.clone(),
            margin,
            seed: self.seed,
            ..Bolt::of_width(width)
        };
        let mut job = LengthJob::new(&worked.beyond.cloth.to_lay, &bolt)
            .map_err(|error| BadInput::new(error.to_string()).in_file(file))?;
        let mut told = None;
        while job.progress().steps < self.steps && job.too_wide().is_empty() {
            let before = job.progress().steps;
            let progress = job.step((self.steps - before).min(PORTION));
            if progress.steps == before {
                break;
            }
            let words = progress.length.map(|length| project.unit.show(length));
            if words.is_some() && words != told {
                out::progress(&format!(
                    "{} steps: {}",
                    progress.steps,
                    words.as_deref().unwrap_or_default()
                ));
                told = words;
            }
        }
        Ok(NeededReport::of(worked, &bolt, &job, project.unit))
    }
}

fn length(typed: &str, unit: LengthUnit) -> Result<Mm, BadInput> {
    read_length(typed, unit).map_err(|error| BadInput::new(error.to_string()))
}

fn with_plan(project: &Project, fitting: &str, plan: LayPlan) -> Result<Project, BadInput> {
    let edit = Edit::Fitting {
        fitting: fitting.to_owned(),
        change: FittingEdit::SetLayPlan(Some(plan)),
    };
    Ok(project.edited(&edit)?)
}
