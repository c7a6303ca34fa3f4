//! What pages share: lines, words and corners that two of them show, and where that puts one beside the other.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{ParamCurve, PathSeg, Point, Rect, Size, Vec2};

use super::nearby::{self, Page};
use super::places::{PagePlaces, PlacedBy};
use crate::bring_in::{BringInError, FoundDrawing, Pace};

/// How alike two features must be, mm.
const ALIKE: f64 = 0.1;

/// So many times more alike corners must be.
const FINER: f64 = 3.0;

/// Features that more pages and places share than this say nothing (ticks of a ruler, a background of squares).
const MOST_ALIKE: usize = 40;

/// Votes this near to one another are one, mm.
const TOGETHER: f64 = 0.25;

/// What the pages of a drawing share. Made once, asked often.
pub struct Matches {
    pub(super) sizes: Vec<Size>,
    pub(super) pages: Vec<Page>,
    /// For two pages, the first before the second: where the second lies from the first, with the weight of each vote.
    pub(super) votes: BTreeMap<(usize, usize), Vec<Vote>>,
}

/// One reason for a page to lie somewhere.
#[derive(Debug, Clone, Copy)]
pub(super) struct Vote {
    /// From the corner of the first page to that of the second, mm.
    pub step: Vec2,
    /// Its weight: 1 for a line that only these two pages show.
    pub weight: f64,
}

/// Where votes agree.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    pub step: Vec2,
    pub weight: f64,
    /// How far the votes lie from their middle, mm.
    pub off: f64,
}

impl Fit {
    /// How sure that is, 0 to 1.
    pub fn sure(&self) -> f64 {
        1.0 - libm::exp(-1.5 * self.weight)
    }
}

/// Something that can be told apart from others: its kind, its size in cells of [`ALIKE`], what it weighs.
struct Feature {
    key: [i64; 6],
    page: usize,
    /// From the corner of its page.
    at: Vec2,
    weight: f64,
}

fn rounded(value: f64) -> i64 {
    // Moved aside so that round figures do not lie on the edge between two cells.
    ((value + 0.0317 * ALIKE / 0.1) / ALIKE).floor() as i64
}

impl Matches {
    /// Looks at every page of a drawing.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is stopped from outside.
    pub fn of(drawing: &FoundDrawing, pace: &Pace<'_>) -> Result<Self, BringInError> {
        let count = drawing.sheets.len();
        let mut features = Vec::new();
        let mut words: BTreeMap<&str, i64> = BTreeMap::new();
        for (page, sheet) in drawing.sheets.iter().enumerate() {
            pace.part(0.0, 0.4).step(page, count)?;
            let corner = sheet.bounds.origin();
            for line in &sheet.lines {
                lines_features(&line.path, line.closed, page, corner, &mut features);
            }
            for text in &sheet.texts {
                let next = words.len() as i64;
                let which = *words.entry(text.words.as_str()).or_insert(next);
                features.push(Feature {
                    key: [2, which, rounded(text.size), text.turn.round() as i64, 0, 0],
                    page,
                    at: text.at - corner,
                    weight: 0.5,
                });
            }
        }
        let mut pages = Vec::with_capacity(count);
        for (page, sheet) in drawing.sheets.iter().enumerate() {
            pace.part(0.4, 0.7).step(page, count)?;
            pages.push(Page::of(sheet));
        }
        let mut matches = Self {
            sizes: drawing
                .sheets
                .iter()
                .map(|sheet| sheet.bounds.size())
                .collect(),
            pages,
            votes: BTreeMap::new(),
        };
        matches.count(features, &pace.part(0.7, 1.0))?;
        matches.leave_out_furniture();
        pace.at(1.0)?;
        Ok(matches)
    }

    /// Ends in the same place on several pages (rulers, frames, logos) are no cut lines.
    fn leave_out_furniture(&mut self) {
        let key = |end: &nearby::End| {
            let figure = |value: f64| (value * 5.0).round() as i64;
            (
                figure(end.at.x),
                figure(end.at.y),
                figure(end.out.x),
                figure(end.out.y),
            )
        };
        let mut seen: BTreeMap<(i64, i64, i64, i64), (usize, usize)> = BTreeMap::new();
        for (number, page) in self.pages.iter().enumerate() {
            for end in page.ends.iter().filter(|end| end.is_at_edge) {
                let (pages, last) = seen.entry(key(end)).or_insert((0, usize::MAX));
                if *last != number {
                    (*pages, *last) = (*pages + 1, number);
                }
            }
        }
        let least = 2.max(self.pages.len() / 6);
        for end in self.pages.iter_mut().flat_map(|page| &mut page.ends) {
            let often = seen
                .get(&key(end))
                .is_some_and(|(pages, _)| *pages >= least);
            end.is_at_edge &= !often;
        }
    }

    /// Features of the same key on two pages vote for how these lie.
    fn count(&mut self, mut features: Vec<Feature>, pace: &Pace<'_>) -> Result<(), BringInError> {
        features.sort_by_key(|feature| (feature.key, feature.page));
        let (mut seen, mut told) = (0, 0);
        for alike in features.chunk_by(|a, b| a.key == b.key) {
            seen += alike.len();
            if seen >= told + 1000 {
                told = seen;
                pace.step(seen, features.len())?;
            }
            if alike.len() > MOST_ALIKE {
                continue;
            }
            let on = |page: usize| alike.iter().filter(|f| f.page == page).count() as f64;
            for (i, first) in alike.iter().enumerate() {
                for second in alike.iter().skip(i + 1).filter(|f| f.page != first.page) {
                    let step = first.at - second.at;
                    if self.may_be(first.page, second.page, step) {
                        let (one, two) = (on(first.page), on(second.page));
                        // A code may stand several times at a join, each time the same on both pages.
                        let is_text = matches!(first.key, [2, ..]);
                        let shared = if is_text { one.max(two) } else { one * two };
                        let weight = first.weight / shared;
                        let votes = self.votes.entry((first.page, second.page)).or_default();
                        votes.push(Vote { step, weight });
                    }
                }
            }
        }
        Ok(())
    }

    /// Could the second page lie there as a neighbour of the first: beside, above or below, not on it?
    fn may_be(&self, first: usize, second: usize, step: Vec2) -> bool {
        let (Some(a), Some(b)) = (self.sizes.get(first), self.sizes.get(second)) else {
            return false;
        };
        let (w, h) = (a.width.max(b.width), a.height.max(b.height));
        let (x, y) = (step.x.abs(), step.y.abs());
        let beside = 0.5 * w < x && x < 1.02 * w && y < 0.15 * h;
        let above = 0.5 * h < y && y < 1.02 * h && x < 0.15 * w;
        beside || above
    }

    /// Where most votes for two pages agree, within a reach of a step when one is given.
    pub(super) fn best(votes: &[Vote], near: Option<(Vec2, f64)>) -> Option<Fit> {
        let side = 2.0 * TOGETHER;
        let cell = |step: Vec2| {
            (
                (step.x / side).floor() as i64,
                (step.y / side).floor() as i64,
            )
        };
        let allowed =
            |vote: &&Vote| near.is_none_or(|(at, reach)| (vote.step - at).hypot() < reach);
        let mut sums: BTreeMap<(i64, i64), f64> = BTreeMap::new();
        for vote in votes.iter().filter(allowed) {
            *sums.entry(cell(vote.step)).or_default() += vote.weight;
        }
        let around = |(x, y): (i64, i64)| -> f64 {
            (x - 1..=x + 1)
                .flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)))
                .filter_map(|cell| sums.get(&cell))
                .sum()
        };
        let (x, y) = *sums.keys().max_by(|a, b| {
            (sums.get(a), around(**a))
                .partial_cmp(&(sums.get(b), around(**b)))
                .unwrap_or(std::cmp::Ordering::Equal)
        })?;
        let near_best: Vec<&Vote> = votes
            .iter()
            .filter(allowed)
            .filter(|vote| {
                let (i, j) = cell(vote.step);
                (i - x).abs() <= 1 && (j - y).abs() <= 1
            })
            .collect();
        let mean = |votes: &[&Vote]| {
            let weight: f64 = votes.iter().map(|vote| vote.weight).sum();
            let sum = votes
                .iter()
                .fold(Vec2::ZERO, |sum, vote| sum + vote.step * vote.weight);
            (sum / weight.max(1e-9), weight)
        };
        // Closer and closer, as long as most of the weight is there: votes by chance pull the middle aside.
        let (mut step, mut weight) = mean(&near_best);
        let mut nearest = near_best;
        for radius in [TOGETHER, TOGETHER / 3.0, TOGETHER / 12.0] {
            let closer: Vec<&Vote> = nearest
                .iter()
                .filter(|vote| (vote.step - step).hypot() < radius)
                .copied()
                .collect();
            let (middle, there) = mean(&closer);
            if there < 0.4 * weight {
                break;
            }
            (step, weight, nearest) = (middle, there, closer);
        }
        let off = nearest
            .iter()
            .map(|vote| (vote.step - step).hypot())
            .fold(0.0, f64::max);
        (!nearest.is_empty()).then_some(Fit { step, weight, off })
    }

    /// The corner of a page where it meets those already placed best, within a reach of where it is.
    pub(super) fn fit(
        &self,
        page: usize,
        at: Point,
        places: &PagePlaces,
        reach: f64,
    ) -> Option<Fit> {
        let mut votes = Vec::new();
        let mut others = Vec::new();
        let size = *self.sizes.get(page)?;
        for (other, place) in places.pages.iter().enumerate() {
            if other == page || !place.used || place.by == PlacedBy::Aside {
                continue;
            }
            let Some(other_size) = self.sizes.get(other) else {
                continue;
            };
            let mine = Rect::from_origin_size(at, size).inflate(reach, reach);
            if mine
                .intersect(Rect::from_origin_size(place.at, *other_size))
                .is_zero_area()
            {
                continue;
            }
            others.push((other, place.at));
            let (pair, turn) = if other < page {
                ((other, page), 1.0)
            } else {
                ((page, other), -1.0)
            };
            for vote in self.votes.get(&pair).into_iter().flatten() {
                votes.push(Vote {
                    step: place.at.to_vec2() + vote.step * turn,
                    weight: vote.weight,
                });
            }
        }
        let by_votes = Self::best(&votes, Some((at.to_vec2(), reach)));
        let by_lines = nearby::slid(&self.pages, page, at, &others, reach.min(8.0));
        // Of both the one at which more cut ends go on; what is shared tells more exactly when they are alike.
        let worth = |fit: Fit| -> i64 {
            let (met, not) = self.met(page, fit.step.to_point(), &others);
            met as i64 - not as i64
        };
        match (by_votes.filter(|fit| fit.weight > 0.5), by_lines) {
            (Some(votes), Some(lines)) if worth(votes) < worth(lines) => Some(lines),
            (Some(votes), _) => Some(votes),
            (None, Some(lines)) => Some(lines),
            (None, None) => by_votes,
        }
    }

    /// How many cut ends between a page and others go on, and how many do not.
    fn met(&self, page: usize, at: Point, others: &[(usize, Point)]) -> (usize, usize) {
        others.iter().fold((0, 0), |(met, not), (other, other_at)| {
            let (a, b) = self.meets(*other, page, at - *other_at);
            (met + a, not + b)
        })
    }

    /// The same for two pages, the second a step from the first.
    pub(super) fn meets(&self, first: usize, second: usize, step: Vec2) -> (usize, usize) {
        let (Some(a), Some(b), Some(size)) = (
            self.pages.get(first),
            self.pages.get(second),
            self.sizes.get(first),
        ) else {
            return (0, 0);
        };
        let across = step.x.abs() / size.width.max(1.0) > step.y.abs() / size.height.max(1.0);
        let towards = if across {
            Vec2::new(step.x.signum(), 0.0)
        } else {
            Vec2::new(0.0, step.y.signum())
        };
        nearby::meeting(a, b, step, towards, nearby::GOOD)
    }
}

/// The features of one line: the whole of it, and its corners.
fn lines_features(
    path: &petitoile_core::kurbo::BezPath,
    closed: bool,
    page: usize,
    corner: Point,
    features: &mut Vec<Feature>,
) {
    let bounds = path.control_box();
    let (Some(first), Some(last)) = (path.segments().next(), path.segments().last()) else {
        return;
    };
    let size = bounds.width().hypot(bounds.height());
    if size < 0.5 {
        return;
    }
    let span = last.end() - first.start();
    let count = path.elements().len() as i64 * 2 + i64::from(closed);
    features.push(Feature {
        key: [
            1,
            count,
            rounded(bounds.width()),
            rounded(bounds.height()),
            rounded(span.x),
            rounded(span.y),
        ],
        page,
        at: bounds.origin() - corner,
        weight: (size / 10.0).min(1.0),
    });
    let chord = |segment: &PathSeg| segment.end() - segment.start();
    let mut before: Option<Vec2> = None;
    for segment in path.segments() {
        let ahead = chord(&segment);
        if let Some(before) = before.filter(|v| v.hypot() > 0.5 && ahead.hypot() > 0.5) {
            features.push(Feature {
                // Finer than whole lines: round lines have many corners that are nearly the same.
                key: [
                    3,
                    0,
                    rounded(before.x * FINER),
                    rounded(before.y * FINER),
                    rounded(ahead.x * FINER),
                    rounded(ahead.y * FINER),
                ],
                page,
                at: segment.start() - corner,
                weight: 0.4,
            });
        }
        before = Some(ahead);
    }
}
