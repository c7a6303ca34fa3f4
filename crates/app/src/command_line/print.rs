//! `petitoile print FILE --out X.pdf`: the pieces at true scale, on pages or on one sheet; or the making sheet.

use std::path::PathBuf;
use std::sync::Arc;

use clap::{Args, ValueEnum};
use petitoile_core::LengthUnit;
use petitoile_core::fitting::Fitting;
use petitoile_core::paper::{PaperSize, PaperTurn};
use serde::Serialize;

use super::trouble::BadInput;
use super::{Asked, Outcome, Paper, which};
use crate::files::Product;
use crate::report::{FindingRow, PrintRow, Report, json};
use crate::wording::count;
use crate::{files, whole_way};

/// Prints the pieces at true scale on pages (PDF).
#[derive(Debug, Args)]
pub struct Print {
    #[command(flatten)]
    asked: Asked,
    /// Paper, instead of the fitting's own
    #[arg(long, value_enum)]
    paper: Option<Paper>,
    /// Pages on their side
    #[arg(long)]
    landscape: bool,
    /// All pieces on one sheet as large as they need, for a plotter or a copy shop
    #[arg(long, conflicts_with_all = ["paper", "landscape"])]
    one_sheet: bool,
    /// The making sheet instead: steps with pictures, cutting list, what is needed
    #[arg(long, conflicts_with = "one_sheet")]
    making_sheet: bool,
    /// The lay plan instead: every offcut to scale with measures, order of cutting, cutting list; or all at true size
    #[arg(long, value_enum, value_name = "HOW", num_args = 0..=1, default_missing_value = "to-scale",
          conflicts_with_all = ["one_sheet", "making_sheet"])]
    lay_plan: Option<LayPrint>,
    /// PDF to write; a making sheet without it goes to FILE-making-sheet.pdf, where you are
    #[arg(long, value_name = "X.pdf", required_unless_present = "making_sheet")]
    out: Option<PathBuf>,
}

/// How a lay plan is printed.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum LayPrint {
    /// Each offcut on one page
    ToScale,
    /// On pages to be joined
    TrueSize,
}

/// What `print --json` and `export --json` print.
#[derive(Debug, Serialize)]
pub(super) struct Written {
    /// The file.
    pub out: String,
    /// Fitting it shows.
    pub fitting: String,
    /// Pages, when it has any.
    pub print: Option<PrintRow>,
    /// Copies to cut.
    pub copies: usize,
    /// Can everything be cut, sewn and worn?
    pub usable: bool,
    /// What the maker should know, worst first.
    pub findings: Vec<FindingRow>,
}

impl Print {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let fitting = Arc::new(self.on_paper(&chosen.fitting));
        let worked = whole_way::work_on(&project, &chosen.garment, &fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let out = self.out();
        if let Some(how) = self.lay_plan {
            return self.lay_plan(how, &worked, project.unit, &out);
        }
        let (bytes, pages) = if self.making_sheet {
            let pages = whole_way::making_pages(&worked, project.unit);
            (whole_way::pdf(&pages), Some(pages))
        } else if self.one_sheet {
            (whole_way::one_sheet_pdf(&worked, project.unit), None)
        } else {
            let pages = whole_way::pages(&worked, project.unit);
            (whole_way::pdf(&pages), Some(pages))
        };
        files::put(&out, Product::Pdf, &bytes)?;
        let report = Report::of(&worked, pages.as_ref(), project.unit);
        let remark = chosen.remark.as_deref();
        Ok(if self.making_sheet {
            let steps = worked.beyond.order.steps.len();
            told_of_making(&out, report, steps, self.asked.json, remark)
        } else {
            told(&out, report, self.asked.json, remark)
        })
    }

    /// Prints where the pieces lie on cloth.
    fn lay_plan(
        &self,
        how: LayPrint,
        worked: &whole_way::Worked,
        unit: LengthUnit,
        out: &std::path::Path,
    ) -> Result<Outcome, BadInput> {
        let sheet = whole_way::lay_sheet(worked, unit).ok_or_else(|| {
            BadInput::new(format!(
                "{} has no lay plan; lay it first: petitoile lay {1} --out {1}",
                worked.adapted.fitting.name,
                self.asked.file.display()
            ))
            .in_file(&self.asked.file)
        })?;
        let pages = match how {
            LayPrint::ToScale => whole_way::lay_pages(worked, &sheet, unit),
            LayPrint::TrueSize => whole_way::lay_true_size(worked, &sheet, unit),
        };
        files::put(out, Product::Pdf, &whole_way::pdf(&pages))?;
        let report = Report::of(worked, Some(&pages), unit);
        let print = report.print.clone();
        if self.asked.json {
            let mut outcome = told(out, report, true, None);
            outcome.usable &= sheet.faults.is_empty();
            return Ok(outcome);
        }
        let mut words = format!(
            "Wrote {}: lay plan of {}, {}{}.\n",
            out.display(),
            worked.adapted.fitting.name,
            sheet.tally_words,
            print.map_or_else(String::new, |print| format!(", {}", print.words()))
        );
        for fault in &sheet.faults {
            words.push_str(&format!("Do not cut yet: {fault}.\n"));
        }
        Ok(Outcome::of(words, sheet.faults.is_empty()))
    }

    /// Where it is written to.
    fn out(&self) -> PathBuf {
        self.out.clone().unwrap_or_else(|| {
            let stem = self.asked.file.file_stem().unwrap_or_default();
            PathBuf::from(format!("{}-making-sheet.pdf", stem.to_string_lossy()))
        })
    }

    fn on_paper(&self, fitting: &Fitting) -> Fitting {
        let mut fitting = fitting.clone();
        match self.paper {
            Some(Paper::A4) => fitting.paper.size = PaperSize::A4,
            Some(Paper::Letter) => fitting.paper.size = PaperSize::Letter,
            None => {}
        }
        if self.landscape {
            fitting.paper.turn = PaperTurn::Landscape;
        }
        fitting
    }
}

/// What is said about a making sheet that was written.
fn told_of_making(
    out: &std::path::Path,
    report: Report,
    steps: usize,
    as_json: bool,
    remark: Option<&str>,
) -> Outcome {
    if as_json {
        return told(out, report, true, remark);
    }
    let pages = report
        .print
        .as_ref()
        .map_or_else(String::new, |print| format!(", {}", print.words()));
    let mut words = format!(
        "Wrote {}: making sheet of {}, {}{pages}.\n",
        out.display(),
        report.fitting,
        count(steps, "step", "steps")
    );
    if let Some(remark) = remark {
        words.push_str(remark);
        words.push('\n');
    }
    Outcome::of(words, report.usable)
}

/// What is said about a file that was written.
pub(super) fn told(
    out: &std::path::Path,
    report: Report,
    as_json: bool,
    remark: Option<&str>,
) -> Outcome {
    let usable = report.usable;
    let written = Written {
        out: out.display().to_string(),
        fitting: report.fitting,
        print: report.print,
        copies: report.copies,
        usable,
        findings: report.findings,
    };
    if as_json {
        return Outcome::of(json(&written), usable);
    }
    let mut words = format!(
        "Wrote {}: {}, {} to cut",
        written.out,
        written.fitting,
        count(written.copies, "copy", "copies")
    );
    match &written.print {
        Some(print) => words.push_str(&format!(
            ", {}.\nPrint at actual size (100 %), then measure the test square on the first page: 50 mm.\n",
            print.words()
        )),
        None => words.push_str(".\n"),
    }
    for finding in written
        .findings
        .iter()
        .filter(|finding| finding.gravity != "note")
    {
        words.push_str(&finding.text());
    }
    if let Some(remark) = remark {
        words.push_str(remark);
        words.push('\n');
    }
    Outcome::of(words, usable)
}
