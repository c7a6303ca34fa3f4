//! Bringing a garment from the body it was made for to another body.
//!
//! The second of nine steps from file to page.

mod block;
mod demands;
mod dense;
mod guess;
mod levels;
mod rebuild;
mod report;
mod rules;
pub(crate) mod sewn;
mod solve;
mod targets;

use std::sync::Arc;

use crate::alteration;
use crate::finding::Finding;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::piece::Piece;
use crate::project::Project;
use crate::tape::{Hold, TapeLine};
use crate::units::Mm;

/// An adapted garment.
#[derive(Debug, Clone, PartialEq)]
pub struct Adapted {
    /// The source.
    pub garment: Arc<Garment>,
    /// The choices it was made with; allowances of single edges under the names these edges have in [`Self::made`].
    pub fitting: Arc<Fitting>,
    /// The garment as it is made: adapted, then altered by hand. Its seams, openings and cloths are those to sew.
    /// Without alterations by hand it has the source's pieces, seams and names, in their order.
    pub made: Arc<Garment>,
    /// The pieces of [`Self::made`].
    pub pieces: Vec<Arc<Piece>>,
    /// Every demand, and how it came out.
    pub demands: Vec<DemandOutcome>,
    /// The garment's tape lines as they lie on the adapted pieces: ends on a body line have moved with it, closures are
    /// of doll size.
    pub tape_lines: Vec<TapeLine>,
    /// Ease at every tape line, on the source and on the target.
    pub ease: Vec<EaseRow>,
    /// What the maker should know.
    pub findings: Vec<Finding>,
    /// Newton steps the solver took.
    pub steps: u32,
}

/// How one demand came out.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandOutcome {
    /// Tape line, seam or rule it comes from.
    pub name: String,
    /// Rank: 1 is kept longest.
    pub rank: u8,
    /// What it should measure (for a seam: 0 difference).
    pub wanted: Mm,
    /// What it measures.
    pub got: Mm,
    /// Did it give way to a demand of a better rank?
    pub gave_way: bool,
}

/// Ease at one tape line.
#[derive(Debug, Clone, PartialEq)]
pub struct EaseRow {
    /// Name of the tape line.
    pub name: String,
    /// Fitted or hanging, as used (never `Auto`).
    pub hold: Hold,
    /// The measure it answers to.
    pub measure: crate::measure::Measure,
    /// Is it a girth?
    pub is_girth: bool,
    /// Body measure (its share), source and target.
    pub body: (Mm, Mm),
    /// Garment measure, source and target.
    pub garment: (Mm, Mm),
    /// Cloth term that is part of the target garment measure.
    pub cloth: Mm,
}

/// Why nothing could be adapted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AdaptError {
    /// No such fitting.
    #[error("there is no fitting called {0}")]
    NoFitting(String),
    /// The fitting's garment is gone.
    #[error("the fitting {fitting} is for a garment called {garment}, which is not in the project")]
    NoGarment {
        /// Name of the fitting.
        fitting: String,
        /// Name of the garment.
        garment: String,
    },
    /// Nothing to adapt.
    #[error("the garment {0} has no pieces yet; draw or bring in a piece first")]
    NoPieces(String),
    /// A seam, tape line or body line names something that is not there.
    #[error("{0}")]
    BadReference(String),
}

/// Adapts the garment of a fitting to its body.
///
/// # Errors
/// [`AdaptError`] when the fitting or what it names is not there.
pub fn adapt(project: &Project, fitting: &str) -> Result<Adapted, AdaptError> {
    let fitting = project
        .fitting(fitting)
        .ok_or_else(|| AdaptError::NoFitting(fitting.to_owned()))?;
    let garment = project
        .garment(&fitting.garment)
        .ok_or_else(|| AdaptError::NoGarment {
            fitting: fitting.name.clone(),
            garment: fitting.garment.clone(),
        })?;
    adapt_garment(garment, fitting)
}

/// Adapts a garment for a fitting, without a project around them.
///
/// # Errors
/// [`AdaptError::BadReference`] when a seam, tape line or body line names something that is not there.
pub fn adapt_garment(
    garment: &Arc<Garment>,
    fitting: &Arc<Fitting>,
) -> Result<Adapted, AdaptError> {
    if garment.pieces.is_empty() {
        return Err(AdaptError::NoPieces(garment.name.clone()));
    }
    let mut findings = Vec::new();
    let pieces = rebuild::stripped(garment, &mut findings);
    let tapes = targets::tape_targets(garment, fitting, &pieces)?;
    let setup = demands::Setup {
        garment,
        fitting,
        pieces: &pieces,
        tapes: &tapes,
    };
    let problem = demands::problem(&setup)?;
    let solution = solve::solve(&problem.blocks, &problem.rules);
    findings.extend(report::findings(&setup, &problem, &solution));
    let solved = rebuild::pieces(&setup, &problem, &solution, &mut findings);
    let demands = report::outcomes(&problem, &solution);
    let adapted = Garment {
        seams: sewn::in_proportion(garment, &solved),
        tape_lines: rebuild::tape_lines(&setup, &problem, &solution, &solved),
        pieces: solved,
        included_allowance: std::collections::BTreeMap::new(),
        ..Garment::clone(garment)
    };
    let (altered, said) = alteration::replayed(adapted, &fitting.alterations, &fitting.name);
    findings.extend(said);
    let followed = followed(garment, fitting, &altered);
    let made = Arc::new(altered.garment);
    let ease = report::ease(&setup, &made)?;
    Ok(Adapted {
        garment: garment.clone(),
        fitting: followed,
        pieces: made.pieces.clone(),
        demands,
        tape_lines: made.tape_lines.clone(),
        made,
        ease,
        findings,
        steps: solution.steps,
    })
}

/// The fitting, its allowances of single edges where its own work by hand has taken these edges.
fn followed(
    garment: &Garment,
    fitting: &Arc<Fitting>,
    altered: &alteration::Altered,
) -> Arc<Fitting> {
    let single = &fitting.allowances.single;
    let now = altered.carried.made_widths(single, garment);
    if now == *single {
        return fitting.clone();
    }
    let mut followed = Fitting::clone(fitting);
    followed.allowances.single = now;
    Arc::new(followed)
}

/// A garment as it was drawn, on the body it was made for: nothing is solved, nothing moves. What hand work on the
/// garment itself shows.
///
/// # Errors
/// [`AdaptError::NoPieces`] when there is nothing yet, [`AdaptError::BadReference`] when a tape line names something
/// that is not there.
pub fn as_drawn(garment: &Arc<Garment>, fitting: &Arc<Fitting>) -> Result<Adapted, AdaptError> {
    if garment.pieces.is_empty() {
        return Err(AdaptError::NoPieces(garment.name.clone()));
    }
    let tapes = targets::tape_targets(garment, fitting, &garment.pieces)?;
    let setup = demands::Setup {
        garment,
        fitting,
        pieces: &garment.pieces,
        tapes: &tapes,
    };
    let ease = report::ease(&setup, garment)?;
    Ok(Adapted {
        garment: garment.clone(),
        fitting: fitting.clone(),
        made: garment.clone(),
        pieces: garment.pieces.clone(),
        demands: Vec::new(),
        tape_lines: garment.tape_lines.clone(),
        ease,
        findings: Vec::new(),
        steps: 0,
    })
}

/// The demand that given pieces miss most, by how many mm and which: what a garment that was only scaled gets wrong.
///
/// # Errors
/// As [`adapt_garment`].
pub fn missed(
    garment: &Arc<Garment>,
    fitting: &Arc<Fitting>,
    pieces: &[Arc<Piece>],
) -> Result<(f64, String), AdaptError> {
    let tapes = targets::tape_targets(garment, fitting, &garment.pieces)?;
    let setup = demands::Setup {
        garment,
        fitting,
        pieces: &garment.pieces,
        tapes: &tapes,
    };
    let problem = demands::problem(&setup)?;
    let points: Vec<Vec<kurbo::Point>> = pieces
        .iter()
        .map(|piece| block::control_points(piece))
        .collect();
    let worst = problem
        .rules
        .iter()
        .filter_map(|rule| {
            Some((
                rule.missed(&problem.blocks, &points).abs(),
                problem.demands.get(rule.demand?)?.name.clone(),
            ))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    Ok(worst.unwrap_or_default())
}
