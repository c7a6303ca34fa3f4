//! Ease tables beside each other: garments on one body, or one garment on several bodies.

use std::sync::Arc;

use super::{EaseTable, FitRow};
use crate::body::Body;
use crate::fitting::{DemandChoice, Fitting};
use crate::measure::Measure;
use crate::units::Mm;

/// Ease tables beside each other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Beside {
    /// Fitting and body of each column.
    pub columns: Vec<(String, String)>,
    /// One row for each place that any of them has.
    pub rows: Vec<BesideRow>,
}

/// One place in every column.
#[derive(Debug, Clone, PartialEq)]
pub struct BesideRow {
    /// Name of the tape line in the first table that has it.
    pub name: String,
    /// The measure it answers to.
    pub measure: Measure,
    /// Its row in each column; `None` where a garment has no tape there.
    pub cells: Vec<Option<FitRow>>,
}

impl BesideRow {
    /// What the body of a column measures in percent of the body of the first; `None` where either is missing.
    pub fn body_percent(&self, column: usize) -> Option<f64> {
        let first = self.cells.first()?.as_ref()?;
        let other = self.cells.get(column)?.as_ref()?;
        uniform(first.here.body, other.here.body)
    }
}

/// One factor for everything, in percent: what a pattern must be enlarged to when a length becomes another. `None`
/// for lengths that are none.
///
/// # Source
/// Doll-making tools page (S23), read: from 12 in to 18 in is 150 %.
pub fn uniform(from: Mm, to: Mm) -> Option<f64> {
    (from.0 > 0.0 && to.0 > 0.0).then(|| 100.0 * to.0 / from.0)
}

/// Puts ease tables beside each other.
///
/// Tape lines are the same place when they have one name and answer to one share of one measure; else the first of
/// those that answer to the same share of the same measure.
pub fn beside(tables: &[EaseTable]) -> Beside {
    let mut rows: Vec<BesideRow> = Vec::new();
    for (column, table) in tables.iter().enumerate() {
        for row in &table.rows {
            let free = |there: &&mut BesideRow| {
                there.cells.get(column).is_some_and(Option::is_none) && is_same_place(there, row)
            };
            let named = rows.iter().position(|there| {
                there.name == row.name
                    && there.cells.get(column).is_some_and(Option::is_none)
                    && is_same_place(there, row)
            });
            let place = match named {
                Some(at) => rows.get_mut(at),
                None => rows.iter_mut().find(free),
            };
            match place.and_then(|there| there.cells.get_mut(column)) {
                Some(cell) => *cell = Some(row.clone()),
                None => {
                    let mut cells = vec![None; tables.len()];
                    if let Some(cell) = cells.get_mut(column) {
                        *cell = Some(row.clone());
                    }
                    rows.push(BesideRow {
                        name: row.name.clone(),
                        measure: row.measure,
                        cells,
                    });
                }
            }
        }
    }
    Beside {
        columns: tables
            .iter()
            .map(|table| (table.fitting.clone(), table.body.clone()))
            .collect(),
        rows,
    }
}

fn is_same_place(there: &BesideRow, row: &FitRow) -> bool {
    let known = there.cells.iter().flatten().next();
    known.is_some_and(|known| {
        known.measure == row.measure
            && known.is_girth == row.is_girth
            && (known.share - row.share).abs() < 1e-6
    })
}

/// The same fitting on another body.
///
/// Choices hold: how ease is brought over, what hangs, cloths, layers, work by hand. Measures and ease typed in mm are
/// left out, they were meant for one body.
#[must_use]
pub fn on_body(fitting: &Fitting, body: &Arc<Body>) -> Fitting {
    let choice = |choice: &DemandChoice| DemandChoice {
        measure: None,
        ease: None,
        ..*choice
    };
    Fitting {
        name: format!("{} on {}", fitting.garment, body.name),
        body: body.clone(),
        demands: fitting
            .demands
            .iter()
            .map(|(name, own)| (name.clone(), choice(own)))
            .collect(),
        lay_plan: None,
        ..fitting.clone()
    }
}

#[cfg(test)]
#[path = "beside_tests.rs"]
mod tests;
