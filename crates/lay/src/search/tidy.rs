//! What lies is pushed towards a corner, so that what is left over is in one piece, and turned towards the grain.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies and bays are numbered by the stock"
)]

use super::chance::Chance;
use super::floor::Floor;
use super::sample::{Effort, Found, Looking};
use super::start::corner;
use super::stock::{Pose, Stock};

/// How hard to look for a place nearer to the corner.
const EFFORT: Effort = Effort {
    anywhere: 12,
    around: 12,
    kept: 2,
};

/// Cost of a pose where something is in the way.
const TAKEN: f32 = 1e6;

/// How much being off the grain counts against the way to the corner, for a quarter turn.
const OFF_GRAIN: f32 = 0.02;

/// Lays a body nearer to the corner, in the rooms that are in use, when there is a free place.
pub(crate) fn push(stock: &Stock, floor: &mut Floor, chance: &mut Chance, body: usize) {
    let Some(pose) = floor.pose(body) else { return };
    let mut used = vec![false; stock.problem.rooms.len()];
    for (_, pose) in floor.bodies() {
        used[stock.bays[pose.bay].room] = true;
    }
    let towards = floor.corner();
    let cost = |floor: &mut Floor, pose: &Pose, bound: f32| {
        let room = stock.bays[pose.bay].room;
        if !used[room] {
            return TAKEN;
        }
        let off = stock.bodies[body].turns[room].off(pose.turn);
        let low = 1.0 + corner(stock, pose, towards) + off * OFF_GRAIN;
        if low >= bound || floor.is_free(stock, body, pose) {
            low
        } else {
            TAKEN
        }
    };
    let mut looking = Looking {
        stock,
        floor,
        chance,
        body,
        cost,
    };
    let now = (looking.cost)(looking.floor, &pose, f32::INFINITY);
    let found = looking.best(Some(Found { pose, cost: now }), EFFORT);
    if let Some(found) = found.filter(|found| found.cost < now) {
        floor.put(stock, body, found.pose);
    }
}
