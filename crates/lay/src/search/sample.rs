//! Looking for a place: many poses at random, the best of them moved to where they cost least.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, bays and shapes are numbered by the stock and never change"
)]

use super::chance::Chance;
use super::floor::{Floor, move_of};
use super::stock::{Pose, Stock};

/// How long to look.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Effort {
    /// Poses anywhere.
    pub(crate) anywhere: usize,
    /// Poses around the one it has.
    pub(crate) around: usize,
    /// How many of the best are moved about.
    pub(crate) kept: usize,
}

/// A pose and what it costs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found {
    pub(crate) pose: Pose,
    pub(crate) cost: f32,
}

/// The best few poses so far.
struct Shortlist {
    found: Vec<Found>,
    kept: usize,
    /// Poses of one shape nearer than this count as one.
    apart: f32,
}

impl Shortlist {
    fn bound(&self) -> f32 {
        if self.found.len() < self.kept {
            f32::INFINITY
        } else {
            self.found.last().map_or(f32::INFINITY, |last| last.cost)
        }
    }

    fn offer(&mut self, new: Found) {
        let alike = |old: &Found| {
            let (a, b) = (old.pose, new.pose);
            a.bay == b.bay
                && a.shape == b.shape
                && (a.x - b.x).abs().max((a.y - b.y).abs()) < self.apart
                && (a.turn - b.turn).abs() < 0.05
        };
        if let Some(at) = self.found.iter().position(alike) {
            if self.found[at].cost <= new.cost {
                return;
            }
            self.found.remove(at);
        }
        let at = self.found.partition_point(|old| old.cost <= new.cost);
        self.found.insert(at, new);
        self.found.truncate(self.kept);
    }
}

/// What a search for a place has at hand.
pub(crate) struct Looking<'a, Cost: FnMut(&mut Floor, &Pose, f32) -> f32> {
    pub(crate) stock: &'a Stock,
    pub(crate) floor: &'a mut Floor,
    pub(crate) chance: &'a mut Chance,
    pub(crate) body: usize,
    /// What a pose costs; may stop counting at the bound.
    pub(crate) cost: Cost,
}

impl<Cost: FnMut(&mut Floor, &Pose, f32) -> f32> Looking<'_, Cost> {
    /// The cheapest pose found; `now` is where it lies and what that costs. `None` when nothing was found at all.
    pub(crate) fn best(&mut self, now: Option<Found>, effort: Effort) -> Option<Found> {
        let made = &self.stock.bodies[self.body];
        let mut list = Shortlist {
            found: Vec::with_capacity(effort.kept + 1),
            kept: effort.kept,
            apart: made.diameter * 0.02,
        };
        if let Some(now) = now {
            list.offer(now);
            for _ in 0..effort.around {
                let pose = self.around(&now.pose);
                self.try_pose(pose, &mut list);
            }
        }
        for _ in 0..effort.anywhere {
            if let Some(pose) = self.anywhere() {
                self.try_pose(pose, &mut list);
            }
        }
        let coarse = made.diameter * 0.002;
        let mut best: Option<Found> = None;
        for found in list.found {
            let moved = self.moved_about(found, made.diameter * 0.03, coarse);
            if best.is_none_or(|old| moved.cost < old.cost) {
                best = Some(moved);
            }
        }
        let best = best?;
        if best.cost <= 0.0 {
            return Some(best);
        }
        Some(self.moved_about(best, coarse * 2.0, made.diameter * 1e-5))
    }

    fn try_pose(&mut self, pose: Pose, list: &mut Shortlist) {
        let bound = list.bound();
        let cost = (self.cost)(self.floor, &pose, bound);
        if cost < bound {
            list.offer(Found { pose, cost });
        }
    }

    /// A pose anywhere in a bay it fits in, larger bays more often.
    fn anywhere(&mut self) -> Option<Pose> {
        let made = &self.stock.bodies[self.body];
        let open = |bay: &usize| !self.floor.is_closed(*bay);
        let bays = || made.bays.iter().copied().filter(open);
        let total: f32 = bays().map(|bay| self.stock.bays[bay].area).sum();
        let mut left = self.chance.unit() * total;
        let bay = bays().find(|&bay| {
            left -= self.stock.bays[bay].area;
            left <= 0.0
        });
        let bay = bay.or(bays().next_back())?;
        let turns = &made.turns[self.stock.bays[bay].room];
        let base = turns.base(self.chance.below(turns.bases().len()));
        let turn = turns.allowed(base + self.chance.between(-1.0, 1.0) * turns.spread());
        let shape = made.shapes[self.chance.below(made.shapes.len())];
        self.within(
            Pose {
                bay,
                shape,
                turn,
                x: 0.0,
                y: 0.0,
            },
            None,
        )
    }

    fn around(&mut self, pose: &Pose) -> Pose {
        let made = &self.stock.bodies[self.body];
        let reach = made.diameter * 0.5;
        let turns = &made.turns[self.stock.bays[pose.bay].room];
        let turn = if turns.bases().len() > 1 || turns.spread() > 0.0 {
            let base = if self.chance.unit() < 0.3 {
                turns.base(self.chance.below(turns.bases().len()))
            } else {
                pose.turn
            };
            turns.allowed(base + self.chance.between(-1.0, 1.0) * turns.spread().min(0.5))
        } else {
            pose.turn
        };
        let shape = made.shapes[self.chance.below(made.shapes.len())];
        let wished = Pose {
            turn,
            shape,
            x: pose.x + self.chance.between(-reach, reach),
            y: pose.y + self.chance.between(-reach, reach),
            bay: pose.bay,
        };
        self.within(wished, Some((wished.x, wished.y)))
            .unwrap_or(*pose)
    }

    /// A place where the bounds of the turned shape lie within those of the bay: anywhere, or the nearest to a wish. `None` when the
    /// bay is too small.
    fn within(&mut self, pose: Pose, wish: Option<(f32, f32)>) -> Option<Pose> {
        let [x0, x1, y0, y1] = self.stock.room_to_move(&pose)?;
        let (x, y) = match wish {
            Some((x, y)) => (x.clamp(x0, x1), y.clamp(y0, y1)),
            None => (self.chance.between(x0, x1), self.chance.between(y0, y1)),
        };
        Some(Pose { x, y, ..pose })
    }

    /// Moves and turns a pose a little, over and over, as long as that makes it cheaper; strides shrink from `stride` to `least`.
    fn moved_about(&mut self, start: Found, stride: f32, least: f32) -> Found {
        let made = &self.stock.bodies[self.body];
        let turns = &made.turns[self.stock.bays[start.pose.bay].room];
        let mut best = start;
        let mut strides = [stride, stride];
        // A turn that moves the far end of the shape by as much as a stride.
        let mut turning = if turns.spread() > 0.0 {
            (2.0 * stride / made.diameter).min(turns.spread())
        } else {
            0.0
        };
        let least_turn = 2.0 * least / made.diameter;
        while strides[0].max(strides[1]) > least || turning > least_turn {
            if best.cost <= 0.0 {
                break;
            }
            let kind = self.chance.below(if turning > least_turn { 5 } else { 4 });
            let (dx, dy, turn) = match kind {
                0 => (strides[0], 0.0, 0.0),
                1 => (0.0, strides[1], 0.0),
                2 => (strides[0], strides[1], 0.0),
                3 => (strides[0], -strides[1], 0.0),
                _ => (0.0, 0.0, turning),
            };
            let mut better = false;
            for side in [1.0, -1.0] {
                let old = best.pose;
                let turned = if turn > 0.0 {
                    turns.allowed(old.turn + side * turn)
                } else {
                    old.turn
                };
                let wished = Pose {
                    x: old.x + side * dx,
                    y: old.y + side * dy,
                    turn: turned,
                    ..old
                };
                let Some(pose) = self.within(wished, Some((wished.x, wished.y))) else {
                    continue;
                };
                let cost = (self.cost)(self.floor, &pose, best.cost);
                if cost < best.cost {
                    best = Found { pose, cost };
                    better = true;
                    break;
                }
            }
            let factor = if better { 1.1 } else { 0.5 };
            match kind {
                0 => strides[0] *= factor,
                1 => strides[1] *= factor,
                2 | 3 => strides = strides.map(|stride| stride * libm::sqrtf(factor)),
                _ => turning *= factor,
            }
        }
        best
    }
}

impl Stock {
    /// Low and high x and y a shape can have so that its bounds lie within those of its bay. `None` when the bay is too small.
    pub(crate) fn room_to_move(&self, pose: &Pose) -> Option<[f32; 4]> {
        let bounds = self.bays[pose.bay].bounds;
        let [x0, x1, y0, y1] = self.reach(pose);
        // A hair inside: touching is a collision.
        let hair = (bounds.x_max - bounds.x_min).max(bounds.y_max - bounds.y_min) * 2e-7;
        let room = [
            bounds.x_min - x0 + hair,
            bounds.x_max - x1 - hair,
            bounds.y_min - y0 + hair,
            bounds.y_max - y1 - hair,
        ];
        (room[0] <= room[1] && room[2] <= room[3]).then_some(room)
    }

    /// Is some bay large enough for a body, as far as bounds tell?
    pub(crate) fn may_lie(&self, body: usize) -> bool {
        let made = &self.bodies[body];
        let poses = made.bays.iter().flat_map(|&bay| {
            let turns = &made.turns[self.bays[bay].room];
            let turned = turns.bases().flat_map(move |base| {
                [0.0, -1.0, -0.5, 0.5, 1.0]
                    .map(|share| turns.allowed(base + share * turns.spread()))
            });
            turned.flat_map(move |turn| {
                made.shapes.iter().map(move |&shape| Pose {
                    bay,
                    shape,
                    turn,
                    x: 0.0,
                    y: 0.0,
                })
            })
        });
        poses
            .into_iter()
            .any(|pose| self.room_to_move(&pose).is_some())
    }

    /// Low and high x and y of a turned shape around its own middle.
    pub(crate) fn reach(&self, pose: &Pose) -> [f32; 4] {
        let [[a, b, _], [c, d, _], _] = move_of(&Pose {
            x: 0.0,
            y: 0.0,
            ..*pose
        })
        .matrix()
        .map(|row| row.map(f32::from));
        let mut reach = [
            f32::INFINITY,
            f32::NEG_INFINITY,
            f32::INFINITY,
            f32::NEG_INFINITY,
        ];
        for &(x, y) in &self.shapes[pose.shape].hull {
            let (x, y) = (a * x + b * y, c * x + d * y);
            reach = [
                reach[0].min(x),
                reach[1].max(x),
                reach[2].min(y),
                reach[3].max(y),
            ];
        }
        reach
    }
}
