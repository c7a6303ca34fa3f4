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

/// A free place for a body that lies nowhere, near the low corner of a bay: `near` says how much each bay is liked less than the
/// best one (bays already open and small ones first).
pub(crate) fn free_place(
    stock: &Stock,
    floor: &mut Floor,
    chance: &mut Chance,
    body: usize,
    dislike: &[f32],
) -> Option<Pose> {
    let cost = |floor: &mut Floor, pose: &Pose, bound: f32| {
        let low = 1.0 + dislike.get(pose.bay).copied().unwrap_or(0.0) + corner(stock, pose);
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
    dislike: &[f32],
) -> Option<Found> {
    let cost = |floor: &mut Floor, pose: &Pose, bound: f32| {
        let mut sum = 0.0;
        floor.ask(stock, body, pose, |_, loss| {
            sum += loss;
            sum >= bound
        });
        sum * (1.0 + dislike.get(pose.bay).copied().unwrap_or(0.0))
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

/// How far the far corner of a shape lies from the low corner of its bay, as a share of the bay: sideways counts a little more,
/// so that columns fill.
fn corner(stock: &Stock, pose: &Pose) -> f32 {
    let bounds = stock.bays[pose.bay].bounds;
    let [_, x1, _, y1] = stock.reach(pose);
    let size = bounds.width().max(bounds.height());
    ((pose.x + x1 - bounds.x_min) + 0.3 * (pose.y + y1 - bounds.y_min)) / size
}
