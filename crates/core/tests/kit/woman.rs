//! The woman the demo garments are drawn for, where no file may be read; shared by tests and benches.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::measure::Measure;

/// Figures of one of the measured bodies the program ships with.
pub fn woman() -> Arc<Body> {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let body = Body::new("a woman", BodyKind::Woman);
    Arc::new(figures.into_iter().fold(body, |body, (measure, value)| {
        body.with(measure, Measured::own_tape(Mm(value)))
    }))
}
