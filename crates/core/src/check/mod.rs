//! Findings on fit and makeability, each with place and remedy: the fifth of nine steps from file to page.
//!
//! One file per kind of finding. Lengths in mm. Limits without a source say so; none of them is law, and safety notes
//! defer to local rules.

pub(crate) mod alike;
mod ease;
mod folds;
mod safety;
#[cfg(test)]
pub(crate) mod samples;
mod seams;
pub(crate) mod sewing;
mod size;

use crate::edit::Edit;
use crate::finding::{Finding, Gravity, Place};
use crate::finish::Finished;

/// Everything the maker should know about a finished garment: fit first, then sewing, then handling, then safety.
///
/// Findings of the steps before (solver, fullness, allowances) are not repeated here.
pub fn check(finished: &Finished) -> Vec<Finding> {
    let adapted = &finished.filled.adapted;
    let mut findings = ease::findings(adapted);
    findings.extend(crate::dressing::findings(&finished.filled));
    findings.extend(seams::findings(adapted));
    findings.extend(sewing::findings(finished));
    findings.extend(folds::findings(adapted));
    findings.extend(size::findings(finished));
    findings.extend(alike::findings(finished));
    findings.extend(safety::findings(adapted));
    findings
}

/// A finding whose remedy is one edit, or none.
pub(crate) fn finding(
    gravity: Gravity,
    place: Place,
    what: String,
    advice: String,
    remedy: Option<Edit>,
) -> Finding {
    Finding {
        gravity,
        place,
        what,
        advice,
        remedy,
    }
}
