//! `petitoile print FILE --out X.pdf`: the pieces at true scale, on pages or on one sheet; or the making sheet.

use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;
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
    /// PDF to write; a making sheet without it goes to FILE-making-sheet.pdf, where you are
    #[arg(long, value_name = "X.pdf", required_unless_present = "making_sheet")]
    out: Option<PathBuf>,
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
