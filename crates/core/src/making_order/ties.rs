//! Which step must come before which, by the rules of the table.

use std::collections::{BTreeMap, BTreeSet};

use super::graph::Layer;
use super::nodes::{Steps, piecing, stage};
use super::step::Work;

/// Ties the steps by every rule.
pub(super) fn tie(steps: &mut Steps<'_>, tube: f64) {
    cut_and_mount(steps);
    piecing::tie(steps);
    shape(steps);
    crossings(steps);
    runs(steps, tube);
    linings(steps);
    bands(steps);
    fittings(steps);
}

fn is_sewing(work: &Work) -> bool {
    matches!(work, Work::Seam { .. } | Work::Fell { .. })
}

fn cut_and_mount(steps: &mut Steps<'_>) {
    let graph = &mut steps.graph;
    let cut = graph.which(|n| n.work == Work::CutOut);
    let neatens = graph.which(|n| n.work == Work::Neaten);
    let mounts = graph.which(|n| n.work == Work::FlatLine);
    for (number, node) in graph.nodes.clone().iter().enumerate() {
        for cut in &cut {
            graph.tie(*cut, number, "cut first");
        }
        if node.work == Work::FlatLine || node.work == Work::CutOut {
            continue;
        }
        for neaten in &neatens {
            if is_sewing(&node.work) {
                graph.prefer(*neaten, number, "neaten flat");
            }
        }
        for mount in &mounts {
            let mounted = graph.nodes.get(*mount).map(|m| m.cuts.clone());
            if mounted.is_some_and(|cuts| cuts.iter().any(|c| node.cuts.contains(c))) {
                graph.tie(*mount, number, "mount first");
            }
        }
    }
}

fn shape(steps: &mut Steps<'_>) {
    let graph = &mut steps.graph;
    let nodes = graph.nodes.clone();
    for (first, shaped) in nodes.iter().enumerate() {
        for (then, node) in nodes.iter().enumerate() {
            let on_edge = || node.segments.iter().any(|s| shaped.segments.contains(s));
            match &shaped.work {
                Work::Dart { .. } | Work::Tucks { .. }
                    if is_sewing(&node.work)
                        && node.cuts.iter().any(|c| shaped.cuts.contains(c)) =>
                {
                    graph.tie(first, then, "shape first");
                }
                Work::Pleats { .. } | Work::Gather { .. }
                    if first != then
                        && (is_sewing(&node.work) || node.work == Work::Casing)
                        && on_edge() =>
                {
                    graph.tie(first, then, "draw in first");
                }
                _ => {}
            }
        }
    }
}

/// What meets at one corner of the finished garment.
#[derive(Default)]
struct Meeting {
    /// How many ends each seam has there: 1 ends there, 2 runs through.
    ends: BTreeMap<usize, u32>,
    /// Seams that run on into each other along one copy.
    through: Vec<(usize, usize)>,
    /// Two seams that meet on a copy whose outline runs on smoothly there.
    smooth: Vec<(usize, usize)>,
}

impl Meeting {
    /// Two seams are one line only if each ends here, and runs on smoothly into no third one: where side seam and armscye
    /// are one straight line in front and behind, the line of the stitches is still side seam and underarm.
    fn smooth_lines(&self) -> Vec<(usize, usize)> {
        let partners = |x: usize| -> BTreeSet<usize> {
            let pairs = self.smooth.iter().filter(|(a, b)| *a == x || *b == x);
            pairs.map(|(a, b)| if *a == x { *b } else { *a }).collect()
        };
        let single = |x: usize| self.ends.get(&x) == Some(&1) && partners(x).len() == 1;
        let pairs = self.smooth.iter().copied();
        pairs.filter(|(a, b)| single(*a) && single(*b)).collect()
    }
}

/// A seam that ends at another comes before it; seams that run on into each other are sewn in one go.
fn crossings(steps: &mut Steps<'_>) {
    let mut corners: BTreeMap<usize, Meeting> = BTreeMap::new();
    let owner = |s: usize| steps.owner.get(s).copied().flatten();
    for (number, node) in steps.graph.nodes.iter().enumerate() {
        for (a, b) in &node.glue {
            if owner(*a) != Some(number) || owner(*b) != Some(number) {
                continue;
            }
            let Some(after) = steps.surface.segment(*a).map(|s| s.next) else {
                continue;
            };
            for corner in [steps.all.corner(*a), steps.all.corner(after)] {
                let meeting = corners.entry(corner).or_default();
                *meeting.ends.entry(number).or_default() += 1;
            }
        }
    }
    for (number, segment) in steps.surface.segments.iter().enumerate() {
        let (Some(one), Some(other)) = (owner(segment.before), owner(number)) else {
            continue;
        };
        let meeting = corners.entry(steps.all.corner(number)).or_default();
        if one == other {
            meeting.through.push((one, other));
        } else if segment.smooth {
            meeting.smooth.push((one, other));
        }
    }
    for mut meeting in corners.into_values() {
        let lines = meeting.smooth_lines();
        meeting.through.extend(lines);
        let runs_on = |x: &usize| meeting.through.iter().any(|(a, b)| a == x || b == x);
        let ending: Vec<usize> = meeting
            .ends
            .keys()
            .copied()
            .filter(|x| !runs_on(x))
            .collect();
        for (a, b) in &meeting.through {
            for x in &ending {
                steps.graph.tie(*x, *a, "crossed seam first");
                steps.graph.tie(*x, *b, "crossed seam first");
            }
            mate(steps, *a, *b);
        }
        // Two seams that end on both sides of one that passes: side seam and underarm at the armscye.
        let single: Vec<usize> = ending
            .iter()
            .copied()
            .filter(|x| meeting.ends.get(x) == Some(&1))
            .collect();
        let passes = !meeting.through.is_empty() || meeting.ends.values().any(|n| *n == 2);
        if let ([a, b], true) = (single.as_slice(), passes)
            && meeting.through.iter().all(|(p, q)| p != q)
        {
            mate(steps, *a, *b);
        }
    }
}

fn mate(steps: &mut Steps<'_>, a: usize, b: usize) {
    let (a, b) = (a.min(b), a.max(b));
    let layer = |n: usize| {
        steps
            .graph
            .nodes
            .get(n)
            .map(|n| (n.layer, is_sewing(&n.work)))
    };
    if a != b && layer(a) == layer(b) && !steps.graph.mates.contains(&(a, b)) {
        steps.graph.mates.push((a, b));
    }
}

fn runs(steps: &mut Steps<'_>, tube: f64) {
    let try_on = steps.graph.which(|n| n.work == Work::TryOn);
    for run in steps.runs.clone() {
        let Some(work) = steps.graph.nodes.get(run.step).map(|n| n.work.clone()) else {
            continue;
        };
        let round = run.hangs && tube <= run.length;
        // A small ring is finished flat, before the last seam closes it.
        let left_open = if run.ring && !round && !matches!(work, Work::Fell { .. }) {
            run.joints.last().copied()
        } else {
            None
        };
        for joint in &run.joints {
            if Some(*joint) != left_open {
                steps.graph.tie(*joint, run.step, "join before finishing");
            }
        }
        if round {
            for fitting in &try_on {
                steps.graph.tie(*fitting, run.step, "try on before hemming");
            }
        }
        for seam in &run.goes_on_in {
            match work {
                Work::CloseGap => steps.graph.tie(*seam, run.step, "close the gap last"),
                _ => steps.graph.prefer(run.step, *seam, "ends are caught"),
            }
        }
        for seam in &run.caught_by {
            let layer = steps.graph.nodes.get(*seam).map(|n| n.layer);
            match work {
                Work::Face | Work::Slit if layer != Some(Layer::Between) => {
                    steps.graph.tie(run.step, *seam, "ends are caught");
                }
                Work::CloseGap => steps.graph.tie(*seam, run.step, "close the gap last"),
                Work::Hem | Work::Casing if layer != Some(Layer::Between) => {
                    steps.graph.prefer(run.step, *seam, "ends are caught");
                }
                _ => {}
            }
        }
    }
}

fn linings(steps: &mut Steps<'_>) {
    for (unit, turn) in steps.small_parts.clone() {
        let cuts = steps
            .graph
            .nodes
            .get(turn)
            .map_or(Vec::new(), |n| n.cuts.clone());
        for seam in &unit {
            steps.graph.tie(*seam, turn, "turn after bagging");
        }
        let others = steps
            .graph
            .which(|n| is_sewing(&n.work) && n.cuts.iter().any(|c| cuts.contains(c)));
        for other in others.into_iter().filter(|o| !unit.contains(o)) {
            steps.graph.tie(turn, other, "small parts first");
        }
    }
    let graph = &mut steps.graph;
    let turns = graph.which(|n| matches!(n.work, Work::Turn { .. }) && n.stage == stage::TURN);
    for turn in turns {
        let Some(turned) = graph.nodes.get(turn).cloned() else {
            continue;
        };
        let part = |cuts: &[usize], all: &super::sewn::Sewn| {
            cuts.iter()
                .any(|c| turned.cuts.iter().any(|t| all.part(*t) == all.part(*c)))
        };
        let closes_up = steps.all.clone();
        for (number, node) in graph.nodes.clone().iter().enumerate() {
            let mine = node.segments.iter().any(|s| turned.segments.contains(s));
            match node.work {
                Work::Seam { .. } if mine => graph.tie(number, turn, "turn after bagging"),
                Work::Hem | Work::Casing | Work::Face | Work::Slit | Work::Closure { .. }
                    if part(&node.cuts, &closes_up) =>
                {
                    graph.tie(turn, number, "finish after turning");
                }
                Work::CloseGap if part(&node.cuts, &closes_up) => {
                    graph.tie(turn, number, "close the gap last");
                }
                Work::Fell { .. } if part(&node.cuts, &closes_up) => {
                    graph.tie(turn, number, "finish after turning");
                }
                _ => {}
            }
        }
    }
    let fells = graph.which(|n| matches!(n.work, Work::Fell { .. }));
    let pieces = |cuts: &[usize]| -> Vec<usize> {
        let pieces = cuts.iter().filter_map(|c| steps.surface.cuts.get(*c));
        pieces.map(|c| c.piece).collect()
    };
    for (number, node) in graph.nodes.clone().iter().enumerate() {
        for fell in &fells {
            let Some(felled) = graph.nodes.get(*fell) else {
                continue;
            };
            let same_layer = matches!(node.work, Work::Seam { .. })
                && (node.layer == Layer::Lining
                    || pieces(&node.cuts)
                        .iter()
                        .any(|p| pieces(&felled.cuts).contains(p)));
            if same_layer {
                graph.tie(number, *fell, "fell after making up");
            }
        }
    }
}

/// The free edge of a band comes after the seam it covers and after the ends of the band.
fn bands(steps: &mut Steps<'_>) {
    for (step, covered) in steps.covering.clone() {
        steps.graph.tie(covered, step, "felled over");
        let Some(node) = steps.graph.nodes.get(step).cloned() else {
            continue;
        };
        let own: Vec<usize> = node
            .segments
            .iter()
            .copied()
            .filter(|s| {
                let owner = steps.owner.get(*s).copied().flatten();
                owner.is_none() || owner == Some(step)
            })
            .collect();
        for segment in own {
            let Some(s) = steps.surface.segment(segment) else {
                continue;
            };
            for beside in [s.before, s.next] {
                if let Some(end) = steps.owner.get(beside).copied().flatten() {
                    steps.graph.tie(end, step, "felled over");
                }
            }
        }
    }
}

/// Trying on, pressing, fastening.
fn fittings(steps: &mut Steps<'_>) {
    let detail = |cuts: &[usize]| {
        cuts.iter()
            .all(|c| steps.surface.cuts.get(*c).is_some_and(|c| c.detail))
    };
    let graph = &mut steps.graph;
    let nodes = graph.nodes.clone();
    let try_on = graph.which(|n| n.work == Work::TryOn);
    let press = graph.which(|n| n.key == "press it all");
    for (number, node) in nodes.iter().enumerate() {
        for fitting in &try_on {
            match node.work {
                Work::Seam { .. } if node.layer == Layer::Shell && !detail(&node.cuts) => {
                    graph.tie(number, *fitting, "try on when closed");
                }
                Work::Seam { .. } if node.layer == Layer::Between && !detail(&node.cuts) => {
                    graph.prefer(*fitting, number, "try on first");
                }
                Work::Fell { .. } => graph.prefer(*fitting, number, "try on first"),
                Work::Closure { .. } => graph.tie(*fitting, number, "closures last"),
                _ => {}
            }
        }
        for press in &press {
            match node.work {
                Work::Closure { .. } => graph.tie(*press, number, "press before fastening"),
                Work::Press => {}
                _ => graph.tie(number, *press, "press before fastening"),
            }
        }
    }
}
