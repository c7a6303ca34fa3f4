//! Findings on stacks, tubes and curves: place, number, remedy.

use super::heeded::whose;
use super::words::thick;
use super::{Bulk, Judged, Turned, Way};
use crate::bulk::Curve;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity};
use crate::machine::Machine;
use crate::units::LengthUnit;

/// Tubes below this are told by [`crate::check`] already, mm.
const TOLD_ALREADY: f64 = 60.0;

/// What the maker should know: one finding for each seam, hem, tube and curve that is more than her machine or hands
/// take.
pub fn findings(bulk: &Bulk, fitting: &str, machine: &Machine, unit: LengthUnit) -> Vec<Finding> {
    let mut told: Vec<&str> = Vec::new();
    let mut findings = Vec::new();
    let mut over: Vec<&Judged> = bulk.stacks.iter().filter(|s| s.is_over()).collect();
    over.sort_by(|a, b| {
        let most = |s: &Judged| s.too_thick.0.max(s.too_high.0);
        most(b).total_cmp(&most(a))
    });
    for judged in over {
        if !told.contains(&judged.stack.name.as_str()) {
            told.push(&judged.stack.name);
            findings.push(too_thick(judged, machine, unit));
        }
    }
    let turned = bulk.turned.iter();
    findings.extend(turned.filter_map(|one| cannot_turn(one, fitting, machine, unit)));
    let curves = bulk.curves.iter();
    findings.extend(curves.filter_map(|curve| too_tight(curve, fitting, machine, unit)));
    findings
}

fn too_thick(judged: &Judged, machine: &Machine, unit: LengthUnit) -> Finding {
    let stack = &judged.stack;
    let where_words = stack.where_words();
    let place = if where_words.is_empty() {
        String::new()
    } else {
        format!("{where_words}, ")
    };
    let what = match stack.sewn() {
        Some(heap) if judged.too_thick.0 > 0.0 => format!(
            "{place}{} layers lie {}, {}: {} more than the {} {}.",
            heap.count,
            heap.moment.words(),
            thick(heap.thickness, unit),
            thick(judged.too_thick, unit),
            thick(machine.thickest, unit),
            whose(machine)
        ),
        _ => format!(
            "{place}the foot must climb {} at once: {} more than the {} {}.",
            thick(stack.step, unit),
            thick(judged.too_high, unit),
            thick(machine.step, unit),
            whose(machine)
        ),
    };
    // One change that is enough; by hand, the last, where nothing else is.
    let best = judged.remedies.iter().find(|remedy| remedy.is_enough);
    let (last, rest) = match judged.remedies.split_last() {
        Some((last, rest)) => (Some(last), rest),
        None => (None, &[][..]),
    };
    let told = rest.iter().take(2).chain(last);
    let mut advice: Vec<&str> = told.map(|remedy| remedy.words.as_str()).collect();
    if judged.too_thick.0 <= 0.0 {
        advice.push("lay a fold of cloth as thick behind the foot");
    }
    Finding {
        gravity: Gravity::Care,
        place: stack.place.clone(),
        what,
        advice: format!("{}.", advice.join("; or: ")),
        remedy: best.and_then(|remedy| remedy.edit.clone()),
    }
}

fn cannot_turn(
    one: &Turned,
    fitting: &str,
    machine: &Machine,
    unit: LengthUnit,
) -> Option<Finding> {
    if one.too_narrow.0 > 0.0 {
        let what = format!(
            "the {} is {} wide laid flat and needs {} to be turned: {} of allowances and {} of cloth.",
            one.way.words(),
            unit.show(one.flat),
            unit.show(one.needed()),
            unit.show(one.allowance),
            thick(one.stack, unit)
        );
        let good = one.good();
        // The widest allowance first; the other edge is told again afterwards.
        let change = good
            .zip(one.edges.first())
            .map(|(good, edge)| Edit::Fitting {
                fitting: fitting.to_owned(),
                change: FittingEdit::SetSingleAllowance(edge.clone(), Some(good)),
            });
        let fold = "fold the edges in and sew them together from the right side";
        let advice = match good {
            Some(good) if one.edges.len() > 1 => format!(
                "Use allowances of {} on {}, or {fold}.",
                unit.show_chosen(good),
                one.edges
                    .iter()
                    .map(ToString::to_string)
                    .collect::<Vec<_>>()
                    .join(" and ")
            ),
            Some(good) => format!("Use an allowance of {}, or {fold}.", unit.show_chosen(good)),
            None => format!("Do not turn it: {fold}, or use ribbon or tape."),
        };
        return Some(Finding {
            gravity: Gravity::Care,
            place: one.place.clone(),
            what,
            advice,
            remedy: change,
        });
    }
    let girth = 2.0 * one.flat.0;
    let is_told = machine.is_usual() || girth < TOLD_ALREADY || one.way != Way::Tube;
    (one.out_of_reach.0 > 0.0 && !is_told).then(|| Finding {
        gravity: Gravity::Note,
        place: one.place.clone(),
        what: format!(
            "closed it is a tube of {}; your machine reaches round {} and more.",
            unit.show(crate::units::Mm(girth)),
            unit.show(machine.tube)
        ),
        advice: "Finish its ends and set it in flat, and close it last; or sew its ends by hand."
            .to_owned(),
        remedy: None,
    })
}

fn too_tight(curve: &Curve, fitting: &str, machine: &Machine, unit: LengthUnit) -> Option<Finding> {
    let radius = unit.show(curve.radius);
    let (what, advice, remedy) = if curve.no_room {
        let good = curve.good();
        let change = good.map(|good| Edit::Fitting {
            fitting: fitting.to_owned(),
            change: FittingEdit::SetSingleAllowance(curve.edge.clone(), Some(good)),
        });
        let advice = match good {
            Some(good) => format!(
                "Use an allowance of {} here and notch it, or make the curve rounder.",
                unit.show_chosen(good)
            ),
            None => {
                "Make the curve rounder, or trim the allowance to 1 mm and sew twice.".to_owned()
            }
        };
        let what = format!(
            "the curve has a radius of {radius} and an allowance of {}: turned, there is no room for it inside.",
            unit.show_chosen(curve.allowance)
        );
        (what, advice, change)
    } else if curve.too_tight.0 > 0.0 {
        let what = format!(
            "the curve has a radius of {radius}: tighter than the {} {}.",
            unit.show(machine.radius),
            whose(machine)
        );
        let advice = "Sew this bit by hand, or stitch by stitch with the hand wheel; or make the curve rounder.";
        (what, advice.to_owned(), None)
    } else {
        return None;
    };
    Some(Finding {
        gravity: Gravity::Care,
        place: curve.place.clone(),
        what,
        advice,
        remedy,
    })
}
