//! How much cloth to buy: the least length of a cloth of given width that takes everything.
//!
//! It is the same search: all items lie on one room, whose length is made a little shorter whenever nothing overlaps.
//!
//! How short a layout becomes hangs more on how it began than on the time spent on it. So several begin; after each heat the longer
//! half of them is dropped and the others get twice the steps, until one is left.

mod attempt;

use kurbo::Point;

use super::driver::Options;
use super::problem::{Grain, Item, Plan, Problem, ProblemError, Room};
use attempt::Attempt;

/// A cloth of given width, as long as need be.
#[derive(Clone, Debug, Default)]
pub struct StripProblem {
    /// What has to lie on it. [`super::Part::rooms`] is not looked at.
    pub items: Vec<Item>,
    /// Width of the cloth (y), mm, selvedges included. Its length runs along x.
    pub width: f64,
    /// Least distance between two parts, mm.
    pub gap: f64,
    /// How far parts stay away from the edges, mm.
    pub margin: f64,
    /// Which way its grain runs: along the selvedge is 90 degrees from the y axis.
    pub grain: Grain,
}

/// The shortest length found so far.
#[derive(Clone, Debug, PartialEq)]
pub struct StripPlan {
    /// Length of cloth, mm, margins included.
    pub length: f64,
    /// Where everything lies: one room, its low corner at 0.
    pub plan: Plan,
}

impl StripProblem {
    /// The same cloth cut to a length.
    #[must_use]
    pub fn cut_to(&self, length: f64) -> Problem {
        let corner = |x: f64, y: f64| Point::new(x, y);
        let outline = vec![
            corner(0.0, 0.0),
            corner(length, 0.0),
            corner(length, self.width),
            corner(0.0, self.width),
        ];
        let mut items = self.items.clone();
        for part in items
            .iter_mut()
            .flat_map(|item| &mut item.ways)
            .flat_map(|way| &mut way.parts)
        {
            part.rooms = None;
        }
        let room = Room {
            outline,
            margin: self.margin,
            grain: self.grain,
            already_open: true,
            ..Room::default()
        };
        Problem {
            rooms: vec![room],
            items,
            gap: self.gap,
            fixed: Vec::new(),
        }
    }
}

/// How far a search for the shortest length is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripProgress {
    /// Steps made since the start.
    pub steps_done: u64,
    /// Shortest length so far, mm; infinite while there is none.
    pub length: f64,
    /// Length being tried, mm.
    pub trying: f64,
    /// Share of the shortest length that is covered by parts, 0 to 1.
    pub density: f64,
}

/// A search for the shortest length, as long as it is asked to go on.
#[derive(Debug)]
pub struct StripSearch {
    strip: StripProblem,
    /// Layouts in the race, the shortest of the last heat first.
    attempts: Vec<Attempt>,
    /// Those of the first heat that have not begun.
    to_begin: u64,
    /// Whose turn it is, the steps it still has in this heat, and what each has in it.
    turn: usize,
    left: u64,
    heat: u64,
    best: Option<StripPlan>,
    steps_done: u64,
    options: Options,
}

/// Layouts that begin, and the steps each has in the first heat.
const BEGIN: u64 = 8;
const HEAT: u64 = 3000;

impl StripSearch {
    /// Makes a problem ready.
    ///
    /// # Errors
    /// As [`super::Search::new`].
    pub fn new(strip: &StripProblem, options: Options) -> Result<Self, ProblemError> {
        Ok(Self {
            attempts: vec![Attempt::new(strip, options.seed)?],
            strip: strip.clone(),
            to_begin: BEGIN - 1,
            turn: 0,
            left: HEAT,
            heat: HEAT,
            best: None,
            steps_done: 0,
            options,
        })
    }

    /// The shortest so far; `None` before the first layout is done, or when a part is wider than the cloth.
    #[must_use]
    pub fn best(&self) -> Option<&StripPlan> {
        self.best.as_ref()
    }

    /// Whether it was found that a part fits on no length of this cloth.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        self.attempts.iter().any(Attempt::is_impossible)
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> StripProgress {
        let length = self.best.as_ref().map_or(f64::INFINITY, |best| best.length);
        let current = self.attempts.get(self.turn);
        StripProgress {
            steps_done: self.steps_done,
            length,
            trying: current.map_or(f64::INFINITY, Attempt::trying),
            density: current.map_or(0.0, Attempt::area) / (length * self.strip.width),
        }
    }

    /// Makes steps until [`Options::steps`] are done.
    pub fn run(&mut self) -> StripProgress {
        self.run_for(self.options.steps.saturating_sub(self.steps_done))
    }

    /// Makes some more steps.
    pub fn run_for(&mut self, steps: u64) -> StripProgress {
        for _ in 0..steps {
            self.step_quietly();
        }
        self.progress()
    }

    /// Makes one more step.
    pub fn step(&mut self) -> StripProgress {
        self.run_for(1)
    }

    fn step_quietly(&mut self) {
        self.steps_done += 1;
        let Some(attempt) = self.attempts.get_mut(self.turn) else {
            return;
        };
        attempt.step();
        let best = self.best.as_ref().map_or(f64::INFINITY, |best| best.length);
        if attempt.length() < best {
            self.best = attempt.best().cloned();
        }
        if attempt.is_impossible() {
            self.to_begin = 0;
        }
        if self.attempts.len() > 1 || self.to_begin > 0 {
            self.left -= 1;
            if self.left == 0 {
                self.next_turn();
            }
        }
    }

    /// The next in this heat; after the last one the longer half is dropped, and a longer heat begins.
    fn next_turn(&mut self) {
        self.left = self.heat;
        self.turn += 1;
        if self.to_begin > 0 {
            // Seeds of one search lie far from those of the next.
            let seed = self.options.seed.wrapping_add(self.to_begin << 32);
            self.to_begin -= 1;
            self.attempts.extend(Attempt::new(&self.strip, seed));
        }
        if self.turn >= self.attempts.len() {
            let shorter = |a: &Attempt, b: &Attempt| a.length().total_cmp(&b.length());
            self.attempts.sort_by(shorter);
            self.attempts.truncate(self.attempts.len().div_ceil(2));
            self.heat *= 2;
            self.left = self.heat;
            self.turn = 0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::search::{Part, Way};

    fn rectangles() -> StripProblem {
        let item = |number: u32| {
            let (width, height) = (20.0 + f64::from(number), 35.0 - 2.0 * f64::from(number));
            let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
            let part = Part {
                outline: corners.map(Point::from).to_vec(),
                turns: vec![0.0, 90.0],
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
        StripProblem {
            items: (0..7).map(item).collect(),
            width: 80.0,
            ..StripProblem::default()
        }
    }

    #[test]
    fn after_every_heat_the_longer_half_is_dropped() {
        let mut search = StripSearch::new(&rectangles(), Options::default()).unwrap();
        (search.heat, search.left) = (60, 60);
        let mut lengths = Vec::new();
        for (heat, still) in [(60, 8), (120, 4), (240, 2)] {
            // Nobody is dropped before the heat ends.
            search.run_for(heat * still - 1);
            assert_eq!(search.attempts.len() as u64, still);
            let mut all: Vec<f64> = search.attempts.iter().map(Attempt::length).collect();
            all.sort_by(f64::total_cmp);
            search.run_for(1);
            assert_eq!(search.attempts.len() as u64, still / 2);
            let kept = search.attempts.iter().map(Attempt::length);
            assert!(kept.zip(&all).all(|(kept, shortest)| kept <= *shortest));
            lengths.push(search.progress().length);
        }
        // The one that is left goes on, however long it is asked to, and nothing that was found is lost.
        search.run_for(500);
        lengths.push(search.progress().length);
        assert_eq!((search.attempts.len(), search.turn), (1, 0));
        assert!(
            lengths.windows(2).all(|pair| pair[1] <= pair[0]),
            "{lengths:?}"
        );
        assert!(lengths.iter().all(|length| length.is_finite()));
    }

    #[test]
    fn layouts_of_one_search_begin_differently() {
        let mut search = StripSearch::new(&rectangles(), Options::default()).unwrap();
        (search.heat, search.left) = (30, 30);
        search.run_for(8 * 30 - 1);
        let plans = search.attempts.iter().filter_map(Attempt::best);
        let mut placed: Vec<_> = plans.map(|plan| &plan.plan.placed).collect();
        assert_eq!(placed.len(), 8);
        placed.dedup();
        assert_eq!(placed.len(), 8);
    }
}
