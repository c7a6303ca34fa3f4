//! Which piece lies where on which offcut: a value that `petitoile-lay` makes and the project keeps.

use serde::{Deserialize, Serialize};

use crate::piece::Copy;
use crate::units::Degrees;

/// Where every placed copy lies.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct LayPlan {
    /// Seed the search was given.
    pub seed: u64,
    /// Steps it ran, so that a stopped search can be repeated.
    pub steps: u64,
    /// The copies that lie on cloth.
    pub placed: Vec<Placed>,
}

/// One copy on an offcut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placed {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// Name of the offcut.
    pub offcut: String,
    /// Turn against the drawing, about the drawing's origin, before it is moved.
    pub turn: Degrees,
    /// Then moved by x, y, mm.
    pub moved: (f64, f64),
    /// Mirrored first?
    pub mirrored: bool,
}
