//! The nine steps from file to page, listed once; the window and the command line both come through here.

use std::sync::Arc;

use petitoile_core::adapt::{self, AdaptError, Adapted};
use petitoile_core::finding::Finding;
use petitoile_core::finish::{self, Finished};
use petitoile_core::fullness::{self, Filled};
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, check};
use petitoile_exchange::drawing::Sheet;
use petitoile_exchange::tiling::{self, Pages};
use petitoile_exchange::sheet;

/// A fitting taken from project to finished pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// Step 2.
    pub adapted: Arc<Adapted>,
    /// Step 3.
    pub filled: Arc<Filled>,
    /// Step 4.
    pub finished: Arc<Finished>,
    /// What steps 2 to 5 found, worst first.
    pub findings: Vec<Finding>,
}

/// Steps 2 to 5: adapt, fill, finish, check.
///
/// # Errors
/// [`AdaptError`] when the fitting or what it names is not there.
pub fn work(project: &Project, fitting: &str) -> Result<Worked, AdaptError> {
    let adapted = Arc::new(adapt::adapt(project, fitting)?);
    let filled = fullness::fill(&adapted);
    let filled_value = Arc::new(filled.outcome);
    let finished = finish::finish(&filled_value);
    let finished_value = Arc::new(finished.outcome);
    let mut findings = adapted.findings.clone();
    findings.extend(filled.findings);
    findings.extend(finished.findings);
    findings.extend(check::check(&finished_value));
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.gravity));
    Ok(Worked { adapted, filled: filled_value, finished: finished_value, findings })
}

/// Step 7: the drawings.
pub fn drawn(worked: &Worked, unit: LengthUnit) -> Sheet {
    sheet::sheet(&worked.finished, unit)
}

/// Steps 7 and 8: the pages.
pub fn pages(worked: &Worked, unit: LengthUnit) -> Pages {
    tiling::tile(&drawn(worked, unit), &worked.adapted.fitting.paper)
}
