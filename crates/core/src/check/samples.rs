//! Small garments for tests.

use std::sync::Arc;

use crate as house;
use crate::adapt::Adapted;
use crate::body::{Body, BodyKind};
use crate::fitting::Fitting;
use crate::garment::Garment;

#[path = "../../tests/kit/small.rs"]
mod small;

pub use small::{LEFT, RIGHT, WHOLE, finished_with, four, garment, polygon, seam, stretch, strip};

pub fn doll(name: &str) -> Body {
    Body::new(name, BodyKind::Doll)
}

/// A garment as it comes out of step 2 when the body is the one it was made for.
pub fn adapted(garment: Garment, body: Body) -> Adapted {
    let pieces = garment.pieces.clone();
    let fitting = Fitting::new("Smock for the doll", garment.name.clone(), Arc::new(body));
    let garment = Arc::new(garment);
    Adapted {
        made: garment.clone(),
        garment,
        fitting: Arc::new(fitting),
        pieces,
        demands: Vec::new(),
        tape_lines: Vec::new(),
        ease: Vec::new(),
        findings: Vec::new(),
        steps: 0,
    }
}

/// The same garment after steps 3 and 4.
pub fn finished(adapted: Adapted) -> crate::finish::Finished {
    let filled = crate::fullness::fill(&Arc::new(adapted)).outcome;
    crate::finish::finish(&Arc::new(filled)).outcome
}
