//! Small garments for the tests: rectangles with the edges hem, right, waist, left.

use std::sync::Arc;

use petitoile_core as house;
use petitoile_core::adapt::as_drawn;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::fill;
use petitoile_core::garment::Garment;

#[path = "../kit/small.rs"]
mod small;

pub use small::*;

/// The garment as drawn, steps 3 and 4 done, with the allowances of a doll of 45 cm.
pub fn finished(garment: Garment) -> Finished {
    let fitting = Fitting::new(
        "Smock for the doll",
        garment.name.clone(),
        garment.made_for.clone(),
    );
    let adapted = as_drawn(&Arc::new(garment), &Arc::new(fitting)).unwrap();
    finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome
}
