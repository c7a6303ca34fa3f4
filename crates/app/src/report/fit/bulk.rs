//! Stacks of cloth at seams, crossings, hems and bands, as `petitoile fit` tells it.

use petitoile_core::bulk::{Bulk, Heap, Judged, thick};
use petitoile_core::making_order::By;
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use crate::report::table::Table;
use crate::whole_way::Worked;

/// As many stacks are told to people; JSON has all.
const TOLD: usize = 12;

/// Stacks of cloth at seams, crossings, hems and bands.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Section {
    /// What the machine takes.
    pub machine: Machine,
    /// Thickest under the foot first.
    pub stacks: Vec<Stack>,
    /// What is turned, tightest first.
    pub turned: Vec<Turned>,
    /// Curves that are sewn, tightest first.
    pub curves: Vec<Curve>,
    /// Layers whose thickness nobody gave.
    pub unknown: Vec<&'static str>,
}

/// Limits of the machine.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Machine {
    /// Are these the usual limits, because the maker set none?
    pub usual: bool,
    /// Thickest stack.
    pub thickest: Mm,
    /// Highest step.
    pub step: Mm,
    /// Girth of the narrowest tube.
    pub tube: Mm,
    /// Radius of the tightest curve.
    pub radius: Mm,
    /// Shortest seam.
    pub shortest: Mm,
}

/// One stack.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stack {
    /// Name of the seam, or piece and edge.
    pub name: String,
    /// "plain seam", "hem, turned twice".
    pub work: String,
    /// Seams and darts it crosses there.
    pub meets: Vec<String>,
    /// Layers under the foot.
    pub layers: u32,
    /// How thick they are.
    pub thickness: Mm,
    /// Layers as it lies.
    pub lying_layers: u32,
    /// How thick they are.
    pub lying: Mm,
    /// Layers in the mean, where something is gathered in.
    pub mean_layers: f64,
    /// Highest step.
    pub step: Mm,
    /// "machine" or "hand".
    pub by: &'static str,
    /// How much more than the machine takes.
    pub too_thick: Mm,
    /// How much higher a step than the foot climbs.
    pub too_high: Mm,
    /// What helps, best first.
    pub remedies: Vec<String>,
}

/// Something that is turned.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Turned {
    /// Its piece or tape line.
    pub name: String,
    /// "tube", "turned piece", "folded band".
    pub way: &'static str,
    /// Width laid flat.
    pub flat: Mm,
    /// Width that can be turned.
    pub needed: Mm,
    /// How much is missing.
    pub too_narrow: Mm,
}

/// A curve.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Curve {
    /// Piece and edge.
    pub edge: String,
    /// Tightest radius.
    pub radius: Mm,
    /// Allowance there.
    pub allowance: Mm,
    /// How much tighter than the machine goes round.
    pub too_tight: Mm,
    /// Is there no room for the allowance when it is turned?
    pub no_room: bool,
}

impl From<&Judged> for Stack {
    fn from(judged: &Judged) -> Self {
        let stack = &judged.stack;
        let count = |heap: Option<&Heap>| heap.map_or(0, |heap| heap.count);
        let high = |heap: Option<&Heap>| heap.map_or(Mm(0.0), |heap| heap.thickness);
        Self {
            name: stack.name.clone(),
            work: stack.work.words(),
            meets: stack.meets.clone(),
            layers: count(stack.sewn()),
            thickness: high(stack.sewn()),
            lying_layers: count(stack.lying()),
            lying: high(stack.lying()),
            mean_layers: stack.mean,
            step: stack.step,
            by: match judged.by {
                By::Hand => "hand",
                By::Machine => "machine",
            },
            too_thick: judged.too_thick,
            too_high: judged.too_high,
            remedies: judged.remedies.iter().map(|r| r.words.clone()).collect(),
        }
    }
}

impl Section {
    /// Collects it.
    pub fn of(project: &Project, worked: &Worked) -> Self {
        let Bulk {
            stacks,
            turned,
            curves,
            unknown,
        } = &worked.beyond.bulk;
        let machine = &project.machine;
        Self {
            machine: Machine {
                usual: machine.is_usual(),
                thickest: machine.thickest,
                step: machine.step,
                tube: machine.tube,
                radius: machine.radius,
                shortest: machine.shortest,
            },
            stacks: stacks.iter().map(Stack::from).collect(),
            turned: turned
                .iter()
                .map(|one| Turned {
                    name: one.name.clone(),
                    way: one.way.words(),
                    flat: one.flat,
                    needed: one.needed(),
                    too_narrow: one.too_narrow,
                })
                .collect(),
            curves: curves
                .iter()
                .map(|curve| Curve {
                    edge: curve.edge.to_string(),
                    radius: curve.radius,
                    allowance: curve.allowance,
                    too_tight: curve.too_tight,
                    no_room: curve.no_room,
                })
                .collect(),
            unknown: unknown
                .iter()
                .map(|role| crate::wording::role(*role))
                .collect(),
        }
    }

    /// For people, in the maker's unit; empty when there is nothing to tell.
    pub fn text(&self, unit: LengthUnit) -> String {
        if self.stacks.is_empty() {
            return String::new();
        }
        let limit = format!("{} at most", thick(self.machine.thickest, unit));
        let mut stacks = Table::new(["Stacks", "layers", &limit, "lying", "by", ""]);
        for stack in self.stacks.iter().take(TOLD) {
            let name = match stack.meets.as_slice() {
                [] => stack.name.clone(),
                meets => format!("{} x {}", stack.name, meets.join(", ")),
            };
            let over = match (stack.too_thick.0 > 0.0, stack.too_high.0 > 0.0) {
                (true, _) => format!("too thick by {}", thick(stack.too_thick, unit)),
                (_, true) => format!("climbs {} at once", thick(stack.step, unit)),
                _ => String::new(),
            };
            stacks.row([
                name,
                stack.layers.to_string(),
                thick(stack.thickness, unit),
                thick(stack.lying, unit),
                stack.by.to_owned(),
                over,
            ]);
        }
        let mut text = stacks.text();
        let rest = self.stacks.len().saturating_sub(TOLD);
        if rest > 0 {
            text.push_str(&format!("  and {rest} thinner ones\n"));
        }
        for role in &self.unknown {
            text.push_str(&format!("  nobody gave the thickness of the {role}\n"));
        }
        if self.machine.usual {
            text.push_str("  limits: usual ones (common practice, no source); set your machine's own in the Fit tray\n");
        }
        if !self.turned.is_empty() {
            let mut turned = Table::new(["To be turned", "", "wide", "needs", ""]);
            for one in &self.turned {
                let cannot = if one.too_narrow.0 > 0.0 {
                    "cannot be turned"
                } else {
                    ""
                };
                turned.row([
                    one.name.clone(),
                    one.way.to_owned(),
                    unit.show(one.flat),
                    unit.show(one.needed),
                    cannot.to_owned(),
                ]);
            }
            text.push_str(&turned.text());
        }
        text
    }
}
