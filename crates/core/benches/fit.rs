//! Speed of the ease table, the figure and the comparison, over all published drafts together.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::adapt::adapt_garment;
use petitoile_core::drafts::DraftMeasures;
use petitoile_core::fit::figure::{Look, figure};
use petitoile_core::fit::{Underneath, along_body, beside, ease_table};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Filled, fill};
use petitoile_core::redraft::{CASES, TARGETS};
use petitoile_core::{Degrees, Mm};

fn fitted() -> Vec<Filled> {
    CASES
        .iter()
        .map(|case| {
            let garment = Arc::new((case.garment)(&DraftMeasures::ADULT_92).unwrap());
            let body = (case.garment)(&TARGETS[3].1).unwrap().made_for;
            let fitting = Arc::new(Fitting::new("trial", "trial", body));
            fill(&Arc::new(adapt_garment(&garment, &fitting).unwrap())).outcome
        })
        .collect()
}

fn fit(c: &mut Criterion) {
    let garments = fitted();
    let pieces: usize = garments.iter().map(|g| g.pieces.len()).sum();
    let under = Underneath {
        layers: vec![Mm(0.3), Mm(0.2)],
        ..Underneath::default()
    };
    c.bench_function(
        &format!("ease tables and figures of {pieces} pieces"),
        |b| {
            b.iter(|| {
                garments
                    .iter()
                    .map(|g| figure(g, &under))
                    .collect::<Vec<_>>()
            })
        },
    );
    let figures: Vec<_> = garments.iter().map(|g| figure(g, &under)).collect();
    c.bench_function("girths against height", |b| {
        b.iter(|| figures.iter().map(along_body).collect::<Vec<_>>())
    });
    let tables: Vec<_> = garments
        .iter()
        .map(|g| ease_table(&g.adapted, &under))
        .collect();
    c.bench_function("ease tables beside each other", |b| {
        b.iter(|| beside(&tables))
    });
    let look = Look::FRONT.turned(Degrees(33.0));
    c.bench_function("outlines of one figure from one side", |b| {
        b.iter(|| {
            let first = &figures[0];
            let limbs = first.body.limbs.iter().chain(&first.garment.cloth);
            limbs.map(|limb| limb.outline(look)).collect::<Vec<_>>()
        })
    });
}

criterion_group!(benches, fit);
criterion_main!(benches);
