//! Out of a dead end: two bodies change places.

#![allow(clippy::indexing_slicing, reason = "bodies are numbered by the stock")]

use super::chance::Chance;
use super::floor::Floor;
use super::stock::{Pose, Stock};

/// Bodies nearest in size to the first, of which one is taken.
const NEAREST: usize = 4;

/// Swaps two bodies of different shape and much the same size: what is not like the other's room would only have to be swapped back.
pub(crate) fn swap_two(stock: &Stock, floor: &mut Floor, chance: &mut Chance) {
    let movable = |body: usize| stock.fixed.iter().all(|fixed| fixed.0 != body);
    let lying: Vec<(usize, Pose)> = floor.bodies().filter(|(body, _)| movable(*body)).collect();
    let Some(&(body, pose)) = lying.get(chance.below(lying.len())) else {
        return;
    };
    // The same shape on the other side is another shape, too.
    let mut others: Vec<(usize, Pose)> = lying
        .into_iter()
        .filter(|(_, other)| other.shape != pose.shape)
        .collect();
    let area = |body: usize| stock.bodies[body].area;
    // How many times as large the larger one is.
    let unlike = |other: usize| (area(other) / area(body)).max(area(body) / area(other));
    others.sort_by(|a, b| unlike(a.0).total_cmp(&unlike(b.0)));
    others.truncate(NEAREST);
    let Some(&(other, other_pose)) = others.get(chance.below(others.len())) else {
        return;
    };
    let (Some(one), Some(two)) = (
        moved_to(stock, body, &pose, &other_pose),
        moved_to(stock, other, &other_pose, &pose),
    ) else {
        return;
    };
    floor.put(stock, body, one);
    floor.put(stock, other, two);
}

/// The pose of a body at the place of another one, as near as it may lie to how that one is turned.
fn moved_to(stock: &Stock, body: usize, now: &Pose, place: &Pose) -> Option<Pose> {
    let made = &stock.bodies[body];
    if !made.bays.contains(&place.bay) {
        return None;
    }
    let turns = &made.turns[stock.bays[place.bay].room];
    let pose = Pose {
        shape: now.shape,
        turn: turns.allowed(now.turn),
        ..*place
    };
    let [x0, x1, y0, y1] = stock.room_to_move(&pose)?;
    Some(Pose {
        x: pose.x.clamp(x0, x1),
        y: pose.y.clamp(y0, y1),
        ..pose
    })
}
