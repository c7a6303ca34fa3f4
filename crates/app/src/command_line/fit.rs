//! `petitoile fit FILE`: ease, dressing, layers and bulk of a fitting.

use clap::Args;

use super::trouble::BadInput;
use super::{Asked, Outcome, check, which};
use crate::report::fit::FitReport;
use crate::report::json;
use crate::{files, whole_way};

/// Says how it fits: ease, dressing, layers, bulk.
#[derive(Debug, Args)]
pub struct Fit {
    #[command(flatten)]
    asked: Asked,
}

impl Fit {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let report = FitReport::of(&project, &worked);
        let words = if self.asked.json {
            json(&report)
        } else {
            check::with_remark(report.text(), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, report.usable))
    }
}
