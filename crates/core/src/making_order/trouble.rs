//! How much trouble a step is at the moment it is done: flat, in the round, by hand, through a mouth.
//!
//! The weights are our own; they only say what is worse than what.

use super::graph::{Graph, Node};
use super::sewn::{Boundaries, Ring, Sewn};
use super::step::Work;
use super::surface::Surface;

/// In the round but roomy: at least twice the girth the machine needs.
pub(super) const ROOMY: u32 = 1;
/// In the round, where the machine still reaches.
pub(super) const ROUND: u32 = 10;
/// In the round, too narrow for the machine: by hand what would be sewn by machine flat.
pub(super) const NARROW: u32 = 30;
/// A ring sewn into a ring of the same part: it has to be pulled through.
pub(super) const PULLED_THROUGH: u32 = 40;
/// Turned through a mouth too small, or none.
pub(super) const NO_WAY_OUT: u32 = 1000;
/// A better order not kept.
pub(super) const NOT_BETTER: u32 = 5;
/// Two seams that run on into each other, not sewn in one go.
pub(super) const NOT_IN_ONE_GO: u32 = 2;

/// The moment before a step.
pub(super) struct Moment<'a> {
    pub surface: &'a Surface<'a>,
    pub sewn: &'a Sewn,
    pub boundaries: &'a Boundaries,
}

impl Moment<'_> {
    /// The girth of the narrowest ring a step is worked on now.
    pub(super) fn ring(&self, node: &Node) -> Ring {
        if matches!(
            node.work,
            Work::CutOut | Work::TryOn | Work::Press | Work::Turn { .. } | Work::Closure { .. }
        ) {
            return None;
        }
        self.boundaries.ring(&node.segments)
    }

    /// Girth of the widest mouth of what is turned now; 0 when there is none.
    pub(super) fn mouth(&self, node: &Node) -> f64 {
        let parts: Vec<usize> = node.cuts.iter().map(|c| self.sewn.part(*c)).collect();
        let lengths = self.boundaries.length.iter().zip(&self.boundaries.part);
        lengths
            .filter(|(_, part)| parts.contains(part))
            .map(|(length, _)| *length)
            .fold(0.0, f64::max)
    }

    /// Does it sew a whole ring into another whole ring of the same part?
    pub(super) fn pulls_through(&self, node: &Node) -> bool {
        let ends = || {
            node.glue
                .iter()
                .filter(|(a, b)| !self.sewn.is_glued(*a) && !self.sewn.is_glued(*b))
        };
        let Some((a, b)) = ends().next() else {
            return false;
        };
        let part = |s: usize| {
            let cut = self.surface.segment(s).map(|s| s.cut);
            cut.map(|c| self.sewn.part(c))
        };
        let (one, other) = (self.boundaries.of(*a), self.boundaries.of(*b));
        if part(*a) != part(*b) || one == other {
            return false;
        }
        let mine: Vec<usize> = ends().flat_map(|(a, b)| [*a, *b]).collect();
        (0..self.surface.segments.len()).all(|s| {
            let of = self.boundaries.of(s);
            (of != one && of != other) || mine.contains(&s)
        })
    }

    /// The trouble of a step now, whatever came before it.
    pub(super) fn of(&self, graph: &Graph, node: &Node) -> u32 {
        if let Work::Turn { .. } = node.work {
            return if self.mouth(node) < node.way_out {
                NO_WAY_OUT
            } else {
                0
            };
        }
        let round = match self.ring(node) {
            None => return 0,
            Some(girth) if 2.0 * graph.tube.0 <= girth => ROOMY,
            Some(girth) if girth < graph.tube.0 && node.hand.is_none() => NARROW,
            Some(_) => ROUND,
        };
        let pulled = if self.pulls_through(node) {
            PULLED_THROUGH
        } else {
            0
        };
        round + pulled
    }
}

/// What is added because of the steps before it: what should have come later, what is not sewn in one go.
pub(super) fn of_place(graph: &Graph, step: usize, done: &[bool], last: Option<usize>) -> u32 {
    let is_done = |n: usize| done.get(n) == Some(&true);
    let better = graph
        .arcs
        .iter()
        .filter(|arc| !arc.must && arc.first == step && is_done(arc.then))
        .count();
    let apart = graph
        .mates
        .iter()
        .filter_map(|(a, b)| match step {
            s if s == *a => Some(*b),
            s if s == *b => Some(*a),
            _ => None,
        })
        .filter(|mate| is_done(*mate) && last != Some(*mate))
        .count();
    let many = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    many(better)
        .saturating_mul(NOT_BETTER)
        .saturating_add(many(apart).saturating_mul(NOT_IN_ONE_GO))
}

/// Trouble of a whole order, step by step.
pub(super) fn of_order(graph: &Graph, surface: &Surface<'_>, order: &[usize]) -> u32 {
    let mut sewn = Sewn::nothing(surface);
    let mut boundaries = sewn.boundaries(surface);
    let mut done = vec![false; graph.nodes.len()];
    let (mut last, mut sum) = (None, 0_u32);
    for step in order {
        let Some(node) = graph.nodes.get(*step) else {
            continue;
        };
        let moment = Moment {
            surface,
            sewn: &sewn,
            boundaries: &boundaries,
        };
        sum = sum
            .saturating_add(moment.of(graph, node))
            .saturating_add(of_place(graph, *step, &done, last));
        if !node.glue.is_empty() {
            for (a, b) in &node.glue {
                sewn.glue(surface, *a, *b);
            }
            boundaries = sewn.boundaries(surface);
        }
        if let Some(slot) = done.get_mut(*step) {
            *slot = true;
        }
        last = Some(*step);
    }
    sum
}
