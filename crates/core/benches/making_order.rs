//! Speed of the making order: bar 2 ms for an outfit of 20 pieces.
#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::LengthUnit;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::drafts::wardrobe::{gored_sunday_skirt, harbour_jacket, net_menders_smock};
use petitoile_core::fitting::Fitting;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::order;
use petitoile_core::measure::Measure;
use petitoile_core::units::Mm;

/// Jacket, smock and skirt: 16, 11 and 6 copies of 5, 7 and 4 pieces.
fn outfit(c: &mut Criterion) {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let woman = figures
        .into_iter()
        .fold(Body::new("a woman", BodyKind::Woman), |body, (m, value)| {
            body.with(m, Measured::own_tape(Mm(value)))
        });
    let woman = Arc::new(woman);
    let garments = [
        harbour_jacket(&woman).unwrap(),
        net_menders_smock(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
    ];
    // A tube that a doll's sleeve would be against a real machine.
    let machine = Machine {
        tube: Mm(900.0),
        ..Machine::default()
    };
    for garment in &garments {
        let fitting = Fitting::new("trial", garment.name.clone(), woman.clone());
        c.bench_function(&format!("making order of the {}", garment.name), |b| {
            b.iter(|| order(garment, &fitting, &machine, LengthUnit::Millimetre))
        });
    }
}

criterion_group!(benches, outfit);
criterion_main!(benches);
