//! The order of work once its stacks are known: what no machine sews through is sewn by hand.

use super::words::thick;
use super::{Bulk, Judged, Work};
use crate::edge::EdgeRef;
use crate::fitting::Fitting;
use crate::machine::Machine;
use crate::making_order::{By, Order, Step, Work as Sewing};
use crate::units::LengthUnit;

/// Whose limits are meant.
pub(super) fn whose(machine: &Machine) -> &'static str {
    if machine.is_usual() {
        "a home machine takes (common practice, no source)"
    } else {
        "your machine takes"
    }
}

/// The stacks that go under the foot in a step.
pub fn under_the_foot<'b>(bulk: &'b Bulk, step: &Step) -> impl Iterator<Item = &'b Judged> {
    bulk.stacks.iter().filter(move |judged| is_of(judged, step))
}

fn is_of(judged: &Judged, step: &Step) -> bool {
    let stack = &judged.stack;
    match (&step.work, stack.work) {
        // A hem may have the name of a seam.
        (Sewing::Seam { .. }, Work::Hem { .. } | Work::Faced) => false,
        (Sewing::Seam { seam }, _) => stack.name == *seam,
        (
            Sewing::Hem | Sewing::Casing | Sewing::Face | Sewing::Slit,
            Work::Hem { .. } | Work::Faced,
        ) => {
            let at = stack.place.piece.as_ref().zip(stack.place.part.as_ref());
            at.is_some_and(|(piece, edge)| step.edges.contains(&EdgeRef::new(piece, edge)))
        }
        _ => false,
    }
}

/// The order with hand and machine looked at again: a run too thick for the machine is sewn by hand, unless the maker chose
/// otherwise; a seam too thick only where it crosses another is sewn by machine up to there. The reason says how thick.
pub fn heeded(
    mut order: Order,
    bulk: &Bulk,
    fitting: &Fitting,
    machine: &Machine,
    unit: LengthUnit,
) -> Order {
    for step in &mut order.steps {
        if step.by == By::Hand {
            continue;
        }
        let chosen = fitting.making.by.contains_key(&step.key);
        let thickest = |crossing: bool| {
            under_the_foot(bulk, step)
                .filter(|judged| judged.stack.meets.is_empty() != crossing)
                .filter(|judged| judged.too_thick.0 > 0.0)
                .max_by(|a, b| a.too_thick.0.total_cmp(&b.too_thick.0))
        };
        if let Some(why) = thickest(false).and_then(|run| too_thick(run, machine, unit)) {
            if chosen {
                step.by_why = format!("your choice; otherwise by hand: {why}");
            } else {
                (step.by, step.by_why) = (By::Hand, why);
            }
        } else if let Some((run, why)) =
            thickest(true).and_then(|run| Some((run, too_thick(run, machine, unit)?)))
        {
            let place = run.stack.where_words();
            step.by_why = format!("{}; by hand {place}: {why}", step.by_why);
        }
    }
    order
}

/// "5 layers are 5.20 mm thick, more than the 4.00 mm your machine takes".
fn too_thick(judged: &Judged, machine: &Machine, unit: LengthUnit) -> Option<String> {
    let heap = judged.stack.sewn()?;
    Some(format!(
        "{} layers are {} thick, more than the {} {}",
        heap.count,
        thick(heap.thickness, unit),
        thick(machine.thickest, unit),
        whose(machine)
    ))
}
