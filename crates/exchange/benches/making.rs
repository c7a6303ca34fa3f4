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
use petitoile_core::bulk::{bulk, heeded};
use petitoile_core::dressing::dressing;
use petitoile_core::finish::finish;
use petitoile_core::fullness::fill;
use petitoile_core::making_order::order;
use petitoile_core::making_sheet::{Basis, making_sheet};
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
    let machine = &project.machine;
    let order = order(&adapted.made, &adapted.fitting, machine, unit);
    let bulk = bulk(&finished, Some(&order), machine, unit);
    let order = heeded(order, &bulk, &adapted.fitting, machine, unit);
    let basis = Basis {
        finished: &finished,
        order: &order,
        bulk: &bulk,
        dressing: &dressing(&filled, &[]),
        machine,
        unit,
    };
    c.bench_function("making sheet of the harbour jacket", |b| {
        b.iter(|| making_sheet(&basis))
    });
    let sheet = making_sheet(&basis);
    c.bench_function("its pages", |b| {
        b.iter(|| making_pages(&sheet, &fitting.paper, unit))
    });
}

criterion_group!(benches, making);
criterion_main!(benches);
