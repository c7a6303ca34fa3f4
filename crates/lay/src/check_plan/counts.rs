//! Every part once, all parts of a copy or none, nothing that is not wanted.

use std::collections::BTreeSet;

use petitoile_core::Mm;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::{ToLay, words};

use super::{FaultKind, PlanFault};
use crate::lying::{copy_of, shapes_of};

pub(super) fn check(to_lay: &ToLay, plan: &LayPlan, faults: &mut Vec<PlanFault>) {
    let mut seen = BTreeSet::new();
    let mut told: BTreeSet<CopyRef> = BTreeSet::new();
    for placed in &plan.placed {
        let shapes = copy_of(to_lay, &placed.of()).map(|copy| shapes_of(copy, plan));
        let of_parts = shapes.as_ref().map_or(1, |shapes| shapes.len());
        if !seen.insert(placed.part_ref()) {
            faults.push(fault(plan, placed, FaultKind::LaidTwice));
        }
        if placed.as_cut.is_some() && shapes.is_none() {
            continue;
        }
        match &shapes {
            None => faults.push(fault(plan, placed, FaultKind::NotWanted)),
            Some(shapes) if placed.part >= shapes.len() && placed.as_cut.is_none() => {
                faults.push(fault(plan, placed, FaultKind::NoSuchPart));
            }
            Some(_) => {}
        }
        let missing = missing(plan, &placed.of(), of_parts);
        if !missing.is_empty() && told.insert(placed.of()) {
            let piecing = plan.piecing(&placed.of());
            let named = missing.iter().map(|part| words::part_of(piecing, *part));
            faults.push(PlanFault {
                others: named.collect(),
                ..fault(plan, placed, FaultKind::PartsMissing(missing.clone()))
            });
        }
    }
}

/// Parts of a copy that do not lie.
fn missing(plan: &LayPlan, of: &CopyRef, of_parts: usize) -> Vec<usize> {
    let lies = |part: &usize| {
        plan.placed
            .iter()
            .any(|placed| placed.part == *part && placed.of() == *of)
    };
    (0..of_parts).filter(|part| !lies(part)).collect()
}

fn fault(plan: &LayPlan, placed: &Placed, kind: FaultKind) -> PlanFault {
    PlanFault {
        part: placed.part_ref(),
        name: super::name(plan, placed),
        offcut: placed.offcut.clone(),
        by: Mm(0.0),
        kind,
        others: Vec::new(),
    }
}
