//! Changes to one fitting.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{EditError, FittingEdit, lay_limits, limits, missing};
use crate::body::{Body, Measured, Torso};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::making_order::{MakingOrder, MovedStep};
use crate::measure::Measure;
use crate::units::Mm;

/// The fitting after one change; its body stays shared unless it is the body that changes.
pub(super) fn changed(
    fitting: &Fitting,
    garment: &Garment,
    change: &FittingEdit,
) -> Result<Fitting, EditError> {
    let mut next = fitting.clone();
    match change {
        FittingEdit::SetBody(body) => {
            limits::body(body)?;
            next.allowances = fitting.allowances.resized(&fitting.body, body);
            next.body = body.clone();
        }
        FittingEdit::SetMeasure(measure, value) => {
            next.body = measured(&fitting.body, *measure, *value)?
        }
        FittingEdit::ForgetMeasure(measure) => next.body = forgotten(&fitting.body, *measure)?,
        FittingEdit::SetEase(policy) => next.ease = *policy,
        FittingEdit::SetShaping(piece, shaping) => {
            known(shaping, || limits::piece(garment, piece))?;
            choose(&mut next.shaping, piece, *shaping);
        }
        FittingEdit::SetDemand(name, choice) => {
            known(choice, || limits::demand(garment, name))?;
            choice
                .as_ref()
                .map_or(Ok(()), |choice| limits::demand_choice(name, choice))?;
            choose(&mut next.demands, name, *choice);
        }
        FittingEdit::SetDetails(rule) => next.details = *rule,
        FittingEdit::SetDetailOf(piece, rule) => {
            known(rule, || limits::piece(garment, piece))?;
            choose(&mut next.detail_of, piece, *rule);
        }
        FittingEdit::SetCloth(role, cloth) => {
            cloth.as_ref().map_or(Ok(()), limits::cloth)?;
            choose(&mut next.cloths, role, cloth.clone());
        }
        FittingEdit::SetWornUnderneath(layers) => {
            limits::worn_underneath(layers)?;
            next.worn_underneath.clone_from(layers);
            next.as_worn = None;
        }
        FittingEdit::SetAsWorn(worn, pads) => {
            worn.as_ref().map_or(Ok(()), limits::as_worn)?;
            pads.iter().try_for_each(limits::pad)?;
            next.as_worn.clone_from(worn);
            next.pads_underneath.clone_from(pads);
        }
        FittingEdit::SetTorso(torso) => next.body = giving(&fitting.body, *torso)?,
        FittingEdit::SetShoes(wears) => next.with_shoes = *wears,
        FittingEdit::SetSeamAllowance(_)
        | FittingEdit::SetHem(_)
        | FittingEdit::SetSingleAllowance(..)
        | FittingEdit::SetCornerLimit(_)
        | FittingEdit::SetNotchDepth(_) => set_allowance(&mut next, garment, change)?,
        FittingEdit::AddAlteration(alteration) => {
            limits::alteration(garment, &fitting.alterations, alteration)?;
            next.alterations.push(alteration.clone());
        }
        FittingEdit::AddAlterations(all) => {
            for alteration in all {
                limits::alteration(garment, &next.alterations, alteration)?;
                next.alterations.push(alteration.clone());
            }
        }
        FittingEdit::SetAlteration(place, alteration) => {
            let earlier = fitting.alterations.get(..*place).unwrap_or_default();
            limits::alteration(garment, earlier, alteration)?;
            *next
                .alterations
                .get_mut(*place)
                .ok_or_else(|| missing_alteration(*place))? = alteration.clone();
        }
        FittingEdit::MoveAlteration { from, to } => {
            let count = fitting.alterations.len();
            if let Some(gone) = [*from, *to].into_iter().find(|place| count <= *place) {
                return Err(missing_alteration(gone));
            }
            let alteration = next.alterations.remove(*from);
            next.alterations.insert(*to, alteration);
        }
        FittingEdit::RemoveAlteration(place) => {
            if fitting.alterations.len() <= *place {
                return Err(missing_alteration(*place));
            }
            next.alterations.remove(*place);
        }
        FittingEdit::SetPaper(paper) => {
            limits::paper(paper)?;
            next.paper = paper.clone();
        }
        FittingEdit::SetLayPlan(plan) => {
            if let Some(plan) = plan {
                let made = limits::made(garment, &fitting.alterations);
                lay_limits::names_of_plan(&made, plan, fitting.lay_plan.as_ref())?;
                lay_limits::plan(plan)?;
            }
            next.lay_plan.clone_from(plan);
        }
        FittingEdit::Lay(change) => {
            let made = limits::made(garment, &fitting.alterations);
            lay_limits::names_of_change(&made, change)?;
            let plan = fitting.lay_plan.clone().unwrap_or_default();
            let plan = plan.changed(change).map_err(EditError::CannotLay)?;
            lay_limits::plan(&plan)?;
            next.lay_plan = Some(plan);
        }
        FittingEdit::SetLayGap(gap) => {
            lay_limits::gap(*gap)?;
            next.laying.gap = *gap;
        }
        FittingEdit::SetGrainTolerance(tolerance) => {
            lay_limits::grain_tolerance(*tolerance)?;
            next.laying.grain_tolerance = *tolerance;
        }
        FittingEdit::SetPieceLaying(piece, laying) => {
            laying
                .and_then(|laying| laying.grain_tolerance)
                .map_or(Ok(()), lay_limits::grain_tolerance)?;
            choose(&mut next.laying.pieces, piece, *laying);
        }
        FittingEdit::SetPadsUnderneath(pads) => {
            pads.iter().try_for_each(limits::pad)?;
            next.pads_underneath.clone_from(pads);
        }
        FittingEdit::SetClosure(opening, closure) => {
            closure
                .as_ref()
                .map_or(Ok(()), |closure| limits::closure(opening, closure))?;
            choose(&mut next.closures, opening, *closure);
        }
        FittingEdit::Tick(step, done) => tick(&mut next, step, *done)?,
        FittingEdit::MoveStep { .. }
        | FittingEdit::ForgetMoves
        | FittingEdit::SetBy(..)
        | FittingEdit::SetLining(_)
        | FittingEdit::SetGraded(..) => set_making(&mut next.making, change),
    }
    Ok(next)
}

/// What concerns the making order. Names of steps and seams that are not there wait, as other choices do.
fn set_making(making: &mut MakingOrder, change: &FittingEdit) {
    match change {
        FittingEdit::MoveStep { step, before } => {
            making.moved.retain(|moved| moved.step != *step);
            making.moved.push(MovedStep {
                step: step.clone(),
                before: before.clone(),
            });
        }
        FittingEdit::ForgetMoves => making.moved.clear(),
        FittingEdit::SetBy(step, by) => choose(&mut making.by, step, *by),
        FittingEdit::SetLining(method) => making.lining = *method,
        FittingEdit::SetGraded(seam, true) => {
            making.graded.insert(seam.clone());
        }
        FittingEdit::SetGraded(seam, false) => {
            making.graded.remove(seam);
        }
        _ => {}
    }
}

fn missing_alteration(place: usize) -> EditError {
    missing("alteration", &format!("number {}", place.saturating_add(1)))
}

/// What concerns the allowances.
fn set_allowance(
    next: &mut Fitting,
    garment: &Garment,
    change: &FittingEdit,
) -> Result<(), EditError> {
    let plan = &mut next.allowances;
    match change {
        FittingEdit::SetSeamAllowance(width) => {
            limits::seam_allowance(*width)?;
            plan.seam = *width;
        }
        FittingEdit::SetHem(width) => {
            limits::hem(*width)?;
            plan.hem = *width;
        }
        FittingEdit::SetSingleAllowance(edge, width) => {
            if let Some(width) = *width {
                match limits::single_allowance(garment, edge, width) {
                    Err(EditError::Missing { .. }) if !next.alterations.is_empty() => {
                        let made = limits::made(garment, &next.alterations);
                        limits::single_allowance(&made, edge, width)?;
                    }
                    other => other?,
                }
            }
            let plan = &mut next.allowances;
            choose(&mut plan.single, edge, *width);
        }
        FittingEdit::SetCornerLimit(times) => {
            limits::corner_limit(*times)?;
            plan.corner_limit = *times;
        }
        FittingEdit::SetNotchDepth(depth) => {
            limits::notch_depth(*depth)?;
            plan.notch_depth = *depth;
        }
        _ => {}
    }
    Ok(())
}

/// A choice must be about something that is there; forgetting one never fails.
fn known<T>(
    choice: &Option<T>,
    check: impl FnOnce() -> Result<(), EditError>,
) -> Result<(), EditError> {
    if choice.is_some() { check() } else { Ok(()) }
}

fn choose<K: Ord + Clone, V>(choices: &mut BTreeMap<K, V>, key: &K, choice: Option<V>) {
    match choice {
        Some(choice) => {
            choices.insert(key.clone(), choice);
        }
        None => {
            choices.remove(key);
        }
    }
}

fn measured(body: &Arc<Body>, measure: Measure, value: Mm) -> Result<Arc<Body>, EditError> {
    limits::measure(measure.label(), value)?;
    Ok(Arc::new(
        Body::clone(body).with(measure, Measured::own_tape(value)),
    ))
}

fn forgotten(body: &Arc<Body>, measure: Measure) -> Result<Arc<Body>, EditError> {
    let mut next = Body::clone(body);
    next.measures
        .remove(&measure)
        .ok_or_else(|| missing("given measure", measure.label()))?;
    Ok(Arc::new(next))
}

fn giving(body: &Arc<Body>, torso: Torso) -> Result<Arc<Body>, EditError> {
    let next = Body {
        torso,
        ..Body::clone(body)
    };
    limits::body(&next)?;
    Ok(Arc::new(next))
}

fn tick(next: &mut Fitting, step: &str, done: bool) -> Result<(), EditError> {
    limits::name("step", step)?;
    if done {
        next.making.done.insert(step.to_owned());
    } else {
        next.making.done.remove(step);
    }
    Ok(())
}
