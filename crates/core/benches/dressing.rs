//! How long it takes to look at everything that has to pass when an outfit of 20 pieces is put on; with ease, bulk and
//! order it shares an aim of 5 ms.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::adapt::adapt_garment;
use petitoile_core::drafts::DraftMeasures;
use petitoile_core::drafts::wardrobe::{gored_sunday_skirt, harbour_jacket, net_menders_smock};
use petitoile_core::dressing::{dressing, found};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Filled, fill};
use petitoile_core::redraft::{CASES, TARGETS};

/// Smock, jacket and two gored skirts on a 45 cm play doll: 7 + 5 + 4 + 4 pieces.
fn outfit() -> Vec<Filled> {
    let woman = (CASES[0].garment)(&DraftMeasures::ADULT_92)
        .unwrap()
        .made_for;
    let doll = (CASES[0].garment)(&TARGETS[3].1).unwrap().made_for;
    let garments = [
        net_menders_smock(&woman).unwrap(),
        harbour_jacket(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
    ];
    let outfit: Vec<Filled> = garments
        .into_iter()
        .map(|garment| {
            let fitting = Arc::new(Fitting::new("trial", garment.name.clone(), doll.clone()));
            let adapted = adapt_garment(&Arc::new(garment), &fitting).unwrap();
            fill(&Arc::new(adapted)).outcome
        })
        .collect();
    assert_eq!(outfit.iter().map(|f| f.pieces.len()).sum::<usize>(), 20);
    outfit
}

fn dress(c: &mut Criterion) {
    let outfit = outfit();
    c.bench_function(
        "dressing of an outfit of 20 pieces, with its findings",
        |b| {
            b.iter(|| {
                let looked = outfit.iter().map(|filled| {
                    let looked = dressing(black_box(filled), &[]);
                    found(&filled.adapted, &looked).len()
                });
                looked.sum::<usize>()
            });
        },
    );
}

criterion_group!(benches, dress);
criterion_main!(benches);
