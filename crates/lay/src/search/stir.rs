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

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use kurbo::Point;

    use super::super::problem::{Item, Part, Problem, Room, Way};
    use super::*;

    fn square(side: f64) -> Vec<Point> {
        let corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
        corners.map(Point::from).to_vec()
    }

    #[test]
    fn two_of_much_the_same_size_change_places() {
        let sides = [10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 60.0];
        let item = |side: &f64| {
            let part = Part {
                outline: square(*side),
                ..Part::default()
            };
            Item {
                ways: vec![Way {
                    parts: vec![part],
                    cost: 0,
                }],
                priority: 0,
            }
        };
        let problem = Problem {
            rooms: vec![Room {
                outline: square(1000.0),
                ..Room::default()
            }],
            items: sides.iter().map(item).collect(),
            gap: 0.0,
            fixed: Vec::new(),
        };
        let stock = Stock::new(&problem).unwrap();
        let mut floor = Floor::new(&stock);
        for (body, made) in stock.bodies.iter().enumerate() {
            let pose = Pose {
                bay: 0,
                shape: made.shapes[0],
                turn: 0.0,
                x: body as f32 * 100.0 - 300.0,
                y: 0.0,
            };
            floor.put(&stock, body, pose);
        }
        let at = |floor: &Floor| -> Vec<f32> { floor.bodies().map(|(_, pose)| pose.x).collect() };
        let mut chance = Chance::new(3);
        let mut with_largest = Vec::new();
        for _ in 0..400 {
            let before = at(&floor);
            swap_two(&stock, &mut floor, &mut chance);
            let after = at(&floor);
            let moved: Vec<usize> = (0..before.len())
                .filter(|&body| before[body] != after[body])
                .collect();
            assert_eq!(moved.len(), 2, "{moved:?} moved");
            let (one, other) = (moved[0], moved[1]);
            assert_eq!((after[one], after[other]), (before[other], before[one]));
            if other == 6 {
                with_largest.push(one);
            }
        }
        with_largest.sort_unstable();
        with_largest.dedup();
        // The four nearest to 60 in size, never the smallest two.
        assert_eq!(with_largest, [2, 3, 4, 5]);
    }
}
