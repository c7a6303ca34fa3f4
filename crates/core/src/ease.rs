//! Ease: how much more a garment measures than the body in it, cloth thickness included.

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// How the ease of the source garment is brought to the target body.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub enum EasePolicy {
    /// Source ease x target girth / source girth.
    #[default]
    InProportion,
    /// The same millimetres as on the source.
    Absolute,
    /// From the handbook table for the target's class; in proportion where the table is silent.
    FromTable,
}

/// Extra girth that layers of cloth worn underneath and the garment's own thickness take up.
///
/// `2 pi t` for every layer of thickness `t` underneath, `pi t` for the garment's own cloth, measured at mid-layer.
///
/// # Source
/// Geometry; the worked value 84 mm waist with two layers of 0.318 mm: outer girth 88.0 mm.
pub fn cloth_term(layers_underneath: &[Mm], own: Mm) -> Mm {
    let underneath: f64 = layers_underneath.iter().map(|t| std::f64::consts::TAU * t.0).sum();
    Mm(underneath + std::f64::consts::PI * own.0)
}
