//! The order of work: which step after which, so that every edge is still within reach when it is sewn.
//!
//! The order is computed from the seams of a garment; what is saved is only what the maker chose: steps that are done,
//! steps she moved, what she sews by hand, how it is lined.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

mod bagging;
mod by;
mod circles;
mod engine;
mod graph;
mod lining;
mod mistake;
mod moves;
mod nodes;
mod rules;
mod search;
mod sewn;
mod step;
mod surface;
mod ties;
mod told;
mod trouble;

pub use engine::order;
pub use mistake::{Mistake, MistakeError, Way, WayBack, ways_back};
pub use rules::{RULES, Rule, Strength, rule_of};
pub use step::{Broken, By, Lies, Order, Step, StepKey, Tie, Work};

/// What the maker chose about the order of work. The steps themselves are computed from the seams.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct MakingOrder {
    /// Keys of the steps that are done; older files hold names of seams.
    pub done: BTreeSet<String>,
    /// Steps she moved, in the order she moved them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub moved: Vec<MovedStep>,
    /// By hand or by machine, where she chose otherwise than the program.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub by: BTreeMap<String, By>,
    /// How a lined garment is lined; `None` lets the program choose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lining: Option<LiningMethod>,
    /// Seams whose allowances are graded: each layer trimmed narrower than the one before.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub graded: BTreeSet<String>,
}

/// A step the maker wants right before another one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MovedStep {
    /// Key of the step.
    pub step: String,
    /// Key of the step it comes right before; `None` puts it last.
    pub before: Option<String>,
}

/// How a lining gets into a garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum LiningMethod {
    /// Shell and lining are sewn together along their edges, right sides facing, and turned through a gap.
    Bagged,
    /// The lining is made up by itself and felled in by hand at armscye and waist.
    Felled,
    /// Shell and lining of each piece are laid together and sewn as one.
    FlatLined,
    /// Only the edges are faced.
    Faced,
}

impl LiningMethod {
    /// Every method.
    pub const ALL: [Self; 4] = [Self::Bagged, Self::Felled, Self::FlatLined, Self::Faced];

    /// What it is called: "bagged".
    pub fn label(self) -> &'static str {
        match self {
            Self::Bagged => "Bagged",
            Self::Felled => "Felled by hand",
            Self::FlatLined => "Flat-lined",
            Self::Faced => "Faced",
        }
    }
}
