//! How a fitting sits, section by section: what `petitoile fit` says, as text and as JSON from the same value.
//!
//! One file a section. Each has a `Section` with what JSON shows, an `of(&Project, &Worked)` that collects it, and a
//! `text(unit)` that tells it to people. Never here: recomputing anything that [`Worked`] holds.

use petitoile_core::LengthUnit;
use petitoile_core::project::Project;
use serde::Serialize;

use super::{FindingRow, finding_text};
use crate::whole_way::Worked;

pub mod bulk;
pub mod dressing;
pub mod ease;
pub mod layers;

/// How a fitting sits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitReport {
    /// Name of the fitting.
    pub fitting: String,
    /// Name of the garment.
    pub garment: String,
    /// Name of the body the garment was made for.
    pub made_for: String,
    /// Name of the body it is fitted to.
    pub body: String,
    /// Can everything be cut, sewn and worn?
    pub usable: bool,
    /// Body, layers underneath, garment and ease at every tape line.
    pub ease: ease::Section,
    /// Does it go on?
    pub dressing: dressing::Section,
    /// What is worn under and over it.
    pub layers: layers::Section,
    /// Stacks of cloth.
    pub bulk: bulk::Section,
    /// What the maker should know, worst first.
    pub findings: Vec<FindingRow>,
    /// The unit the maker reads; lengths in this value are mm all the same.
    pub unit: &'static str,
    #[serde(skip)]
    length_unit: LengthUnit,
}

impl FitReport {
    /// How a fitting sits.
    pub fn of(project: &Project, worked: &Worked) -> Self {
        let adapted = &worked.adapted;
        Self {
            fitting: adapted.fitting.name.clone(),
            garment: adapted.garment.name.clone(),
            made_for: adapted.garment.made_for.name.clone(),
            body: adapted.fitting.body.name.clone(),
            usable: worked.is_usable(),
            ease: ease::Section::of(project, worked),
            dressing: dressing::Section::of(project, worked),
            layers: layers::Section::of(project, worked),
            bulk: bulk::Section::of(project, worked),
            findings: worked.findings.iter().map(FindingRow::from).collect(),
            unit: project.unit.suffix(),
            length_unit: project.unit,
        }
    }

    /// The same for people, in the maker's unit. Ends with a line end.
    pub fn text(&self) -> String {
        let unit = self.length_unit;
        let head = format!(
            "{}, made for {}, on {}\n",
            self.garment, self.made_for, self.body
        );
        let sections = [
            head,
            self.ease.text(unit),
            self.dressing.text(unit),
            self.layers.text(unit),
            self.bulk.text(unit),
            finding_text(&self.findings),
        ];
        let told: Vec<String> = sections.into_iter().filter(|s| !s.is_empty()).collect();
        told.join("\n")
    }
}
