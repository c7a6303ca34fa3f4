//! Stacks of cloth at seams, crossings, hems and bands, as `petitoile fit` tells it.

use petitoile_core::LengthUnit;
use petitoile_core::project::Project;
use serde::Serialize;

use crate::whole_way::Worked;

/// Stacks of cloth at seams, crossings, hems and bands.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Section {}

impl Section {
    /// Collects it.
    pub fn of(_project: &Project, _worked: &Worked) -> Self {
        Self {}
    }

    /// For people, in the maker's unit; empty when there is nothing to tell.
    pub fn text(&self, _unit: LengthUnit) -> String {
        String::new()
    }
}
