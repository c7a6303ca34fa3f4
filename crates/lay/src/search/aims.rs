//! What is tried next: everything at once, one more item, cheaper ways, fewer rooms, more left over.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, items and bays are numbered by the stock"
)]

use super::driver::{Search, Stage};
use super::record::{first_ways, order, plan_of};
use super::{start, stir, tidy};

/// What an attempt is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// All items.
    All,
    /// The best plan and one item more.
    OneMore,
    /// The best plan with one item in a cheaper way.
    Cheaper,
    /// The best plan without one of its rooms.
    FewerRooms,
    /// The best plan with more left over, and nearer to the grain.
    MoreLeft,
}

/// Layouts kept of those given up.
const KEPT: usize = 8;

/// Attempts from layouts given up before a new first layout is laid.
const ANEW: u32 = 10;

/// Steps for each body when pushing towards a corner.
const PUSHES: usize = 4;

impl Search {
    /// Begins the next attempt; `cleared` says whether the last one came to nothing overlapping.
    pub(super) fn next_aim(&mut self, cleared: bool) {
        self.attempts += 1;
        for bay in 0..self.stock.bays.len() {
            self.floor.set_closed(bay, false);
        }
        self.aim = self.choose(cleared);
        match self.aim {
            Aim::All => self.try_all(),
            Aim::OneMore => self.try_one_more(),
            Aim::Cheaper => self.try_cheaper(),
            Aim::FewerRooms => self.try_fewer_rooms(),
            Aim::MoreLeft => {
                self.back_to_best();
                self.floor.set_corner(self.chance.below(4));
                self.stage = Stage::Tidy(self.order.len() * PUSHES);
            }
        }
    }

    fn choose(&mut self, cleared: bool) -> Aim {
        if !self.complete() {
            return self.choose_incomplete(cleared);
        }
        // Each of these may fail for good: the others get their turn all the same.
        match self.attempts % 4 {
            0 | 1 if self.best.score.seams_added > 0 && !self.dear().is_empty() => Aim::Cheaper,
            0 | 2 if self.best.score.rooms_opened > 0 => Aim::FewerRooms,
            _ => Aim::MoreLeft,
        }
    }

    /// While items are missing they come first; but what lies is made better now and then, as no more may ever lie.
    fn choose_incomplete(&self, cleared: bool) -> Aim {
        match self.attempts % 8 {
            3 if !self.dear().is_empty() => Aim::Cheaper,
            7 => Aim::MoreLeft,
            2 | 5 if !cleared => Aim::OneMore,
            _ => Aim::All,
        }
    }

    fn back_to_best(&mut self) {
        self.ways.clone_from(&self.best.ways);
        self.floor.restore(&self.stock, &self.best.poses);
        self.order = order(&self.stock, &self.ways);
    }

    fn try_all(&mut self) {
        self.given_up
            .sort_by(|a, b| a.overlap.total_cmp(&b.overlap));
        self.given_up.truncate(KEPT);
        if self.given_up.is_empty() || self.attempts.is_multiple_of(ANEW) {
            return self.start_anew();
        }
        // Better ones more often.
        let lot = (self.chance.bell() * 0.4).abs().min(0.999);
        let index = (lot * self.given_up.len() as f32) as usize;
        let from = self.given_up[index].clone();
        self.ways = from.ways;
        self.floor.restore(&self.stock, &from.poses);
        self.change_a_way();
        stir::swap_two(&self.stock, &mut self.floor, &mut self.chance);
        self.lay_the_rest();
        self.begin();
    }

    /// Another first layout: in the order of size, but with chance.
    fn start_anew(&mut self) {
        self.ways = first_ways(&self.stock);
        let empty = vec![None; self.stock.bodies.len()];
        self.floor.restore(&self.stock, &empty);
        for (body, pose) in self.stock.fixed.clone() {
            self.floor.put(&self.stock, body, pose);
        }
        self.order = order(&self.stock, &self.ways);
        for index in 1..self.order.len() {
            if self.chance.unit() < 0.3 {
                self.order.swap(index - 1, index);
            }
        }
        self.stage = Stage::Start(0);
    }

    /// Takes another way for one of the items that are missing in the best plan, or lie in a dear way, now and then.
    fn change_a_way(&mut self) {
        let several =
            |item: &usize| self.stock.problem.items[*item].ways.len() > 1 && !self.is_fixed(*item);
        let missing: Vec<usize> = self
            .best
            .plan
            .not_placed
            .iter()
            .copied()
            .filter(several)
            .collect();
        let any: Vec<usize> = (0..self.ways.len()).filter(several).collect();
        let from = if self.chance.unit() < 0.6 && !missing.is_empty() {
            missing
        } else {
            any
        };
        let Some(&item) = from.get(self.chance.below(from.len())) else {
            return;
        };
        let ways = self.ways_by_cost(item);
        let way = ways[self.chance.below(ways.len())];
        self.lift_item(item);
        self.ways[item] = Some(way);
    }

    fn try_one_more(&mut self) {
        self.back_to_best();
        let missing = plan_of(&self.stock, &self.floor).not_placed;
        let most = missing
            .iter()
            .map(|&item| self.stock.problem.items[item].priority)
            .max();
        let first: Vec<usize> = missing
            .iter()
            .copied()
            .filter(|&item| Some(self.stock.problem.items[item].priority) == most)
            .collect();
        for &item in &missing {
            self.lift_item(item);
        }
        let Some(&item) = first.get(self.chance.below(first.len())) else {
            return self.start_anew();
        };
        let ways = self.ways_by_cost(item);
        let Some(&way) = ways.get(self.chance.below(ways.len())) else {
            return self.start_anew();
        };
        self.lay_item(item, way);
        self.begin();
    }

    /// Lays an item in a way where it overlaps least.
    fn lay_item(&mut self, item: usize, way: usize) {
        self.ways[item] = Some(way);
        for body in self.stock.of[item][way].clone() {
            if self.floor.pose(body).is_none()
                && let Some(found) =
                    start::least_bad(&self.stock, &mut self.floor, &mut self.chance, body)
            {
                self.floor.put(&self.stock, body, found.pose);
            }
        }
        self.order = order(&self.stock, &self.ways);
    }

    /// Items that lie in a way dearer than they might.
    pub(super) fn dear(&self) -> Vec<usize> {
        let cost = |item: usize, way: usize| self.stock.problem.items[item].ways[way].cost;
        let dear = |&item: &usize| {
            let now = self.best.ways[item].map_or(0, |way| cost(item, way));
            let lies = self.best.plan.not_placed.binary_search(&item).is_err();
            lies && !self.is_fixed(item)
                && self
                    .ways_by_cost(item)
                    .first()
                    .is_some_and(|&way| cost(item, way) < now)
        };
        (0..self.best.ways.len()).filter(dear).collect()
    }

    fn try_cheaper(&mut self) {
        self.back_to_best();
        let dear = self.dear();
        let Some(&item) = dear.get(self.chance.below(dear.len())) else {
            return;
        };
        let cost = |way: usize| self.stock.problem.items[item].ways[way].cost;
        let now = self.ways[item].map_or(0, cost);
        let cheaper: Vec<usize> = self
            .ways_by_cost(item)
            .into_iter()
            .filter(|&way| cost(way) < now)
            .collect();
        let Some(&way) = cheaper.get(self.chance.below(cheaper.len())) else {
            return;
        };
        self.lift_item(item);
        self.lay_item(item, way);
        self.begin();
    }

    /// Rooms to lay in that are one fewer than the best plan opens: those open already, those with fixed parts, and the largest of the
    /// others, by chance not always the same. `None` when that is surely too little cloth.
    fn fewer_rooms(&mut self) -> Option<Vec<bool>> {
        let problem = &self.stock.problem;
        let mut left = self.best.score.rooms_opened.checked_sub(1)?;
        let mut area = vec![0.0; problem.rooms.len()];
        for bay in &self.stock.bays {
            area[bay.room] += bay.area;
        }
        let mut open: Vec<bool> = problem.rooms.iter().map(|room| room.already_open).collect();
        for fixed in &problem.fixed {
            if !open[fixed.room] {
                left = left.checked_sub(1)?;
                open[fixed.room] = true;
            }
        }
        let used = |room: usize| {
            self.best
                .plan
                .placed
                .iter()
                .any(|placed| placed.room == room)
        };
        let mut others: Vec<(f32, usize)> = Vec::new();
        for room in 0..open.len() {
            if !open[room] {
                let liked = if used(room) { 1.2 } else { 1.0 };
                others.push((area[room] * liked * self.chance.between(0.6, 1.4), room));
            }
        }
        others.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (_, room) in others.iter().take(left) {
            open[*room] = true;
        }
        let parts: f32 = self
            .order
            .iter()
            .map(|&body| self.stock.bodies[body].area)
            .sum();
        let cloth: f32 = area
            .iter()
            .zip(&open)
            .filter(|(_, open)| **open)
            .map(|(area, _)| area)
            .sum();
        (cloth > parts).then_some(open)
    }

    fn try_fewer_rooms(&mut self) {
        self.back_to_best();
        let Some(open) = self.fewer_rooms() else {
            return self.next_is_more_left();
        };
        for (bay, made) in self.stock.bays.iter().enumerate() {
            self.floor.set_closed(bay, !open[made.room]);
        }
        let there: Vec<usize> = self
            .floor
            .bodies()
            .filter(|(_, pose)| self.floor.is_closed(pose.bay))
            .map(|(body, _)| body)
            .collect();
        for body in there {
            self.floor.lift(body);
        }
        self.lay_the_rest();
        // What may only lie in that room keeps it open.
        let all_lie = order(&self.stock, &self.ways)
            .iter()
            .all(|&body| self.floor.pose(body).is_some());
        if all_lie {
            self.begin()
        } else {
            self.next_is_more_left()
        }
    }

    fn next_is_more_left(&mut self) {
        for bay in 0..self.stock.bays.len() {
            self.floor.set_closed(bay, false);
        }
        self.aim = Aim::MoreLeft;
        self.back_to_best();
        self.stage = Stage::Tidy(self.order.len() * PUSHES);
    }

    /// One body pushed towards the corner; at the end what came of it is looked at.
    pub(super) fn tidy(&mut self, left: usize) {
        if left == 0 || self.order.is_empty() {
            self.record();
            return self.next_aim(true);
        }
        let body = self.order[self.chance.below(self.order.len())];
        tidy::push(&self.stock, &mut self.floor, &mut self.chance, body);
        self.stage = Stage::Tidy(left - 1);
    }

    /// Fewest rooms that must be opened: as many of the largest as it takes for the area of what lies, those open already used
    /// first. More may be needed.
    pub(super) fn least_rooms(&self) -> usize {
        let problem = &self.stock.problem;
        let mut area = vec![0.0; problem.rooms.len()];
        for bay in &self.stock.bays {
            area[bay.room] += bay.area;
        }
        let bodies = self.best.poses.iter().enumerate();
        let lying = bodies.filter(|(_, pose)| pose.is_some());
        let mut left: f32 = lying.map(|(body, _)| self.stock.bodies[body].area).sum();
        let mut others = Vec::new();
        for (area, room) in area.into_iter().zip(&problem.rooms) {
            if room.already_open {
                left -= area;
            } else {
                others.push(area);
            }
        }
        others.sort_by(|a: &f32, b| b.total_cmp(a));
        let needed = others.iter().take_while(|area| {
            let is_needed = left > 0.0;
            left -= **area;
            is_needed
        });
        needed.count()
    }

    pub(super) fn is_fixed(&self, item: usize) -> bool {
        self.stock
            .problem
            .fixed
            .iter()
            .any(|fixed| fixed.item == item)
    }

    /// Ways an item may be cut in, cheapest first.
    pub(super) fn ways_by_cost(&self, item: usize) -> Vec<usize> {
        if let Some(fixed) = self
            .stock
            .problem
            .fixed
            .iter()
            .find(|fixed| fixed.item == item)
        {
            return vec![fixed.way];
        }
        let ways = &self.stock.problem.items[item].ways;
        let mut order: Vec<usize> = (0..ways.len())
            .filter(|&way| !ways[way].parts.is_empty())
            .collect();
        order.sort_by_key(|&way| ways[way].cost);
        order
    }

    /// Takes up every part of an item that is not fixed.
    pub(super) fn lift_item(&mut self, item: usize) {
        for &body in self.stock.of[item].iter().flatten() {
            if self.stock.fixed.iter().all(|fixed| fixed.0 != body) {
                self.floor.lift(body);
            }
        }
    }
}
