//! Pins: measurements that stay on the screen and follow every change.

use serde::{Deserialize, Serialize};

use crate::measuring::Measurement;

/// A measurement pinned to the screen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pin {
    /// Unique in its project: "side seam", "waist".
    pub name: String,
    /// What it is pinned to.
    pub on: PinnedTo,
    /// What is measured.
    pub measures: Measurement,
}

/// A garment as drawn, or as it is made on a fitting.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum PinnedTo {
    /// The garment of this name.
    Garment(String),
    /// The fitting of this name.
    Fitting(String),
}
