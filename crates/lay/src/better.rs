//! Is a new plan better than the one that is kept?

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Piecing, PiecingKind};
use petitoile_core::laying::{CopyToLay, ToLay};

use crate::check_plan::check_plan;
use crate::job::{Job, JobOptions, lies};

/// Left-over that differs by less than this is the same, mm2.
const ROUNDING: f64 = 1.0;

/// Is `new` better than `old`, for what is to be laid now on the offcuts there are now?
///
/// More copies that lie without a fault, of the first priority, then of the next and so on; of as many: seams that cost less,
/// fewer offcuts opened, more left-over that is still of use. `false` when nothing is better.
pub fn better(to_lay: &ToLay, offcuts: &[Arc<Offcut>], new: &LayPlan, old: &LayPlan) -> bool {
    let (new, old) = (sound(to_lay, offcuts, new), sound(to_lay, offcuts, old));
    let worth = |sound: &Sound| {
        (
            laid_by_priority(to_lay, sound),
            Reverse(seam_cost(to_lay, sound)),
            Reverse(opened(sound)),
        )
    };
    let (of_new, of_old) = (worth(&new), worth(&old));
    if of_new != of_old {
        return of_new > of_old;
    }
    left_over(to_lay, offcuts, &new) > left_over(to_lay, offcuts, &old) + ROUNDING
}

/// A plan, and its copies that lie without a fault.
struct Sound<'a> {
    plan: &'a LayPlan,
    copies: BTreeSet<CopyRef>,
}

fn sound<'a>(to_lay: &ToLay, offcuts: &[Arc<Offcut>], plan: &'a LayPlan) -> Sound<'a> {
    let faulty: BTreeSet<CopyRef> = check_plan(to_lay, offcuts, plan)
        .into_iter()
        .map(|fault| fault.part.of)
        .collect();
    let copies = to_lay.copies.iter().map(|copy| &copy.of);
    let copies = copies.filter(|of| !faulty.contains(of) && lies(to_lay, plan, of));
    Sound {
        copies: copies.cloned().collect(),
        plan,
    }
}

/// How many lie of each priority, the first one first.
fn laid_by_priority(to_lay: &ToLay, sound: &Sound<'_>) -> Vec<usize> {
    let mut counts: BTreeMap<u8, usize> = BTreeMap::new();
    for copy in &to_lay.copies {
        *counts.entry(copy.priority).or_default() += usize::from(sound.copies.contains(&copy.of));
    }
    counts.into_values().collect()
}

fn seam_cost(to_lay: &ToLay, sound: &Sound<'_>) -> usize {
    let copies = to_lay.copies.iter();
    copies
        .filter(|copy| sound.copies.contains(&copy.of))
        .filter_map(|copy| {
            let piecing = sound.plan.piecing(&copy.of)?;
            let way = copy.pieced.iter().find(|way| way.piecing == *piecing);
            Some(way.map_or_else(|| cost_of(copy, piecing), |way| way.cost as usize))
        })
        .sum()
}

/// What a way costs that was made while laying: as much a seam as the ways of its kind that are offered.
fn cost_of(copy: &CopyToLay, piecing: &Piecing) -> usize {
    let alike = copy
        .pieced
        .iter()
        .filter(|way| way.piecing.kind == piecing.kind);
    let of_one = alike.map(|way| way.cost as usize / way.piecing.lines.len().max(1));
    let patch = copy
        .new_seams
        .patch
        .filter(|_| piecing.kind == PiecingKind::Patch);
    let of_one = of_one.min().or(patch.map(|cost| cost as usize));
    of_one.unwrap_or(1) * piecing.lines.len()
}

/// Offcuts used that nothing has been cut from.
fn opened(sound: &Sound<'_>) -> usize {
    let placed = || sound.plan.placed.iter();
    let cut: BTreeSet<&String> = placed()
        .filter(|placed| placed.as_cut.is_some())
        .map(|placed| &placed.offcut)
        .collect();
    let used = placed().filter(|placed| sound.copies.contains(&placed.of()));
    let used: BTreeSet<&String> = used.map(|placed| &placed.offcut).collect();
    used.difference(&cut).count()
}

/// As the search reckons it: everything that lies soundly is held fast, and nothing else is laid.
fn left_over(to_lay: &ToLay, offcuts: &[Arc<Offcut>], sound: &Sound<'_>) -> f64 {
    let mut held = sound.plan.clone();
    held.placed
        .retain(|placed| placed.as_cut.is_some() || sound.copies.contains(&placed.of()));
    for placed in &mut held.placed {
        placed.pinned = true;
    }
    let mut only = to_lay.clone();
    only.copies.retain(|copy| sound.copies.contains(&copy.of));
    Job::new(&only, offcuts, Some(&held), JobOptions::default())
        .map_or(0.0, |job| job.progress().usable_left_mm2)
}
