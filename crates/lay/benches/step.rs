//! How long one step of the search takes: laying one part of a made-up set of twenty elsewhere.

#![allow(
    clippy::unwrap_used,
    clippy::missing_panics_doc,
    missing_docs,
    reason = "a bench"
)]

use criterion::{Criterion, criterion_group, criterion_main};
use kurbo::Point;
use petitoile_lay::search::{
    Item, Options, Part, Problem, Room, Search, StripProblem, StripSearch, Way,
};

fn items() -> Vec<Item> {
    (0..20_u32)
        .map(|index| {
            let (width, height) = (
                20.0 + f64::from(index % 5) * 6.0,
                18.0 + f64::from(index % 7) * 5.0,
            );
            // A piece with a hollow side and a sloping one.
            let outline = [
                (0.0, 0.0),
                (width, 0.0),
                (width * 0.8, height),
                (width * 0.4, height * 0.7),
                (0.0, height),
            ];
            let part = Part {
                outline: outline.map(Point::from).to_vec(),
                turns: vec![0.0, 180.0],
                tolerance_deg: 3.0,
                ..Part::default()
            };
            Item {
                ways: vec![Way {
                    parts: vec![part],
                    cost: 0,
                }],
                priority: 0,
            }
        })
        .collect()
}

fn steps(criterion: &mut Criterion) {
    let room = Room {
        outline: [
            (0.0, 0.0),
            (150.0, 10.0),
            (140.0, 120.0),
            (60.0, 140.0),
            (5.0, 110.0),
        ]
        .map(Point::from)
        .to_vec(),
        ..Room::default()
    };
    let problem = Problem {
        rooms: vec![room],
        items: items(),
        gap: 0.0,
        fixed: vec![],
    };
    criterion.bench_function("one step on an offcut too small for all", |bencher| {
        let mut search = Search::new(&problem, Options::default()).unwrap();
        search.run_for(50);
        bencher.iter(|| search.step());
    });
    let strip = StripProblem {
        items: items(),
        width: 100.0,
        ..StripProblem::default()
    };
    criterion.bench_function("one step on a strip", |bencher| {
        let mut search = StripSearch::new(&strip, Options::default()).unwrap();
        search.run_for(50);
        bencher.iter(|| search.step());
    });
}

criterion_group!(benches, steps);
criterion_main!(benches);
