//! Plans of many small problems.

use petitoile_lay::search::{Item, Options, Part, Placed, Problem, Room, Search, Way};

use crate::made_up;
use crate::plain_check::faults;

#[test]
fn every_plan_of_many_small_problems_lies_right_at_every_moment() {
    let mut placed = 0;
    for seed in 0..120 {
        let problem = made_up::problem(seed);
        let mut search = Search::new(
            &problem,
            Options {
                seed,
                ..Options::default()
            },
        )
        .unwrap();
        for part in 0..4 {
            search.run_for(100);
            let found = faults(&problem, search.best());
            assert!(found.is_empty(), "problem {seed}, part {part}: {found:?}");
        }
        placed += search.progress().placed;
    }
    // The rooms are tight on purpose; but something must lie.
    assert!(placed > 400, "{placed} items found a place");
}

#[test]
fn the_same_seed_and_steps_give_the_same_plan() {
    for seed in [1, 7, 23] {
        let problem = made_up::problem(seed);
        let run = |chunk: u64, seed: u64| {
            let mut search = Search::new(
                &problem,
                Options {
                    seed,
                    ..Options::default()
                },
            )
            .unwrap();
            for _ in 0..600 / chunk {
                search.run_for(chunk);
            }
            search.best().clone()
        };
        let plan = run(600, seed);
        assert_eq!(plan, run(1, seed), "step by step");
        assert_eq!(plan, run(600, seed), "again");
        assert_ne!(plan, run(600, seed + 1), "another seed lays otherwise");
    }
}

#[test]
fn a_pinned_part_stays_and_is_kept_clear() {
    for seed in 0..30 {
        let mut problem = made_up::problem(seed);
        let mut first = Search::new(
            &problem,
            Options {
                seed,
                ..Options::default()
            },
        )
        .unwrap();
        first.run_for(200);
        let Some(pinned) = first.best().placed.first().copied() else {
            continue;
        };
        let whole: Vec<Placed> = first
            .best()
            .placed
            .iter()
            .filter(|placed| placed.item == pinned.item)
            .copied()
            .collect();
        problem.fixed = whole.clone();
        let mut search = Search::new(
            &problem,
            Options {
                seed: seed + 1,
                ..Options::default()
            },
        )
        .unwrap();
        search.run_for(300);
        for fixed in &whole {
            assert!(search.best().placed.contains(fixed), "problem {seed}");
        }
        assert!(
            faults(&problem, search.best()).is_empty(),
            "problem {seed}: {:?}",
            faults(&problem, search.best())
        );
    }
}

#[test]
fn what_cannot_be_laid_is_told_and_breaks_nothing() {
    let none = Problem::default();
    let mut search = Search::new(&none, Options::default()).unwrap();
    assert!(search.run_for(50).complete, "nothing to lay is laid");
    let mut no_room = made_up::problem(3);
    no_room.rooms.clear();
    let mut search = Search::new(&no_room, Options::default()).unwrap();
    assert_eq!(search.run_for(50).placed, 0);
    assert_eq!(search.best().not_placed.len(), no_room.items.len());
    let mut too_wide = made_up::problem(3);
    for room in &mut too_wide.rooms {
        room.margin = 500.0;
    }
    let mut search = Search::new(&too_wide, Options::default()).unwrap();
    assert_eq!(search.run_for(50).placed, 0);
}

fn square(side: f64) -> Vec<kurbo::Point> {
    [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
        .map(kurbo::Point::from)
        .to_vec()
}

fn way(sides: &[f64], cost: u32) -> Way {
    let part = |side: &f64| Part {
        outline: square(*side),
        ..Part::default()
    };
    Way {
        parts: sides.iter().map(part).collect(),
        cost,
    }
}

fn room(side: f64, already_open: bool) -> Room {
    Room {
        outline: square(side),
        already_open,
        ..Room::default()
    }
}

#[test]
fn what_does_not_fit_is_told_by_how_much() {
    let items = vec![
        Item {
            ways: vec![way(&[60.0], 0)],
            priority: 0
        };
        2
    ];
    let problem = Problem {
        rooms: vec![room(100.0, true)],
        items,
        gap: 0.0,
        fixed: vec![],
    };
    let mut search = Search::new(&problem, Options::default()).unwrap();
    assert_eq!(search.run_for(400).placed, 1);
    let missing = search.best().not_placed[0];
    let misses = search.nearest_miss(missing).unwrap();
    let deepest = misses
        .iter()
        .flat_map(|miss| &miss.hits)
        .map(|hit| hit.by)
        .fold(0.0, f64::max);
    assert!(
        deepest > 15.0 && deepest < 21.0,
        "two squares of 60 mm lack 20 mm on 100 mm: {deepest}"
    );
    assert_eq!(search.nearest_miss(1 - missing), None, "the other one lies");
}

#[test]
fn an_item_is_split_only_where_it_must_be_and_made_whole_again() {
    // Whole it is 60 mm; two of 42 mm fit on 100 mm with it only when one is split.
    let whole_fits = Problem {
        rooms: vec![room(100.0, true), room(65.0, true)],
        items: vec![
            Item {
                ways: vec![way(&[30.0, 30.0], 1), way(&[60.0], 0)],
                priority: 0
            };
            2
        ],
        ..Problem::default()
    };
    let mut search = Search::new(&whole_fits, Options::default()).unwrap();
    let progress = search.run_for(600);
    assert!(
        progress.complete && progress.seams_added == 0,
        "{progress:?}"
    );

    let must_split = Problem {
        rooms: vec![room(100.0, true)],
        ..whole_fits
    };
    let mut search = Search::new(&must_split, Options::default()).unwrap();
    let progress = search.run_for(3000);
    assert!(
        progress.complete && progress.seams_added == 1,
        "{progress:?}"
    );
    assert!(faults(&must_split, search.best()).is_empty());
}

#[test]
fn the_more_important_one_lies_when_only_one_can() {
    for important in 0..2 {
        let mut items = vec![
            Item {
                ways: vec![way(&[60.0], 0)],
                priority: 0
            };
            2
        ];
        items[important].priority = 5;
        let problem = Problem {
            rooms: vec![room(100.0, true)],
            items,
            gap: 0.0,
            fixed: vec![],
        };
        let mut search = Search::new(&problem, Options::default()).unwrap();
        search.run_for(500);
        assert_eq!(search.best().not_placed, [1 - important]);
    }
}

#[test]
fn no_offcut_is_opened_that_is_not_needed() {
    let items = vec![
        Item {
            ways: vec![way(&[40.0], 0)],
            priority: 0
        };
        6
    ];
    // Four fit on 100 mm, all six on the large one.
    let rooms = vec![room(100.0, false), room(100.0, false), room(130.0, false)];
    let problem = Problem {
        rooms,
        items,
        gap: 0.0,
        fixed: vec![],
    };
    let mut search = Search::new(
        &problem,
        Options {
            seed: 2,
            ..Options::default()
        },
    )
    .unwrap();
    let progress = search.run_for(4000);
    assert!(
        progress.complete && progress.rooms_opened == 1,
        "{progress:?}"
    );
}

#[test]
fn what_is_left_over_grows_into_one_piece() {
    let items = vec![
        Item {
            ways: vec![way(&[30.0], 0)],
            priority: 0
        };
        4
    ];
    let problem = Problem {
        rooms: vec![room(128.0, true)],
        items,
        gap: 0.0,
        fixed: vec![],
    };
    let mut search = Search::new(&problem, Options::default()).unwrap();
    search.run_for(5);
    let early = search.score().left_over;
    search.run_for(4000);
    // All four in one column leave 98 mm by 128 mm; the grid of 2 mm may lose two cells either way.
    assert!(
        search.score().left_over >= 94.0 * 124.0,
        "{} after {early}",
        search.score().left_over
    );
    assert!(search.score().left_over <= 98.0 * 128.0);
}

#[test]
fn a_margin_that_splits_an_offcut_leaves_both_parts_usable() {
    // Two squares joined by a neck of 4 mm: a margin of 3 mm closes the neck.
    let outline = [
        (0.0, 0.0),
        (50.0, 0.0),
        (50.0, 23.0),
        (60.0, 23.0),
        (60.0, 0.0),
        (110.0, 0.0),
        (110.0, 50.0),
        (60.0, 50.0),
        (60.0, 27.0),
        (50.0, 27.0),
        (50.0, 50.0),
        (0.0, 50.0),
    ];
    let room = Room {
        outline: outline.map(kurbo::Point::from).to_vec(),
        margin: 3.0,
        ..Room::default()
    };
    let items = vec![
        Item {
            ways: vec![way(&[40.0], 0)],
            priority: 0
        };
        2
    ];
    let problem = Problem {
        rooms: vec![room],
        items,
        gap: 0.0,
        fixed: vec![],
    };
    let mut search = Search::new(&problem, Options::default()).unwrap();
    assert!(search.run_for(300).complete);
    assert!(faults(&problem, search.best()).is_empty());
}

#[test]
fn an_outline_that_crosses_itself_is_named() {
    let bow = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]
        .map(kurbo::Point::from)
        .to_vec();
    let mut problem = Problem {
        rooms: vec![room(50.0, true)],
        items: vec![Item {
            ways: vec![way(&[10.0], 0)],
            priority: 0,
        }],
        ..Problem::default()
    };
    problem.items[0].ways[0].parts[0].outline = bow;
    let why = Search::new(&problem, Options::default()).unwrap_err();
    assert_eq!(
        why.to_string(),
        "item 0, way 0, part 0: it crosses or touches itself"
    );
    problem.items[0].ways[0].parts[0].outline = vec![
        kurbo::Point::ORIGIN,
        kurbo::Point::new(f64::NAN, 1.0),
        kurbo::Point::new(5.0, 5.0),
    ];
    assert!(Search::new(&problem, Options::default()).is_err());
}
