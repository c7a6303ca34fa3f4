//! Small garments in every order that is allowed: as many as there are, and none better than the engine's.

use std::collections::BTreeSet;

use petitoile_core::edge::Finish;
use petitoile_core::making_order::{Order, Step, Work};
use petitoile_core::piece::{Frame, Placement};

use super::checks::{Replay, layers};
use super::garments::thrown;
use super::{ordered, tube};

/// Steps that may come in any order as far as these pairs go.
fn least(replay: &Replay<'_>, order: &Order, before: &BTreeSet<(usize, usize)>) -> Option<u32> {
    let steps: Vec<&Step> = order.steps.iter().collect();
    let mates = replay.run_on();
    let mut best = None;
    let mut taken = Vec::new();
    every(&steps, before, &mut taken, &mut |taken| {
        let row: Vec<&Step> = taken.iter().map(|i| steps[*i]).collect();
        let neaten = row.iter().position(|s| s.work == Work::Neaten);
        let late = row
            .iter()
            .take(neaten.unwrap_or(0))
            .filter(|s| matches!(s.work, Work::Seam { .. }))
            .count();
        let sum = replay.trouble(&row, &mates) + 5 * u32::try_from(late).unwrap();
        if best.is_none_or(|b| sum < b) {
            best = Some(sum);
        }
    });
    best
}

fn every(
    steps: &[&Step],
    before: &BTreeSet<(usize, usize)>,
    taken: &mut Vec<usize>,
    found: &mut impl FnMut(&[usize]),
) {
    if taken.len() == steps.len() {
        found(taken);
        return;
    }
    for next in 0..steps.len() {
        let waits = before
            .iter()
            .any(|(first, then)| *then == next && !taken.contains(first));
        if taken.contains(&next) || waits {
            continue;
        }
        taken.push(next);
        every(steps, before, taken, found);
        taken.pop();
    }
}

/// What must come before what, told from the garment by the rules in words.
fn pairs(replay: &Replay<'_>, order: &Order) -> BTreeSet<(usize, usize)> {
    let steps = &order.steps;
    let at = |key: &str| steps.iter().position(|s| s.key == key).unwrap();
    let mut pairs = BTreeSet::new();
    for (ends, across) in replay.crossings() {
        pairs.insert((at(&ends), at(&across)));
    }
    for (i, step) in steps.iter().enumerate() {
        for (j, other) in steps.iter().enumerate() {
            let seam = matches!(other.work, Work::Seam { .. });
            let edge = || step.edges.iter().any(|e| other.edges.contains(e));
            let framed = || {
                other.copies.iter().any(|(name, _)| {
                    let piece = replay.cloth.garment.piece(name).unwrap();
                    matches!(piece.placement, Placement::Framed(_))
                })
            };
            let first = match (&step.work, &other.work) {
                (Work::CutOut, _) => i != j,
                (_, Work::Press) => i != j,
                (Work::Gather { .. }, Work::Seam { .. }) => edge(),
                _ => false,
            };
            if first {
                pairs.insert((i, j));
            }
            if step.work == Work::TryOn && seam && framed() {
                pairs.insert((j, i));
            }
        }
        if step.work == Work::Hem {
            hem(replay, order, i, &mut pairs);
        }
    }
    pairs
}

/// A hem waits for every seam it runs over; a small ring, or one that does not hang, for all but the last named.
fn hem(replay: &Replay<'_>, order: &Order, hem: usize, pairs: &mut BTreeSet<(usize, usize)>) {
    let step = &order.steps[hem];
    let hemmed = |name: &str| step.copies.iter().any(|(piece, _)| piece == name);
    let mut joints: Vec<usize> = Vec::new();
    for seam in &replay.cloth.garment.seams {
        let ends_in_hem = |s: &petitoile_core::seams::Stretch| {
            let piece = replay.cloth.garment.piece(&s.piece).unwrap();
            let edges = piece.outline.edges();
            let at = piece.outline.index_of(&s.edge).unwrap();
            let beside = [at + 1, at + edges.len() - 1].map(|i| &edges[i % edges.len()]);
            hemmed(&s.piece)
                && beside
                    .iter()
                    .any(|e| matches!(e.finish_at(0.5), Finish::Hem { .. }))
        };
        if seam.a.iter().chain(&seam.b).all(ends_in_hem) {
            let key = format!("sew {}", seam.name);
            joints.push(order.steps.iter().position(|s| s.key == key).unwrap());
        }
    }
    let seams = &replay.cloth.garment.seams;
    let named = |i: &usize| {
        seams
            .iter()
            .position(|s| format!("sew {}", s.name) == order.steps[*i].key)
    };
    joints.sort_by_key(named);
    let pieces = || {
        step.copies
            .iter()
            .map(|(p, _)| replay.cloth.garment.piece(p).unwrap())
    };
    let hangs =
        pieces().any(|p| matches!(p.placement, Placement::Framed(Frame::Torso | Frame::Leg)));
    // As many joints as pieces: it closes.
    let ring = joints.len() == step.copies.len();
    let round = ring && hangs && tube() <= step.length.0;
    if ring && !round {
        joints.pop();
    }
    pairs.extend(joints.into_iter().map(|joint| (joint, hem)));
    if round {
        let try_on = order.steps.iter().position(|s| s.work == Work::TryOn);
        pairs.extend(try_on.map(|t| (t, hem)));
    }
}

#[test]
fn no_order_of_a_small_garment_is_less_trouble_than_the_one_given() {
    let (mut compared, mut impossible) = (0, 0);
    for seed in (0..1000).filter(|seed| seed % 5 != 3) {
        let garment = thrown(seed);
        let order = ordered(&garment);
        if 9 < order.steps.len() {
            continue;
        }
        let replay = Replay::new(&garment, layers(order.lining), tube());
        if order
            .steps
            .iter()
            .any(|s| matches!(s.work, Work::Turn { .. }))
        {
            continue;
        }
        let pairs = pairs(&replay, &order);
        let best = least(&replay, &order, &pairs);
        assert_eq!(
            best.is_some(),
            order.is_feasible(),
            "garment {seed}: {:?}",
            order.circles
        );
        if let Some(best) = best {
            assert_eq!(
                order.trouble,
                best,
                "garment {seed}: {:#?} {:?}",
                order
                    .steps
                    .iter()
                    .map(|s| (&s.key, s.girth))
                    .collect::<Vec<_>>(),
                replay.run_on()
            );
            compared += 1;
        } else {
            impossible += 1;
        }
    }
    assert!(100 <= compared, "{compared} garments compared");
    assert!(
        30 <= impossible,
        "{impossible} garments that cannot be sewn"
    );
}
