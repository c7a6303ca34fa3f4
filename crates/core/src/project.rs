//! Everything that is saved: an immutable snapshot, changed only through [`crate::edit::Edit`].

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::body::Body;
use crate::cloth::Offcut;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::machine::Machine;
use crate::outfit::Outfit;
use crate::pins::{Pin, PinnedTo};
use crate::units::LengthUnit;

mod references;

pub use references::ReferenceError;

/// Everything that is saved.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Project {
    /// Title.
    pub name: String,
    /// Unit the maker reads and types.
    pub unit: LengthUnit,
    /// Source garments.
    pub garments: Vec<Arc<Garment>>,
    /// Bodies of the maker's own.
    pub bodies: Vec<Arc<Body>>,
    /// Garments on target bodies.
    pub fittings: Vec<Arc<Fitting>>,
    /// Fittings worn together.
    #[serde(default)]
    pub outfits: Vec<Outfit>,
    /// What the maker's sewing machine takes.
    #[serde(default)]
    pub machine: Machine,
    /// Cloth that is there for this project: drawn here, or taken from the stash.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub offcuts: Vec<Arc<Offcut>>,
    /// File of the stash, relative to the project file.
    #[serde(default)]
    pub stash_file: Option<String>,
    /// File of the wardrobe, relative to the project file.
    #[serde(default)]
    pub wardrobe_file: Option<String>,
    /// Measurements pinned to the screen.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<Pin>,
}

impl Project {
    /// The garment of this name.
    pub fn garment(&self, name: &str) -> Option<&Arc<Garment>> {
        self.garments.iter().find(|garment| garment.name == name)
    }

    /// The fitting of this name.
    pub fn fitting(&self, name: &str) -> Option<&Arc<Fitting>> {
        self.fittings.iter().find(|fitting| fitting.name == name)
    }

    /// The body of this name among the maker's own.
    pub fn body(&self, name: &str) -> Option<&Arc<Body>> {
        self.bodies.iter().find(|body| body.name == name)
    }

    /// The offcut of this name.
    pub fn offcut(&self, name: &str) -> Option<&Arc<Offcut>> {
        self.offcuts.iter().find(|offcut| offcut.name == name)
    }

    /// The pin of this name.
    pub fn pin(&self, name: &str) -> Option<&Pin> {
        self.pins.iter().find(|pin| pin.name == name)
    }

    /// The garment that a pin is about: the one it is pinned to, or that of its fitting.
    pub fn pinned_garment(&self, pin: &Pin) -> Option<&Arc<Garment>> {
        match &pin.on {
            PinnedTo::Garment(name) => self.garment(name),
            PinnedTo::Fitting(name) => self.garment(&self.fitting(name)?.garment),
        }
    }
}
