//! How long the stacks, tubes and curves of an outfit of 20 pieces take to be reckoned anew; the aim for fit, dressing,
//! bulk and order together is under 5 ms.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a bench"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::adapt::as_drawn;
use petitoile_core::bulk::bulk;
use petitoile_core::drafts::wardrobe::{
    gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket, net_menders_smock,
};
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Fullness, FullnessOp, fill};
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::{LengthUnit, Mm};

#[path = "../tests/kit/woman.rs"]
mod woman;

use woman::woman;

fn finished(garment: Garment) -> Finished {
    let fitting = Fitting::new("as drawn", garment.name.clone(), garment.made_for.clone());
    let adapted = as_drawn(&Arc::new(garment), &Arc::new(fitting)).unwrap();
    finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome
}

/// Jacket, smock and three skirts: 20 pieces, one of the skirts with 40 pleats on its waist.
fn outfit() -> Vec<Finished> {
    let body = woman();
    let mut pleated = half_circle_sunday_skirt(&body).unwrap();
    let quarter = Arc::make_mut(&mut pleated.pieces[0]);
    let pleats = Fullness::KnifePleats {
        count: 40,
        depth: Mm(4.0),
    };
    quarter.fullness = vec![FullnessOp::new("waist", pleats)];
    let garments = vec![
        harbour_jacket(&body).unwrap(),
        net_menders_smock(&body).unwrap(),
        gored_sunday_skirt(&body).unwrap(),
        half_circle_sunday_skirt(&body).unwrap(),
        pleated,
    ];
    assert_eq!(garments.iter().map(|g| g.pieces.len()).sum::<usize>(), 20);
    garments.into_iter().map(finished).collect()
}

fn stacks(c: &mut Criterion) {
    let outfit = outfit();
    let usual = Machine::default();
    // Everything is over these limits, so that every remedy is tried out.
    let weak = Machine {
        thickest: Mm(0.2),
        ..usual.clone()
    };
    for (name, machine) in [
        ("usual machine", usual),
        ("every stack over its limit", weak),
    ] {
        c.bench_function(&format!("bulk of 20 pieces, {name}"), |b| {
            b.iter(|| {
                for finished in &outfit {
                    black_box(bulk(
                        black_box(finished),
                        None,
                        &machine,
                        LengthUnit::Millimetre,
                    ));
                }
            });
        });
    }
}

criterion_group!(benches, stacks);
criterion_main!(benches);
