//! How much cloth to buy.

use kurbo::Point;
use petitoile_lay::search::{Item, Options, Part, StripProblem, StripSearch, Way};

use crate::made_up::{self, Dice};
use crate::plain_check::faults;

fn item(outline: Vec<Point>, turns: Vec<f64>) -> Item {
    let part = Part {
        outline,
        turns,
        ..Part::default()
    };
    Item {
        ways: vec![Way {
            parts: vec![part],
            cost: 0,
        }],
        priority: 0,
    }
}

fn rectangle(width: f64, height: f64) -> Vec<Point> {
    [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
        .map(Point::from)
        .to_vec()
}

#[test]
fn squares_side_by_side_need_their_own_length() {
    // Three rows of 30 mm on 100 mm: twelve squares need four columns; margins 3 mm, gap 1 mm.
    let strip = StripProblem {
        items: vec![item(rectangle(30.0, 30.0), vec![0.0]); 12],
        width: 100.0,
        gap: 1.0,
        margin: 3.0,
        ..StripProblem::default()
    };
    let mut search = StripSearch::new(
        &strip,
        Options {
            seed: 3,
            ..Options::default()
        },
    )
    .unwrap();
    search.run_for(20_000);
    let best = search.best().unwrap();
    let least = 4.0 * 30.0 + 3.0 + 6.0;
    assert!(
        best.length >= least - 1e-6,
        "{} is shorter than can be",
        best.length
    );
    assert!(best.length < least + 0.5, "{} against {least}", best.length);
}

#[test]
fn every_shortest_strip_lies_right_and_comes_again() {
    for seed in 0..6 {
        let mut dice = Dice(seed + 50);
        let items = (0..10)
            .map(|_| {
                let radius = dice.between(10.0, 25.0);
                item(
                    made_up::outline(&mut dice, Point::ZERO, radius),
                    vec![0.0, 180.0],
                )
            })
            .collect();
        let strip = StripProblem {
            items,
            width: 80.0,
            gap: (seed % 2) as f64,
            margin: 2.0,
            ..StripProblem::default()
        };
        let run = || {
            let mut search = StripSearch::new(
                &strip,
                Options {
                    seed,
                    ..Options::default()
                },
            )
            .unwrap();
            search.run_for(40);
            let early = search.best().unwrap().clone();
            search.run_for(1500);
            let late = search.best().unwrap().clone();
            (early, late)
        };
        let (early, late) = run();
        for plan in [&early, &late] {
            let problem = strip.cut_to(plan.length);
            assert!(
                faults(&problem, &plan.plan).is_empty(),
                "{seed}: {:?}",
                faults(&problem, &plan.plan)
            );
        }
        assert!(
            late.length < early.length,
            "looking longer finds a shorter one"
        );
        assert_eq!(run(), (early, late), "the same seed, the same strip");
    }
}

#[test]
fn a_part_wider_than_the_cloth_is_told() {
    let strip = StripProblem {
        items: vec![item(rectangle(10.0, 90.0), vec![0.0])],
        width: 80.0,
        ..StripProblem::default()
    };
    let mut search = StripSearch::new(&strip, Options::default()).unwrap();
    search.run_for(100);
    assert!(search.best().is_none());
    assert!(search.is_impossible());
}
