//! `petitoile adapt FILE --to BODY --out FILE`: a new fitting of a garment, and what became of it. A fitting that is
//! there is never replaced.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use petitoile_core::allowance::AllowancePlan;
use petitoile_core::edit::Edit;
use petitoile_core::fitting::Fitting;
use petitoile_core::project::Project;

use super::trouble::BadInput;
use super::{Outcome, check, which};
use crate::report::{Report, json};
use crate::{files, whole_way};

/// Brings a garment to another body.
#[derive(Debug, Args)]
pub struct Adapt {
    /// Project file
    file: PathBuf,
    /// Key or name of a body, or a body file
    #[arg(long, value_name = "BODY")]
    to: String,
    /// Project file to write; may be FILE itself, its version before is kept
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Garment, when the file has several
    #[arg(long, value_name = "NAME")]
    garment: Option<String>,
    /// Fitting whose choices (ease, allowances, hems, cloth, alterations) are taken over
    #[arg(long, value_name = "NAME", conflicts_with = "garment")]
    from_fitting: Option<String>,
    /// Report as JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

impl Adapt {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let opened = files::open(&self.file)?;
        let in_file = |bad: BadInput| bad.in_file(&self.file);
        let fitting = self.fitting(&opened.project).map_err(in_file)?;
        let project = opened
            .project
            .edited(&Edit::PutFitting(fitting.clone()))
            .map_err(|error| in_file(error.into()))?;
        let worked =
            whole_way::work(&project, &fitting.name).map_err(|error| in_file(error.into()))?;
        let same_file =
            std::fs::canonicalize(&self.file).ok() == std::fs::canonicalize(&self.out).ok();
        files::save(&self.out, &project, same_file.then_some(opened.seal))?;
        let pages = whole_way::pages(&worked, project.unit);
        let report = Report::of(&worked, Some(&pages), project.unit);
        let words = if self.json {
            json(&report)
        } else {
            check::with_remark(report.text(), Some(&self.next(&fitting)))
        };
        Ok(Outcome::of(words, report.usable))
    }

    fn fitting(&self, project: &Project) -> Result<Arc<Fitting>, BadInput> {
        let body = which::body(project, &self.to)?;
        let name_for = |garment: &str| not_taken(project, format!("{garment} for {}", body.name));
        if let Some(name) = &self.from_fitting {
            let like = which::fitting(project, Some(name))?.fitting;
            // What lay on cloth and what was ticked belongs to the other size.
            return Ok(Arc::new(Fitting {
                name: name_for(&like.garment),
                body,
                lay_plan: None,
                making: Default::default(),
                ..Fitting::clone(&like)
            }));
        }
        let garment = which::garment(project, self.garment.as_deref())?;
        Ok(Arc::new(Fitting {
            cloths: garment.cloths.clone(),
            allowances: AllowancePlan::for_body(&body),
            ..Fitting::new(name_for(&garment.name), garment.name.clone(), body.clone())
        }))
    }

    fn next(&self, fitting: &Fitting) -> String {
        format!(
            "Saved in {}. To print it:\n  petitoile print {} {} --paper a4 {}",
            self.out.display(),
            quoted_path(&self.out),
            option("--fitting", &quoted(&fitting.name)),
            option("--out", &quoted_path(&self.out.with_extension("pdf"))),
        )
    }
}

/// This name, or the first of "NAME (2)", "NAME (3)" and so on that no fitting has: one that is there stays. Names
/// count as the same where `--fitting` could not tell them apart.
fn not_taken(project: &Project, name: String) -> String {
    let taken = |name: &str| {
        project
            .fittings
            .iter()
            .any(|fitting| which::same(&fitting.name, name))
    };
    let (mut free, mut number) = (name.clone(), 1);
    while taken(&free) {
        number += 1;
        free = format!("{name} ({number})");
    }
    free
}

/// An option with its value, which may begin with a dash.
fn option(flag: &str, quoted: &str) -> String {
    let between = if quoted.trim_start_matches('\'').starts_with('-') {
        '='
    } else {
        ' '
    };
    format!("{flag}{between}{quoted}")
}

/// A path as it is typed at a shell; one that begins with a dash is no option.
fn quoted_path(path: &Path) -> String {
    let words = path.display().to_string();
    if words.starts_with('-') {
        quoted(&format!("./{words}"))
    } else {
        quoted(&words)
    }
}

/// A word as it is typed at a shell: nothing within single quotes has a meaning there, and a single quote itself
/// stands outside them behind a backslash.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', "'\\''"))
    }
}
