//! Hand work of a sitting: on the garment or on this fitting, one step each, nudges of the same points as one step.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::garment::Garment;

use super::{Session, Tray};
use crate::settings::Ghost;

/// What hand work alters, and what lies on the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum On {
    /// This fitting only: kept as alterations that are made again after every solve.
    #[default]
    Fitting,
    /// The garment itself, and with it every fitting of it.
    Garment,
}

const NOTHING_TO_ALTER: &str = "There is no garment to work on yet: start one, or open a project.";

impl Session {
    /// What hand work alters now: the garment where there is no fitting.
    pub fn on(&self) -> On {
        if self.fitting().is_some() {
            self.on
        } else {
            On::Garment
        }
    }

    /// The pieces, seams and marks that hand work starts from: the garment as drawn, or as made for this fitting.
    /// What is only being tried is not in it, so that what a hand asks for always counts from the same shape.
    pub fn on_table(&self) -> Option<&Arc<Garment>> {
        self.under_hand.as_ref().or_else(|| match self.on() {
            On::Garment => self.garment(),
            On::Fitting => self.work.done.as_ref().map(|worked| &worked.adapted.made),
        })
    }

    /// What shows behind the pieces now.
    pub fn ghost(&self) -> Ghost {
        match self.tray {
            Tray::Folds => Ghost::DrawnIn,
            _ if self.of_garment() => Ghost::Hidden,
            _ => self.settings.ghost,
        }
    }

    /// Does the garment as drawn lie on the table, instead of a fitting?
    pub(super) fn of_garment(&self) -> bool {
        self.fitting.is_none() || self.tray.is_of_hand_work() && self.on == On::Garment
    }

    /// A change by hand as an edit of what hand work alters now.
    pub fn edit_of(&self, alteration: Alteration) -> Option<Edit> {
        Some(match self.on() {
            On::Garment => Edit::Alter {
                garment: self.garment()?.name.clone(),
                alteration,
            },
            On::Fitting => Edit::Fitting {
                fitting: self.fitting.clone()?,
                change: match self.takes_place_of(&alteration) {
                    Some(last) => FittingEdit::SetAlteration(last, alteration),
                    None => FittingEdit::AddAlteration(alteration),
                },
            },
        })
    }

    /// The last step by hand of this fitting, where this one says all it said anew: all fullness of the same piece.
    fn takes_place_of(&self, alteration: &Alteration) -> Option<usize> {
        let steps = &self.project.fitting(self.fitting.as_deref()?)?.alterations;
        let last = steps.len().checked_sub(1)?;
        let both_of_fullness = matches!(
            (steps.last()?, alteration),
            (Alteration::Fullness { piece: a, .. }, Alteration::Fullness { piece: b, .. }) if a == b
        );
        both_of_fullness.then_some(last)
    }

    pub(super) fn alter(&mut self, alteration: Alteration) {
        match self.edit_of(alteration) {
            Some(edit) => self.edit(edit),
            None => self.message = Some(NOTHING_TO_ALTER.to_owned()),
        }
    }

    pub(super) fn try_alter(&mut self, alteration: Alteration) {
        match self.edit_of(alteration) {
            Some(edit) => self.try_out(&edit),
            None => self.message = Some(NOTHING_TO_ALTER.to_owned()),
        }
    }

    /// One alteration, and one undo step, for several nudges of the same points in a row.
    pub(super) fn alter_on(&mut self, alteration: Alteration) {
        let Some(whole) = self
            .history
            .last()
            .and_then(|last| self.going_on(last, &alteration))
        else {
            self.alter(alteration);
            return;
        };
        if self.is_possible(&whole) {
            let Some(before) = self.history.take_back() else {
                return;
            };
            self.project = before;
            if !moves_nothing(&whole) {
                self.alter(whole);
            } else {
                self.trial = None;
                self.under_hand = None;
                self.ask();
            }
        }
    }

    /// The last step and this one as one alteration, when this one goes on with it.
    fn going_on(&self, last: &Edit, alteration: &Alteration) -> Option<Alteration> {
        let before = match last {
            Edit::Alter { alteration, .. } => alteration,
            Edit::Fitting {
                change: FittingEdit::AddAlteration(alteration),
                ..
            } => alteration,
            _ => return None,
        };
        let same_door = self.edit_of(before.clone()).as_ref() == Some(last);
        same_door.then(|| together(before, alteration)).flatten()
    }

    /// Can the last step be replaced by this alteration? Says so when not.
    fn is_possible(&mut self, whole: &Alteration) -> bool {
        let made = self
            .history
            .before()
            .zip(self.edit_of(whole.clone()))
            .map(|(before, edit)| before.edited(&edit));
        match made {
            Some(Ok(_)) => true,
            Some(Err(trouble)) => {
                self.message = Some(self.project.unit.reword(&trouble.to_string()));
                false
            }
            None => false,
        }
    }
}

/// Two moves of the same points one after the other as one.
fn together(first: &Alteration, then: &Alteration) -> Option<Alteration> {
    let (
        Alteration::Shape { piece, change: a },
        Alteration::Shape {
            piece: same,
            change: b,
        },
    ) = (first, then)
    else {
        return None;
    };
    let (
        ShapeChange::MovePoints {
            points,
            right,
            up,
            keep_smooth,
        },
        ShapeChange::MovePoints {
            points: same_points,
            right: on_right,
            up: on_up,
            keep_smooth: same_smooth,
        },
    ) = (a, b)
    else {
        return None;
    };
    (piece == same && points == same_points && keep_smooth == same_smooth).then(|| {
        ShapeChange::MovePoints {
            points: points.clone(),
            right: Mm(right.0 + on_right.0),
            up: Mm(up.0 + on_up.0),
            keep_smooth: *keep_smooth,
        }
        .of(piece.clone())
    })
}

/// Did a row of nudges come back to where it began, to the last thousandth of a micrometre?
fn moves_nothing(alteration: &Alteration) -> bool {
    matches!(alteration, Alteration::Shape { change: ShapeChange::MovePoints { right, up, .. }, .. }
        if right.0.hypot(up.0) < 1e-6)
}
