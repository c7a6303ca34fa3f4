//! Stacks of cloth: how thick each seam, crossing, hem and band becomes, what can still be sewn, turned and reached.
//!
//! Lengths in mm. Layers are counted on sections ([`section`]), with the copies that are really sewn there: shell,
//! lining, interlining, flat lining; with darts, pleats and gathers, with what is caught in between, and with the seams
//! that are crossed. With an order of work a seam meets what was sewn before it; without one every seam is reckoned as the
//! last over what it meets. Thread is not counted, cloth not compressed. Limits are those the maker sets for her machine ([`crate::machine::Machine`]).

mod curves;
mod cut;
mod findings;
mod ground;
mod heeded;
mod met;
mod pieced;
mod profile;
mod remedies;
pub mod section;
mod stacks;
mod turned;
mod words;

pub use curves::Curve;
pub use findings::findings;
pub use heeded::{heeded, under_the_foot};
pub use remedies::Remedy;
pub use section::{CountRow, Lies, Moment, Turn, Work, iso_class, table, why};
pub use stacks::{Heap, Layer, Stack};
pub use turned::{Turned, Way};
pub use words::{seam_kind, thick};

use crate::edge::EdgeRef;
use crate::finish::Finished;
use crate::machine::Machine;
use crate::making_order::{By, Order};
use crate::piece::Role;
use crate::units::{LengthUnit, Mm};

use ground::Ground;

/// What a fitting has in the way of stacks, tubes and curves.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bulk {
    /// Stacks, thickest under the foot first.
    pub stacks: Vec<Judged>,
    /// What is turned to the right side, tightest first.
    pub turned: Vec<Turned>,
    /// Curves that are sewn, tightest first.
    pub curves: Vec<Curve>,
    /// Layers whose thickness nobody gave: they are counted, but with no thickness.
    pub unknown: Vec<Role>,
}

/// A stack against the maker's machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The stack.
    pub stack: Stack,
    /// By hand or by machine, as the order says it before it heeds its stacks ([`heeded`]).
    pub by: By,
    /// Why so, where it is not plain.
    pub by_why: Option<String>,
    /// How much thicker than the machine takes; 0 where it fits or is sewn by hand.
    pub too_thick: Mm,
    /// How much higher than the foot climbs its step is.
    pub too_high: Mm,
    /// What helps, best first; empty where nothing is needed.
    pub remedies: Vec<Remedy>,
}

impl Judged {
    /// Is it more than the machine takes?
    pub fn is_over(&self) -> bool {
        self.too_thick.0 > 0.0 || self.too_high.0 > 0.0
    }
}

/// Reckons the stacks of a finished garment against a machine; a part of the fifth of nine steps.
///
/// # Example
/// See `benches/bulk.rs`.
pub fn bulk(
    finished: &Finished,
    order: Option<&Order>,
    machine: &Machine,
    unit: LengthUnit,
) -> Bulk {
    let adapted = &finished.filled.adapted;
    let ground = Ground::new(adapted, order);
    let stacks = stacks::stacks(&ground)
        .into_iter()
        .map(|stack| judged(&ground, stack, machine, unit))
        .collect();
    Bulk {
        stacks,
        turned: turned::turned(&ground, machine),
        curves: curves::curves(&ground, machine),
        unknown: ground.unknown(),
    }
}

fn judged(ground: &Ground<'_>, stack: Stack, machine: &Machine, unit: LengthUnit) -> Judged {
    let (by, by_why) = by(ground, &stack, machine, unit);
    let high = stack.sewn().map_or(0.0, |heap| heap.thickness.0);
    let over = |is: f64, limit: Mm| {
        // A hair of rounding does not count.
        let more = is - limit.0;
        let counts = by == By::Machine && more > 1e-9;
        Mm(if counts { more } else { 0.0 })
    };
    let (too_thick, too_high) = (
        over(high, machine.thickest),
        over(stack.step.0, machine.step),
    );
    let remedies = if too_thick.0 > 0.0 || too_high.0 > 0.0 {
        remedies::remedies(ground, &stack, machine, unit)
    } else {
        Vec::new()
    };
    Judged {
        stack,
        by,
        by_why,
        too_thick,
        too_high,
        remedies,
    }
}

/// By hand or by machine: as the order of work says, or where there is none by the length of the seam.
fn by(
    ground: &Ground<'_>,
    stack: &Stack,
    machine: &Machine,
    unit: LengthUnit,
) -> (By, Option<String>) {
    if let Some(sewing) = sewing(ground, stack) {
        return (sewing.by, Some(sewing.why.clone()));
    }
    if stack.length.0 > 0.0 && stack.length < machine.shortest {
        let why = format!(
            "{} long, under {}",
            unit.show(stack.length),
            unit.show(machine.shortest)
        );
        return (By::Hand, Some(why));
    }
    (By::Machine, None)
}

/// The step of the order of work that makes a stack.
fn sewing<'g>(ground: &'g Ground<'_>, stack: &Stack) -> Option<&'g ground::Sewing> {
    match (stack.work, &stack.place.piece, &stack.place.part) {
        (Work::Hem { .. } | Work::Faced, Some(piece), Some(edge)) => {
            ground.turning(&EdgeRef::new(piece, edge))
        }
        _ => ground.sewing(&stack.name),
    }
}
