//! Cloth and offcuts.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use crate::piece::Face;
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

/// A piece of cloth that is there: outline, holes, grain, nap. Drawn as it lies on the table.
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
    /// Direction of the warp against y, counter-clockwise.
    #[serde(default)]
    pub grain: Degrees,
    /// How far the warp may run off that: 0 along a selvedge, more where it was read off a pulled thread.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub grain_doubt: Degrees,
    /// Which side of the cloth the outline shows.
    #[serde(default, skip_serializing_if = "Face::is_right")]
    pub face: Face,
    /// Are both sides alike, so that either may be the right one?
    #[serde(default, skip_serializing_if = "is_false")]
    pub sides_alike: bool,
    /// Must all pieces point the same way?
    #[serde(default)]
    pub nap: bool,
    /// Strip along every edge that is not used.
    #[serde(default)]
    pub margin: Mm,
    /// Thickness of one layer, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Mm>,
}

impl Offcut {
    /// The same offcut longer and wider by so many percent, about the middle of its corners; blemishes grow with it except
    /// those that `stays` names (what was cut out of it keeps its place and size).
    #[must_use]
    pub fn grown(&self, percent: f64, stays: impl Fn(&Blemish) -> bool) -> Self {
        let count = self.outline.len().max(1) as f64;
        let sum = self.outline.iter().map(|p| p.to_vec2());
        let middle = (sum.fold(kurbo::Vec2::ZERO, |all, p| all + p) / count).to_point();
        let scale = 1.0 + percent / 100.0;
        let scaled = |points: &[Point]| -> Vec<Point> {
            let place = |p: &Point| middle + (*p - middle) * scale;
            points.iter().map(place).collect()
        };
        let mut grown = self.clone();
        grown.outline = scaled(&self.outline);
        for blemish in &mut grown.blemishes {
            if !stays(blemish) {
                blemish.outline = scaled(&blemish.outline);
            }
        }
        grown
    }
}

/// A place on an offcut that is not fit for every piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Blemish {
    /// Outline of the place.
    pub outline: Vec<Point>,
    /// A hole is used for nothing; a blemish may be used where it does not show.
    pub is_hole: bool,
    /// What a place that is no hole is still good for.
    #[serde(default)]
    pub good_for: GoodFor,
}

/// What a place on cloth is good for, and what a piece needs: a place serves a piece that needs no better.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash, Serialize, Deserialize,
)]
pub enum GoodFor {
    /// Linings, interlinings and facings only.
    Inside,
    /// What another garment covers, too: light stains, a thin place.
    #[default]
    Hidden,
    /// Everything: clean cloth.
    Anything,
}

impl GoodFor {
    /// From the least to the best.
    pub const ALL: [Self; 3] = [Self::Inside, Self::Hidden, Self::Anything];

    /// "inside only", "where it is hidden", "anything".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inside => "inside only",
            Self::Hidden => "where it is hidden",
            Self::Anything => "anything",
        }
    }
}

fn is_zero(angle: &Degrees) -> bool {
    angle.0 == 0.0
}

fn is_false(flag: &bool) -> bool {
    !flag
}

/// Offcuts that last over projects; a file of its own.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Stash {
    /// The cloths.
    pub cloths: Vec<Cloth>,
    /// The offcuts.
    pub offcuts: Vec<Offcut>,
}
