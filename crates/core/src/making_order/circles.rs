//! Rules that run in a circle: no order can keep them all. The smallest circle is told and opened at one rule.

use super::graph::{Arc, Graph};

/// A circle: each step must come before the next, the last before the first.
pub(super) type Circle = Vec<Arc>;

/// Opens every circle of rules that must hold by taking out one of them; gives the circles, each with the arc taken out.
///
/// Arcs for which `keep` says so stay, unless a circle has no other.
pub(super) fn opened(graph: &mut Graph, keep: impl Fn(&Arc) -> bool) -> Vec<(Circle, Arc)> {
    let mut found = Vec::new();
    while let Some(circle) = smallest(graph) {
        // The last that may go: rules are tied in the order in which they weigh.
        let Some(gone) = circle
            .iter()
            .rev()
            .find(|arc| !keep(arc))
            .or_else(|| circle.first())
            .copied()
        else {
            break;
        };
        graph.arcs.retain(|arc| *arc != gone);
        found.push((circle, gone));
    }
    found
}

/// The smallest circle of rules that must hold; the first one of them in the order of steps.
pub(super) fn smallest(graph: &Graph) -> Option<Circle> {
    let count = graph.nodes.len();
    let mut out: Vec<Vec<Arc>> = vec![Vec::new(); count];
    let mut waits = vec![0_usize; count];
    for arc in graph.arcs.iter().filter(|arc| arc.must) {
        if let (Some(list), Some(wait)) = (out.get_mut(arc.first), waits.get_mut(arc.then)) {
            list.push(*arc);
            *wait += 1;
        }
    }
    // Steps that can be taken away one after the other lie on no circle.
    let mut free: Vec<usize> = (0..count).filter(|n| waits.get(*n) == Some(&0)).collect();
    let mut left = count;
    while let Some(step) = free.pop() {
        left -= 1;
        for arc in out.get(step).into_iter().flatten() {
            if let Some(wait) = waits.get_mut(arc.then) {
                *wait -= 1;
                if *wait == 0 {
                    free.push(arc.then);
                }
            }
        }
    }
    if left == 0 {
        return None;
    }
    (0..count)
        .filter(|n| waits.get(*n).is_some_and(|w| 0 < *w))
        .filter_map(|start| round(&out, start))
        .min_by_key(Vec::len)
}

/// The shortest way from a step back to itself.
fn round(out: &[Vec<Arc>], start: usize) -> Option<Circle> {
    let mut came: Vec<Option<Arc>> = vec![None; out.len()];
    let mut queue = vec![start];
    let mut at = 0;
    while let Some(step) = queue.get(at).copied() {
        at += 1;
        for arc in out.get(step).into_iter().flatten() {
            let slot = came.get_mut(arc.then)?;
            if slot.is_some() {
                continue;
            }
            *slot = Some(*arc);
            if arc.then == start {
                return Some(back(&came, start));
            }
            queue.push(arc.then);
        }
    }
    None
}

fn back(came: &[Option<Arc>], start: usize) -> Circle {
    let mut circle = Vec::new();
    let mut at = start;
    while let Some(arc) = came.get(at).copied().flatten() {
        circle.push(arc);
        at = arc.first;
        if at == start || circle.len() > came.len() {
            break;
        }
    }
    circle.reverse();
    circle
}
