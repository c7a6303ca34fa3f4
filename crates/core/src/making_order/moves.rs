//! Steps the maker moved: the order follows, and what that breaks is kept for the findings.

use super::MovedStep;
use super::circles;
use super::graph::{Arc, Graph};
use super::search::Forced;

/// Key of the ties that a move makes; it stands in no table.
const MOVED: &str = "moved";

/// Ties moved steps where the maker wants them. Gives the rules that had to go, and which steps come straight before which.
pub(super) fn applied(graph: &mut Graph, moved: &[MovedStep]) -> (Vec<Arc>, Forced) {
    let mut broken = Vec::new();
    let mut forced: Forced = Vec::new();
    for step in moved {
        let find = |key: &str| graph.nodes.iter().position(|n| n.key == key);
        let Some(first) = find(&step.step) else {
            continue;
        };
        match step.before.as_deref() {
            None => {
                for other in 0..graph.nodes.len() {
                    graph.tie(other, first, MOVED);
                }
            }
            Some(before) => {
                let Some(then) = find(before).filter(|then| *then != first) else {
                    continue;
                };
                // What the other step waits for comes before both, unless it waits for the moved step itself.
                let after = reached(graph, first);
                let waits: Vec<usize> = graph
                    .arcs
                    .iter()
                    .filter(|arc| arc.must && arc.then == then && !after.contains(&arc.first))
                    .map(|arc| arc.first)
                    .collect();
                for wait in waits {
                    graph.tie(wait, first, MOVED);
                }
                graph.tie(first, then, MOVED);
                forced.retain(|(f, t)| *f != first && *t != then);
                forced.push((first, then));
            }
        }
        let gone = circles::opened(graph, |arc| arc.rule == MOVED);
        broken.extend(
            gone.into_iter()
                .map(|(_, arc)| arc)
                .filter(|arc| arc.rule != MOVED),
        );
    }
    (broken, forced)
}

/// Every step that must come after this one.
pub(super) fn reached(graph: &Graph, from: usize) -> Vec<usize> {
    reached_by(graph, from, |arc| arc.must)
}

/// Every step that comes after this one by arcs of a kind.
pub(super) fn reached_by(graph: &Graph, from: usize, kind: impl Fn(&Arc) -> bool) -> Vec<usize> {
    let mut found = vec![from];
    let mut at = 0;
    while let Some(step) = found.get(at).copied() {
        at += 1;
        for arc in graph.arcs.iter().filter(|a| a.first == step && kind(a)) {
            if !found.contains(&arc.then) {
                found.push(arc.then);
            }
        }
    }
    found.retain(|step| *step != from);
    found
}
