//! Speed of the making order: bar 2 ms for an outfit of 20 pieces.
#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::LengthUnit;
use petitoile_core::drafts::wardrobe::{gored_sunday_skirt, harbour_jacket, net_menders_smock};
use petitoile_core::fitting::Fitting;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::order;
use petitoile_core::units::Mm;

#[path = "../tests/kit/woman.rs"]
mod woman;

/// Jacket, smock and skirt: 16, 11 and 6 copies of 5, 7 and 4 pieces.
fn outfit(c: &mut Criterion) {
    let woman = woman::woman();
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
