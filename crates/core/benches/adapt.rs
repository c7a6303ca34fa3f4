//! Speed of the coupled solve.
#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::adapt::adapt_garment;
use petitoile_core::drafts::DraftMeasures;
use petitoile_core::fitting::Fitting;
use petitoile_core::redraft::{CASES, TARGETS};

fn adapt(c: &mut Criterion) {
    for case in CASES {
        let garment = Arc::new((case.garment)(&DraftMeasures::ADULT_92).unwrap());
        let body = (case.garment)(&TARGETS[3].1).unwrap().made_for;
        let fitting = Arc::new(Fitting::new("trial", "trial", body));
        c.bench_function(&format!("adapt {} to a 45 cm play doll", case.name), |b| {
            b.iter(|| adapt_garment(&garment, &fitting))
        });
    }
}

criterion_group!(benches, adapt);
criterion_main!(benches);
