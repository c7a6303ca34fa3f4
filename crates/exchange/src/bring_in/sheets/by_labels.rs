//! Where the pages lie by what they say of their own place, where lines alone do not tell.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{Point, Vec2};

use super::features::{Matches, Vote};
use super::numbered::{Numbered, numbered};
use super::places::{PagePlace, PagePlaces, PlacedBy};
use super::rows;
use crate::bring_in::{BringInError, FoundDrawing, FoundSheet, Pace};

/// How sure a place is that only a label tells.
const TOLD: f64 = 0.6;

/// How far a page may lie from its place in the grid, mm.
const OFF: f64 = 15.0;

/// Row and column of every page, counted to the right and downwards.
type Cells = Vec<Option<(i64, i64)>>;

impl Matches {
    /// A proposal for where every page lies, each with its doubt: by lines, by the labels of the pages, by their order.
    /// Pages that join nothing lie aside.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is stopped from outside.
    pub fn proposed(
        &self,
        drawing: &FoundDrawing,
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        match numbered(drawing) {
            None => self.by_lines(drawing, pace),
            Some(Numbered::Order(order)) => self.in_told_order(drawing, &order, pace),
            Some(Numbered::Grid { cells, is_sure }) => {
                let plain = self.by_lines(drawing, &pace.part(0.0, 0.5))?;
                let cells = self.turned_right(&cells, is_sure);
                if is_as_told(&plain, &cells, self) {
                    return Ok(plain);
                }
                self.in_grid(drawing, &cells, &pace.part(0.5, 1.0))
            }
        }
    }

    /// The same as if the pages stood in the order of their numbers; pages without one come last.
    fn in_told_order(
        &self,
        drawing: &FoundDrawing,
        order: &[Option<usize>],
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        let mut sorted: Vec<usize> = (0..drawing.sheets.len()).collect();
        let number = |page: &usize| order.get(*page).copied().flatten();
        sorted.sort_by_key(|page| (number(page).is_none(), number(page), *page));
        if sorted.is_sorted() {
            return self.by_lines(drawing, pace);
        }
        let only_bounds = |page: &usize| FoundSheet {
            bounds: drawing
                .sheets
                .get(*page)
                .map_or_else(Default::default, |s| s.bounds),
            ..FoundSheet::default()
        };
        let there = FoundDrawing {
            file: drawing.file.clone(),
            kind: drawing.kind,
            scale: drawing.scale.clone(),
            sheets: sorted.iter().map(only_bounds).collect(),
            left: Vec::new(),
        };
        let found = self.in_order_of(&sorted).by_lines(&there, pace)?;
        let mut places = PagePlaces {
            pages: vec![PagePlace::aside(); sorted.len()],
            trim: found.trim,
        };
        for (page, place) in sorted.iter().zip(found.pages) {
            if let Some(own) = places.pages.get_mut(*page) {
                *own = place;
            }
        }
        Ok(places)
    }

    /// The same of pages in another order.
    fn in_order_of(&self, sorted: &[usize]) -> Self {
        let mut new_of = vec![0; sorted.len()];
        for (new, old) in sorted.iter().enumerate() {
            if let Some(place) = new_of.get_mut(*old) {
                *place = new;
            }
        }
        let new = |old: usize| new_of.get(old).copied().unwrap_or(0);
        let mut votes: BTreeMap<(usize, usize), Vec<Vote>> = BTreeMap::new();
        for ((first, second), of) in &self.votes {
            let (a, b) = (new(*first), new(*second));
            let turn = if a < b { 1.0 } else { -1.0 };
            let turned = of.iter().map(|vote| Vote {
                step: vote.step * turn,
                ..*vote
            });
            votes
                .entry((a.min(b), a.max(b)))
                .or_default()
                .extend(turned);
        }
        Self {
            sizes: sorted
                .iter()
                .filter_map(|p| self.sizes.get(*p))
                .copied()
                .collect(),
            pages: sorted
                .iter()
                .filter_map(|p| self.pages.get(*p))
                .cloned()
                .collect(),
            votes,
        }
    }

    /// Which of the two figures counts rows, and whether these are counted upwards: as most lines have it; the first one
    /// is the row, and rows are counted downwards, when lines do not tell (common practice, no source).
    fn turned_right(&self, cells: &[Option<(usize, usize)>], is_sure: bool) -> Cells {
        let made = |swapped: bool, upwards: bool| -> Cells {
            let turned = |(a, b): (usize, usize)| {
                let (row, column) = if swapped { (b, a) } else { (a, b) };
                let row = row as i64;
                (if upwards { -row } else { row }, column as i64)
            };
            cells.iter().map(|cell| cell.map(turned)).collect()
        };
        let mut ways = vec![made(false, false), made(false, true)];
        if !is_sure {
            ways.extend([made(true, false), made(true, true)]);
        }
        let mut best: Option<(f64, Cells)> = None;
        for way in ways {
            let speaks = self.speaks_for(&way);
            if best
                .as_ref()
                .is_none_or(|(before, _)| *before + 1e-9 < speaks)
            {
                best = Some((speaks, way));
            }
        }
        best.map(|b| b.1).unwrap_or_default()
    }

    /// How much the lines speak for pages lying so: votes for neighbours, and ends that go on.
    fn speaks_for(&self, cells: &Cells) -> f64 {
        let votes: f64 = self
            .votes
            .iter()
            .filter_map(|((first, second), votes)| {
                let (a, b) = (cells.get(*first)?.as_ref()?, cells.get(*second)?.as_ref()?);
                let fit = Self::best(votes, None)?;
                let size = self.sizes.get(*first)?;
                let across = (fit.step.x / size.width.max(1.0)).round() as i64;
                let down = (-fit.step.y / size.height.max(1.0)).round() as i64;
                let is_so = (b.0 - a.0, b.1 - a.1) == (down, across);
                Some(if is_so { fit.weight } else { -fit.weight })
            })
            .sum();
        let met = |across: bool| rows::overlap(self, &neighbours(cells, across), across).met;
        votes + 0.3 * (met(true) + met(false)) as f64
    }

    /// Pages in the places that their labels tell, moved to where their lines meet.
    fn in_grid(
        &self,
        drawing: &FoundDrawing,
        cells: &Cells,
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        let (across, down) = (self.step(cells, true), self.step(cells, false));
        let mut places = PagePlaces {
            pages: vec![PagePlace::aside(); drawing.sheets.len()],
            trim: 0.0,
        };
        for (place, cell) in places.pages.iter_mut().zip(cells) {
            if let Some((row, column)) = cell {
                *place = PagePlace {
                    at: Point::ZERO + across * *column as f64 + down * *row as f64,
                    used: true,
                    by: PlacedBy::Order,
                    sure: TOLD,
                    off: None,
                };
            }
        }
        let given = places.clone();
        let mut found = self.refined_at(&places, pace)?;
        let taken = found.pages.iter_mut().zip(given.pages).zip(cells);
        for ((place, given), cell) in taken {
            if cell.is_none() {
                *place = given;
            } else if place.by != PlacedBy::Lines || place.off.is_none() {
                place.by = PlacedBy::Order;
                place.sure = TOLD;
            }
        }
        found.tidy(drawing);
        Ok(found)
    }

    /// From a page to its neighbour on the right, or below: as most lines have it.
    fn step(&self, cells: &Cells, across: bool) -> Vec2 {
        let pairs = neighbours(cells, across);
        let size = pairs
            .first()
            .and_then(|pair| self.sizes.get(pair.0))
            .or(self.sizes.first())
            .copied()
            .unwrap_or_default();
        let mut told: Vec<Vec2> = pairs
            .iter()
            .filter_map(|(first, second)| {
                let key = (*first.min(second), *first.max(second));
                let fit = Self::best(self.votes.get(&key)?, None)?;
                let step = if first < second { fit.step } else { -fit.step };
                let (along, long) = if across {
                    (step.x, size.width)
                } else {
                    (-step.y, size.height)
                };
                (0.5 * long < along && fit.weight > 0.5).then_some(step)
            })
            .collect();
        let key = |step: &Vec2| if across { step.x } else { step.y };
        told.sort_by(|a, b| key(a).total_cmp(&key(b)));
        told.get(told.len() / 2).copied().unwrap_or_else(|| {
            let overlap = rows::overlap(self, &pairs, across).overlap;
            if across {
                Vec2::new(size.width - overlap, 0.0)
            } else {
                Vec2::new(0.0, overlap - size.height)
            }
        })
    }
}

/// Pages that lie side by side, the left or upper one first.
fn neighbours(cells: &Cells, across: bool) -> Vec<(usize, usize)> {
    let by_cell: BTreeMap<(i64, i64), usize> = cells
        .iter()
        .enumerate()
        .filter_map(|(page, cell)| Some(((*cell)?, page)))
        .collect();
    by_cell
        .iter()
        .filter_map(|((row, column), page)| {
            let next = if across {
                (*row, column + 1)
            } else {
                (row + 1, *column)
            };
            Some((*page, *by_cell.get(&next)?))
        })
        .collect()
}

/// Do all pages lie by their lines as their labels say?
fn is_as_told(places: &PagePlaces, cells: &Cells, matches: &Matches) -> bool {
    let at = |page: usize| places.pages.get(page).map(|p| p.at);
    let by_lines = places
        .pages
        .iter()
        .zip(cells)
        .filter(|(_, cell)| cell.is_some())
        .all(|(place, _)| place.by == PlacedBy::Lines && place.off.is_some());
    let steps = |across: bool| {
        neighbours(cells, across)
            .into_iter()
            .all(|(first, second)| {
                let (Some(a), Some(b), Some(size)) =
                    (at(first), at(second), matches.sizes.get(first))
                else {
                    return false;
                };
                let step = b - a;
                if across {
                    step.y.abs() < OFF && 0.5 * size.width < step.x && step.x < size.width + OFF
                } else {
                    step.x.abs() < OFF && 0.5 * size.height < -step.y && -step.y < size.height + OFF
                }
            })
    };
    by_lines && steps(true) && steps(false)
}
