//! Ways that are added while a search runs: what can be cut from the cloth that is left is only known once most things lie.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, items and bays are numbered by the stock"
)]

use super::chance::Chance;
use super::driver::Search;
use super::problem::{Mirror, Placed, ProblemError, Way};
use super::record::{plan_of, wrong_pairs};
use super::start;
use super::stock::{Pose, Stock};
use super::untangle::Untangle;

impl Search {
    /// Adds a way of cutting an item and gives its number. From then on it is tried like any other; the plan stays, and the attempt
    /// under way goes on with its weights forgotten.
    ///
    /// # Errors
    /// [`ProblemError`] when there is no such item, or when an outline or number of the way cannot be used; nothing changes then.
    pub fn add_way(&mut self, item: usize, way: &Way) -> Result<usize, ProblemError> {
        let number = self.stock.add_way(item, way)?;
        self.floor.grow(&self.stock);
        let count = self.stock.bodies.len();
        self.best.poses.resize(count, None);
        for layout in &mut self.given_up {
            layout.poses.resize(count, None);
        }
        self.untangle = Untangle::new(&self.stock, &mut self.floor);
        Ok(number)
    }

    /// Lays an item in one of its ways beside everything else of the best plan: parts as near as they may lie to the places given
    /// (one entry a part; item, way and part of them do not count), the others where they find a free place. Kept when that is
    /// proved and better; says whether it was. The attempt under way is left as it is.
    pub fn offer_places(&mut self, item: usize, way: usize, places: &[Option<Placed>]) -> bool {
        let bodies = self.stock.of.get(item).and_then(|ways| ways.get(way));
        let Some(bodies) = bodies.cloned() else {
            return false;
        };
        if self.is_fixed(item) {
            return false;
        }
        self.beside_the_best(item, |search| {
            search.ways[item] = Some(way);
            if !search.put_at(&bodies, places) {
                return false;
            }
            let plan = plan_of(&search.stock, &search.floor);
            wrong_pairs(&search.stock, &plan).is_empty() && search.offer(plan)
        })
    }

    /// Does something while everything of the best plan but one item lies on the floor; then the floor is as it was.
    pub(super) fn beside_the_best<T>(
        &mut self,
        item: usize,
        act: impl FnOnce(&mut Self) -> T,
    ) -> T {
        let (poses, ways) = (self.floor.poses(), self.ways.clone());
        let bays = self.stock.bays.len();
        let closed: Vec<bool> = (0..bays).map(|bay| self.floor.is_closed(bay)).collect();
        for bay in 0..bays {
            self.floor.set_closed(bay, false);
        }
        self.ways.clone_from(&self.best.ways);
        let best = self.best.poses.clone();
        self.floor.restore(&self.stock, &best);
        self.lift_item(item);
        let came = act(self);
        self.ways = ways;
        self.floor.restore(&self.stock, &poses);
        for (bay, closed) in closed.into_iter().enumerate() {
            self.floor.set_closed(bay, closed);
        }
        came
    }

    fn put_at(&mut self, bodies: &[usize], places: &[Option<Placed>]) -> bool {
        for (&body, place) in bodies.iter().zip(places) {
            let Some(place) = place else { continue };
            let Some(pose) = self.stock.pose_near(body, place) else {
                return false;
            };
            self.floor.put(&self.stock, body, pose);
        }
        bodies.iter().all(|&body| {
            if self.floor.pose(body).is_some() {
                return true;
            }
            let mut chance = Chance::new(body as u64);
            let place = start::free_place(&self.stock, &mut self.floor, &mut chance, body);
            if let Some(pose) = place {
                self.floor.put(&self.stock, body, pose);
            }
            place.is_some()
        })
    }
}

impl Stock {
    /// The nearest pose that a body may have to a place in one of its bays.
    pub(super) fn pose_near(&self, body: usize, placed: &Placed) -> Option<Pose> {
        let made = self.bodies.get(body)?;
        let part = self.problem.items[made.item].ways[made.way]
            .parts
            .get(made.part)?;
        let other_side = part.mirror == Mirror::Either && placed.mirrored;
        let shape = *made.shapes.get(usize::from(other_side))?;
        let turns = made.turns.get(placed.room)?;
        let turn = turns.allowed(placed.turn_deg.to_radians() as f32);
        let (sin, cos) = libm::sincos(turns.told(turn).to_radians());
        let middle = self.shapes[shape].middle;
        let at = (
            placed.x + cos * middle.x - sin * middle.y,
            placed.y + sin * middle.x + cos * middle.y,
        );
        let poses = made.bays.iter().map(|&bay| {
            let there = self.bays[bay].middle;
            Pose {
                bay,
                shape,
                turn,
                x: (at.0 - there.x) as f32,
                y: (at.1 - there.y) as f32,
            }
        });
        poses
            .filter(|pose| self.bays[pose.bay].room == placed.room)
            .max_by(|a, b| {
                let within = |pose: &Pose| self.bays[pose.bay].field.within(pose.x, pose.y);
                within(a).total_cmp(&within(b))
            })
    }
}
