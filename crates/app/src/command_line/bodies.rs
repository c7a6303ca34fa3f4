//! `petitoile bodies`: the bodies that come with Petitoile, and one of them as a file to put own figures in.

use clap::Args;
use petitoile_core::body::{Body, BodyKind, Origin};
use petitoile_core::measure::Measure;
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::body_table;
use serde::Serialize;

use super::trouble::BadInput;
use super::{Outcome, which};
use crate::report::json;
use crate::report::table::Table;

/// Lists the bodies that come with Petitoile.
#[derive(Debug, Args)]
pub struct Bodies {
    /// Prints one body as a body file, to be saved, changed and given to `adapt --to`
    #[arg(long, value_name = "BODY")]
    show: Option<String>,
    /// As JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

/// One body in `bodies --json`.
#[derive(Debug, Serialize)]
struct BodyRow {
    /// What to type after `--to`.
    key: String,
    name: String,
    /// "woman", "man", "child" or "doll".
    kind: &'static str,
    /// Height, bust, waist and hip, where the table gives them.
    height: Option<Mm>,
    bust: Option<Mm>,
    waist: Option<Mm>,
    hip: Option<Mm>,
    /// Measures that were taken, are typical of the class, or are estimated by a stated proportion.
    measured: usize,
    typical: usize,
    estimated: usize,
    /// What to know about it.
    note: String,
}

impl BodyRow {
    fn of(body: &Body) -> Self {
        let value = |measure: Measure| body.measures.get(&measure).map(|measured| measured.value);
        let count = |origin: Origin| {
            body.measures
                .values()
                .filter(|measured| measured.origin == origin)
                .count()
        };
        Self {
            key: body.key.clone(),
            name: body.name.clone(),
            kind: match body.kind {
                BodyKind::Woman => "woman",
                BodyKind::Man => "man",
                BodyKind::Child => "child",
                BodyKind::Doll => "doll",
            },
            height: value(Measure::Height),
            bust: value(Measure::BustGirth),
            waist: value(Measure::WaistGirth),
            hip: value(Measure::HipGirth),
            measured: count(Origin::Measured),
            typical: count(Origin::Typical),
            estimated: count(Origin::Estimated),
            note: body.note.clone(),
        }
    }
}

impl Bodies {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        if let Some(asked) = &self.show {
            let body = which::body(&Project::default(), asked)?;
            let words = if self.json {
                json(&BodyRow::of(&body))
            } else {
                body_table::write([&*body])
            };
            return Ok(Outcome::of(words, true));
        }
        let rows: Vec<BodyRow> = body_table::built_in()
            .iter()
            .map(|body| BodyRow::of(body))
            .collect();
        Ok(Outcome::of(
            if self.json { json(&rows) } else { text(&rows) },
            true,
        ))
    }
}

fn text(rows: &[BodyRow]) -> String {
    let length = |value: Option<Mm>| {
        value.map_or("-".to_owned(), |value| LengthUnit::Millimetre.show(value))
    };
    let mut table = Table::new(["key", "height", "bust", "waist", "hip", "name"]);
    for row in rows {
        table.row([
            row.key.clone(),
            length(row.height),
            length(row.bust),
            length(row.waist),
            length(row.hip),
            row.name.clone(),
        ]);
    }
    format!(
        "{}\nDoll figures are typical of their class: measure your own.\n",
        table.text()
    )
}
