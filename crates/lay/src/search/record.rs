//! From the floor to a plan, and its proof in f64.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies and items are numbered by the stock"
)]

use super::bay::Thing;
use super::exact::Laid;
use super::floor::Floor;
use super::problem::{Item, Placed, Plan};
use super::stock::Stock;

/// The cheapest way of each item that is not too large for every bay, or the one its fixed parts have.
pub(crate) fn first_ways(stock: &Stock) -> Vec<Option<usize>> {
    let fixed = |item: usize| {
        stock
            .problem
            .fixed
            .iter()
            .find(|placed| placed.item == item)
            .map(|placed| placed.way)
    };
    let too_large = |bodies: &Vec<usize>| !bodies.iter().all(|&body| stock.may_lie(body));
    let cheapest = |index: usize, item: &Item| {
        (0..item.ways.len())
            .min_by_key(|&way| (too_large(&stock.of[index][way]), item.ways[way].cost))
    };
    stock
        .problem
        .items
        .iter()
        .enumerate()
        .map(|(index, item)| fixed(index).or_else(|| cheapest(index, item)))
        .collect()
}

/// Bodies of the ways taken that do not lie yet: by priority, then the largest first.
pub(crate) fn order(stock: &Stock, ways: &[Option<usize>]) -> Vec<usize> {
    let mut order: Vec<usize> = ways
        .iter()
        .enumerate()
        .filter_map(|(item, way)| stock.of.get(item)?.get((*way)?))
        .flatten()
        .copied()
        .filter(|body| stock.fixed.iter().all(|fixed| fixed.0 != *body))
        .collect();
    let weight = |body: usize| stock.bodies[body].area * stock.bodies[body].diameter;
    order.sort_by(|&a, &b| {
        let priority = |body: usize| stock.problem.items[stock.bodies[body].item].priority;
        priority(b)
            .cmp(&priority(a))
            .then(weight(b).total_cmp(&weight(a)))
    });
    order
}

/// What lies on the floor as a plan: items all parts of which lie.
pub(crate) fn plan_of(stock: &Stock, floor: &Floor) -> Plan {
    let mut plan = Plan::default();
    for (item, ways) in stock.of.iter().enumerate() {
        let whole = ways.iter().find(|bodies| {
            !bodies.is_empty() && bodies.iter().all(|&body| floor.pose(body).is_some())
        });
        let Some(bodies) = whole else {
            plan.not_placed.push(item);
            continue;
        };
        plan.placed
            .extend(bodies.iter().filter_map(|&body| told(stock, floor, body)));
    }
    plan
}

/// A fixed part exactly as it was given, any other as it lies.
fn told(stock: &Stock, floor: &Floor, body: usize) -> Option<Placed> {
    let fixed = stock.fixed.iter().position(|fixed| fixed.0 == body);
    match fixed {
        Some(index) => stock.problem.fixed.get(index).copied(),
        None => stock.told(body, &floor.pose(body)?),
    }
}

/// What is not right in f64: a body and what it overlaps with.
pub(crate) fn wrong_pairs(stock: &Stock, plan: &Plan) -> Vec<(usize, Thing)> {
    let problem = &stock.problem;
    let laid: Vec<(usize, bool, Laid)> = plan
        .placed
        .iter()
        .chain(
            problem
                .fixed
                .iter()
                .filter(|fixed| !plan.placed.contains(fixed)),
        )
        .filter_map(|placed| {
            let body = stock.body_of(placed)?;
            Some((
                body,
                stock.fixed.iter().any(|fixed| fixed.0 == body),
                Laid::new(problem, *placed)?,
            ))
        })
        .collect();
    let mut wrong = Vec::new();
    for (index, (body, fixed, one)) in laid.iter().enumerate() {
        if !fixed && !one.fits_room(problem) {
            wrong.push((*body, Thing::Outside));
        }
        for (other, other_fixed, two) in laid.iter().skip(index + 1) {
            if !(*fixed && *other_fixed || one.keeps_off(two, problem.gap)) {
                wrong.push((*body, Thing::Body(*other as u32)));
            }
        }
    }
    wrong
}
