//! What is worn between the body and a garment, and how much larger it makes the body at each measure.

use std::collections::BTreeMap;

use crate::ease::cloth_term;
use crate::fitting::Fitting;
use crate::layers::Room;
use crate::measure::Measure;
use crate::units::Mm;

/// What is worn between the body and a garment.
///
/// Layers count everywhere; where it is better known (only some garments reach this level, a pad lies there), the
/// measure has a figure of its own that takes the place of the layers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Underneath {
    /// Thickness of each layer of cloth, innermost first.
    pub layers: Vec<Mm>,
    /// By how much single measures of the dressed body are larger than those of the bare one: girths and lengths.
    pub added: BTreeMap<Measure, Mm>,
    /// The outfit these figures come from; `None` when they are what the fitting says.
    pub outfit: Option<String>,
}

impl Underneath {
    /// The layers a fitting says are worn underneath it: everywhere, or girth by girth when it is fitted as worn in an
    /// outfit. Pads are not among them: they are in the girths of the body already.
    pub fn of(fitting: &Fitting) -> Self {
        let Some(worn) = &fitting.as_worn else {
            return Self {
                layers: fitting.worn_underneath.clone(),
                ..Self::default()
            };
        };
        let added = worn
            .stacks
            .iter()
            .map(|(measure, stack)| (*measure, cloth_term(&[*stack], Mm(0.0))));
        Self {
            added: added.collect(),
            ..Self::default()
        }
    }

    /// What lies under it in an outfit: girth by girth where the garment has a tape, by the layers of the fitting
    /// elsewhere. One that is fitted as worn says it itself.
    pub fn in_outfit(fitting: &Fitting, outfit: &str, rooms: &[Room]) -> Self {
        if fitting.as_worn.is_some() {
            return Self::of(fitting);
        }
        let added = rooms.iter().filter_map(|room| {
            let share = room.body.0 / fitting.body.mm(room.measure).0;
            let whole = (room.outer() - room.body).0 / share;
            whole.is_finite().then_some((room.measure, Mm(whole)))
        });
        Self {
            added: added.collect(),
            outfit: Some(outfit.to_owned()),
            ..Self::of(fitting)
        }
    }

    /// The same, but this measure is larger by so much, whatever the layers are.
    #[must_use]
    pub fn with(mut self, measure: Measure, by: Mm) -> Self {
        self.added.insert(measure, by);
        self
    }

    /// By how much a measure of the dressed body is larger: 2 pi times the layers for a girth, nothing for a length,
    /// unless the measure has a figure of its own.
    ///
    /// # Source
    /// Geometry: see [`cloth_term`].
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, fit::Underneath, measure::Measure};
    /// let two = Underneath { layers: vec![Mm(0.318); 2], ..Underneath::default() };
    /// let dressed = 84.0 + two.adds(Measure::WaistGirth).0;
    /// assert!((dressed - 88.0).abs() < 0.01);
    /// ```
    pub fn adds(&self, measure: Measure) -> Mm {
        let by_layers = || {
            if measure.is_girth() {
                cloth_term(&self.layers, Mm(0.0))
            } else {
                Mm(0.0)
            }
        };
        self.added.get(&measure).copied().unwrap_or_else(by_layers)
    }
}
