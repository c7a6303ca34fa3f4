//! Sets of steps to unpick, tried and compared.

use std::collections::BTreeSet;

use super::{Way, WayBack, is_stitching};
use crate::machine::Machine;
use crate::making_order::engine::Placed;
use crate::making_order::nodes::Steps;
use crate::making_order::rules::rule_of;
use crate::making_order::sewn::{Ring, Sewn};
use crate::making_order::step::StepKey;
use crate::making_order::trouble::{Moment, NARROW, ROUND};
use crate::making_order::{moves, search};
use crate::units::{LengthUnit, Mm};

/// How far a seam that crosses is opened to get at the one beneath: both allowances and room for the needle (common
/// practice, no source).
const OPENED_AT_A_CROSSING: f64 = 25.0;

/// What is known when ways are compared.
pub(super) struct Bench<'a> {
    pub steps: &'a Steps<'a>,
    pub usual: &'a [usize],
    pub placed: &'a [Placed],
    pub done: &'a BTreeSet<usize>,
    pub wrong: &'a BTreeSet<usize>,
    pub unit: LengthUnit,
    pub machine: &'a Machine,
}

/// Trouble beyond a ring that the machine reaches.
fn hard(trouble: u32) -> u32 {
    if trouble <= ROUND { 0 } else { trouble }
}

/// A set of steps to unpick, and what it is worth.
#[derive(Debug, Clone)]
struct Tried {
    /// How much more trouble everything still to do is than in the right order.
    worse: u32,
    size: usize,
    length: f64,
    unpick: BTreeSet<usize>,
}

impl Tried {
    fn is_better(&self, other: &Self) -> bool {
        let (mine, its) = ((self.worse, self.size), (other.worse, other.size));
        mine < its || (mine == its && self.length < other.length)
    }
}

impl Bench<'_> {
    fn key(&self, step: usize) -> StepKey {
        let node = self.steps.graph.nodes.get(step);
        node.map_or(String::new(), |n| n.key.clone())
    }

    fn length(&self, steps: &BTreeSet<usize>) -> f64 {
        let nodes = steps.iter().filter_map(|s| self.steps.graph.nodes.get(*s));
        nodes
            .filter(|n| is_stitching(&n.work))
            .map(|n| n.length)
            .sum()
    }

    /// These, and what is done and holds any of them fast.
    fn held(&self, wrong: &BTreeSet<usize>) -> BTreeSet<usize> {
        let mut held = wrong.clone();
        for step in wrong {
            let after = moves::reached_by(&self.steps.graph, *step, |arc| {
                arc.must && rule_of(arc.rule).is_some_and(|rule| rule.holds)
            });
            held.extend(after.into_iter().filter(|s| self.done.contains(s)));
        }
        held
    }

    /// How many steps still to do, in their usual order, are more than a machine's work, weighed.
    fn hard_from(&self, sewn: &BTreeSet<usize>) -> u32 {
        let rest: Vec<usize> = self
            .usual
            .iter()
            .copied()
            .filter(|s| !sewn.contains(s))
            .collect();
        self.states(sewn, &rest)
            .map(|(_, trouble, _)| hard(trouble))
            .sum()
    }

    /// The same for these steps in the right order.
    fn usually_hard(&self, sewn: &BTreeSet<usize>) -> u32 {
        let not_sewn = |place: &Placed| !sewn.contains(&place.node);
        let places = self.placed.iter().filter(|p| not_sewn(p));
        places.map(|p| hard(p.trouble)).sum()
    }

    /// The fewest steps to unpick after which a machine reaches everything still to do that it reaches in the right order:
    /// the wrong ones, what holds them, and what closes their way. Of closers every pair is tried; where that is not enough, the best pair
    /// is kept and another one looked for.
    fn least(&self) -> BTreeSet<usize> {
        let mut best = self.tried(self.held(self.wrong));
        for _ in 0..self.done.len() {
            let next = self.with_closers(&best);
            if best.worse == 0 || best.worse <= next.worse {
                break;
            }
            best = next;
        }
        best.unpick
    }

    fn with_closers(&self, from: &Tried) -> Tried {
        let closers: Vec<usize> = self
            .done
            .iter()
            .copied()
            .filter(|s| {
                let node = self.steps.graph.nodes.get(*s);
                !from.unpick.contains(s) && node.is_some_and(|n| !n.glue.is_empty())
            })
            .collect();
        let mut tries: Vec<Vec<usize>> = closers.iter().map(|c| vec![*c]).collect();
        for (i, one) in closers.iter().enumerate() {
            tries.extend(closers.iter().skip(i + 1).map(|other| vec![*one, *other]));
        }
        let mut best = from.clone();
        for more in tries {
            let mut seeds = from.unpick.clone();
            seeds.extend(&more);
            let unpick = self.held(&seeds);
            if best.worse == 0 && best.size < self.size(&unpick) {
                continue;
            }
            let tried = self.tried(unpick);
            if tried.is_better(&best) {
                best = tried;
            }
        }
        best
    }

    fn size(&self, unpick: &BTreeSet<usize>) -> usize {
        unpick.iter().filter(|s| self.stitched(**s)).count()
    }

    fn tried(&self, unpick: BTreeSet<usize>) -> Tried {
        let sewn = self.done.difference(&unpick).copied().collect();
        Tried {
            worse: self
                .hard_from(&sewn)
                .saturating_sub(self.usually_hard(&sewn)),
            size: self.size(&unpick),
            length: self.length(&unpick),
            unpick,
        }
    }

    fn stitched(&self, step: usize) -> bool {
        let node = self.steps.graph.nodes.get(step);
        node.is_some_and(|n| is_stitching(&n.work))
    }

    pub(super) fn fewest(&self) -> WayBack {
        let unpick = self.least();
        let with = unpick.difference(self.wrong).filter(|s| {
            let node = self.steps.graph.nodes.get(**s);
            node.is_some_and(|n| is_stitching(&n.work))
        });
        let with: Vec<String> = with.map(|s| format!("\"{}\"", self.key(*s))).collect();
        let because = if with.is_empty() {
            "nothing else is in the way".to_owned()
        } else {
            format!(
                "with it {}, which hold it or close its way",
                with.join(", ")
            )
        };
        self.way(Way::Fewest, unpick, BTreeSet::new(), &because)
    }

    pub(super) fn by_hand(&self) -> WayBack {
        let stitched = |s: &usize| {
            let node = self.steps.graph.nodes.get(*s);
            node.is_some_and(|n| is_stitching(&n.work) && 0.0 < n.length)
        };
        // Only what holds it directly is opened.
        let open: BTreeSet<usize> = self
            .steps
            .graph
            .arcs
            .iter()
            .filter(|arc| self.wrong.contains(&arc.first))
            .filter(|arc| rule_of(arc.rule).is_some_and(|rule| rule.holds))
            .map(|arc| arc.then)
            .filter(|s| self.done.contains(s) && !self.wrong.contains(s) && stitched(s))
            .collect();
        self.way(
            Way::ByHand,
            self.wrong.clone(),
            open,
            "it is sewn again by hand where it lies",
        )
    }

    pub(super) fn all_after(&self) -> WayBack {
        let first = self.usual.iter().position(|s| self.wrong.contains(s));
        let after = self.usual.iter().skip(first.unwrap_or(0));
        let unpick = after
            .copied()
            .filter(|s| self.done.contains(s))
            .chain(self.held(self.wrong))
            .collect();
        self.way(
            Way::AllAfter,
            unpick,
            BTreeSet::new(),
            "nothing is in the way then",
        )
    }

    /// Leaving it as it is, when nothing still to do must come before it.
    pub(super) fn leave(&self) -> Option<WayBack> {
        let blocked = self.steps.graph.arcs.iter().any(|arc| {
            arc.must && self.wrong.contains(&arc.then) && !self.done.contains(&arc.first)
        });
        (!blocked).then(|| {
            self.way(
                Way::Leave,
                BTreeSet::new(),
                BTreeSet::new(),
                "what is still to do goes on around it",
            )
        })
    }

    fn way(
        &self,
        way: Way,
        unpick: BTreeSet<usize>,
        open: BTreeSet<usize>,
        because: &str,
    ) -> WayBack {
        let sewn: BTreeSet<usize> = self.done.difference(&unpick).copied().collect();
        let rest = self.rest(&sewn);
        let opened: f64 = open
            .iter()
            .filter_map(|s| self.steps.graph.nodes.get(*s))
            .map(|n| n.length.min(OPENED_AT_A_CROSSING))
            .sum();
        let length = self.length(&unpick) + opened;
        let (mut trouble, in_the_round) = self.what_follows(&sewn, &rest);
        // What is held is sewn by hand between what holds it.
        if way == Way::ByHand && !open.is_empty() {
            let by_hand = u32::try_from(self.wrong.len()).unwrap_or(u32::MAX);
            trouble = trouble.saturating_add(by_hand.saturating_mul(NARROW));
        }
        let mut last_first: Vec<usize> = self
            .usual
            .iter()
            .copied()
            .filter(|s| unpick.contains(s))
            .filter(|s| {
                let node = self.steps.graph.nodes.get(*s);
                node.is_some_and(|n| is_stitching(&n.work))
            })
            .collect();
        last_first.reverse();
        let words = self.words(last_first.len(), open.len(), length, &in_the_round, because);
        WayBack {
            way,
            unpick: last_first.into_iter().map(|s| self.key(s)).collect(),
            open: open.into_iter().map(|s| self.key(s)).collect(),
            length: Mm(length),
            next: rest.into_iter().map(|s| self.key(s)).collect(),
            in_the_round: in_the_round
                .into_iter()
                .map(|(s, girth)| (self.key(s), Mm(girth)))
                .collect(),
            trouble,
            words,
        }
    }

    /// What is still to do: in its usual order, unless another one is less trouble from here.
    fn rest(&self, sewn: &BTreeSet<usize>) -> Vec<usize> {
        let mut graph = self.steps.graph.clone();
        // What is sewn stays before what is not, whatever the rules would say.
        graph.arcs.retain(|arc| !sewn.contains(&arc.then));
        for done in sewn {
            for other in 0..graph.nodes.len() {
                if !sewn.contains(&other) {
                    graph.tie(*done, other, "done");
                }
            }
        }
        let quick = search::quick(&graph, &self.steps.surface);
        let unsewn = |order: &[usize]| -> Vec<usize> {
            let rest = order.iter().copied();
            rest.filter(|s| !sewn.contains(s)).collect()
        };
        let (quick, usual) = (unsewn(&quick), unsewn(self.usual));
        if self.what_follows(sewn, &usual).0 <= self.what_follows(sewn, &quick).0 {
            usual
        } else {
            quick
        }
    }

    /// Trouble of the steps to come, and which of them are narrow rings.
    fn what_follows(&self, sewn: &BTreeSet<usize>, rest: &[usize]) -> (u32, Vec<(usize, f64)>) {
        let (mut trouble, mut rings) = (0_u32, Vec::new());
        for (step, more, ring) in self.states(sewn, rest) {
            trouble = trouble.saturating_add(more);
            if let Some(girth) = ring.filter(|g| *g < self.machine.tube.0) {
                rings.push((step, girth));
            }
        }
        (trouble, rings)
    }

    /// Each step to come with its trouble and its ring, when these are sewn.
    fn states(
        &self,
        sewn: &BTreeSet<usize>,
        rest: &[usize],
    ) -> impl Iterator<Item = (usize, u32, Ring)> {
        let (graph, surface) = (&self.steps.graph, &self.steps.surface);
        let mut state = Sewn::nothing(surface);
        let glue = |state: &mut Sewn, step: usize| {
            if let Some(node) = graph.nodes.get(step) {
                for (a, b) in &node.glue {
                    state.glue(surface, *a, *b);
                }
            }
        };
        for step in sewn {
            glue(&mut state, *step);
        }
        let rest = rest.to_vec();
        rest.into_iter().filter_map(move |step| {
            let node = graph.nodes.get(step)?;
            let boundaries = state.boundaries(surface);
            let moment = Moment {
                surface,
                sewn: &state,
                boundaries: &boundaries,
            };
            let found = (step, moment.of(graph, node), moment.ring(node));
            glue(&mut state, step);
            Some(found)
        })
    }

    fn words(
        &self,
        unpicked: usize,
        opened: usize,
        length: f64,
        rings: &[(usize, f64)],
        because: &str,
    ) -> String {
        let seams = |n: usize| format!("{n} {}", if n == 1 { "seam" } else { "seams" });
        let mut words = match (unpicked, opened) {
            (0, _) => format!("Leave it: {because}."),
            (n, 0) => format!(
                "Unpick {}, {}: {because}.",
                seams(n),
                self.unit.show(Mm(length))
            ),
            (n, o) => format!(
                "Unpick {} and open {} a little where they cross, {} in all: {because}.",
                seams(n),
                seams(o),
                self.unit.show(Mm(length))
            ),
        };
        let narrow = rings
            .iter()
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(step, girth)| {
                format!(
                    " {} then {} by hand in the round, the narrowest \"{}\" at {}.",
                    seams(rings.len()),
                    if rings.len() == 1 {
                        "is sewn"
                    } else {
                        "are sewn"
                    },
                    self.key(*step),
                    self.unit.show(Mm(*girth))
                )
            });
        words.push_str(
            narrow
                .as_deref()
                .unwrap_or(" Nothing is left to sew in a narrow ring."),
        );
        words
    }
}
