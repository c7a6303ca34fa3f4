//! `petitoile demo`: the whole way once, then the window.

use std::path::PathBuf;

use clap::Args;

use super::Outcome;
use super::trouble::BadInput;
use crate::files::{ENDING, FileError, Product};
use crate::report::{Report, json};
use crate::{demos, files, whole_way};

/// Adapts the demo jacket to a doll, writes PDF, SVG and report, then opens the window.
#[derive(Debug, Args)]
pub struct Demo {
    /// Folder for what is made
    #[arg(long, value_name = "DIR", default_value = "petitoile-demo")]
    out: PathBuf,
    /// Report as JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

impl Demo {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let project = demos::first().map_err(BadInput::new)?;
        let chosen = super::which::fitting(&project, None)?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)?;
        let pages = whole_way::pages(&worked, project.unit);
        let report = Report::of(&worked, Some(&pages), project.unit);
        self.make_folder()?;
        let in_folder = |ending: &str| self.out.join(format!("{}.{ending}", demos::FIRST));
        let saved = in_folder(ENDING);
        files::save(&saved, &project, None)?;
        files::put(&in_folder("pdf"), Product::Pdf, &whole_way::pdf(&pages))?;
        files::put(
            &in_folder("svg"),
            Product::Svg,
            whole_way::svg(&worked, project.unit).as_bytes(),
        )?;
        files::put(
            &self.out.join("report.txt"),
            Product::Report,
            report.text().as_bytes(),
        )?;
        files::put(
            &self.out.join("report.json"),
            Product::Report,
            json(&report).as_bytes(),
        )?;
        let words = if self.json {
            json(&report)
        } else {
            format!("{}\n{}", report.text(), self.made())
        };
        Ok(Outcome {
            words,
            usable: report.usable,
            then_open: Some((project, saved)),
        })
    }

    fn make_folder(&self) -> Result<(), BadInput> {
        std::fs::create_dir_all(&self.out).map_err(|error| {
            FileError::Unwritten {
                path: self.out.clone(),
                why: files::plain(&error),
            }
            .into()
        })
    }

    fn made(&self) -> String {
        let first = demos::FIRST;
        format!(
            "Made in {}:\n  {first}.pdf  to print at actual size (100 %); measure the test square on page 1: 50 mm\n  \
             {first}.svg  all pieces side by side\n  report.txt, report.json\n  {first}.{ENDING}  the project, to open and change\n",
            self.out.display()
        )
    }
}
