//! By hand or by machine, and why, with the figure it rests on; what is pressed after a step.

use super::graph::Node;
use super::sewn::Ring;
use super::step::{By, Work};
use crate::garment::Garment;
use crate::machine::Machine;
use crate::seams::SeamKind;
use crate::units::{LengthUnit, Mm};

/// By hand or by machine, and why.
pub(super) fn by(
    node: &Node,
    ring: Ring,
    chosen: Option<By>,
    machine: &Machine,
    unit: LengthUnit,
) -> (By, String) {
    let (by, why) = advised(node, ring, machine, unit);
    match chosen {
        Some(chosen) if chosen != by => (
            chosen,
            format!("your choice; otherwise {}: {why}", word(by)),
        ),
        _ => (by, why),
    }
}

fn word(by: By) -> &'static str {
    match by {
        By::Hand => "by hand",
        By::Machine => "by machine",
    }
}

fn advised(node: &Node, ring: Ring, machine: &Machine, unit: LengthUnit) -> (By, String) {
    if let Some(why) = node.hand {
        return (By::Hand, why.to_owned());
    }
    let show = |mm: f64| unit.show(Mm(mm));
    match ring {
        Some(girth) if girth < machine.tube.0 => (
            By::Hand,
            format!(
                "closed to a ring of {}; the machine needs {}",
                show(girth),
                unit.show(machine.tube)
            ),
        ),
        _ if node.length < machine.shortest.0 => (
            By::Hand,
            format!(
                "{} long, shorter than the {} worth the machine",
                show(node.length),
                unit.show(machine.shortest)
            ),
        ),
        Some(girth) => (
            By::Machine,
            format!(
                "in the round, {} of girth; the machine needs {}",
                show(girth),
                unit.show(machine.tube)
            ),
        ),
        None => (By::Machine, format!("flat, {} long", show(node.length))),
    }
}

/// What is pressed straight after a step.
pub(super) fn then_press(garment: &Garment, work: &Work) -> Option<&'static str> {
    Some(match work {
        Work::Seam { seam } => {
            let found = garment.seams.iter().find(|s| s.name == *seam)?;
            match found.kind {
                SeamKind::Plain => "the seam as sewn, then its allowances open",
                SeamKind::Overedged => "the allowances together to one side",
                SeamKind::French | SeamKind::Felled => "the seam flat to one side",
                SeamKind::Bound => "the bound edges to one side",
                SeamKind::Lapped => "the lap flat from the right side",
            }
        }
        Work::PieceTogether { .. } => "the seam as sewn, then its allowances open",
        Work::Dart { .. } => "the dart over a rolled towel, to its side",
        Work::Tucks { .. } => "every tuck to its side",
        Work::Pleats { .. } => "the pleats sharp, basting still in",
        Work::Hem | Work::Casing => "the turned edge before and after it is sewn",
        Work::Face => "the faced edge, rolled a hair to the inside",
        Work::Slit => "the turned edges of the slit",
        Work::Turn { .. } => "the edges, corners pushed out, the seam rolled a hair to the inside",
        Work::CloseGap | Work::Fell { .. } => "the felled edge lightly",
        Work::CutOut
        | Work::FlatLine
        | Work::Gather { .. }
        | Work::Neaten
        | Work::Closure { .. }
        | Work::Press
        | Work::TryOn => return None,
    })
}
