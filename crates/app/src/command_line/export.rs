//! `petitoile export FILE --out X.svg`: the pieces as a drawing in real millimetres.

use std::path::PathBuf;

use clap::Args;

use super::print::told;
use super::trouble::BadInput;
use super::{Asked, Outcome, which};
use crate::files::Product;
use crate::report::Report;
use crate::{files, whole_way};

/// Writes the pieces as a drawing in real millimetres (SVG).
#[derive(Debug, Args)]
pub struct Export {
    #[command(flatten)]
    asked: Asked,
    /// SVG to write
    #[arg(long, value_name = "X.svg")]
    out: PathBuf,
}

impl Export {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        files::put(
            &self.out,
            Product::Svg,
            whole_way::svg(&worked, project.unit).as_bytes(),
        )?;
        let report = Report::of(&worked, None, project.unit);
        Ok(told(
            &self.out,
            report,
            self.asked.json,
            chosen.remark.as_deref(),
        ))
    }
}
