//! `petitoile fit FILE`: ease, dressing, layers and bulk of a fitting.

use clap::Args;
use petitoile_core::project::Project;

use super::trouble::BadInput;
use super::{Asked, Outcome, check, which};
use crate::files;
use crate::report::fit::FitReport;
use crate::report::fit::ease::BesideTable;
use crate::report::json;
use crate::whole_way::{self, Other};

/// Says how it fits: ease, dressing, layers, bulk.
#[derive(Debug, Args)]
pub struct Fit {
    #[command(flatten)]
    asked: Asked,
    /// Another fitting of the file to put beside it; may be given several times
    #[arg(long, value_name = "FITTING")]
    beside: Vec<String>,
    /// Another body to put its garment on, beside it; may be given several times
    #[arg(long, value_name = "BODY")]
    on: Vec<String>,
}

impl Fit {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let others = self.others(&project).map_err(|bad| bad.in_file(file))?;
        let mut report = FitReport::of(&project, &worked);
        if !others.is_empty() {
            let compared = whole_way::compared(&project, &worked, &others);
            if let Some(trouble) = compared.troubles.first() {
                return Err(BadInput::new(format!(
                    "it cannot be put beside: {trouble}; leave that one out"
                ))
                .in_file(file));
            }
            report.ease.beside = Some(BesideTable::from(&compared.beside));
        }
        let words = if self.asked.json {
            json(&report)
        } else {
            check::with_remark(report.text(), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, report.usable))
    }

    /// What it is put beside: fittings, then bodies.
    fn others(&self, project: &Project) -> Result<Vec<Other>, BadInput> {
        let fittings = self.beside.iter().map(|name| {
            which::fitting(project, Some(name)).map(|c| Other::Fitting(c.fitting.name.clone()))
        });
        let bodies = self
            .on
            .iter()
            .map(|body| which::body(project, body).map(Other::Body));
        fittings.chain(bodies).collect()
    }
}
