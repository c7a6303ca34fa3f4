//! The folds of one pleat, tuck by tuck of its kind: where they lie on the cloth and on the edge.

use super::folded::{Fold, Pleat, Way};
use super::{FillLineKind, Kind};
use crate::tolerance::MEASURING;
use crate::units::Mm;

/// One pleat before it is placed.
#[derive(Debug, Clone)]
pub(super) struct Pattern {
    /// Its lines in the order of the cloth.
    pub steps: Vec<Step>,
    /// Where its cloth starts, from the middle of the pleat on the edge.
    pub start: f64,
    /// Cloth from its first to its last own line.
    long: f64,
    lies: Way,
}

/// A line of a pleat: distance on the cloth from where the pleat starts, and on the edge from its middle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub kind: FillLineKind,
    pub cloth: f64,
    pub edge: f64,
    /// Where on the cloth it is laid or sewn.
    pub to: Option<f64>,
    /// Does the cloth behind it lie higher (1), lower (-1), or go on (0)?
    pub climbs: i32,
}

impl Step {
    /// Is the cloth turned here, or a tuck begun or ended?
    pub fn is_turn(&self) -> bool {
        self.kind != FillLineKind::Placement
    }
}

fn fold(cloth: f64, edge: f64, to: f64, climbs: i32) -> Step {
    Step {
        kind: FillLineKind::Fold,
        cloth,
        edge,
        to: Some(to),
        climbs,
    }
}

fn under(cloth: f64, edge: f64, climbs: i32) -> Step {
    Step {
        kind: FillLineKind::Under,
        cloth,
        edge,
        to: None,
        climbs,
    }
}

fn placement(cloth: f64, edge: f64) -> Step {
    Step {
        kind: FillLineKind::Placement,
        cloth,
        edge,
        to: None,
        climbs: 0,
    }
}

fn stitch(cloth: f64, to: f64, climbs: i32) -> Step {
    Step {
        kind: FillLineKind::Stitch,
        cloth,
        edge: 0.0,
        to: Some(to),
        climbs,
    }
}

impl Pattern {
    /// A pleat of this depth; `top` is the width of a box pleat's top.
    pub fn new(kind: Kind, depth: f64, top: f64, onward: bool) -> Self {
        let d = depth;
        let side = if onward { Way::Left } else { Way::Right };
        let (steps, lies) = match kind {
            Kind::Box | Kind::DoubleBox => (box_steps(d, top, kind == Kind::DoubleBox), Way::Apart),
            Kind::Inverted | Kind::DoubleInverted => (
                inverted_steps(d, kind == Kind::DoubleInverted),
                Way::Together,
            ),
            Kind::PinTucks | Kind::WideTucks if onward => (
                vec![
                    stitch(0.0, 2.0 * d, 0),
                    fold(d, d, 2.0 * d, -1),
                    stitch(2.0 * d, 0.0, -1),
                ],
                side,
            ),
            Kind::PinTucks | Kind::WideTucks => (
                vec![
                    stitch(0.0, 2.0 * d, 1),
                    fold(d, -d, 0.0, 1),
                    stitch(2.0 * d, 0.0, 0),
                ],
                side,
            ),
            _ if onward => (
                vec![
                    fold(0.0, 0.0, 2.0 * d, -1),
                    under(d, -d, -1),
                    placement(2.0 * d, 0.0),
                ],
                side,
            ),
            _ => (
                vec![
                    placement(0.0, 0.0),
                    under(d, d, 1),
                    fold(2.0 * d, 0.0, 0.0, 1),
                ],
                side,
            ),
        };
        let own = steps.iter().filter(|s| s.cloth >= 0.0);
        let start = own.clone().next().map_or(0.0, |s| s.edge);
        let turns = steps
            .iter()
            .rev()
            .find(|s| s.is_turn())
            .map_or(0.0, |s| s.cloth);
        let long = if lies == Way::Apart {
            turns
        } else {
            own.map(|s| s.cloth).fold(0.0, f64::max)
        };
        Self {
            steps,
            start,
            long,
            lies,
        }
    }

    /// Where its folds lie on the edge, from its middle.
    pub fn reaches(&self) -> Vec<f64> {
        let turns = self.steps.iter().filter(|s| s.is_turn());
        turns.map(|s| s.edge).collect()
    }

    /// The pleat with this number whose cloth starts at `base` and whose middle lies at `site`, on so much cloth.
    pub fn pleat(&self, number: u32, (base, site): (f64, f64), depth: f64, cloth: f64) -> Pleat {
        let is_on = |at: f64| -MEASURING.0 < at && at < cloth + MEASURING.0;
        let on_cloth = self.steps.iter().filter(|step| is_on(base + step.cloth));
        let folds = on_cloth.map(|step| Fold {
            kind: step.kind,
            on_cloth: Mm(base + step.cloth),
            on_edge: Mm(site + step.edge),
            to: step.to.map(|to| base + to).filter(|to| is_on(*to)).map(Mm),
        });
        Pleat {
            number,
            at: Mm(site),
            from: Mm(base),
            to: Mm(base + self.long),
            depth: Mm(depth),
            lies: self.lies,
            folds: folds.collect(),
        }
    }
}

/// Folds away from each other: the cloth turns back under the top, once or (double) twice on each side.
fn box_steps(d: f64, top: f64, double: bool) -> Vec<Step> {
    let (side, meet) = (top / 2.0, top / 2.0 - d);
    let mut steps = vec![
        placement(-d, -side),
        under(0.0, -meet, 1),
        fold(d, -side, -d, 1),
    ];
    let mut at = d;
    if double {
        steps.extend([under(2.0 * d, -meet, 1), fold(3.0 * d, -side, d, 1)]);
        at = 3.0 * d;
    }
    at += top;
    // Two folds on each other: the upper is laid on the lower.
    steps.extend([fold(at, side, at + 2.0 * d, -1), under(at + d, meet, -1)]);
    if double {
        at += 2.0 * d;
        steps.extend([fold(at, side, at + 2.0 * d, -1), under(at + d, meet, -1)]);
    }
    steps.push(placement(at + 2.0 * d, side));
    steps
}

/// Folds towards each other, on the middle of the cloth behind.
fn inverted_steps(d: f64, double: bool) -> Vec<Step> {
    let pairs = if double { 2 } else { 1 };
    let centre = 2.0 * d * f64::from(pairs);
    let mut steps = Vec::new();
    for i in 0..pairs {
        let at = 2.0 * d * f64::from(i);
        steps.extend([fold(at, 0.0, centre, -1), under(at + d, -d, -1)]);
    }
    steps.push(placement(centre, 0.0));
    for i in 0..pairs {
        let at = centre + 2.0 * d * f64::from(i);
        steps.extend([under(at + d, d, 1), fold(at + 2.0 * d, 0.0, centre, 1)]);
    }
    steps
}
