//! Speed of the making sheet: pictures and words of the harbour jacket, lined, and its pages.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::path::PathBuf;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::LengthUnit;
use petitoile_core::adapt::adapt;
use petitoile_core::finish::finish;
use petitoile_core::fullness::fill;
use petitoile_core::making_order::order;
use petitoile_core::making_sheet::making_sheet;
use petitoile_exchange::project_file;
use petitoile_exchange::sheet::making_pages;

fn making(c: &mut Criterion) {
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects/harbour-jacket.ron");
    let project = project_file::read(&std::fs::read(path).unwrap()).unwrap();
    let fitting = &project.fittings[0];
    let adapted = Arc::new(adapt(&project, &fitting.name).unwrap());
    let filled = Arc::new(fill(&adapted).outcome);
    let finished = finish(&filled).outcome;
    let unit = LengthUnit::Millimetre;
    let order = order(&adapted.made, &adapted.fitting, &project.machine, unit);
    c.bench_function("making sheet of the harbour jacket", |b| {
        b.iter(|| making_sheet(&finished, &order, unit))
    });
    let sheet = making_sheet(&finished, &order, unit);
    c.bench_function("its pages", |b| {
        b.iter(|| making_pages(&sheet, &fitting.paper, unit))
    });
}

criterion_group!(benches, making);
criterion_main!(benches);
