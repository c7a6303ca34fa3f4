//! Which of two plans is better.

use std::cmp::Ordering;

use super::left_over;
use super::problem::{Plan, Problem};

/// What makes a plan good, in order of weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// Items placed, one number a priority, highest priority first.
    pub placed: Vec<usize>,
    /// Sum of [`super::Way::cost`] of the placed items.
    pub seams_added: u32,
    /// Rooms used that were not open already.
    pub rooms_opened: usize,
    /// Left-over that is still of use, mm2: see [`super::left_over::useful`].
    pub left_over: f64,
    /// Sum over all parts of how far they are off the nearest of their turns, degrees.
    pub off_grain_deg: f64,
}

impl Score {
    /// The score of a plan.
    #[must_use]
    pub fn of(problem: &Problem, plan: &Plan) -> Self {
        let mut classes: Vec<u32> = problem.items.iter().map(|item| item.priority).collect();
        classes.sort_unstable_by(|a, b| b.cmp(a));
        classes.dedup();
        let lies = |index: &usize| plan.not_placed.binary_search(index).is_err();
        let placed = classes
            .iter()
            .map(|class| {
                let items = problem
                    .items
                    .iter()
                    .enumerate()
                    .filter(|(_, item)| item.priority == *class);
                items.filter(|(index, _)| lies(index)).count()
            })
            .collect();
        let seams_added = plan
            .placed
            .iter()
            .filter(|placed| placed.part == 0)
            .filter_map(|placed| Some(problem.items.get(placed.item)?.ways.get(placed.way)?.cost))
            .fold(0, u32::saturating_add);
        let used = |room: usize| plan.placed.iter().any(|placed| placed.room == room);
        let rooms_opened = problem
            .rooms
            .iter()
            .enumerate()
            .filter(|(room, made)| !made.already_open && used(*room))
            .count();
        Self {
            placed,
            seams_added,
            rooms_opened,
            left_over: left_over::useful(problem, plan),
            off_grain_deg: plan
                .placed
                .iter()
                .map(|placed| off_grain(problem, placed))
                .sum(),
        }
    }

    /// `Greater` when this one is better. Left-overs count as different from 1 mm2, turns from 0.01 degrees.
    #[must_use]
    pub fn against(&self, other: &Self) -> Ordering {
        let few = |a: f64, b: f64, least: f64| {
            if (a - b).abs() < least {
                Ordering::Equal
            } else {
                a.total_cmp(&b)
            }
        };
        self.placed
            .cmp(&other.placed)
            .then(other.seams_added.cmp(&self.seams_added))
            .then(other.rooms_opened.cmp(&self.rooms_opened))
            .then(few(self.left_over, other.left_over, 1.0))
            .then(few(other.off_grain_deg, self.off_grain_deg, 0.01))
    }
}

fn off_grain(problem: &Problem, placed: &super::Placed) -> f64 {
    let (Some(part), Some(room)) = (problem.part(placed), problem.rooms.get(placed.room)) else {
        return 0.0;
    };
    let off =
        |turn: &f64| libm::remainder(placed.turn_deg - room.grain.angle_deg - turn, 360.0).abs();
    if part.turns.is_empty() {
        off(&0.0)
    } else {
        part.turns.iter().map(off).fold(f64::INFINITY, f64::min)
    }
}
