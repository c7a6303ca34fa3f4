//! Proof of a plan: everything that can be wrong with what lies on cloth, found without the search.
//!
//! Written against the plan alone, in f64, with `geo` and `i_overlay`; it shares no code with [`crate::search`]. No plan is
//! shown, saved or printed as good that has a fault here.
//!
//! What is asked of a part:
//!
//! | | |
//! |---|---|
//! | edge | inside the offcut, and the usable margin away from its edge and from the edges of its holes |
//! | blemishes | off every one that is good for less than it needs |
//! | others | apart by the gap |
//! | grain | within its own tolerance **and the doubt of the offcut's grain** of the direction as read. The doubt widens what is allowed: a part that lies true to the grain as it was read is right, and nobody can see it better on that offcut |
//! | nap | not upside down on cloth with nap, elsewhere where its piece allows it |
//! | right side | mirrored as its copy is, the other way round where the offcut shows its wrong side; either way where both sides are alike |
//! | cloth | of the cloth its copy is to be of |
//! | counts | every part once, all parts of a copy or none |
//! | cut | a part that is cut is as it was cut; it is only asked to overlap nothing, its cloth being gone |
//!
//! A distance that is short by less than [`MEASURING`] is no fault.

mod cloth;
mod counts;
mod fault;
mod grain;
mod plane;

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::{LayPlan, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, ToLay, words};
use petitoile_core::tolerance::MEASURING;

use crate::lying::{copy_of, moved, shapes_of};
pub use fault::{FaultKind, PlanFault};
use plane::Outline;

/// Everything that is wrong with a plan; empty when it can be cut. In the order of [`LayPlan::placed`].
///
/// `offcuts` are those there are; for cloth that other fittings have cut already see [`crate::cloth_left`].
pub fn check_plan(to_lay: &ToLay, offcuts: &[Arc<Offcut>], plan: &LayPlan) -> Vec<PlanFault> {
    let mut faults = Vec::new();
    counts::check(to_lay, plan, &mut faults);
    let mut lying: Vec<Lying<'_>> = Vec::new();
    for placed in &plan.placed {
        match Lying::new(to_lay, offcuts, plan, placed) {
            Ok(one) => lying.push(one),
            Err(fault) => faults.extend(fault),
        }
    }
    for (i, one) in lying.iter().enumerate() {
        if placed_is_cut(one) {
            cloth::check_as_cut(one, &mut faults);
        } else {
            cloth::check_offcut(one, &mut faults);
            grain::check(one, &mut faults);
        }
        for other in lying.iter().skip(i + 1) {
            cloth::check_pair(one, other, to_lay.gap, &mut faults);
        }
    }
    faults
}

/// What is wrong with one part where it is held, whether it is in the plan there or not; what the plan says of it does not count.
/// Counts are not looked at.
pub fn check_part(
    to_lay: &ToLay,
    offcuts: &[Arc<Offcut>],
    plan: &LayPlan,
    held: &Placed,
) -> Vec<PlanFault> {
    let mut faults = Vec::new();
    let one = match Lying::new(to_lay, offcuts, plan, held) {
        Ok(one) => one,
        Err(fault) => return fault.into_iter().collect(),
    };
    cloth::check_offcut(&one, &mut faults);
    grain::check(&one, &mut faults);
    let others = plan
        .placed
        .iter()
        .filter(|other| other.offcut == held.offcut && other.part_ref() != held.part_ref());
    for other in others {
        if let Ok(other) = Lying::new(to_lay, offcuts, plan, other) {
            cloth::check_against(&one, &other, to_lay.gap, &mut faults);
        }
    }
    faults
}

fn placed_is_cut(one: &Lying<'_>) -> bool {
    one.placed.as_cut.is_some()
}

/// One part where it lies.
struct Lying<'a> {
    placed: &'a Placed,
    /// `None` for a cut part of what is no longer wanted.
    wanted: Option<Wanted<'a>>,
    offcut: &'a Offcut,
    /// On the offcut: as it was cut, or else as it is to be cut.
    outline: Outline,
    name: String,
}

/// What is asked of it.
struct Wanted<'a> {
    copy: &'a CopyToLay,
    shape: LayShape,
}

impl<'a> Lying<'a> {
    /// The fault is `None` where the counts have told it already.
    #[expect(
        clippy::result_large_err,
        reason = "a fault is what is asked for, and rare"
    )]
    fn new(
        to_lay: &'a ToLay,
        offcuts: &'a [Arc<Offcut>],
        plan: &LayPlan,
        placed: &'a Placed,
    ) -> Result<Self, Option<PlanFault>> {
        let copy = copy_of(to_lay, &placed.of());
        let shapes = copy.map(|copy| shapes_of(copy, plan));
        let fault = |kind| PlanFault {
            part: placed.part_ref(),
            name: name(plan, placed),
            offcut: placed.offcut.clone(),
            by: Mm(0.0),
            kind,
            others: Vec::new(),
        };
        let Some(offcut) = offcuts.iter().find(|offcut| offcut.name == placed.offcut) else {
            // What was cut from an offcut that is used up lies nowhere any more.
            let cut = placed.as_cut.is_some();
            return Err((!cut).then(|| fault(FaultKind::NoSuchOffcut)));
        };
        let shape = shapes.as_ref().and_then(|shapes| shapes.get(placed.part));
        let wanted = copy
            .zip(shape.cloned())
            .map(|(copy, shape)| Wanted { copy, shape });
        let points = match (&placed.as_cut, &wanted) {
            (Some(cut), _) => cut.clone(),
            (None, Some(wanted)) => moved(placed, &wanted.shape.outline),
            (None, None) => return Err(None),
        };
        let finite = placed.turn.0.is_finite();
        let outline = Outline::new(&points).filter(|_| finite);
        Ok(Self {
            placed,
            wanted,
            offcut,
            outline: outline.ok_or_else(|| Some(fault(FaultKind::NoPlace)))?,
            name: name(plan, placed),
        })
    }

    fn fault(&self, by: f64, kind: FaultKind) -> PlanFault {
        PlanFault {
            part: self.placed.part_ref(),
            name: self.name.clone(),
            offcut: self.placed.offcut.clone(),
            by: Mm(by),
            kind,
            others: Vec::new(),
        }
    }
}

fn name(plan: &LayPlan, placed: &Placed) -> String {
    words::part(&placed.part_ref(), plan.piecing(&placed.of()))
}

/// Is a distance short by so much that it counts?
fn counts(by: f64) -> bool {
    by > MEASURING.0
}
