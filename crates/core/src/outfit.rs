//! Outfits: garments in order on one body; and the wardrobe, a file of its own.

use serde::{Deserialize, Serialize};
use std::sync::Arc;

use crate::body::Body;

/// Fittings worn together on one body, innermost first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outfit {
    /// Unique in its project.
    pub name: String,
    /// Names of the fittings, innermost first.
    pub layers: Vec<String>,
}

/// Dolls and what they own; a file of its own that projects refer to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Wardrobe {
    /// The dolls.
    pub dolls: Vec<Arc<Body>>,
    /// Their outfits, each with the file of the project that holds its fittings.
    pub outfits: Vec<WardrobeOutfit>,
}

/// An outfit kept in a wardrobe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WardrobeOutfit {
    /// Name of the doll.
    pub doll: String,
    /// File of the project, relative to the wardrobe.
    pub project_file: String,
    /// The outfit.
    pub outfit: Outfit,
}
