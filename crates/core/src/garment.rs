//! A garment: the source pieces and the body they were made for. Never altered by an adaptation.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::body::Body;
use crate::cloth::Cloth;
use crate::edge::EdgeRef;
use crate::piece::{Piece, Role};
use crate::seams::Seam;
use crate::tape::TapeLine;
use crate::units::Mm;

/// The source pieces and the body they were made for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Garment {
    /// Unique in its project.
    pub name: String,
    /// The body it was made for.
    pub made_for: Arc<Body>,
    /// The pieces, in the maker's order.
    pub pieces: Vec<Arc<Piece>>,
    /// What is sewn to what.
    pub seams: Vec<Seam>,
    /// Where a tape is laid, and what it answers to.
    pub tape_lines: Vec<TapeLine>,
    /// Where it opens to be put on.
    #[serde(default)]
    pub openings: Vec<Opening>,
    /// The cloth of each layer.
    #[serde(default)]
    pub cloths: BTreeMap<Role, Cloth>,
    /// Allowance already included in the drawn outlines, taken off before anything else.
    #[serde(default)]
    pub included_allowance: BTreeMap<EdgeRef, Mm>,
}

/// Where a garment opens to let the body in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Opening {
    /// "centre back".
    pub name: String,
    /// Edges whose sum is the girth of the hole when everything is closed (a neckline); copies counted.
    pub hole: Vec<EdgeRef>,
    /// Edges along which it opens (a back opening), each fully open.
    pub slit: Vec<EdgeRef>,
    /// What has to pass.
    pub passes: Passing,
}

/// What has to pass through an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Passing {
    /// The head, with its wig.
    Head,
    /// A hand.
    Hand,
    /// A foot, over the heel.
    Foot,
    /// Shoulders or hips, whichever is larger, into a waist.
    Trunk,
}

impl Garment {
    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&Arc<Piece>> {
        self.pieces.iter().find(|piece| piece.name == name)
    }

    /// All copies that are cut, over all pieces.
    pub fn copy_count(&self) -> usize {
        self.pieces.iter().map(|piece| piece.copies.len()).sum()
    }
}
