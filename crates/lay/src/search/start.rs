//! The first layout: biggest first, each where it is free and takes least room.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, bays and shapes are numbered by the stock"
)]

use super::chance::Chance;
use super::floor::Floor;
use super::sample::{Effort, Found, Looking};
use super::stock::{Pose, Stock};

/// How hard to look for a free place.
const EFFORT: Effort = Effort {
    anywhere: 160,
    around: 0,
    kept: 4,
};

/// Cost of a pose where something is in the way; poses without are told apart below it.
const TAKEN: f32 = 1e6;

/// A free place for a body that lies nowhere, near the low corner of a bay. Bays of rooms in use, then those already open, come before
/// others.
pub(crate) fn free_place(
    stock: &Stock,
    floor: &mut Floor,
    chance: &mut Chance,
    body: usize,
) -> Option<Pose> {
    let mut new = vec![true; stock.problem.rooms.len()];
    for (fresh, room) in new.iter_mut().zip(&stock.problem.rooms) {
        *fresh = !room.already_open;
    }
    for (_, pose) in floor.bodies() {
        new[stock.bays[pose.bay].room] = false;
    }
    let cost = |floor: &mut Floor, pose: &Pose, bound: f32| {
        let opening = if new[stock.bays[pose.bay].room] {
            2.0
        } else {
            0.0
        };
        let low = 1.0 + opening + corner(stock, pose, 0);
        if low >= bound {
            return low;
        }
        if floor.is_free(stock, body, pose) {
            low
        } else {
            TAKEN + low
        }
    };
    let mut looking = Looking {
        stock,
        floor,
        chance,
        body,
        cost,
    };
    looking
        .best(None, EFFORT)
        .filter(|found| found.cost < TAKEN)
        .map(|found| found.pose)
}

/// Where a body overlaps least.
pub(crate) fn least_bad(
    stock: &Stock,
    floor: &mut Floor,
    chance: &mut Chance,
    body: usize,
) -> Option<Found> {
    let cost = |floor: &mut Floor, pose: &Pose, bound: f32| {
        let mut sum = 0.0;
        floor.ask(stock, body, pose, &mut |_, loss| {
            sum += loss;
            sum >= bound
        });
        sum
    };
    let mut looking = Looking {
        stock,
        floor,
        chance,
        body,
        cost,
    };
    looking.best(None, EFFORT)
}

/// How far the far corner of a shape lies from a corner of its bay, as a share of the bay: sideways counts more than up, so that
/// columns fill. Corners: 0 low, 1 right, 2 top, 3 both.
pub(crate) fn corner(stock: &Stock, pose: &Pose, towards: usize) -> f32 {
    let bounds = stock.bays[pose.bay].bounds;
    let [x0, x1, y0, y1] = stock.reach(pose);
    let size = bounds.width().max(bounds.height());
    let across = if towards & 1 == 0 {
        pose.x + x1 - bounds.x_min
    } else {
        bounds.x_max - pose.x - x0
    };
    let up = if towards & 2 == 0 {
        pose.y + y1 - bounds.y_min
    } else {
        bounds.y_max - pose.y - y0
    };
    (across + 0.3 * up) / size
}
