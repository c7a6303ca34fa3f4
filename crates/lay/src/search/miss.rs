//! What finds no place: where it nearly fits, and by how much it does not.

use super::chance::Chance;
use super::collision::{Hit, Table};
use super::driver::Search;
use super::problem::Placed;
use super::start;

/// A part where it nearly fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// Where it would lie.
    pub placed: Placed,
    /// What it hits there, and by how many mm.
    pub hits: Vec<Hit>,
}

/// Looks taken at each way; the best of them is told.
const LOOKS: usize = 6;

impl Search {
    /// Where an item that finds no place in the best plan nearly fits beside what lies: every part of the way whose deepest hit is
    /// least. Looked for by chance, so a better place may exist. The search itself is not changed by it. `None` when the item lies, or
    /// none of its ways fits into the bounds of any room it may lie in.
    pub fn nearest_miss(&mut self, item: usize) -> Option<Vec<Miss>> {
        self.best().not_placed.binary_search(&item).ok()?;
        let poses = self.floor.poses();
        let mut chance = Chance::new(item as u64);
        let mut best: Option<(f64, Vec<Miss>)> = None;
        for way in self.ways_by_cost(item) {
            for _ in 0..LOOKS {
                self.floor.restore(&self.stock, &self.best.poses);
                self.lift_item(item);
                let Some(misses) = self.laid_in(item, way, &mut chance) else {
                    continue;
                };
                let deepest = misses
                    .iter()
                    .flat_map(|miss| &miss.hits)
                    .map(|hit| hit.by)
                    .fold(0.0, f64::max);
                if best.as_ref().is_none_or(|old| deepest < old.0) {
                    best = Some((deepest, misses));
                }
            }
        }
        self.floor.restore(&self.stock, &poses);
        best.map(|found| found.1)
    }

    fn laid_in(&mut self, item: usize, way: usize, chance: &mut Chance) -> Option<Vec<Miss>> {
        let bodies = self.stock.of.get(item)?.get(way)?.clone();
        let mut placed = self.best.plan.placed.clone();
        let mut misses = Vec::new();
        for body in bodies {
            if self.floor.pose(body).is_some() {
                continue;
            }
            let pose = start::least_bad(&self.stock, &mut self.floor, chance, body)?.pose;
            self.floor.put(&self.stock, body, pose);
            let at = self.stock.told(body, &pose)?;
            let hits = Table::new(&self.stock.problem, &placed).hits(&at);
            placed.push(at);
            misses.push(Miss { placed: at, hits });
        }
        Some(misses)
    }
}
