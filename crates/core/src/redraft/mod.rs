//! The redraft benchmark: draft for A, draft for B by the same published rules, adapt A's pieces to B, compare.
//!
//! Demands come only from the body sheet, and only for measures that the draft's rules use at that place (they are
//! listed in the table). Beside our solver stand the two things makers do today: one factor for everything, and one
//! factor across with another along.

mod bodies;
mod cases;
mod compare;

use std::sync::Arc;

pub use bodies::TARGETS;
pub use cases::{CASES, Case};
pub use compare::Distance;

use crate::adapt::{AdaptError, adapt_garment};
use crate::drafts::{DraftError, DraftMeasures};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::geometry::outline::Outline;

/// One line of the table: a draft brought to one body.
#[derive(Debug, Clone, PartialEq)]
pub struct RedraftRow {
    /// Which draft.
    pub case: &'static str,
    /// Which target.
    pub target: &'static str,
    /// By what the rules' constants were multiplied for the target.
    pub scale: f64,
    /// Target's bust girth, which percentages are of.
    pub bust: f64,
    /// Our solver, depth and across measures measured.
    pub adapted: Score,
    /// Our solver, depth and across measures estimated from the rest of the body sheet.
    pub estimated: Score,
    /// One factor (bust girth) for everything.
    pub one_factor: Score,
    /// One factor across, another along.
    pub across_along: Score,
    /// Newton steps of the first solve.
    pub steps: u32,
}

/// How far an adapted garment is from the one drafted anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Score {
    /// The worst piece's distance.
    pub worst: Distance,
    /// Which piece that is.
    pub piece: String,
    /// The demand missed most, mm.
    pub missed: f64,
    /// Which.
    pub missed_demand: String,
}

/// Why a row could not be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RedraftError {
    /// The rules give no piece for this body.
    #[error(transparent)]
    Draft(#[from] DraftError),
    /// The garment could not be adapted.
    #[error(transparent)]
    Adapt(#[from] AdaptError),
    /// Pieces do not pair up.
    #[error("{0}: the adapted and the redrafted pieces do not pair up")]
    Pieces(String),
}

/// The whole table: every case for every target, from the 92 cm woman.
///
/// # Errors
/// [`RedraftError`] when a draft or an adaptation cannot be made at all.
pub fn table() -> Result<Vec<RedraftRow>, RedraftError> {
    let mut rows = Vec::new();
    for case in CASES {
        for (target, measures) in &TARGETS {
            rows.push(row(case, target, measures)?);
        }
    }
    Ok(rows)
}

/// One row of the table.
///
/// # Errors
/// As [`table`].
pub fn row(
    case: &Case,
    target: &'static str,
    measures: &DraftMeasures,
) -> Result<RedraftRow, RedraftError> {
    let source_measures = case.source(measures);
    let source = (case.garment)(source_measures)?;
    let anew = (case.garment)(measures)?;
    let wanted: Vec<(&str, &Outline)> = anew
        .pieces
        .iter()
        .map(|p| (p.name.as_str(), &p.outline))
        .collect();
    let source = Arc::new(source);
    let mut scores = Vec::new();
    let mut steps = 0;
    for body in [
        anew.made_for.clone(),
        Arc::new(cases::estimated(&anew.made_for)),
    ] {
        let adapted = adapt_garment(&source, &Arc::new(Fitting::new("redraft", "redraft", body)))?;
        if scores.is_empty() {
            steps = adapted.steps;
        }
        let got: Vec<(&str, &Outline)> = adapted
            .pieces
            .iter()
            .map(|p| (p.name.as_str(), &p.outline))
            .collect();
        let missed = adapted
            .demands
            .iter()
            .map(|d| ((d.got.0 - d.wanted.0).abs(), d.name.clone()))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        scores.push(score(&got, &wanted, missed.unwrap_or_default())?);
    }
    for factors in [
        case.one_factor(source_measures, measures),
        case.across_along(source_measures, measures),
    ] {
        let scaled = cases::scaled(&source, &factors);
        let got: Vec<(&str, &Outline)> = scaled
            .pieces
            .iter()
            .map(|p| (p.name.as_str(), &p.outline))
            .collect();
        let missed = missed_by(&source, &scaled, &anew)?;
        scores.push(score(&got, &wanted, missed)?);
    }
    let mut scores = scores.into_iter();
    let (Some(adapted), Some(estimated), Some(one_factor), Some(across_along)) =
        (scores.next(), scores.next(), scores.next(), scores.next())
    else {
        return Err(RedraftError::Pieces(case.name.to_owned()));
    };
    let scale = crate::drafts::Constants::InProportion.scale(measures.bust_girth);
    Ok(RedraftRow {
        case: case.name,
        target,
        scale,
        bust: measures.bust_girth,
        adapted,
        estimated,
        one_factor,
        across_along,
        steps,
    })
}

fn score(
    got: &[(&str, &Outline)],
    wanted: &[(&str, &Outline)],
    missed: (f64, String),
) -> Result<Score, RedraftError> {
    let mut worst: Option<(Distance, String)> = None;
    for (name, outline) in got {
        let Some((_, other)) = wanted.iter().find(|(n, _)| n == name) else {
            return Err(RedraftError::Pieces((*name).to_owned()));
        };
        let distance = compare::distance(outline, other);
        if worst.as_ref().is_none_or(|(w, _)| distance.max > w.max) {
            worst = Some((distance, (*name).to_owned()));
        }
    }
    let (worst, piece) = worst.ok_or_else(|| RedraftError::Pieces(String::new()))?;
    Ok(Score {
        worst,
        piece,
        missed: missed.0,
        missed_demand: missed.1,
    })
}

/// What a scaled garment misses of the demands that the solver has to meet: girths, lengths and seams.
fn missed_by(
    source: &Arc<Garment>,
    scaled: &Garment,
    anew: &Garment,
) -> Result<(f64, String), RedraftError> {
    let fitting = Arc::new(Fitting::new("redraft", "redraft", anew.made_for.clone()));
    Ok(crate::adapt::missed(source, &fitting, &scaled.pieces)?)
}
