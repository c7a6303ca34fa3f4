//! Speed of the steps from project to page, on the demo of 16 copies.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile::{demos, whole_way};
use petitoile_core::{adapt, check, finish, fullness};
use petitoile_exchange::{pdf, tiling};

fn steps(c: &mut Criterion) {
    let (_, jacket) = demos::ALL[0];
    let project = whole_way::read(jacket.as_bytes()).unwrap();
    let fitting = project.fittings[0].name.clone();
    c.bench_function("adapt the demo jacket", |b| {
        b.iter(|| adapt::adapt(&project, &fitting))
    });
    let adapted = Arc::new(adapt::adapt(&project, &fitting).unwrap());
    c.bench_function("fill", |b| b.iter(|| fullness::fill(&adapted)));
    let filled = Arc::new(fullness::fill(&adapted).outcome);
    c.bench_function("finish", |b| b.iter(|| finish::finish(&filled)));
    let finished = Arc::new(finish::finish(&filled).outcome);
    c.bench_function("check", |b| b.iter(|| check::check(&finished)));
    let worked = whole_way::work(&project, &fitting).unwrap();
    c.bench_function("sheet", |b| {
        b.iter(|| whole_way::drawn(&worked, project.unit))
    });
    let sheet = whole_way::drawn(&worked, project.unit);
    let paper = &worked.adapted.fitting.paper;
    c.bench_function("tile", |b| b.iter(|| tiling::tile(&sheet, paper)));
    let pages = tiling::tile(&sheet, paper);
    c.bench_function("write the PDF", |b| b.iter(|| pdf::write_pages(&pages)));
}

criterion_group!(benches, steps);
criterion_main!(benches);
