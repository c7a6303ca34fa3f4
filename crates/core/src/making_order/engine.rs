//! From the seams of a garment to the order in which it is sewn.

use super::circles::{self, Circle};
use super::graph::{Arc, Graph, Node};
use super::nodes::Steps;
use super::sewn::Sewn;
use super::step::{Broken, Lies, Order, Step, Tie, Work};
use super::told;
use super::trouble::{self, Moment};
use super::{by, moves, search, ties};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::machine::Machine;
use crate::units::{LengthUnit, Mm};

/// The order in which a garment is sewn.
///
/// `made` is the garment with its finished pieces ([`crate::adapt::Adapted::made`]); the fitting gives cloth, lining method
/// and what the maker chose; `unit` is the one that reasons are told in. Findings: rules that run in a circle, openings too
/// small to turn through, moves that break a rule, steps that close the way for later ones.
pub fn order(made: &Garment, fitting: &Fitting, machine: &Machine, unit: LengthUnit) -> Order {
    let (mut steps, circles) = tied(made, fitting, machine);
    let tied = steps.graph.clone();
    let (moved, forced) = moves::applied(&mut steps.graph, &fitting.making.moved);
    let places = search::best(&steps.graph, &steps.surface, &forced);
    // Only what a move makes worse is told as a way it closes.
    let unmoved = (!forced.is_empty() || !moved.is_empty())
        .then(|| search::best(&tied, &steps.surface, &Vec::new()));
    Ordered {
        steps: &steps,
        tied: &tied,
        places: &places,
        unmoved: unmoved.as_deref(),
        fitting,
        machine,
        unit,
    }
    .told(&circles, &moved)
}

/// The steps of a garment, tied by every rule; circles of rules are opened, each told with what was taken out.
pub(super) fn tied<'a>(
    made: &'a Garment,
    fitting: &Fitting,
    machine: &Machine,
) -> (Steps<'a>, Vec<(Circle, Arc)>) {
    let mut steps = Steps::of(made, fitting);
    ties::tie(&mut steps, machine.tube.0);
    steps.graph.tube = machine.tube;
    let circles = circles::opened(&mut steps.graph, |_| false);
    (steps, circles)
}

/// A found order with everything that is said about it.
pub(super) struct Ordered<'a> {
    pub steps: &'a Steps<'a>,
    /// The ties without those of moves.
    pub tied: &'a Graph,
    pub places: &'a [usize],
    /// The order without the maker's moves, when she moved steps.
    pub unmoved: Option<&'a [usize]>,
    pub fitting: &'a Fitting,
    pub machine: &'a Machine,
    pub unit: LengthUnit,
}

/// How one step is at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed {
    pub node: usize,
    pub ring: Option<f64>,
    pub mouth: f64,
    pub pulled: bool,
    pub trouble: u32,
}

/// Every step of an order as it is when its turn comes.
pub(super) fn placed(steps: &Steps<'_>, places: &[usize]) -> Vec<Placed> {
    let (graph, surface) = (&steps.graph, &steps.surface);
    let mut sewn = Sewn::nothing(surface);
    let mut boundaries = sewn.boundaries(surface);
    let mut placed = Vec::new();
    for number in places {
        let Some(node) = graph.nodes.get(*number) else {
            continue;
        };
        let moment = Moment {
            surface,
            sewn: &sewn,
            boundaries: &boundaries,
        };
        placed.push(Placed {
            node: *number,
            ring: moment.ring(node),
            mouth: match node.work {
                Work::Turn { .. } => moment.mouth(node),
                _ => 0.0,
            },
            pulled: !node.glue.is_empty() && moment.pulls_through(node),
            trouble: moment.of(graph, node),
        });
        if !node.glue.is_empty() {
            for (a, b) in &node.glue {
                sewn.glue(surface, *a, *b);
            }
            boundaries = sewn.boundaries(surface);
        }
    }
    placed
}

impl Ordered<'_> {
    /// Every step of an order as it is when its turn comes.
    pub(super) fn placed(&self, places: &[usize]) -> Vec<Placed> {
        placed(self.steps, places)
    }

    fn told(&self, circles: &[(Circle, Arc)], moved: &[Arc]) -> Order {
        let placed = self.placed(self.places);
        let mut broken: Vec<Broken> = circles
            .iter()
            .map(|(_, arc)| self.broken(arc, false))
            .chain(moved.iter().map(|arc| self.broken(arc, true)))
            .collect();
        for turned in &placed {
            if let Some(stopped) = self.no_way_out(&placed, turned) {
                broken.push(stopped);
            }
        }
        let steps = self.written(&placed);
        let mut order = Order {
            steps,
            findings: Vec::new(),
            lining: self.steps.lining,
            broken,
            circles: circles
                .iter()
                .map(|(circle, _)| circle.iter().map(|arc| self.tie(arc)).collect())
                .collect(),
            trouble: trouble::of_order(&self.steps.graph, &self.steps.surface, self.places),
        };
        order.findings = told::findings(self, &order, circles, &placed);
        order
    }

    fn key(&self, node: usize) -> String {
        self.steps
            .graph
            .nodes
            .get(node)
            .map_or(String::new(), |n| n.key.clone())
    }

    fn tie(&self, arc: &Arc) -> Tie {
        Tie {
            rule: arc.rule,
            first: self.key(arc.first),
            then: self.key(arc.then),
        }
    }

    fn broken(&self, arc: &Arc, by_move: bool) -> Broken {
        Broken {
            rule: arc.rule,
            first: self.key(arc.first),
            then: self.key(arc.then),
            by_move,
        }
    }

    /// A turning whose mouth is too small: the seam that closed it came too early.
    fn no_way_out(&self, placed: &[Placed], turned: &Placed) -> Option<Broken> {
        let node = self.steps.graph.nodes.get(turned.node)?;
        if !matches!(node.work, Work::Turn { .. }) || node.way_out <= turned.mouth {
            return None;
        }
        let at = placed.iter().position(|p| p.node == turned.node)?;
        let closed = placed.iter().take(at).rev().find(|p| {
            let n = self.steps.graph.nodes.get(p.node);
            n.is_some_and(|n| !n.glue.is_empty() && n.cuts.iter().any(|c| node.cuts.contains(c)))
        })?;
        let by_rule = moves::reached(self.tied, closed.node).contains(&turned.node);
        Some(Broken {
            rule: "way out",
            first: node.key.clone(),
            then: self.key(closed.node),
            by_move: !by_rule && !self.fitting.making.moved.is_empty(),
        })
    }

    fn written(&self, placed: &[Placed]) -> Vec<Step> {
        let mut written: Vec<Step> = Vec::new();
        let mut last: Option<usize> = None;
        for at in placed {
            if let Some(node) = self.steps.graph.nodes.get(at.node) {
                let goes_on = last.is_some_and(|last| {
                    let pair = (last.min(at.node), last.max(at.node));
                    self.steps.graph.mates.contains(&pair)
                });
                written.push(self.step(node, at, goes_on));
            }
            last = Some(at.node);
        }
        written
    }

    fn step(&self, node: &Node, at: &Placed, goes_on: bool) -> Step {
        let surface = &self.steps.surface;
        let chosen = self.fitting.making.by.get(&node.key).copied();
        let (by, mut by_why) = by::by(node, at.ring, chosen, self.machine, self.unit);
        if let Work::Turn { .. } = node.work {
            by_why = format!(
                "the bundle is {} round, the mouth {}",
                self.unit.show(Mm(node.way_out)),
                self.unit.show(Mm(at.mouth))
            );
        }
        let copies = node
            .cuts
            .iter()
            .filter_map(|c| {
                let cut = surface.cuts.get(*c)?;
                let piece = surface.garment.pieces.get(cut.piece)?;
                Some((piece.name.clone(), cut.copy))
            })
            .collect();
        let mut edges = Vec::new();
        for segment in &node.segments {
            if let Some(edge) = surface.edge_ref(*segment)
                && !edges.contains(&edge)
            {
                edges.push(edge);
            }
        }
        let (mut rules, mut after) = (Vec::new(), Vec::new());
        for arc in &self.tied.arcs {
            let here = arc.first == at.node || arc.then == at.node;
            if here && !rules.contains(&arc.rule) {
                rules.push(arc.rule);
            }
            if arc.must && arc.then == at.node {
                after.push(self.key(arc.first));
            }
        }
        Step {
            key: node.key.clone(),
            work: node.work.clone(),
            copies,
            edges,
            lies: if at.ring.is_some() {
                Lies::Round
            } else {
                Lies::Flat
            },
            girth: at.ring.map(Mm),
            length: Mm(node.length),
            times: match node.work {
                Work::CutOut
                | Work::PieceTogether { .. }
                | Work::Neaten
                | Work::Closure { .. }
                | Work::Press
                | Work::TryOn => 1,
                _ => surface.times(&node.cuts, &node.segments),
            },
            goes_on,
            then_press: by::then_press(surface.garment, &node.work),
            by,
            by_why,
            rules,
            after,
        }
    }
}
