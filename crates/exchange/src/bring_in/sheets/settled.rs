//! Pages moved one by one to where their lines meet those of the pages that lie already.

use petitoile_core::kurbo::Point;

use super::features::{Fit, Matches};
use super::places::{PagePlace, PagePlaces, PlacedBy};
use crate::bring_in::{BringInError, Pace};

/// How far from where it is a page is moved to meet its neighbours, mm.
const REACH: f64 = 12.0;

impl Matches {
    /// The places with every page moved to where its lines meet those of the pages before it, where they tell.
    ///
    /// Where a page is off, the next ones most likely are too (a wrong overlap): each is looked for beside its moved
    /// neighbours.
    #[must_use]
    pub fn refined(&self, places: &PagePlaces) -> PagePlaces {
        // Nobody watches, so nobody stops it.
        self.refined_at(places, &Pace::default())
            .unwrap_or_else(|_| places.clone())
    }

    /// The same, watched.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is stopped from outside.
    pub fn refined_at(
        &self,
        places: &PagePlaces,
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        let whole = super::regular::regular(self, places);
        self.settled(whole.as_ref().unwrap_or(places), pace)
    }

    /// Every page moved by itself to where its lines meet those of its neighbours.
    fn settled(&self, places: &PagePlaces, pace: &Pace<'_>) -> Result<PagePlaces, BringInError> {
        let takes_part = |place: &PagePlace| place.used && place.by != PlacedBy::Aside;
        let mut done = PagePlaces {
            pages: vec![PagePlace::aside(); places.pages.len()],
            trim: places.trim,
        };
        let mut open: Vec<usize> = (0..places.pages.len())
            .filter(|page| places.pages.get(*page).is_some_and(takes_part))
            .collect();
        // First from the fullest page on, as far as lines lead; then the rest by their order.
        open.sort_by_key(|page| std::cmp::Reverse(self.told_of(*page)));
        let mut steps = Vec::new();
        let count = open.len();
        while let Some(position) = self.next(&open, &done, places, pace)? {
            let (page, fit) = position;
            pace.step(steps.len(), count)?;
            open.retain(|other| *other != page);
            let given = places.pages.get(page).map_or(Point::ZERO, |place| place.at);
            let fresh = match fit {
                Some(fit) => PagePlace {
                    at: fit.step.to_point(),
                    used: true,
                    by: PlacedBy::Lines,
                    sure: fit.sure(),
                    off: Some(fit.off),
                },
                None => PagePlace {
                    at: self.expected(page, &done, places).unwrap_or(given),
                    used: true,
                    by: if steps.is_empty() {
                        PlacedBy::Lines
                    } else {
                        PlacedBy::Given
                    },
                    sure: if steps.is_empty() { 1.0 } else { 0.3 },
                    off: None,
                },
            };
            steps.push(page);
            if let Some(place) = done.pages.get_mut(page) {
                *place = fresh;
            }
        }
        for (page, place) in done.pages.iter_mut().zip(&places.pages) {
            if !takes_part(place) {
                *page = place.clone();
            }
        }
        Ok(done)
    }

    /// How much there is to tell about a page's place.
    fn told_of(&self, page: usize) -> usize {
        let pairs = self
            .votes
            .iter()
            .filter(|((a, b), _)| *a == page || *b == page);
        let ends = self.pages.get(page).map_or(0, |page| page.ends.len());
        pairs.map(|(_, votes)| votes.len()).sum::<usize>() + ends
    }

    /// The page to place next: one that fits those placed, else the first that is left.
    fn next(
        &self,
        open: &[usize],
        done: &PagePlaces,
        places: &PagePlaces,
        pace: &Pace<'_>,
    ) -> Result<Option<(usize, Option<Fit>)>, BringInError> {
        let mut best: Option<(usize, Fit)> = None;
        for page in open {
            pace.step(places.pages.len() - open.len(), places.pages.len())?;
            let fit = self
                .expected(*page, done, places)
                .and_then(|at| self.fit(*page, at, done, REACH));
            if let Some(fit) = fit
                && best.is_none_or(|(_, before)| before.weight <= fit.weight)
            {
                best = Some((*page, fit));
            }
        }
        Ok(match best {
            Some((page, fit)) => Some((page, Some(fit))),
            None => open.first().map(|page| (*page, None)),
        })
    }

    /// Where a page should lie beside those of its neighbours that are placed.
    fn expected(&self, page: usize, done: &PagePlaces, places: &PagePlaces) -> Option<Point> {
        let given = places.pages.get(page)?.at;
        let nearest = done
            .pages
            .iter()
            .zip(&places.pages)
            .filter(|(done, _)| done.by != PlacedBy::Aside)
            .map(|(done, its)| (its.at.distance(given), done.at + (given - its.at)))
            .min_by(|a, b| a.0.total_cmp(&b.0))?;
        Some(nearest.1)
    }

    /// Where a page that the maker lets go near a place goes on best with the others; the place itself when nothing
    /// there meets.
    pub fn snapped(&self, page: usize, at: Point, places: &PagePlaces) -> Point {
        self.fit(page, at, places, REACH)
            .map_or(at, |fit| fit.step.to_point())
    }
}
