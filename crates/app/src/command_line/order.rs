//! `petitoile order FILE`: the order of work of a fitting.

use clap::Args;
use petitoile_core::making_order::{By, Lies, Order, Step};
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use super::check::with_remark;
use super::trouble::BadInput;
use super::{Asked, Outcome, which};
use crate::report::table::Table;
use crate::report::{FindingRow, json};
use crate::{files, whole_way};

/// Says in which order it is sewn.
#[derive(Debug, Args)]
pub struct OrderJob {
    #[command(flatten)]
    asked: Asked,
}

/// What `order --json` prints.
#[derive(Debug, Serialize)]
struct OrderReport {
    fitting: String,
    garment: String,
    body: String,
    /// Can it be sewn without breaking a rule?
    feasible: bool,
    /// "bagged", "felled by hand", "flat-lined", "faced" or null.
    lining: Option<String>,
    steps: Vec<StepRow>,
    broken: Vec<BrokenRow>,
    findings: Vec<FindingRow>,
    unit: &'static str,
}

/// One step.
#[derive(Debug, Serialize)]
struct StepRow {
    number: usize,
    key: String,
    /// "flat" or "in the round".
    lies: &'static str,
    /// Girth of the narrowest ring it is worked on; null when flat.
    girth: Option<Mm>,
    length: Mm,
    /// How often it is done: once for every copy cut alike.
    times: usize,
    /// "hand" or "machine".
    by: &'static str,
    why: String,
    /// Sewn on in one go with the step before.
    goes_on: bool,
    then_press: Option<&'static str>,
    rules: Vec<&'static str>,
    after: Vec<String>,
    done: bool,
}

/// A rule that is not kept.
#[derive(Debug, Serialize)]
struct BrokenRow {
    rule: &'static str,
    first: String,
    then: String,
    by_move: bool,
}

impl OrderJob {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let report = OrderReport::of(&worked, project.unit);
        let words = if self.asked.json {
            json(&report)
        } else {
            with_remark(report.text(project.unit), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, report.feasible))
    }
}

impl OrderReport {
    fn of(worked: &whole_way::Worked, unit: LengthUnit) -> Self {
        let order: &Order = &worked.beyond.order;
        let fitting = &worked.adapted.fitting;
        let row = |(i, step): (usize, &Step)| StepRow {
            number: i + 1,
            key: step.key.clone(),
            lies: match step.lies {
                Lies::Flat => "flat",
                Lies::Round => "in the round",
            },
            girth: step.girth,
            length: step.length,
            times: step.times,
            by: match step.by {
                By::Hand => "hand",
                By::Machine => "machine",
            },
            why: step.by_why.clone(),
            goes_on: step.goes_on,
            then_press: step.then_press,
            rules: step.rules.clone(),
            after: step.after.clone(),
            done: fitting.making.done.contains(&step.key),
        };
        Self {
            fitting: fitting.name.clone(),
            garment: worked.adapted.garment.name.clone(),
            body: fitting.body.name.clone(),
            feasible: order.is_feasible(),
            lining: order.lining.map(|method| method.label().to_lowercase()),
            steps: order.steps.iter().enumerate().map(row).collect(),
            broken: order
                .broken
                .iter()
                .map(|broken| BrokenRow {
                    rule: broken.rule,
                    first: broken.first.clone(),
                    then: broken.then.clone(),
                    by_move: broken.by_move,
                })
                .collect(),
            findings: order.findings.iter().map(FindingRow::from).collect(),
            unit: unit.suffix(),
        }
    }

    fn text(&self, unit: LengthUnit) -> String {
        let mut table = Table::new(["Step", "lies", "long", "by", "because"]);
        for step in &self.steps {
            let long = match (step.length.0 > 0.0, step.times) {
                (false, _) => String::new(),
                (true, 1) => unit.show(step.length),
                (true, times) => format!("{times} x {}", unit.show(step.length)),
            };
            table.row([
                format!(
                    "{}{:>2}. {}{}",
                    if step.done { "done " } else { "" },
                    step.number,
                    step.key,
                    if step.goes_on { " (in one go)" } else { "" }
                ),
                step.lies.to_owned(),
                long,
                step.by.to_owned(),
                step.why.clone(),
            ]);
        }
        let lining = self
            .lining
            .as_ref()
            .map_or(String::new(), |method| format!(", {method}"));
        let mut text = format!(
            "Making order of {} for {}{lining}\n\n{}",
            self.garment,
            self.body,
            table.text()
        );
        for finding in &self.findings {
            text.push_str(&format!(
                "\n{}: {}: {} {}\n",
                finding.gravity, finding.place, finding.what, finding.remedy
            ));
        }
        text
    }
}
