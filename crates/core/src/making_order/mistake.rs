//! A mistake was made: which seams to unpick, as few as can be, and what the alternatives cost.
//!
//! What must be unpicked with a wrong seam follows from the same ties as the order: a seam that crosses its end, catches
//! it or covers it holds it. Lengths in mm of seam.

use std::collections::BTreeSet;

use super::engine::{self, Placed};
use super::graph::Graph;
use super::nodes::Steps;
use super::rules::rule_of;
use super::sewn::{Ring, Sewn};
use super::step::{StepKey, Work};
use super::trouble::{Moment, NARROW, ROUND};
use super::{circles, moves, search, ties};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::machine::Machine;
use crate::piece::Copy;
use crate::units::{LengthUnit, Mm};

/// How far a seam that crosses is opened to get at the one beneath: both allowances and room for the needle (common
/// practice, no source).
const OPENED_AT_A_CROSSING: f64 = 25.0;

/// What went wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mistake {
    /// A seam was sewn wrong: a sleeve in inside out, the wrong edges, stretched or puckered.
    SewnWrong(StepKey),
    /// It was sewn before its turn and is in the way: a side seam closed too early.
    TooEarly(StepKey),
    /// Two copies were taken for each other: everything sewn to either is wrong.
    Swapped((String, Copy), (String, Copy)),
}

/// One way out of a mistake.
#[derive(Debug, Clone, PartialEq)]
pub struct WayBack {
    /// Which kind of way.
    pub way: Way,
    /// Steps that are unpicked whole, last sewn first.
    pub unpick: Vec<StepKey>,
    /// Seams that are only opened a little, where they cross.
    pub open: Vec<StepKey>,
    /// Length of seam that is unpicked or opened.
    pub length: Mm,
    /// Steps still to do from there, in their order: the unpicked ones again, then the rest.
    pub next: Vec<StepKey>,
    /// Those of them that have to be sewn in the round, with the girth.
    pub in_the_round: Vec<(StepKey, Mm)>,
    /// Trouble of all that is still to do, in the measure of [`super::Order::trouble`].
    pub trouble: u32,
    /// What it means, in the maker's words, with the figures it rests on.
    pub words: String,
}

/// Kinds of ways out of a mistake.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Unpick the wrong seam and what holds it; the right order goes on from there.
    Fewest,
    /// Unpick only the wrong seam, open what crosses it a little, and sew it again by hand in the round.
    ByHand,
    /// Unpick everything that was sewn after it.
    AllAfter,
    /// Leave it.
    Leave,
}

/// Why no way can be told.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MistakeError {
    /// No such step.
    #[error("there is no step \"{0}\" in this order; choose one of its seams")]
    NoStep(StepKey),
    /// It was not sewn yet.
    #[error(
        "\"{0}\" is not ticked as done, so there is nothing to unpick; tick what is sewn first"
    )]
    NotDone(StepKey),
    /// Nothing of it was sewn.
    #[error("nothing that is ticked as done is sewn to {0} or {1}")]
    NothingSewn(String, String),
}

/// The ways out of a mistake, best first: fewest seams to unpick for a right order, then by hand, then the rest.
///
/// What is done is what the fitting's ticks say ([`super::MakingOrder::done`]); cutting, turning and trying on before a
/// ticked step count as done too.
///
/// # Errors
/// [`MistakeError`] when the step is not there or not done.
pub fn ways_back(
    made: &Garment,
    fitting: &Fitting,
    machine: &Machine,
    unit: LengthUnit,
    mistake: &Mistake,
) -> Result<Vec<WayBack>, MistakeError> {
    let mut steps = Steps::of(made, fitting);
    ties::tie(&mut steps, machine.tube.0);
    steps.graph.tube = machine.tube;
    circles::opened(&mut steps.graph, |_| false);
    let usual = search::best(&steps.graph, &steps.surface, &Vec::new());
    let done = done(&steps.graph, &fitting.making.done);
    let wrong = wrong(&steps, mistake, &done)?;
    let placed = engine::placed(&steps, &usual);
    let bench = Bench {
        steps: &steps,
        usual: &usual,
        placed: &placed,
        done: &done,
        wrong: &wrong,
        unit,
        machine,
    };
    let early = matches!(mistake, Mistake::TooEarly(_));
    let mut ways = vec![bench.fewest(), bench.by_hand(), bench.all_after()];
    if early {
        ways.extend(bench.leave());
    }
    // The same seams twice is one way.
    let mut told: Vec<WayBack> = Vec::new();
    for way in ways {
        let known = |w: &WayBack| {
            let seams = |keys: &[StepKey]| keys.iter().cloned().collect::<BTreeSet<_>>();
            seams(&w.unpick) == seams(&way.unpick) && w.open == way.open
        };
        if !told.iter().any(known) {
            told.push(way);
        }
    }
    Ok(told)
}

/// Steps that are done: those ticked, and what leaves no stitch but must have been done before them.
fn done(graph: &Graph, ticked: &BTreeSet<String>) -> BTreeSet<usize> {
    let mut done: BTreeSet<usize> = graph
        .which(|n| ticked.contains(&n.key))
        .into_iter()
        .collect();
    loop {
        let more: Vec<usize> = graph
            .arcs
            .iter()
            .filter(|arc| arc.must && done.contains(&arc.then) && !done.contains(&arc.first))
            .map(|arc| arc.first)
            .filter(|s| {
                let node = graph.nodes.get(*s);
                node.is_some_and(|n| !is_stitching(&n.work))
            })
            .collect();
        if more.is_empty() {
            return done;
        }
        done.extend(more);
    }
}

fn wrong(
    steps: &Steps<'_>,
    mistake: &Mistake,
    done: &BTreeSet<usize>,
) -> Result<BTreeSet<usize>, MistakeError> {
    let graph = &steps.graph;
    match mistake {
        Mistake::SewnWrong(key) | Mistake::TooEarly(key) => {
            let step = graph.nodes.iter().position(|n| n.key == *key);
            let step = step.ok_or_else(|| MistakeError::NoStep(key.clone()))?;
            if done.contains(&step) {
                Ok(BTreeSet::from([step]))
            } else {
                Err(MistakeError::NotDone(key.clone()))
            }
        }
        Mistake::Swapped(one, other) => {
            let is = |cut: usize| {
                let of = steps.surface.cuts.get(cut);
                of.is_some_and(|of| {
                    let piece = steps.surface.garment.pieces.get(of.piece);
                    piece.is_some_and(|piece| {
                        [one, other]
                            .iter()
                            .any(|(name, copy)| piece.name == *name && of.copy == *copy)
                    })
                })
            };
            let found: BTreeSet<usize> = done
                .iter()
                .copied()
                .filter(|step| {
                    graph.nodes.get(*step).is_some_and(|n| {
                        let joins = 1 < n.cuts.len() && !n.glue.is_empty();
                        joins && n.cuts.iter().any(|c| is(*c))
                    })
                })
                .collect();
            if found.is_empty() {
                return Err(MistakeError::NothingSewn(one.0.clone(), other.0.clone()));
            }
            Ok(found)
        }
    }
}

struct Bench<'a> {
    steps: &'a Steps<'a>,
    usual: &'a [usize],
    placed: &'a [Placed],
    done: &'a BTreeSet<usize>,
    wrong: &'a BTreeSet<usize>,
    unit: LengthUnit,
    machine: &'a Machine,
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

/// Can it be unpicked at all?
fn is_stitching(work: &Work) -> bool {
    !matches!(
        work,
        Work::CutOut | Work::Press | Work::TryOn | Work::Turn { .. }
    )
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

    fn fewest(&self) -> WayBack {
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

    fn by_hand(&self) -> WayBack {
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

    fn all_after(&self) -> WayBack {
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
    fn leave(&self) -> Option<WayBack> {
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
        rest.to_vec().into_iter().filter_map(move |step| {
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
