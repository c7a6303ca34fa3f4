//! Seam allowance: the strip of cloth between the stitch line and the cut line.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::edge::EdgeRef;
use crate::units::Mm;

/// The allowances of a fitting: chosen at the doll's size, never adapted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AllowancePlan {
    /// Width at every seam without a width of its own.
    ///
    /// Default: 6.35 mm, a quarter inch (read in doll and quilting sources, see the fact sheet E1).
    pub seam: Mm,
    /// Finished hem width where the edge names none.
    ///
    /// Default: 8 mm (common practice, no source).
    pub hem: Mm,
    /// Widths for single edges, instead of the two above.
    #[serde(default)]
    pub single: BTreeMap<EdgeRef, Mm>,
    /// How far a corner may run out, as a multiple of the wider allowance.
    ///
    /// Default: 3 (common practice, no source).
    pub corner_limit: f64,
    /// Length of a notch stroke, from the cut line inwards.
    ///
    /// Default: 3 mm (common practice, no source).
    pub notch_depth: Mm,
}

impl Default for AllowancePlan {
    fn default() -> Self {
        Self { seam: Mm(6.35), hem: Mm(8.0), single: BTreeMap::new(), corner_limit: 3.0, notch_depth: Mm(3.0) }
    }
}
