//! Out of a dead end: something large is put elsewhere.

#![allow(clippy::indexing_slicing, reason = "bodies are numbered by the stock")]

use super::chance::Chance;
use super::floor::Floor;
use super::stock::{Pose, Stock};

/// Share of the area of all bodies that counts as large.
const LARGE: f32 = 0.75;

/// Swaps two large bodies of different shape.
pub(crate) fn swap_two(stock: &Stock, floor: &mut Floor, chance: &mut Chance) {
    let movable = |body: usize| stock.fixed.iter().all(|fixed| fixed.0 != body);
    let mut lying: Vec<(usize, Pose)> = floor.bodies().filter(|(body, _)| movable(*body)).collect();
    lying.sort_by(|a, b| stock.bodies[b.0].area.total_cmp(&stock.bodies[a.0].area));
    let total: f32 = lying.iter().map(|(body, _)| stock.bodies[*body].area).sum();
    let mut sum = 0.0;
    let large = lying
        .iter()
        .take_while(|(body, _)| {
            let before = sum;
            sum += stock.bodies[*body].area;
            before < total * LARGE
        })
        .count();
    let (body, pose) = match lying.get(chance.below(large)) {
        Some(first) => *first,
        None => return,
    };
    let others: Vec<(usize, Pose)> = lying
        .iter()
        .take(large)
        .copied()
        .filter(|(_, other)| other.shape != pose.shape)
        .collect();
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
