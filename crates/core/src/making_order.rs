//! The order of work, with the maker's ticks.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

/// Which steps are done. The steps themselves are computed from the seams.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct MakingOrder {
    /// Names of the seams and steps that are done.
    pub done: BTreeSet<String>,
}
