//! Steps and what ties them: which must come before which, and which are better done in one go.

use super::step::{StepKey, Work};
use crate::units::Mm;

/// One step, before it has its place.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub key: StepKey,
    pub work: Work,
    /// The copies taken in hand.
    pub cuts: Vec<usize>,
    /// The segments that are worked.
    pub segments: Vec<usize>,
    /// The segments that are sewn to each other.
    pub glue: Vec<(usize, usize)>,
    /// Where it stands among steps that could be done at the same moment: lower is earlier.
    pub stage: u8,
    /// Why it is always done by hand; `None` when a machine could do it.
    pub hand: Option<&'static str>,
    /// Length of the stitching, mm.
    pub length: f64,
    /// What it is to the lining.
    pub layer: Layer,
    /// For turning: the mouth the bundle needs, mm round.
    pub way_out: f64,
}

/// Which layers a step works on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Layer {
    /// The outside.
    Shell,
    /// The lining alone.
    Lining,
    /// Shell and lining sewn to each other along their edges.
    Between,
}

/// One step before another, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Arc {
    pub first: usize,
    pub then: usize,
    pub rule: &'static str,
    /// Must it hold?
    pub must: bool,
}

/// Steps and what ties them.
#[derive(Debug, Clone, Default)]
pub(super) struct Graph {
    pub nodes: Vec<Node>,
    pub arcs: Vec<Arc>,
    /// Steps that run on into each other.
    pub mates: Vec<(usize, usize)>,
    /// Smallest tube the machine reaches.
    pub tube: Mm,
}

impl Graph {
    /// Adds an arc unless the same two are tied already.
    pub(super) fn tie(&mut self, first: usize, then: usize, rule: &'static str) {
        self.add(first, then, rule, true);
    }

    /// Adds an arc that is only better kept.
    pub(super) fn prefer(&mut self, first: usize, then: usize, rule: &'static str) {
        self.add(first, then, rule, false);
    }

    fn add(&mut self, first: usize, then: usize, rule: &'static str, must: bool) {
        let known = |arc: &Arc| arc.first == first && arc.then == then && (arc.must || !must);
        if first != then && !self.arcs.iter().any(known) {
            self.arcs.push(Arc {
                first,
                then,
                rule,
                must,
            });
        }
    }

    /// Numbers of the steps that fulfil a condition.
    pub(super) fn which(&self, wanted: impl Fn(&Node) -> bool) -> Vec<usize> {
        let nodes = self.nodes.iter().enumerate();
        nodes.filter(|(_, n)| wanted(n)).map(|(i, _)| i).collect()
    }
}
