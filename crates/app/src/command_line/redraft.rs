//! `petitoile redraft`: how near an adapted piece comes to the same piece drafted anew for the target.

use std::fmt::Write as _;

use clap::Args;
use petitoile_core::redraft::{self, CASES, RedraftRow, Score};
use serde::Serialize;

use super::Outcome;
use super::trouble::BadInput;
use crate::report::json;
use crate::report::table::Table;

/// Drafts anew and compares: how well garments are adapted.
#[derive(Debug, Args)]
pub struct Redraft {
    /// As JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

/// One row in `redraft --json`.
#[derive(Debug, Serialize)]
struct Row {
    draft: &'static str,
    /// The measures its rules use, as demanded.
    demands: &'static str,
    target: &'static str,
    /// By what the constants of the rules were multiplied.
    scale: f64,
    /// Bust girth of the target, which percentages are of.
    bust: f64,
    /// Adapted, with depth and across measures measured.
    adapted: Error,
    /// Adapted, with depth and across measures estimated.
    estimated: Error,
    one_factor: Error,
    across_along: Error,
    steps: u32,
}

/// How far the worst piece is from the one drafted anew, and the demand missed most.
#[derive(Debug, Serialize)]
struct Error {
    max: f64,
    rms: f64,
    /// `max` as a share of the bust girth, in percent.
    percent_of_bust: f64,
    piece: String,
    missed: f64,
    missed_demand: String,
}

impl Error {
    fn of(score: Score, bust: f64) -> Self {
        let (max, rms) = (score.worst.max, score.worst.rms);
        Self {
            max,
            rms,
            percent_of_bust: if bust > 0.0 { 100.0 * max / bust } else { 0.0 },
            piece: score.piece,
            missed: score.missed,
            missed_demand: score.missed_demand,
        }
    }

    fn text(&self) -> String {
        format!(
            "{:.2} ({:.2}) {:.2} %",
            self.max, self.rms, self.percent_of_bust
        )
    }
}

impl From<RedraftRow> for Row {
    fn from(row: RedraftRow) -> Self {
        let bust = row.bust;
        Self {
            draft: row.case,
            demands: CASES
                .iter()
                .find(|case| case.name == row.case)
                .map_or("", |case| case.demands),
            target: row.target,
            scale: row.scale,
            bust,
            adapted: Error::of(row.adapted, bust),
            estimated: Error::of(row.estimated, bust),
            one_factor: Error::of(row.one_factor, bust),
            across_along: Error::of(row.across_along, bust),
            steps: row.steps,
        }
    }
}

impl Redraft {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let rows = redraft::table()
            .map_err(|error| BadInput::new(format!("the benchmark cannot be made: {error}")))?;
        let rows: Vec<Row> = rows.into_iter().map(Row::from).collect();
        Ok(Outcome::of(
            if self.json { json(&rows) } else { text(&rows) },
            true,
        ))
    }
}

fn text(rows: &[Row]) -> String {
    let mut words = String::from(
        "Redraft error: the worst piece adapted from the 92 cm woman against the same piece drafted anew.\n\
         Largest distance and (rms) in mm, largest as % of bust. \"missed\": the demand missed most, in mm.\n",
    );
    let mut before = "";
    let head = [
        "for",
        "k",
        "adapted",
        "missed",
        "depths estimated",
        "one factor",
        "missed",
        "across/along",
        "missed",
        "",
    ];
    let mut table = Table::new(head);
    for row in rows {
        if row.draft != before {
            if !before.is_empty() {
                words.push_str(&table.text());
            }
            table = Table::new(head);
            before = row.draft;
            // Writing to a String cannot fail.
            let _ = writeln!(words, "\n{}; demands: {}", row.draft, row.demands);
        }
        table.row([
            row.target.to_owned(),
            format!("{:.3}", row.scale),
            row.adapted.text(),
            format!("{:.2}", row.adapted.missed),
            row.estimated.text(),
            row.one_factor.text(),
            format!("{:.1}", row.one_factor.missed),
            row.across_along.text(),
            format!("{:.1}", row.across_along.missed),
            String::new(),
        ]);
    }
    words.push_str(&table.text());
    words
}
