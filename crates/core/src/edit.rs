//! Every change to a project. Each is one undo step and names it.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::alteration::{Alteration, AlterationError};
use crate::body::{Body, Torso};
use crate::closure::Closure;
use crate::cloth::{Cloth, Offcut};
use crate::ease::EasePolicy;
use crate::edge::EdgeRef;
use crate::fitting::{AsWorn, DemandChoice, DetailRule, Fitting, Shaping};
use crate::garment::{Garment, Opening};
use crate::lay_plan::{LayChange, LayPlan};
use crate::laying::PieceLaying;
use crate::machine::Machine;
use crate::making_order::{By, LiningMethod};
use crate::measure::Measure;
use crate::outfit::Outfit;
use crate::pad::Pad;
use crate::paper::PaperSettings;
use crate::piece::{Piece, Role};
use crate::pins::Pin;
use crate::project::{Project, ReferenceError};
use crate::units::{Degrees, LengthUnit, Mm};

mod alterations;
mod fitting_edit;
mod garment_edit;
mod lay_limits;
mod limits;
mod offcuts;
mod outfits;
mod pinned;
mod shapes;
impl Project {
    /// Checks a project that came from elsewhere: every name is there, every size, place and count makes sense. What
    /// passes can be adapted, finished and printed; edits keep it so.
    ///
    /// # Errors
    /// The first [`EditError`], which names the place, what is wrong and what is allowed.
    pub fn check(&self) -> Result<(), EditError> {
        self.check_references()?;
        self.garments
            .iter()
            .try_for_each(|garment| limits::garment(garment))?;
        self.bodies.iter().try_for_each(|body| limits::body(body))?;
        for fitting in &self.fittings {
            let garment = self
                .garment(&fitting.garment)
                .ok_or_else(|| missing("garment", &fitting.garment))?;
            limits::fitting(fitting, garment)?;
        }
        self.offcuts
            .iter()
            .try_for_each(|offcut| lay_limits::offcut(offcut))?;
        limits::machine(&self.machine)?;
        self.outfits
            .iter()
            .flat_map(|outfit| &outfit.pads)
            .try_for_each(|worn| limits::pad(&worn.pad))?;
        self.pins.iter().try_for_each(pinned::limits)
    }
}

#[cfg(test)]
mod tests;
mod words;

/// A change to a project.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Edit {
    /// Renames the project.
    RenameProject(String),
    /// Chooses the unit that is read and typed.
    SetUnit(LengthUnit),
    /// Adds a garment, or replaces the one of the same name.
    PutGarment(Arc<Garment>),
    /// Puts a garment that was made ready to adapt ([`crate::readying`]) in the place of the one of its name. What fittings
    /// chose about pieces and edges that have other names now waits for these names.
    TakeReady(Arc<Garment>),
    /// Takes a garment out, with its pins. Refused while a fitting uses it.
    RemoveGarment(String),
    /// Replaces a source piece of a garment by the piece of the same name.
    PutPiece {
        /// Name of the garment.
        garment: String,
        /// The piece.
        piece: Arc<Piece>,
    },
    /// Names an opening of a garment, or replaces the one of the same name.
    PutOpening {
        /// Name of the garment.
        garment: String,
        /// The opening.
        opening: Opening,
    },
    /// Alters a garment by hand; what its fittings chose about edges and pieces follows.
    Alter {
        /// Name of the garment.
        garment: String,
        /// What is done.
        alteration: Alteration,
    },
    /// Adds a body of the maker's own, or replaces the one of the same name.
    PutBody(Arc<Body>),
    /// Takes a body of the maker's own out.
    RemoveBody(String),
    /// Adds a fitting, or replaces the one of the same name. Its garment must be there.
    PutFitting(Arc<Fitting>),
    /// Takes a fitting out, with its pins. Refused while an outfit wears it.
    RemoveFitting(String),
    /// Adds an outfit, or replaces the one of the same name. Its fittings must be there.
    PutOutfit(Outfit),
    /// Takes an outfit out.
    RemoveOutfit(String),
    /// Gives an outfit another name; fittings that are fitted as worn in it follow.
    RenameOutfit {
        /// Its name.
        outfit: String,
        /// Its new name.
        name: String,
    },
    /// Says what the maker's sewing machine takes.
    SetMachine(Machine),
    /// Adds an offcut, or replaces the one of the same name.
    PutOffcut(Arc<Offcut>),
    /// Takes an offcut out, with what lies on it. Refused while cut pieces are marked on it.
    RemoveOffcut(String),
    /// Takes an offcut out of which everything that lies on it is cut; that stays marked as cut. Refused while something on it
    /// is not cut.
    UseUpOffcut(String),
    /// Gives an offcut another name; what lies on it follows.
    RenameOffcut {
        /// Its name.
        offcut: String,
        /// Its new name.
        name: String,
    },
    /// Takes every offcut of the project for so many percent longer and wider: cloth that is still to be measured or got. What
    /// lies on them stays where it is.
    GrowOffcuts(f64),
    /// Says which stash file belongs to the project.
    SetStashFile(Option<String>),
    /// Says which wardrobe file belongs to the project.
    SetWardrobeFile(Option<String>),
    /// Pins a measurement to the screen, or replaces the pin of the same name. What it is pinned to must be there.
    PutPin(Pin),
    /// Takes a pin out.
    RemovePin(String),
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
    /// Types a figure of the maker's own tape over a measure of its body.
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
    /// Says how thick the layers worn underneath are, everywhere alike; no longer as worn in an outfit.
    SetWornUnderneath(Vec<Mm>),
    /// Says what lies underneath girth by girth and which pads, as worn in an outfit; `None` forgets it, with the pads given.
    SetAsWorn(Option<AsWorn>, Vec<Pad>),
    /// With or without shoes.
    SetShoes(bool),
    /// Says whether the torso of the body gives, and how much.
    SetTorso(Torso),
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
    /// Adds several alterations by hand at the end of the list, as one step of undo.
    AddAlterations(Vec<Alteration>),
    /// Puts another alteration at this place in the list.
    SetAlteration(usize, Alteration),
    /// Takes out the alteration at this place in the list.
    RemoveAlteration(usize),
    /// Moves an alteration to another place in the list: it is made earlier or later.
    MoveAlteration {
        /// Its place now.
        from: usize,
        /// Its place afterwards.
        to: usize,
    },
    /// Changes the paper settings.
    SetPaper(PaperSettings),
    /// Keeps a lay plan; `None` forgets it.
    SetLayPlan(Option<LayPlan>),
    /// Changes by hand where something lies.
    Lay(LayChange),
    /// Sets the room between two cut lines.
    SetLayGap(Mm),
    /// Sets how far pieces may be turned off the grain.
    SetGrainTolerance(Degrees),
    /// Chooses how one piece is laid; `None` lets the program choose.
    SetPieceLaying(String, Option<PieceLaying>),
    /// Says which stuffed pieces are worn underneath.
    SetPadsUnderneath(Vec<Pad>),
    /// Chooses what closes an opening; `None` lets the program choose.
    SetClosure(String, Option<Closure>),
    /// Ticks a step of the making order, or takes the tick away.
    Tick(String, bool),
    /// Moves a step of the making order right before another one; `None` puts it last.
    MoveStep {
        /// Key of the step.
        step: String,
        /// Key of the step it comes right before.
        before: Option<String>,
    },
    /// Forgets every step the maker moved.
    ForgetMoves,
    /// Chooses hand or machine for a step; `None` lets the program choose.
    SetBy(String, Option<By>),
    /// Chooses how it is lined; `None` lets the program choose.
    SetLining(Option<LiningMethod>),
    /// Says whether the allowances of a seam are graded.
    SetGraded(String, bool),
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
    /// A number that is not a length and makes no sense.
    #[error("{what} cannot be {value:.2}; it must be between {least:.2} and {most:.2}")]
    NumberOutOfRange {
        /// Which number.
        what: String,
        /// The number that was asked for.
        value: f64,
        /// Smallest allowed.
        least: f64,
        /// Largest allowed.
        most: f64,
    },
    /// A name that is empty.
    #[error("{} {what} needs a name; type one", article(what))]
    NoName {
        /// "fitting", "garment", ...
        what: &'static str,
    },
    /// A name or key that another one has.
    #[error("another {what} is called {name} already; choose another name")]
    Taken {
        /// "body", ...
        what: &'static str,
        /// The name.
        name: String,
    },
    /// Something that cannot be done on the cloth.
    #[error("cannot {0}")]
    CannotLay(String),
    /// An alteration by hand that does not apply.
    #[error("{name}: {why}")]
    CannotAlter {
        /// What was to be done.
        name: String,
        /// Why not.
        why: AlterationError,
    },
    /// A garment whose parts name something that is not there.
    #[error(transparent)]
    BadReference(#[from] ReferenceError),
}

impl Project {
    /// The project after one change. Everything untouched stays shared with this one; this one stays as it is, so that
    /// undo is keeping it.
    ///
    /// # Errors
    /// [`EditError`] when the change names something that is not there, leaves a name pointing nowhere, or asks for a
    /// size that makes no sense.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{edit::Edit, project::Project};
    /// let before = Project::default();
    /// let after = before.edited(&Edit::RenameProject("Sunday dress".to_owned()))?;
    /// assert_eq!((before.name.as_str(), after.name.as_str()), ("", "Sunday dress"));
    /// # Ok::<(), petitoile_core::edit::EditError>(())
    /// ```
    pub fn edited(&self, edit: &Edit) -> Result<Self, EditError> {
        let mut next = self.clone();
        match edit {
            Edit::RenameProject(name) => {
                limits::name("project", name)?;
                next.name.clone_from(name);
            }
            Edit::SetUnit(unit) => next.unit = *unit,
            Edit::PutGarment(garment) => {
                limits::garment(garment)?;
                put(&mut next.garments, garment.clone(), |garment| &garment.name);
            }
            Edit::TakeReady(garment) => next.take_ready(garment)?,
            Edit::RemoveGarment(name) => next.remove_garment(name)?,
            Edit::PutPiece { garment, piece } => next.put_piece(garment, piece)?,
            Edit::PutOpening { garment, opening } => next.put_opening(garment, opening)?,
            Edit::Alter {
                garment,
                alteration,
            } => next.alter(garment, alteration)?,
            Edit::PutBody(body) => next.put_body(body)?,
            Edit::RemoveBody(name) => take_out(&mut next.bodies, "body", name, |body| &body.name)?,
            Edit::PutFitting(fitting) => next.put_fitting(fitting)?,
            Edit::RemoveFitting(name) => next.remove_fitting(name)?,
            Edit::PutOutfit(outfit) => next.put_outfit(outfit)?,
            Edit::RemoveOutfit(name) => {
                take_out(&mut next.outfits, "outfit", name, |outfit| &outfit.name)?
            }
            Edit::RenameOutfit { outfit, name } => next.rename_outfit(outfit, name)?,
            Edit::SetMachine(machine) => {
                limits::machine(machine)?;
                next.machine = machine.clone();
            }
            Edit::PutOffcut(offcut) => {
                lay_limits::offcut(offcut)?;
                put(&mut next.offcuts, offcut.clone(), |offcut| &offcut.name);
            }
            Edit::RemoveOffcut(name) => next.remove_offcut(name)?,
            Edit::UseUpOffcut(name) => next.use_up_offcut(name)?,
            Edit::RenameOffcut { offcut, name } => next.rename_offcut(offcut, name)?,
            Edit::GrowOffcuts(percent) => next.grow_offcuts(*percent)?,
            Edit::SetStashFile(file) => {
                file.as_ref()
                    .map_or(Ok(()), |file| limits::name("stash file", file))?;
                next.stash_file.clone_from(file);
            }
            Edit::SetWardrobeFile(file) => {
                file.as_ref()
                    .map_or(Ok(()), |file| limits::name("wardrobe file", file))?;
                next.wardrobe_file.clone_from(file);
            }
            Edit::PutPin(pin) => next.put_pin(pin)?,
            Edit::RemovePin(name) => take_out(&mut next.pins, "pin", name, |pin| &pin.name)?,
            Edit::Fitting { fitting, change } => next.change_fitting(fitting, change)?,
        }
        Ok(next)
    }

    fn put_body(&mut self, body: &Arc<Body>) -> Result<(), EditError> {
        limits::body(body)?;
        let same_key = |other: &&Arc<Body>| {
            !body.key.is_empty() && other.key == body.key && other.name != body.name
        };
        if self.bodies.iter().any(|other| same_key(&other)) {
            return Err(EditError::Taken {
                what: "body",
                name: body.key.clone(),
            });
        }
        put(&mut self.bodies, body.clone(), |body| &body.name);
        Ok(())
    }

    fn put_fitting(&mut self, fitting: &Arc<Fitting>) -> Result<(), EditError> {
        let garment = self
            .garment(&fitting.garment)
            .ok_or_else(|| missing("garment", &fitting.garment))?;
        limits::fitting(fitting, garment)?;
        put(&mut self.fittings, fitting.clone(), |fitting| &fitting.name);
        Ok(())
    }

    fn remove_fitting(&mut self, name: &str) -> Result<(), EditError> {
        let wears = |outfit: &&Outfit| outfit.layers.iter().any(|layer| layer == name);
        if let Some(user) = self.outfits.iter().find(wears) {
            return Err(EditError::InUse {
                name: name.to_owned(),
                by: format!("the outfit {}", user.name),
            });
        }
        take_out(&mut self.fittings, "fitting", name, |fitting| &fitting.name)?;
        self.drop_pins();
        Ok(())
    }

    fn change_fitting(&mut self, name: &str, change: &FittingEdit) -> Result<(), EditError> {
        let fitting = self.fitting(name).ok_or_else(|| missing("fitting", name))?;
        let garment = self
            .garment(&fitting.garment)
            .ok_or_else(|| missing("garment", &fitting.garment))?;
        let changed = fitting_edit::changed(fitting, garment, change)?;
        *find_mut(&mut self.fittings, "fitting", name, |fitting| &fitting.name)? =
            Arc::new(changed);
        Ok(())
    }
}

/// "an edge", "a seam".
fn article(what: &str) -> &'static str {
    if what.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    }
}

fn missing(what: &'static str, name: &str) -> EditError {
    EditError::Missing {
        what,
        name: name.to_owned(),
    }
}

/// Replaces the one of the same name in its place, or adds it at the end.
fn put<T>(list: &mut Vec<T>, item: T, name: impl Fn(&T) -> &String) {
    match list.iter_mut().find(|other| name(other) == name(&item)) {
        Some(other) => *other = item,
        None => list.push(item),
    }
}

fn find_mut<'a, T>(
    list: &'a mut [T],
    what: &'static str,
    wanted: &str,
    name: impl Fn(&T) -> &String,
) -> Result<&'a mut T, EditError> {
    list.iter_mut()
        .find(|item| name(item) == wanted)
        .ok_or_else(|| missing(what, wanted))
}

fn take_out<T>(
    list: &mut Vec<T>,
    what: &'static str,
    wanted: &str,
    name: impl Fn(&T) -> &String,
) -> Result<(), EditError> {
    let before = list.len();
    list.retain(|item| name(item) != wanted);
    if list.len() == before {
        Err(missing(what, wanted))
    } else {
        Ok(())
    }
}
