//! Speed of bringing in a printed sheet: 30 pages of about 60,000 segments read, placed and joined.
//!
//! Two kinds of sheets: one that draws whole lines on every page and hides the rest, one whose lines are really cut.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

#[path = "../tests/common/nested.rs"]
mod nested;

use criterion::{Criterion, criterion_group, criterion_main};
use nested::{Nested, pages};
use petitoile_exchange::bring_in::scale::scale_check;
use petitoile_exchange::bring_in::sheets::{Matches, joined};
use petitoile_exchange::bring_in::{Limits, Pace, Watch, read};

fn bring_in(c: &mut Criterion) {
    let (limits, watch) = (Limits::default(), Watch::default());
    for (name, whole_lines) in [("whole lines", true), ("cut lines", false)] {
        let nested = Nested {
            columns: 6,
            rows: 5,
            sizes: 20,
            segments: if whole_lines { 180 } else { 2800 },
        };
        let bytes = pages(&nested, whole_lines);
        let found = read(&bytes, "bench.pdf", &limits, &watch).unwrap();
        let segments: usize = found
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.lines)
            .map(|line| line.path.segments().count())
            .sum();
        c.bench_function(
            &format!("30 pages, {segments} segments, {name}: read"),
            |b| {
                b.iter(|| read(&bytes, "bench.pdf", &limits, &watch).unwrap());
            },
        );
        c.bench_function(
            &format!("30 pages, {segments} segments, {name}: read, placed, joined"),
            |b| {
                b.iter(|| {
                    let found = read(&bytes, "bench.pdf", &limits, &watch).unwrap();
                    let matches = Matches::of(&found, &Pace::default()).unwrap();
                    let places = matches.proposed(&found, &Pace::default()).unwrap();
                    let sheet = joined(&found, &places, 0.5, &Pace::default()).unwrap();
                    (scale_check(&sheet.sheet), sheet.joins)
                });
            },
        );
    }
}

criterion_group!(benches, bring_in);
criterion_main!(benches);
