//! What the maker should know about an order: circles, mouths too small, broken rules, ways that are closed too early.

use super::bagging;
use super::circles::Circle;
use super::engine::{Ordered, Placed};
use super::graph::{Arc, Node};
use super::moves;
use super::rules::rule_of;
use super::step::{Order, Work};
use crate::check::finding;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::units::Mm;

/// The findings of an order, worst first.
pub(super) fn findings(
    ordered: &Ordered<'_>,
    order: &Order,
    circles: &[(Circle, Arc)],
    placed: &[Placed],
) -> Vec<Finding> {
    let mut findings: Vec<Finding> = circles
        .iter()
        .map(|(circle, gone)| circle_finding(ordered, circle, gone))
        .collect();
    findings.extend(placed.iter().filter_map(|at| mouth_finding(ordered, at)));
    findings.extend(bagging::not_sewn(ordered));
    findings.extend(
        order
            .broken
            .iter()
            .filter(|b| b.by_move && b.rule != "way out")
            .map(|broken| {
                finding(
                    Gravity::Care,
                    place_of(ordered, &broken.first),
                    format!(
                        "\"{}\" comes after \"{}\" now, but {}.",
                        broken.first,
                        broken.then,
                        words(broken.rule)
                    ),
                    "Put the step back, or unpick and redo what it spoils.".to_owned(),
                    forget_moves(ordered),
                )
            }),
    );
    findings.extend(closed_ways(ordered, placed));
    findings
}

fn words(rule: &str) -> &'static str {
    rule_of(rule).map_or("that is where you moved it", |rule| rule.words)
}

fn forget_moves(ordered: &Ordered<'_>) -> Option<Edit> {
    Some(Edit::Fitting {
        fitting: ordered.fitting.name.clone(),
        change: FittingEdit::ForgetMoves,
    })
}

fn node<'a>(ordered: &'a Ordered<'_>, number: usize) -> Option<&'a Node> {
    ordered.steps.graph.nodes.get(number)
}

fn key<'a>(ordered: &'a Ordered<'_>, number: usize) -> &'a str {
    node(ordered, number).map_or("", |n| n.key.as_str())
}

/// Where the window looks for a step: its seam, or its edge.
fn place_of(ordered: &Ordered<'_>, key: &str) -> Place {
    let nodes = &ordered.steps.graph.nodes;
    nodes
        .iter()
        .find(|n| n.key == key)
        .map_or_else(Place::default, |n| place(ordered, n))
}

fn place(ordered: &Ordered<'_>, node: &Node) -> Place {
    match &node.work {
        Work::Seam { seam } => Place::part(seam),
        Work::Closure { opening } => Place::part(opening),
        Work::PieceTogether { of, .. } => Place::piece(&of.piece),
        _ => {
            let first = node.segments.first();
            let edge = first.and_then(|s| ordered.steps.surface.edge_ref(*s));
            edge.map_or_else(
                || Place::part(&node.key),
                |at| Place::edge(at.piece, at.edge),
            )
        }
    }
}

fn circle_finding(ordered: &Ordered<'_>, circle: &Circle, gone: &Arc) -> Finding {
    let reasons: Vec<String> = circle
        .iter()
        .map(|arc| {
            format!(
                "\"{}\" before \"{}\" ({})",
                key(ordered, arc.first),
                key(ordered, arc.then),
                words(arc.rule)
            )
        })
        .collect();
    let what = format!(
        "no order of work keeps all rules; {} of them run in a circle: {}.",
        circle.len(),
        reasons.join(", ")
    );
    let then = key(ordered, gone.then).to_owned();
    let advice = format!(
        "Sew \"{then}\" in two parts: first up to where \"{}\" ends, the rest after it.",
        key(ordered, gone.first)
    );
    finding(
        Gravity::Unusable,
        place_of(ordered, &then),
        what,
        advice,
        None,
    )
}

fn mouth_finding(ordered: &Ordered<'_>, at: &Placed) -> Option<Finding> {
    let node = node(ordered, at.node)?;
    let Work::Turn { through } = &node.work else {
        return None;
    };
    if node.way_out <= at.mouth {
        return None;
    }
    let show = |mm: f64| ordered.unit.show(Mm(mm));
    let what = if at.mouth <= 0.0 {
        format!(
            "\"{}\" has no opening left; the bundle needs a mouth of {} round.",
            node.key,
            show(node.way_out)
        )
    } else {
        format!(
            "\"{}\" has a mouth of {} round; the bundle needs {}.",
            node.key,
            show(at.mouth),
            show(node.way_out)
        )
    };
    let gap = (node.way_out / 2.0).ceil();
    let (edge, remedy) = match bagging::gap(ordered, node, gap) {
        Some((at, edit)) => (format!("Leave {} of {at} open", show(gap)), Some(edit)),
        None => (
            format!(
                "Leave {} of a straight edge open ({through} is the longest)",
                show(gap)
            ),
            None,
        ),
    };
    Some(finding(
        Gravity::Unusable,
        place(ordered, node),
        what,
        format!("{edge} and close it by hand after turning."),
        remedy,
    ))
}

/// Steps that lie in the round, or are pulled through, because of one sewn before them that could have come later.
fn closed_ways(ordered: &Ordered<'_>, placed: &[Placed]) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(unmoved) = ordered.unmoved else {
        return findings;
    };
    let before = ordered.placed(unmoved);
    for (number, at) in placed.iter().enumerate() {
        let usual = before.iter().find(|p| p.node == at.node);
        if usual.is_none_or(|usual| at.trouble <= usual.trouble) {
            continue;
        }
        let Some(closed) = node(ordered, at.node) else {
            continue;
        };
        if matches!(closed.work, Work::Turn { .. }) {
            continue;
        }
        let Some(closer) = closer(ordered, placed, number) else {
            continue;
        };
        let by = node(ordered, closer).map_or("", |n| n.key.as_str());
        let show = |mm: f64| ordered.unit.show(Mm(mm));
        let how = match (at.pulled, at.ring) {
            (true, _) => "ring into ring, pulled through".to_owned(),
            (false, Some(girth)) => format!("in a ring of {}", show(girth)),
            (false, None) => "in the round".to_owned(),
        };
        findings.push(finding(
            if at.pulled {
                Gravity::Care
            } else {
                Gravity::Note
            },
            place(ordered, closed),
            format!(
                "\"{by}\" closes the way for \"{}\", which is then sewn {how}.",
                closed.key
            ),
            format!("Sew \"{}\" first, while it lies flat.", closed.key),
            Some(Edit::Fitting {
                fitting: ordered.fitting.name.clone(),
                change: FittingEdit::MoveStep {
                    step: closed.key.clone(),
                    before: Some(by.to_owned()),
                },
            }),
        ));
    }
    findings
}

/// The step before which this one would have been no trouble, when it could have been done there.
fn closer(ordered: &Ordered<'_>, placed: &[Placed], at: usize) -> Option<usize> {
    let step = placed.get(at)?;
    let mut places: Vec<usize> = placed.iter().map(|p| p.node).collect();
    for earlier in (0..at).rev() {
        places.swap(earlier, earlier + 1);
        let other = placed.get(earlier)?.node;
        if moves::reached(ordered.tied, other).contains(&step.node) {
            return None;
        }
        let again = ordered.placed(&places);
        if again
            .get(earlier)
            .is_some_and(|p| p.node == step.node && p.trouble < step.trouble)
        {
            return Some(other);
        }
    }
    None
}
