//! Cloth and offcuts.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use crate::units::{Degrees, Mm};

/// A kind of cloth. It does not get thinner with the doll.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cloth {
    /// In the maker's words.
    pub name: String,
    /// Thickness of one layer.
    pub thickness: Mm,
    /// Where the thickness comes from.
    #[serde(default)]
    pub source: String,
}

/// A piece of cloth that is there: outline, holes, grain, nap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Offcut {
    /// Unique in its stash.
    pub name: String,
    /// Which cloth it is of, by name.
    pub cloth: String,
    /// Outline, straight between the points, counter-clockwise.
    pub outline: Vec<Point>,
    /// Holes, stains and worn places.
    #[serde(default)]
    pub blemishes: Vec<Blemish>,
    /// Direction of the warp against y.
    #[serde(default)]
    pub grain: Degrees,
    /// Must all pieces point the same way?
    #[serde(default)]
    pub nap: bool,
    /// Strip along every edge that is not used.
    #[serde(default)]
    pub margin: Mm,
}

/// A place on an offcut that is not fit for every piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Blemish {
    /// Outline of the place.
    pub outline: Vec<Point>,
    /// A hole is used for nothing; a blemish may be used where it does not show.
    pub is_hole: bool,
}

/// Offcuts that last over projects; a file of its own.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Stash {
    /// The cloths.
    pub cloths: Vec<Cloth>,
    /// The offcuts.
    pub offcuts: Vec<Offcut>,
}
