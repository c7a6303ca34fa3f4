//! How a garment is lined: which method, what is bagged out, through which mouth it is turned.

use std::f64::consts::PI;

use super::LiningMethod;
use super::graph::{Layer, Node};
use super::nodes::{Steps, stage};
use super::step::Work;
use crate::edge::Finish;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::piece::Role;

/// Share of a bundle pulled through a mouth that is cloth, the rest air (common practice, no source).
const PACKED: f64 = 0.4;

/// Smallest mouth that a blunt turning stick and a pinch of cloth go through, round, mm (common practice, no source).
const SMALLEST_MOUTH: f64 = 24.0;

/// Thickness of cloth of which nothing is known, mm: quilting cotton (fact sheet D3, from memory).
const UNKNOWN_CLOTH: f64 = 0.3;

/// The method the maker chose, or the one its pieces and seams ask for.
///
/// Lining sewn to the shell along its edges: bagged. Lining made up and not sewn to the shell: felled in. Lining mounted on
/// the shell: flat-lined. No lining but faced edges: faced.
pub(super) fn method(garment: &Garment, chosen: Option<LiningMethod>) -> Option<LiningMethod> {
    let has = |role: Role| garment.pieces.iter().any(|p| p.copies_in(role) > 0);
    let lined = has(Role::Lining);
    if let Some(chosen) = chosen
        && (lined || matches!(chosen, LiningMethod::Faced))
    {
        return Some(chosen);
    }
    let between = super::bagging::is_bagged(garment);
    let faced = || {
        let edges = garment.pieces.iter().flat_map(|p| p.outline.edges());
        edges
            .flat_map(|e| &e.finish)
            .any(|s| s.finish == Finish::Facing)
    };
    match (lined, between) {
        (true, true) => Some(LiningMethod::Bagged),
        (true, false) => Some(LiningMethod::Felled),
        (false, _) if has(Role::FlatLined) => Some(LiningMethod::FlatLined),
        (false, _) if faced() => Some(LiningMethod::Faced),
        (false, _) => None,
    }
}

/// Girth of the mouth through which the bundle of a copy goes with its lining: that of a round rope of its cross-section.
///
/// A piece `w` wide (its narrower way) of layers `t` thick in all makes a rope of area `w t / PACKED`.
pub(super) fn bundle(width: f64, thickness: f64) -> f64 {
    (2.0 * (PI * width * thickness / PACKED).sqrt()).max(SMALLEST_MOUTH)
}

fn thickness(garment: &Garment, fitting: &Fitting, role: Role) -> f64 {
    let cloth = fitting
        .cloths
        .get(&role)
        .or_else(|| garment.cloths.get(&role));
    cloth.map_or(UNKNOWN_CLOTH, |c| c.thickness.0)
}

/// Adds the steps that turn what is bagged out.
pub(super) fn steps(steps: &mut Steps<'_>, fitting: &Fitting) {
    let bags = steps
        .graph
        .which(|n| n.layer == Layer::Between && matches!(n.work, Work::Seam { .. }));
    let detail = |steps: &Steps<'_>, node: usize| {
        let cuts = steps.graph.nodes.get(node).map(|n| n.cuts.as_slice());
        cuts.is_some_and(|cuts| {
            cuts.iter()
                .all(|c| steps.surface.cuts.get(*c).is_some_and(|c| c.detail))
        })
    };
    let mut body: Vec<usize> = Vec::new();
    for unit in units(steps, &bags) {
        if unit.iter().all(|n| detail(steps, *n)) {
            if is_pocket(steps, &unit) {
                let (name, cuts, segments) = of_unit(steps, &unit);
                let step = turn(steps, fitting, &name, stage::SMALL_TURN, cuts, segments);
                steps.small_parts.push((unit, step));
            }
        } else {
            body.extend(unit);
        }
    }
    if !body.is_empty() {
        let (_, cuts, segments) = of_unit(steps, &body);
        let name = steps.surface.garment.name.clone();
        turn(steps, fitting, &name, stage::TURN, cuts, segments);
    }
    closed_parts(steps, fitting);
}

/// Parts without any edge left, or with nothing left but gaps: they are turned through what is left.
fn closed_parts(steps: &mut Steps<'_>, fitting: &Fitting) {
    let boundaries = steps.all.boundaries(&steps.surface);
    let gap = |s: usize| {
        let finish = steps.surface.segment(s).map(|s| s.finish);
        finish == Some(Finish::Open)
    };
    let mut parts: Vec<usize> = Vec::new();
    for cut in 0..steps.surface.cuts.len() {
        let part = steps.all.part(cut);
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    let mut closed: Vec<(String, Vec<usize>, Vec<usize>)> = Vec::new();
    for part in parts {
        let inside = |s: usize| {
            let cut = steps.surface.segment(s).map(|s| s.cut);
            cut.is_some_and(|c| steps.all.part(c) == part)
        };
        let open = (0..steps.surface.segments.len())
            .filter(|s| inside(*s) && boundaries.of(*s).is_some() && !gap(*s))
            .count();
        let turned = steps.graph.nodes.iter().any(|n| {
            matches!(n.work, Work::Turn { .. })
                && n.cuts.iter().any(|c| steps.all.part(*c) == part)
                && n.stage == stage::TURN
        });
        if 0 < open || turned {
            continue;
        }
        let cuts: Vec<usize> = (0..steps.surface.cuts.len())
            .filter(|c| steps.all.part(*c) == part)
            .collect();
        let segments: Vec<usize> = (0..steps.surface.segments.len())
            .filter(|s| inside(*s))
            .collect();
        let piece = cuts
            .first()
            .and_then(|c| steps.surface.cuts.get(*c))
            .and_then(|c| steps.surface.garment.pieces.get(c.piece))
            .map_or(String::new(), |p| p.name.clone());
        closed.push((piece, cuts, segments));
    }
    for (piece, cuts, segments) in closed {
        turn(steps, fitting, &piece, stage::TURN, cuts, segments);
    }
}

/// Name, copies and segments of what a unit bags out.
fn of_unit(steps: &Steps<'_>, unit: &[usize]) -> (String, Vec<usize>, Vec<usize>) {
    let nodes = || unit.iter().filter_map(|n| steps.graph.nodes.get(*n));
    let segments: Vec<usize> = nodes().flat_map(|n| n.segments.iter().copied()).collect();
    let cuts = steps.cuts_under(&segments);
    let first = cuts.first().and_then(|c| steps.surface.cuts.get(*c));
    let name = first.and_then(|c| {
        let piece = steps.surface.garment.pieces.get(c.piece)?;
        Some(format!(
            "{}{}",
            piece.name,
            super::nodes::copy_words(crate::piece::Copy {
                role: Role::Shell,
                ..c.copy
            })
        ))
    });
    (name.unwrap_or_default(), cuts, segments)
}

/// Bagged seams that meet at a corner of one copy belong to one bag.
fn units(steps: &Steps<'_>, bags: &[usize]) -> Vec<Vec<usize>> {
    let touch = |a: usize, b: usize| {
        let segments = |n: usize| {
            steps
                .graph
                .nodes
                .get(n)
                .map_or(&[][..], |n| n.segments.as_slice())
        };
        segments(a).iter().any(|s| {
            steps
                .surface
                .segment(*s)
                .is_some_and(|s| segments(b).contains(&s.next) || segments(b).contains(&s.before))
        })
    };
    let mut units: Vec<Vec<usize>> = Vec::new();
    for bag in bags {
        let (mut mine, others): (Vec<Vec<usize>>, Vec<Vec<usize>>) = units
            .into_iter()
            .partition(|unit| unit.iter().any(|other| touch(*bag, *other)));
        let mut unit: Vec<usize> = mine.drain(..).flatten().collect();
        unit.push(*bag);
        unit.sort_unstable();
        units = others;
        units.push(unit);
    }
    units.sort();
    units
}

/// Does its bagged edge turn a corner, so that it has to be turned to come right?
fn is_pocket(steps: &Steps<'_>, unit: &[usize]) -> bool {
    let segments: Vec<usize> = unit
        .iter()
        .filter_map(|n| steps.graph.nodes.get(*n))
        .flat_map(|n| n.segments.iter().copied())
        .collect();
    segments.iter().any(|s| {
        let next = steps.surface.segment(*s).map(|s| s.next);
        next.is_some_and(|n| {
            segments.contains(&n) && steps.surface.segment(n).is_some_and(|n| !n.smooth)
        })
    })
}

fn turn(
    steps: &mut Steps<'_>,
    fitting: &Fitting,
    name: &str,
    stage: u8,
    cuts: Vec<usize>,
    segments: Vec<usize>,
) -> usize {
    let garment = steps.surface.garment;
    let layers = thickness(garment, fitting, Role::Shell)
        + if steps.layer(&cuts) == Layer::Between {
            thickness(garment, fitting, Role::Lining)
        } else {
            thickness(garment, fitting, Role::Shell)
        };
    let width = cuts
        .iter()
        .filter_map(|c| {
            let cut = steps.surface.cuts.get(*c)?;
            let bounds = garment.pieces.get(cut.piece)?.outline.bounds();
            Some(bounds.width().min(bounds.height()))
        })
        .fold(0.0, f64::max);
    let through = mouth_name(steps, &cuts, &segments);
    let node = Node {
        cuts,
        segments,
        hand: Some("it is turned with the fingers and a blunt stick"),
        layer: Layer::Between,
        way_out: bundle(width, layers),
        ..steps.node(format!("turn {name}"), Work::Turn { through }, stage)
    };
    steps.add(node)
}

/// What it is turned through: the gap that was left, or the longest edge of these copies that is not bagged.
fn mouth_name(steps: &Steps<'_>, cuts: &[usize], bagged: &[usize]) -> String {
    let free = |s: &usize| {
        let on = steps.surface.segment(*s);
        on.is_some_and(|on| cuts.contains(&on.cut)) && !bagged.contains(s)
    };
    let all = || (0..steps.surface.segments.len()).filter(free);
    let gap = (0..steps.surface.segments.len()).find(|s| {
        let on = steps.surface.segment(*s);
        on.is_some_and(|on| cuts.contains(&on.cut) && on.finish == Finish::Open)
    });
    // What is open until the end before what a seam closes.
    let length = |s: &usize| steps.surface.segment(*s).map_or(0.0, |s| s.length);
    let open = all()
        .filter(|s| !steps.all.is_glued(*s))
        .max_by(|a, b| length(a).total_cmp(&length(b)));
    let longest = all().max_by(|a, b| length(a).total_cmp(&length(b)));
    gap.or(open)
        .or(longest)
        .and_then(|s| steps.surface.edge_ref(s))
        .map_or(String::new(), |at| at.to_string())
}
