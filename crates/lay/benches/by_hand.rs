//! How long it takes to say, at every move of the hand, what a held part hits and where it would touch. To stay under 2 ms a move.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::missing_panics_doc,
    missing_docs,
    reason = "a bench"
)]

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::kurbo::Vec2;
use petitoile_lay::by_hand::{Table, moved_by};
use petitoile_lay::{Job, JobOptions};

#[path = "../tests/laying/doll_set.rs"]
mod doll_set;

/// Steps of the search that lays the set first.
const STEPS: u64 = 3_000;

fn moves(criterion: &mut Criterion) {
    let (to_lay, offcuts) = (doll_set::to_lay(), doll_set::offcuts(1.15));
    let mut job = Job::new(&to_lay, &offcuts, None, JobOptions { seed: 1 }).unwrap();
    job.step(STEPS);
    let plan = job.best();
    let table = Table {
        to_lay: &to_lay,
        offcuts: &offcuts,
        plan: &plan,
    };
    // The part with the most corners, round about its place.
    let points = |i: &usize| to_lay.copies[*i].whole.outline.len();
    let largest = (0..to_lay.copies.len()).max_by_key(points).unwrap();
    let of = &to_lay.copies[largest].of;
    let held = plan.placed.iter().find(|placed| placed.of() == *of);
    let held = held.unwrap();
    let mut at = 0_u32;
    let mut next = move || {
        at += 1;
        let (sin, cos) = (f64::from(at) * 0.37).sin_cos();
        moved_by(held, Vec2::new(cos, sin) * f64::from(at % 25))
    };
    criterion.bench_function("one move of the hand: what it hits", |bencher| {
        bencher.iter(|| table.faults(&next()).len());
    });
    criterion.bench_function(
        "one move of the hand: what it hits, where it would touch",
        |bencher| {
            bencher.iter(|| {
                let moved = next();
                (table.faults(&moved).len(), table.snapped(&moved, 3.0))
            });
        },
    );
}

criterion_group!(benches, moves);
criterion_main!(benches);
