//! Turn of cloth: what the outer layer needs more than the inner one where they go round a fold or an edge together.

use std::f64::consts::FRAC_PI_2;

use crate::units::Mm;

/// What the outer face of a layer of this thickness is longer than its inner face, after so many quarter turns:
/// `pi * t / 2` for each.
///
/// A seam that is turned so that its allowance lies flat inside is two quarter turns: `pi * t`.
///
/// # Source
/// Geometry: arcs of radius r and r + t (fact sheet row H02: 0.5 mm, half a turn, 1.571 mm).
///
/// # Example
/// ```
/// # use petitoile_core::{alteration::turn_of_cloth, Mm};
/// assert!((turn_of_cloth(Mm(0.5), 2).0 - 1.571).abs() < 5e-4);
/// ```
pub fn turn_of_cloth(thickness: Mm, quarter_turns: u32) -> Mm {
    Mm(FRAC_PI_2 * thickness.0 * f64::from(quarter_turns))
}

/// Length of the middle of a layer of thickness `layer` where it goes half round a stack: `pi * (stack + layer) / 2`.
///
/// # Source
/// Geometry: half a circle whose radius is half the stack and half the layer (fact sheet row H02: stack 1 mm, layer
/// 0.5 mm, 2.356 mm).
pub fn round_an_edge(stack: Mm, layer: Mm) -> Mm {
    Mm(FRAC_PI_2 * (stack.0 + layer.0))
}
