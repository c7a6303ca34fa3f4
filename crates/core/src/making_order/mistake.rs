//! A mistake was made: which seams to unpick, as few as can be, and what the alternatives cost.
//!
//! What must be unpicked with a wrong seam follows from the same ties as the order: a seam that crosses its end, catches
//! it or covers it holds it. Lengths in mm of seam.

mod unpicking;

use std::collections::BTreeSet;

use super::graph::Graph;
use super::nodes::Steps;
use super::step::{StepKey, Work};
use super::{engine, search};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::machine::Machine;
use crate::piece::Copy;
use crate::units::{LengthUnit, Mm};

use unpicking::Bench;

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
    let (steps, _) = engine::tied(made, fitting, machine);
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

/// Can it be unpicked at all?
fn is_stitching(work: &Work) -> bool {
    !matches!(
        work,
        Work::CutOut | Work::Press | Work::TryOn | Work::Turn { .. }
    )
}
