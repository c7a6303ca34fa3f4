//! Speed of the steps from project to page, on the demo of 16 copies.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::{adapt, check, finish, fullness};
use petitoile_exchange::{pdf, project_file, sheet, tiling};

fn steps(c: &mut Criterion) {
    let bytes = include_bytes!("../../../demo-projects/harbour-jacket.ron");
    c.bench_function("read", |b| b.iter(|| project_file::read(bytes)));
    let project = project_file::read(bytes).unwrap();
    let fitting = project.fittings[0].name.clone();
    c.bench_function("adapt the demo jacket", |b| {
        b.iter(|| adapt::adapt(&project, &fitting));
    });
    let adapted = Arc::new(adapt::adapt(&project, &fitting).unwrap());
    c.bench_function("fill", |b| b.iter(|| fullness::fill(&adapted)));
    let filled = Arc::new(fullness::fill(&adapted).outcome);
    c.bench_function("finish", |b| b.iter(|| finish::finish(&filled)));
    let finished = Arc::new(finish::finish(&filled).outcome);
    c.bench_function("check", |b| b.iter(|| check::check(&finished)));
    c.bench_function("sheet", |b| {
        b.iter(|| sheet::sheet(&finished, project.unit))
    });
    let sheet = sheet::sheet(&finished, project.unit);
    let paper = &adapted.fitting.paper;
    c.bench_function("tile", |b| b.iter(|| tiling::tile(&sheet, paper)));
    let pages = tiling::tile(&sheet, paper);
    c.bench_function("write the PDF", |b| b.iter(|| pdf::write_pages(&pages)));
}

criterion_group!(benches, steps);
criterion_main!(benches);
