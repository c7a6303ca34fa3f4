//! The best order: of the steps that can be done, always the one that does least harm to those still to come; small
//! garments are searched to the end.
//!
//! Same steps, same order, on every machine: no chance, no clock.

use std::collections::BTreeMap;

use super::graph::Graph;
use super::sewn::{Boundaries, Sewn};
use super::surface::Surface;
use super::trouble::{self, Moment};

/// Up to so many steps with a choice of place the best order is searched to the end.
const SEARCHED_TO_THE_END: usize = 12;

/// An order of all steps that keeps every arc that must hold; the arcs must not run in a circle.
pub(super) fn best(graph: &Graph, surface: &Surface<'_>, forced: &Forced) -> Vec<usize> {
    let quick = Quick::new(graph, surface, forced).order();
    let quick = together(graph, surface, forced, quick);
    if SEARCHED_TO_THE_END < graph.nodes.len() || !forced.is_empty() {
        return quick;
    }
    let most = trouble::of_order(graph, surface, &quick);
    if most == 0 {
        return quick;
    }
    Exact::new(graph, surface).order(most).unwrap_or(quick)
}

/// The order that looks one step ahead, without searching to the end.
pub(super) fn quick(graph: &Graph, surface: &Surface<'_>) -> Vec<usize> {
    Quick::new(graph, surface, &Vec::new()).order()
}

/// Steps that come straight before another one: (step, the one after it).
pub(super) type Forced = Vec<(usize, usize)>;

/// Steps that run on into each other are brought together where that is less trouble: the first waits for the second.
fn together(
    graph: &Graph,
    surface: &Surface<'_>,
    forced: &Forced,
    mut order: Vec<usize>,
) -> Vec<usize> {
    let mut trouble = None;
    for (a, b) in &graph.mates {
        let place = |step: usize| order.iter().position(|s| *s == step);
        let Some((at_a, at_b)) = place(*a).zip(place(*b)) else {
            continue;
        };
        let (from, to) = (at_a.min(at_b), at_a.max(at_b));
        let Some(step) = order.get(from).copied() else {
            continue;
        };
        let between = order.get(from + 1..to).unwrap_or_default();
        let holds = |s: &usize| {
            graph
                .arcs
                .iter()
                .any(|arc| arc.must && arc.first == step && arc.then == *s)
        };
        let is_forced = forced.iter().any(|(f, t)| *f == step || *t == step);
        if between.is_empty() || is_forced || between.iter().any(holds) {
            continue;
        }
        let before = *trouble.get_or_insert_with(|| trouble::of_order(graph, surface, &order));
        let mut tried = order.clone();
        tried.remove(from);
        tried.insert(to - 1, step);
        let after = trouble::of_order(graph, surface, &tried);
        if after < before {
            (order, trouble) = (tried, Some(after));
        }
    }
    order
}

/// What waits for what.
fn waiting(graph: &Graph) -> Vec<Vec<usize>> {
    let mut waits = vec![Vec::new(); graph.nodes.len()];
    for arc in graph.arcs.iter().filter(|arc| arc.must) {
        if let Some(list) = waits.get_mut(arc.then) {
            list.push(arc.first);
        }
    }
    waits
}

struct Quick<'a> {
    graph: &'a Graph,
    surface: &'a Surface<'a>,
    forced: &'a Forced,
    waits: Vec<Vec<usize>>,
    /// Better arcs by their later step.
    better: Vec<Vec<usize>>,
    sewn: Sewn,
    boundaries: Boundaries,
    done: Vec<bool>,
    order: Vec<usize>,
    /// Harm of sewing a step now, until its parts change.
    harm: Vec<Option<u32>>,
}

impl<'a> Quick<'a> {
    fn new(graph: &'a Graph, surface: &'a Surface<'a>, forced: &'a Forced) -> Self {
        let sewn = Sewn::nothing(surface);
        let boundaries = sewn.boundaries(surface);
        let mut better = vec![Vec::new(); graph.nodes.len()];
        for arc in graph.arcs.iter().filter(|arc| !arc.must) {
            if let Some(list) = better.get_mut(arc.then) {
                list.push(arc.first);
            }
        }
        Self {
            graph,
            surface,
            forced,
            waits: waiting(graph),
            better,
            sewn,
            boundaries,
            done: vec![false; graph.nodes.len()],
            order: Vec::new(),
            harm: vec![None; graph.nodes.len()],
        }
    }

    fn order(mut self) -> Vec<usize> {
        while let Some(step) = self.chosen() {
            self.take(step);
        }
        self.order
    }

    fn is_done(&self, step: usize) -> bool {
        self.done.get(step) == Some(&true)
    }

    fn is_ready(&self, step: usize) -> bool {
        let waits = self.waits.get(step);
        !self.is_done(step) && waits.is_some_and(|w| w.iter().all(|w| self.is_done(*w)))
    }

    fn chosen(&mut self) -> Option<usize> {
        let last = self.order.last().copied();
        let next = self
            .forced
            .iter()
            .find(|(first, then)| Some(*first) == last && self.is_ready(*then));
        if let Some((_, then)) = next {
            return Some(*then);
        }
        let ready: Vec<usize> = (0..self.done.len()).filter(|s| self.is_ready(*s)).collect();
        ready
            .into_iter()
            .map(|step| (self.weight(step, last), step))
            .min()
            .map(|(_, step)| step)
    }

    /// Trouble now and later, then what goes on from the step before, then the usual stage.
    fn weight(&mut self, step: usize, last: Option<usize>) -> (u32, bool, u8, usize) {
        let Some(node) = self.graph.nodes.get(step) else {
            return (u32::MAX, true, u8::MAX, step);
        };
        let moment = Moment {
            surface: self.surface,
            sewn: &self.sewn,
            boundaries: &self.boundaries,
        };
        let own = moment.of(self.graph, node);
        let early = self
            .better
            .get(step)
            .map_or(0, |list| list.iter().filter(|f| !self.is_done(**f)).count());
        let early = u32::try_from(early)
            .unwrap_or(u32::MAX)
            .saturating_mul(trouble::NOT_BETTER);
        let harm = match self.harm.get(step).copied().flatten() {
            Some(harm) => harm,
            None => {
                let harm = self.harm_of(step);
                if let Some(slot) = self.harm.get_mut(step) {
                    *slot = Some(harm);
                }
                harm
            }
        };
        let goes_on = self
            .graph
            .mates
            .iter()
            .any(|(a, b)| (*a == step && Some(*b) == last) || (*b == step && Some(*a) == last));
        let sum = own.saturating_add(early).saturating_add(harm);
        (sum, !goes_on, node.stage, step)
    }

    /// How much more trouble the steps still to come would be right after this one.
    fn harm_of(&self, step: usize) -> u32 {
        let Some(node) = self.graph.nodes.get(step) else {
            return 0;
        };
        if node.glue.is_empty() {
            return 0;
        }
        // Discs sewn side to side stay a disc.
        let parts = parts_of(self.surface, &self.sewn, &node.cuts);
        let discs = node.cuts.iter().all(|c| self.sewn.is_disc(*c));
        let mut then = self.sewn.clone();
        for (a, b) in &node.glue {
            then.glue(self.surface, *a, *b);
        }
        if discs && node.cuts.first().is_some_and(|c| then.is_disc(*c)) {
            return 0;
        }
        let boundaries = then.boundaries(self.surface);
        let (now, after) = (
            Moment {
                surface: self.surface,
                sewn: &self.sewn,
                boundaries: &self.boundaries,
            },
            Moment {
                surface: self.surface,
                sewn: &then,
                boundaries: &boundaries,
            },
        );
        let mut harm = 0_u32;
        for (other, waiting) in self.graph.nodes.iter().enumerate() {
            let apart = other == step || self.is_done(other) || self.comes_after(other, step);
            let touches = waiting
                .cuts
                .iter()
                .any(|c| parts.contains(&self.sewn.part(*c)));
            if apart || !touches {
                continue;
            }
            let (before, later) = (now.of(self.graph, waiting), after.of(self.graph, waiting));
            harm = harm.saturating_add(later.saturating_sub(before));
        }
        harm
    }

    /// Must a step come after another anyway, directly?
    fn comes_after(&self, step: usize, other: usize) -> bool {
        self.waits.get(step).is_some_and(|w| w.contains(&other))
    }

    fn take(&mut self, step: usize) {
        let Some(node) = self.graph.nodes.get(step) else {
            return;
        };
        let before = parts_of(self.surface, &self.sewn, &node.cuts);
        if !node.glue.is_empty() {
            for (a, b) in &node.glue {
                self.sewn.glue(self.surface, *a, *b);
            }
            self.boundaries = self.sewn.boundaries(self.surface);
        }
        if let Some(slot) = self.done.get_mut(step) {
            *slot = true;
        }
        self.order.push(step);
        let after = parts_of(self.surface, &self.sewn, &node.cuts);
        for (other, slot) in self.harm.iter_mut().enumerate() {
            let cuts = self.graph.nodes.get(other).map(|n| n.cuts.as_slice());
            let touched = cuts.is_some_and(|cuts| {
                cuts.iter().any(|c| {
                    let part = self.sewn.part(*c);
                    after.contains(&part) || before.contains(&part)
                })
            });
            if touched {
                *slot = None;
            }
        }
    }
}

fn parts_of(_surface: &Surface<'_>, sewn: &Sewn, cuts: &[usize]) -> Vec<usize> {
    let mut parts: Vec<usize> = Vec::new();
    for cut in cuts {
        let part = sewn.part(*cut);
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    parts
}

/// Every order that keeps the rules, cut short where it is already worse.
struct Exact<'a> {
    graph: &'a Graph,
    surface: &'a Surface<'a>,
    /// Steps each step waits for, as bits.
    waits: Vec<u32>,
    /// Least trouble from a set of done steps and the last of them to the end, with the best next step.
    known: BTreeMap<(u32, usize), (u32, Option<usize>)>,
}

impl<'a> Exact<'a> {
    fn new(graph: &'a Graph, surface: &'a Surface<'a>) -> Self {
        let waits = waiting(graph)
            .into_iter()
            .map(|list| list.into_iter().fold(0, |bits, step| bits | bit(step)))
            .collect();
        Self {
            graph,
            surface,
            waits,
            known: BTreeMap::new(),
        }
    }

    /// The best order, if it is less trouble than this.
    fn order(mut self, most: u32) -> Option<Vec<usize>> {
        let nothing = Sewn::nothing(self.surface);
        let least = self.least(0, None, &nothing);
        if most <= least {
            return None;
        }
        let (mut done, mut last, mut order) = (0_u32, None, Vec::new());
        while let Some((_, Some(step))) = self.known.get(&(done, place(last))) {
            order.push(*step);
            done |= bit(*step);
            last = Some(*step);
        }
        (order.len() == self.graph.nodes.len()).then_some(order)
    }

    fn least(&mut self, done: u32, last: Option<usize>, sewn: &Sewn) -> u32 {
        if let Some((least, _)) = self.known.get(&(done, place(last))) {
            return *least;
        }
        let boundaries = sewn.boundaries(self.surface);
        let graph = self.graph;
        let flags: Vec<bool> = (0..graph.nodes.len()).map(|s| done & bit(s) != 0).collect();
        let mut best: (u32, Option<usize>) = (u32::MAX, None);
        let mut any = false;
        // By their usual stage, so that of equal orders the usual one is taken.
        let mut steps: Vec<usize> = (0..graph.nodes.len()).collect();
        steps.sort_by_key(|s| (graph.nodes.get(*s).map_or(0, |n| n.stage), *s));
        for step in steps {
            let ready = self.waits.get(step).is_some_and(|w| w & !done == 0);
            let (Some(node), true, true) = (graph.nodes.get(step), done & bit(step) == 0, ready)
            else {
                continue;
            };
            any = true;
            let moment = Moment {
                surface: self.surface,
                sewn,
                boundaries: &boundaries,
            };
            let now = moment
                .of(graph, node)
                .saturating_add(trouble::of_place(graph, step, &flags, last));
            if best.0 <= now {
                continue;
            }
            let mut then = sewn.clone();
            for (a, b) in &node.glue {
                then.glue(self.surface, *a, *b);
            }
            let sum = now.saturating_add(self.least(done | bit(step), Some(step), &then));
            if sum < best.0 {
                best = (sum, Some(step));
            }
        }
        if !any {
            best = (0, None);
        }
        self.known.insert((done, place(last)), best);
        best.0
    }
}

fn bit(step: usize) -> u32 {
    1_u32
        .checked_shl(u32::try_from(step).unwrap_or(u32::MAX))
        .unwrap_or(0)
}

fn place(last: Option<usize>) -> usize {
    last.map_or(0, |l| l + 1)
}
