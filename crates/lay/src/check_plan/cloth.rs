//! Inside the offcut, off holes and blemishes, of the right cloth, apart from the others, as it was cut.

use petitoile_core::Mm;
use petitoile_core::lay_plan::PartRef;
use petitoile_core::tolerance::DRAWING;

use super::plane::Outline;
use super::{FaultKind, Lying, PlanFault, counts};
use crate::lying::moved;

pub(super) fn check_offcut(one: &Lying<'_>, faults: &mut Vec<PlanFault>) {
    let Some(edge) = Outline::new(&one.offcut.outline) else {
        faults.push(one.fault(0.0, FaultKind::NoSuchOffcut));
        return;
    };
    let margin = one.offcut.margin.0.max(0.0);
    let out = one.outline.sticks_out(&edge);
    if counts(out) {
        faults.push(one.fault(out, FaultKind::OverEdge));
    } else {
        let short = margin - one.outline.between_edges(&edge);
        if counts(short) {
            faults.push(one.fault(short, FaultKind::InMargin(Mm(margin))));
        }
    }
    let needs = one.wanted.as_ref().map(|wanted| wanted.copy.needs);
    for (i, blemish) in one.offcut.blemishes.iter().enumerate() {
        let good_enough = !blemish.is_hole && needs.is_none_or(|needs| blemish.good_for >= needs);
        let Some(place) = Outline::new(&blemish.outline).filter(|_| !good_enough) else {
            continue;
        };
        let reaches = one.outline.overlaps(&place);
        if counts(reaches) {
            let kind = if blemish.is_hole {
                FaultKind::OnHole(i)
            } else {
                FaultKind::OnBlemish(i)
            };
            faults.push(one.fault(reaches, kind));
        } else if blemish.is_hole {
            let short = margin - one.outline.between_edges(&place);
            if counts(short) {
                faults.push(one.fault(short, FaultKind::NearHole(i, Mm(margin))));
            }
        }
    }
    check_name(one, faults);
}

fn check_name(one: &Lying<'_>, faults: &mut Vec<PlanFault>) {
    let wanted = one
        .wanted
        .as_ref()
        .and_then(|wanted| wanted.copy.cloth.as_ref());
    if let Some(wanted) = wanted.filter(|wanted| **wanted != one.offcut.cloth) {
        faults.push(one.fault(
            0.0,
            FaultKind::OtherCloth {
                wanted: wanted.clone(),
                there: one.offcut.cloth.clone(),
            },
        ));
    }
}

/// Told of the one that is neither cut nor pinned, or else of the first in the plan.
pub(super) fn check_pair(one: &Lying<'_>, other: &Lying<'_>, gap: Mm, faults: &mut Vec<PlanFault>) {
    let same_part = one.placed.part_ref() == other.placed.part_ref();
    if same_part || one.offcut.name != other.offcut.name {
        return;
    }
    let fixed = |it: &Lying<'_>| it.placed.as_cut.is_some() || it.placed.pinned;
    if fixed(one) && !fixed(other) {
        check_against(other, one, gap, faults);
    } else {
        check_against(one, other, gap, faults);
    }
}

/// Told of the first.
pub(super) fn check_against(
    one: &Lying<'_>,
    other: &Lying<'_>,
    gap: Mm,
    faults: &mut Vec<PlanFault>,
) {
    let both_cut = one.placed.as_cut.is_some() && other.placed.as_cut.is_some();
    let gap = if both_cut { 0.0 } else { gap.0.max(0.0) };
    if one.outline.far_from(&other.outline, gap) {
        return;
    }
    let by = one.outline.overlaps(&other.outline);
    if counts(by) {
        faults.push(about(one, other, by, FaultKind::Overlaps));
        return;
    }
    let short = gap - one.outline.between_edges(&other.outline);
    if counts(short) {
        let near = |part| FaultKind::TooNear(part, Mm(gap));
        faults.push(about(one, other, short, near));
    }
}

/// A fault of one part that names another.
fn about(
    one: &Lying<'_>,
    other: &Lying<'_>,
    by: f64,
    kind: impl Fn(PartRef) -> FaultKind,
) -> PlanFault {
    PlanFault {
        others: vec![other.name.clone()],
        ..one.fault(by, kind(other.placed.part_ref()))
    }
}

/// What was cut must be what is wanted now, at the place it is said to lie.
pub(super) fn check_as_cut(one: &Lying<'_>, faults: &mut Vec<PlanFault>) {
    let Some(wanted) = &one.wanted else {
        return;
    };
    let by = Outline::new(&moved(one.placed, &wanted.shape.outline))
        .map_or(f64::INFINITY, |now| one.outline.differs(&now));
    if by > DRAWING.0 {
        faults.push(one.fault(by, FaultKind::NotAsCut));
    }
}
