//! `petitoile check FILE`: what fits and what does not.

use clap::Args;

use super::trouble::BadInput;
use super::{Asked, Outcome, which};
use crate::report::{Report, json};
use crate::{files, whole_way};

/// Says what fits and what does not.
#[derive(Debug, Args)]
pub struct Check {
    #[command(flatten)]
    asked: Asked,
}

impl Check {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let pages = whole_way::pages(&worked, project.unit);
        let report = Report::of(&worked, Some(&pages), project.unit);
        let words = if self.asked.json {
            json(&report)
        } else {
            with_remark(report.text(), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, report.usable))
    }
}

/// A remark at the end of a text.
pub(super) fn with_remark(mut text: String, remark: Option<&str>) -> String {
    if let Some(remark) = remark {
        text.push_str(&format!("\n{remark}\n"));
    }
    text
}
