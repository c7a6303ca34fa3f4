//! What comes of the question why not everything fits: what does not, by how much, and what would help.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::edit::Edit;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::words;
use petitoile_core::{Degrees, LengthUnit, Mm};

use crate::check_plan::PlanFault;

/// Why not everything fits.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answer {
    /// Copies that do not lie, in the order of the pieces.
    pub not_laid: Vec<NotLaid>,
    /// What shows that no search will ever find a place for all; empty when nothing does.
    pub impossible: Vec<Impossible>,
    /// What would help; what helps completely comes first, then in the order it was tried.
    pub concessions: Vec<Concession>,
    /// What was tried and did not help within the steps.
    pub in_vain: Vec<Change>,
    /// Steps each trial was given.
    pub steps_each: u64,
}

/// One copy that does not lie.
#[derive(Debug, Clone, PartialEq)]
pub struct NotLaid {
    /// Which.
    pub of: CopyRef,
    /// The best place found for it beside what lies; `None` when there is no offcut of its cloth.
    pub nearest: Option<Nearest>,
}

/// A place where a copy almost fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Nearest {
    /// There.
    pub placed: Placed,
    /// How far it sticks out, overlaps or is too near, at the worst.
    pub by: Mm,
    /// What is wrong there, the worst first.
    pub faults: Vec<PlanFault>,
}

/// A proof that not everything can lie.
#[derive(Debug, Clone, PartialEq)]
pub enum Impossible {
    /// There is no offcut of this cloth.
    NoCloth {
        /// Its name.
        cloth: String,
        /// What is to be cut from it.
        of: CopyRef,
    },
    /// A copy is larger than every offcut of its cloth, by this much at least.
    TooLarge {
        /// Which.
        of: CopyRef,
        /// Missing at the offcut that comes nearest.
        by: Mm,
    },
    /// The pieces are larger than the cloth.
    TooLittle {
        /// Which cloth; `None`: all together.
        cloth: Option<String>,
        /// Area of the pieces, mm2.
        pieces_mm2: f64,
        /// Area of the cloth without its holes, mm2.
        cloth_mm2: f64,
    },
}

/// Something to give in on.
#[derive(Debug, Clone, PartialEq)]
pub struct Concession {
    /// What.
    pub change: Change,
    /// The same as a change of the project, for one click.
    pub remedy: Option<Edit>,
    /// Copies that lie with it, of how many.
    pub placed: (usize, usize),
    /// The plan that shows it; it passes the check of what is laid then.
    pub plan: LayPlan,
}

/// What is given in on.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Seam allowances become narrower.
    Allowance {
        /// Now.
        from: Mm,
        /// Then.
        to: Mm,
    },
    /// Less room between pieces.
    Gap {
        /// Now.
        from: Mm,
        /// Then.
        to: Mm,
    },
    /// Pieces may be turned farther off the grain.
    Grain {
        /// Now.
        from: Degrees,
        /// Then.
        to: Degrees,
    },
    /// A piece may be split along its fold, with a seam there.
    Split(String),
    /// A piece may be patched at its corners.
    Patched(String),
    /// A strip may be joined of several.
    Joined(String),
    /// A piece may be pieced in all these ways together; tried where none of them is enough alone.
    Pieced(String),
    /// A piece may lie upside down.
    UpsideDown(String),
    /// Every offcut is longer and wider by this share, percent: the least whole number that was found. Cloth does not grow: it
    /// says how far off it is ([`super::larger_offcut`] makes such offcuts), and serves where offcuts are still to be measured or
    /// chosen. What can be got is [`Self::Extra`].
    LargerOffcuts(f64),
    /// One more piece of cloth.
    Extra(Arc<Offcut>),
}

impl Answer {
    /// Does everything lie?
    pub fn everything_lies(&self) -> bool {
        self.not_laid.is_empty()
    }

    /// "Impossible: ..." where it is proved, else "not found in 3000 steps".
    pub fn verdict(&self, unit: LengthUnit) -> String {
        match self.impossible.first() {
            _ if self.everything_lies() => "Everything lies.".to_owned(),
            Some(proof) => format!("Impossible: {}.", proof.words(unit)),
            None => format!(
                "Not found in {} steps; another seed or more steps may find it.",
                self.steps_each
            ),
        }
    }
}

impl NotLaid {
    /// "sleeve, left: overlaps collar by 2.3 mm at the best place found, on blue A".
    pub fn words(&self, unit: LengthUnit) -> String {
        let name = words::copy(&self.of);
        match &self.nearest {
            None => format!("{name}: there is no cloth for it"),
            Some(nearest) => {
                let what = nearest
                    .faults
                    .first()
                    .map_or_else(|| "fits".to_owned(), |fault| fault.what(unit));
                format!(
                    "{name}: {what} at the best place found, on {}",
                    nearest.placed.offcut
                )
            }
        }
    }
}

impl Impossible {
    /// "front is 12 mm larger than every offcut".
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::NoCloth { cloth, of } => {
                format!(
                    "{} is to be of {cloth}, and there is no offcut of it",
                    words::copy(of)
                )
            }
            Self::TooLarge { of, by } => format!(
                "{} is at least {} larger than every offcut it may lie on",
                words::copy(of),
                unit.show(*by)
            ),
            Self::TooLittle {
                cloth,
                pieces_mm2,
                cloth_mm2,
            } => format!(
                "the pieces{} measure {:.0} cm\u{b2}, the cloth {:.0} cm\u{b2}",
                cloth
                    .as_ref()
                    .map_or_else(String::new, |cloth| format!(" of {cloth}")),
                (pieces_mm2 / 100.0).ceil(),
                (cloth_mm2 / 100.0).floor()
            ),
        }
    }
}

impl Concession {
    /// Does everything lie with it?
    pub fn is_enough(&self) -> bool {
        self.placed.0 == self.placed.1
    }

    /// "fits if allowances shrink from 6 mm to 5 mm".
    pub fn words(&self, unit: LengthUnit) -> String {
        let (placed, of) = self.placed;
        let change = self.change.words(unit);
        if self.is_enough() {
            format!("fits {change}")
        } else {
            format!("{placed} of {of} lie {change}")
        }
    }
}

impl Change {
    /// "if allowances shrink from 6 mm to 5 mm", "with back split along its fold".
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::Allowance { from, to } => format!(
                "if allowances shrink from {} to {}",
                unit.show(*from),
                unit.show(*to)
            ),
            Self::Gap { from, to } => format!(
                "with {} between pieces instead of {}",
                unit.show(*to),
                unit.show(*from)
            ),
            Self::Grain { from, to } => format!(
                "if pieces may be {:.0}\u{b0} off the grain instead of {:.0}\u{b0}",
                to.0, from.0
            ),
            Self::Split(piece) => format!("with {piece} split along its fold"),
            Self::Patched(piece) => format!("with {piece} patched at a corner"),
            Self::Joined(piece) => format!("with {piece} joined of several strips"),
            Self::Pieced(piece) => format!("with {piece} pieced in more than one way"),
            Self::UpsideDown(piece) => format!("with {piece} upside down"),
            Self::LargerOffcuts(percent) => format!("with every offcut {percent:.0} % larger"),
            Self::Extra(offcut) => {
                let (across, along) = size(offcut);
                format!(
                    "with one more piece of cloth, {} across and {} along the grain",
                    unit.show(across),
                    unit.show(along)
                )
            }
        }
    }
}

/// Across and along a rectangle that stands on the x axis.
fn size(offcut: &Offcut) -> (Mm, Mm) {
    let most = |of: &dyn Fn(&petitoile_core::kurbo::Point) -> f64| {
        offcut.outline.iter().map(of).fold(0.0, f64::max)
    };
    (Mm(most(&|p| p.x)), Mm(most(&|p| p.y)))
}
