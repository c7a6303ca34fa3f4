//! Panels of a skirt in their order round the body, from the centre front to the centre back: neighbours have edges of
//! one length, and the straight edge of a gore goes to the front (common practice, no source).

use super::kinds::{Family, Role, View, near};
use super::read::Read;
use super::reading::{Candidate, Reading, has_fold, of_kind, put};
use super::what::{Cut, What};

/// More panels than this in one half of a skirt are not ordered.
const MOST: usize = 5;
/// What an edge costs that is not on the straight where one is expected, and an answer that is not kept.
const OFF_GRAIN: f64 = 0.002;
const NOT_FOLDED: f64 = 0.01;
const AGAINST_ANSWER: f64 = 10.0;

/// One order of panels: which one, and whether its first side lies towards the front.
type Order = Vec<(usize, bool)>;

/// Reads the panels of a skirt.
pub(super) fn chained(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let mut found = of_kind(candidates, Family::Panel);
    found.truncate(MOST);
    let Some((order, cost)) = best_order(&found) else {
        return;
    };
    let count = order.len();
    let mut chain = Vec::new();
    for (place, (number, first_is_front)) in order.iter().enumerate() {
        let Some((candidate, view)) = found.get(*number) else {
            continue;
        };
        let own = if place == 0 {
            What::SkirtFront
        } else if place + 1 == count {
            What::SkirtBack
        } else {
            What::SkirtSide
        };
        let what = candidate.forced.map_or(own, |(what, _)| what);
        let mut read = Read::new(candidate, view, what, *first_is_front);
        let fold_side = if what == What::SkirtBack {
            Role::Backer
        } else {
            Role::Fronter
        };
        let foldable = square(view, (fold_side == Role::Fronter) == *first_is_front);
        let (cut, sure, why) = if let Some((_, cut)) = candidate.forced {
            (cut, 1.0, "as answered")
        } else if what == What::SkirtSide {
            (Cut::Pair, 0.95, "edges as long as those of its neighbours")
        } else if has_fold(candidate.piece) {
            (Cut::Fold, 0.98, "a fold is marked on it")
        } else if candidate.piece.copies.len() > 1 {
            (Cut::Pair, 0.9, "two are cut")
        } else if count == 1 && square(view, true) && square(view, false) {
            (
                Cut::Pair,
                0.6,
                "both its edges are square at waist and hem: one is the centre front, one the centre back",
            )
        } else if what == What::SkirtFront && foldable {
            (
                Cut::Fold,
                0.75,
                "a straight edge in front, square at waist and hem",
            )
        } else if what == What::SkirtBack {
            (Cut::Pair, 0.75, "the waist opens behind")
        } else {
            (
                Cut::Pair,
                0.6,
                "no straight edge that is square at waist and hem",
            )
        };
        read.cut = cut;
        let fits = if count > 1 {
            near(cost / count as f64, 0.0, 0.03)
        } else {
            0.9
        };
        read.certainty = sure * libm::pow(view.score.clamp(0.0, 1.0), 0.25) * (0.4 + 0.6 * fits);
        read.rests_on.push("waist above hem".to_owned());
        read.rests_on.push(why.to_owned());
        put(reading, candidate.index, read);
        chain.push(candidate.index);
    }
    reading.chain = chain;
}

/// Can the first side (or the other one) lie on a fold: straight, square at waist and hem?
fn square(view: &View, first: bool) -> bool {
    let (side, corners) = if first { (0, [0, 3]) } else { (2, [1, 2]) };
    view.sides.get(side).is_some_and(|side| side.is_straight())
        && corners.iter().all(|k| (view.corner(*k) - 90.0).abs() < 4.0)
}

fn best_order(found: &[(&Candidate<'_>, &View)]) -> Option<(Order, f64)> {
    let mut best: Option<(Order, f64)> = None;
    let mut order = Vec::new();
    arrange(found, &mut order, 0.0, &mut best);
    best.filter(|(order, _)| !order.is_empty())
}

/// Tries every order, giving up where it costs more than the best so far.
fn arrange(
    found: &[(&Candidate<'_>, &View)],
    order: &mut Order,
    cost: f64,
    best: &mut Option<(Order, f64)>,
) {
    if best.as_ref().is_some_and(|(_, least)| *least <= cost) {
        return;
    }
    if order.len() == found.len() {
        *best = Some((order.clone(), cost));
        return;
    }
    for (number, (candidate, view)) in found.iter().enumerate() {
        if order.iter().any(|(other, _)| *other == number) {
            continue;
        }
        for first_is_front in [true, false] {
            let own = step_cost(found, order, candidate, view, first_is_front);
            order.push((number, first_is_front));
            arrange(found, order, cost + own, best);
            order.pop();
        }
    }
}

fn step_cost(
    found: &[(&Candidate<'_>, &View)],
    order: &Order,
    candidate: &Candidate<'_>,
    view: &View,
    first_is_front: bool,
) -> f64 {
    let mut cost = if first_is_front { 0.0 } else { OFF_GRAIN };
    let length = |view: &View, front: bool, first_is_front: bool| {
        view.length(if front == first_is_front {
            Role::Fronter
        } else {
            Role::Backer
        })
    };
    match order
        .last()
        .and_then(|(n, first)| Some((found.get(*n)?.1, *first)))
    {
        Some((before, before_first)) => {
            let (a, b) = (
                length(before, false, before_first),
                length(view, true, first_is_front),
            );
            cost += libm::log(a.max(1e-9) / b.max(1e-9)).abs().min(0.5);
        }
        None if !square(view, first_is_front) => cost += NOT_FOLDED,
        None => {}
    }
    let place = if order.is_empty() {
        What::SkirtFront
    } else if order.len() + 1 == found.len() {
        What::SkirtBack
    } else {
        What::SkirtSide
    };
    if candidate.forced.is_some_and(|(what, _)| what != place) {
        cost += AGAINST_ANSWER;
    }
    cost
}
