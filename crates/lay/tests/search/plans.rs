//! Plans of many small problems.

use petitoile_lay::search::{Options, Placed, Problem, Search};

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
