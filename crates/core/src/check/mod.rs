//! Findings on fit and makeability, each with place and remedy: the fifth of nine steps from file to page.

#[cfg(test)]
pub(crate) mod samples;

use crate::finding::Finding;
use crate::finish::Finished;

/// Everything the maker should know about a finished garment.
pub fn check(finished: &Finished) -> Vec<Finding> {
    let _ = finished;
    Vec::new()
}
