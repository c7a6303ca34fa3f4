//! Orders of work against a checker that shares no code with the engine: thrown garments, the demo garments, every order
//! of small garments.
#![allow(
    missing_docs,
    clippy::type_complexity,
    clippy::needless_range_loop,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod brute;
mod checker;
mod checks;
mod demos;
mod garments;
mod lined;
mod mistakes;
mod moves;
#[path = "../kit/woman.rs"]
mod woman;

use std::collections::BTreeSet;

use petitoile_core::LengthUnit;
use petitoile_core::finding::Gravity;
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{Order, order};

use checks::{Replay, layers};
use garments::{fitting, thrown};

/// The order the engine gives for a garment as it is drawn.
pub fn ordered(garment: &Garment) -> Order {
    order(
        garment,
        &fitting(garment),
        &Machine::default(),
        LengthUnit::Millimetre,
    )
}

pub fn tube() -> f64 {
    Machine::default().tube.0
}

const THROWN: u64 = 500;

#[test]
fn five_hundred_thrown_garments_are_sewn_in_a_sound_order_or_it_is_said_why_not() {
    let mut infeasible = 0;
    for seed in 0..THROWN {
        let garment = thrown(seed);
        let order = ordered(&garment);
        let replay = Replay::new(&garment, layers(order.lining), tube());
        let complaints = replay.complaints(&order);
        assert!(
            complaints.is_empty(),
            "garment {seed}: {complaints:#?}\n{order:#?}"
        );
        if order.is_feasible() {
            let worst = order.findings.iter().map(|f| f.gravity).max();
            assert!(
                worst < Some(Gravity::Unusable),
                "garment {seed}: {:?}",
                order.findings
            );
        } else {
            infeasible += 1;
            explained(seed, &order, &replay);
        }
    }
    assert!(100 <= infeasible, "{infeasible} of {THROWN}");
    assert!(infeasible <= 300, "{infeasible} of {THROWN}");
}

/// What is said of an order that cannot be is true, and names the steps.
fn explained(seed: u64, order: &Order, replay: &Replay<'_>) {
    let told: Vec<&str> = order
        .findings
        .iter()
        .filter(|f| f.gravity == Gravity::Unusable)
        .map(|f| f.what.as_str())
        .collect();
    assert!(!told.is_empty(), "garment {seed} is not explained");
    let crossings: BTreeSet<(String, String)> = replay.crossings().into_iter().collect();
    for circle in &order.circles {
        assert!(2 <= circle.len(), "garment {seed}: {circle:?}");
        for (i, tie) in circle.iter().enumerate() {
            let next = &circle[(i + 1) % circle.len()];
            assert_eq!(
                tie.then, next.first,
                "garment {seed}: the circle is not closed"
            );
            if tie.rule == "crossed seam first" {
                let real = crossings.contains(&(tie.first.clone(), tie.then.clone()));
                assert!(real, "garment {seed}: {tie:?} is not so");
            }
            assert!(
                told.iter().any(|t| t.contains(&tie.first)),
                "garment {seed}: {} is not named",
                tie.first
            );
        }
    }
    for broken in order.broken.iter().filter(|b| b.rule == "way out") {
        let turn = order.step(&broken.first).unwrap();
        let mouth = replay.mouth_at_the_end(turn);
        assert!(
            mouth < 60.0,
            "garment {seed}: a mouth of {mouth} is wide enough"
        );
        assert!(
            told.iter().any(|t| t.contains(&broken.first)),
            "garment {seed}"
        );
    }
    assert!(
        !order.circles.is_empty() || order.broken.iter().any(|b| b.rule == "way out"),
        "garment {seed}: {:?}",
        order.broken
    );
}

#[test]
fn the_same_garment_gives_the_same_order() {
    for seed in 0..40 {
        let garment = thrown(seed);
        assert_eq!(ordered(&garment), ordered(&garment));
    }
}

#[test]
fn keys_of_steps_are_never_given_twice() {
    for seed in 0..THROWN {
        let order = ordered(&thrown(seed));
        let keys: BTreeSet<&str> = order.steps.iter().map(|s| s.key.as_str()).collect();
        assert_eq!(keys.len(), order.steps.len(), "garment {seed}");
    }
}

#[test]
fn the_checker_complains_when_two_steps_change_places() {
    let mut complained = 0;
    for seed in (1..200).step_by(5) {
        let garment = thrown(seed);
        let mut order = ordered(&garment);
        let at = |start: &str| order.steps.iter().position(|s| s.key.starts_with(start));
        let (Some(shoulder), Some(sleeve)) = (at("sew shoulder"), at("sew sleeve into armscye"))
        else {
            continue;
        };
        order.steps.swap(shoulder, sleeve);
        let replay = Replay::new(&garment, layers(order.lining), tube());
        assert!(!replay.complaints(&order).is_empty(), "garment {seed}");
        complained += 1;
    }
    assert!(10 < complained);
}
