//! Pages whose places come from pairs of pages, put right among all their neighbours at once.
//!
//! Two pages that share few corners lie right only about as well as corners that are alike by chance let them, and what is
//! off adds up from page to page. The ends of cut lines lie exactly on the lines of the neighbours, so these have the last
//! word.

use petitoile_core::kurbo::{Point, Rect};

use super::features::Matches;
use super::nearby::{self, Pull};
use super::places::{PagePlaces, PlacedBy};
use crate::bring_in::{BringInError, Pace};

/// Ends further than this from a line say nothing, mm, and a page is moved no further: there lies another place, not the
/// same one more exactly.
const REACH: f64 = 0.4;

/// Ends that lie this near to their lines, as a root of the mean square, are well, mm.
const FINE: f64 = 0.002;

/// Rounds over the pages that are still to be moved.
const ROUNDS: usize = 20;

impl Matches {
    /// The places with every page that lies by its lines moved to where the ends of all its neighbours meet best.
    pub(super) fn eased(
        &self,
        places: PagePlaces,
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        let mut places = places;
        let mut open = vec![true; places.pages.len()];
        for round in 0..ROUNDS {
            pace.step(round, ROUNDS)?;
            for page in 0..places.pages.len() {
                if !open.get(page).copied().unwrap_or(false) {
                    continue;
                }
                if let Some(open) = open.get_mut(page) {
                    *open = false;
                }
                let others = self.beside(page, &places);
                let Some(at) = self.better(page, &places, &others) else {
                    continue;
                };
                if let Some(place) = places.pages.get_mut(page) {
                    place.at = at;
                }
                // Whoever lies beside it looks again.
                for (other, _) in others {
                    if let Some(open) = open.get_mut(other) {
                        *open = true;
                    }
                }
            }
            if !open.contains(&true) {
                break;
            }
        }
        Ok(places)
    }

    /// Where a page lies, if its lines told it.
    fn lies(page: usize, places: &PagePlaces) -> Option<Point> {
        let place = places.pages.get(page)?;
        (place.used && place.by == PlacedBy::Lines).then_some(place.at)
    }

    /// The pages that share a strip with this one.
    fn beside(&self, page: usize, places: &PagePlaces) -> Vec<(usize, Point)> {
        let rect = |page: usize, at: Point| {
            let size = self.sizes.get(page)?;
            Some(Rect::from_origin_size(at, *size).inflate(REACH, REACH))
        };
        let Some(own) = Self::lies(page, places).and_then(|at| rect(page, at)) else {
            return Vec::new();
        };
        (0..places.pages.len())
            .filter(|other| *other != page)
            .filter_map(|other| Some((other, Self::lies(other, places)?)))
            .filter(|(other, at)| {
                rect(*other, *at).is_some_and(|r| !r.intersect(own).is_zero_area())
            })
            .collect()
    }

    /// Where a page's ends meet its neighbours' lines better than where it is.
    fn better(&self, page: usize, places: &PagePlaces, others: &[(usize, Point)]) -> Option<Point> {
        let at = Self::lies(page, places)?;
        let pulls = |at: Point| -> Vec<Pull> {
            let all = others.iter();
            all.flat_map(|other| nearby::pulls(&self.pages, (page, at), *other, REACH))
                .collect()
        };
        let off = |pulls: &[Pull]| {
            let sum: f64 = pulls.iter().map(|(_, pull)| pull * pull).sum();
            (sum / pulls.len().max(1) as f64).sqrt()
        };
        let here = pulls(at);
        let before = off(&here);
        if here.len() < 2 || before <= FINE {
            return None;
        }
        let (step, _) = nearby::solved(&here);
        let there = at + step;
        let after = pulls(there);
        let is_better = after.len() >= here.len() && off(&after) < 0.98 * before;
        (step.hypot() <= REACH && is_better).then_some(there)
    }
}
