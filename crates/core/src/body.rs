//! A body: measures that are given, estimated or typical, and what else matters on a doll.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::measure::Measure;
use crate::units::Mm;

mod doubts;
mod estimate;
mod levels;
mod typical;

pub use doubts::Doubt;

/// A person or a doll.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Body {
    /// Short name for the command line: "play-45", "woman-92". Empty on a body that has none.
    #[serde(default)]
    pub key: String,
    /// Unique in its project: "45 cm play doll".
    pub name: String,
    /// Person, child or doll.
    pub kind: BodyKind,
    /// What was measured, or is typical of the class. What is missing is estimated when asked for.
    pub measures: BTreeMap<Measure, Measured>,
    /// Does the torso give?
    pub torso: Torso,
    /// What to know about it: "typical, measure your own".
    #[serde(default)]
    pub note: String,
}

impl Body {
    /// A body of this name without any measure yet, with a rigid torso.
    pub fn new(name: impl Into<String>, kind: BodyKind) -> Self {
        Self {
            key: String::new(),
            name: name.into(),
            kind,
            measures: BTreeMap::new(),
            torso: Torso::Rigid,
            note: String::new(),
        }
    }

    /// A measure: the given figure, else one estimated by a proportion that its source states. Never missing, always above 0.
    ///
    /// Given figures that are no lengths (zero, negative, not finite) count as missing.
    ///
    /// # Source
    /// The proportions stand in `body/typical.rs`, each with where it comes from.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, body::{Body, BodyKind, Measured, Origin}, measure::Measure};
    /// let mut doll = Body::new("my doll", BodyKind::Doll);
    /// doll.measures.insert(Measure::BackWaistLength, Measured::own_tape(Mm(100.0)));
    /// let depth = doll.measure(Measure::ArmscyeDepth);
    /// assert_eq!(depth.origin, Origin::Estimated);
    /// assert!((depth.value.0 - 50.0).abs() < 1e-9);
    /// ```
    pub fn measure(&self, measure: Measure) -> Measured {
        self.given(measure)
            .cloned()
            .unwrap_or_else(|| estimate::estimate(self, measure))
    }

    /// The figure of a measure, given or estimated, without its source.
    pub fn mm(&self, measure: Measure) -> Mm {
        self.given(measure)
            .map_or_else(|| estimate::value(self, measure), |given| given.value)
    }

    /// The figure that stands on the sheet; `None` when it has to be estimated.
    pub fn given(&self, measure: Measure) -> Option<&Measured> {
        let given = self.measures.get(&measure);
        given.filter(|given| given.value.0.is_finite() && given.value.0 > 0.0)
    }

    /// The same body with one more figure, replacing the one it had.
    #[must_use]
    pub fn with(mut self, measure: Measure, figure: Measured) -> Self {
        self.measures.insert(measure, figure);
        self
    }
}

impl Measured {
    /// A figure the maker took with her own tape.
    pub fn own_tape(value: Mm) -> Self {
        Self {
            value,
            origin: Origin::Measured,
            source: "own tape".to_owned(),
        }
    }
}

/// Kinds of bodies; proportions for estimates differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum BodyKind {
    /// A grown woman.
    Woman,
    /// A grown man.
    Man,
    /// A child.
    Child,
    /// A doll.
    Doll,
}

/// Does the torso give when the garment is put on?
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Torso {
    /// Stuffed: a girth can be pressed in by this much.
    Soft {
        /// How much a girth gives.
        give: Mm,
    },
    /// Vinyl, resin, porcelain, wood.
    Rigid,
}

/// A measure with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The figure.
    pub value: Mm,
    /// Where it comes from.
    pub origin: Origin,
    /// Source of the figure, or the proportion it was estimated by.
    pub source: String,
}

/// How sure a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Origin {
    /// Taken with a tape, by the maker or by the named survey.
    Measured,
    /// Typical of the class: measure your own.
    Typical,
    /// Estimated by a stated proportion.
    Estimated,
}

#[cfg(test)]
mod tests;
