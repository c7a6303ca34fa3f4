//! How much cloth to buy: the least length of a cloth of given width that takes everything.
//!
//! It is the same search: all items lie on one room, whose length is made a little shorter whenever nothing overlaps.

use kurbo::{Point, Rect};

use super::chance::Chance;
use super::driver::Options;
use super::floor::Floor;
use super::problem::{Grain, Item, Plan, Problem, ProblemError, Room};
use super::record::{first_ways, order, plan_of};
use super::stock::{Pose, Stock};
use super::untangle::{Round, Untangle};
use super::{plane, start, stir};

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

/// What it works on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    /// Laying the first layout: this many of the order are done.
    Start(usize),
    /// Taking overlaps away at the length being tried.
    Untangle,
    /// An item fits on no length: its part is wider than the cloth.
    Impossible,
}

/// A search for the shortest length, as long as it is asked to go on.
#[derive(Debug)]
pub struct StripSearch {
    strip: StripProblem,
    stock: Stock,
    chance: Chance,
    floor: Floor,
    untangle: Untangle,
    order: Vec<usize>,
    stage: Stage,
    steps_done: u64,
    options: Options,
    /// Length that is tried, and how much shorter it is than the best, as a share.
    trying: f64,
    shorter: f64,
    /// The best so far.
    best: Option<StripPlan>,
    best_poses: Vec<Option<Pose>>,
    /// Layouts that were given up at the length being tried: what overlapped, and where everything lay.
    given_up: Vec<(f32, Vec<Option<Pose>>)>,
    tries: u32,
}

/// Shares by which the length is cut: at first, at most, at least.
const CUTS: (f64, f64, f64) = (0.01, 0.02, 0.0003);

/// Rounds without less overlap after which a layout is given up.
const PATIENCE: u32 = 40;

/// Layouts given up at one length before a longer one is tried.
const TRIES: u32 = 20;

impl StripSearch {
    /// Makes a problem ready.
    ///
    /// # Errors
    /// As [`super::Search::new`].
    pub fn new(strip: &StripProblem, options: Options) -> Result<Self, ProblemError> {
        let stock = Stock::new(&strip.cut_to(generous(strip)))?;
        let mut floor = Floor::new(&stock);
        let untangle = Untangle::new(&stock, &mut floor);
        let order = order(&stock, &first_ways(&stock));
        Ok(Self {
            strip: strip.clone(),
            chance: Chance::new(options.seed),
            trying: generous(strip),
            shorter: CUTS.0,
            best: None,
            best_poses: Vec::new(),
            given_up: Vec::new(),
            tries: 0,
            stage: Stage::Start(0),
            steps_done: 0,
            options,
            untangle,
            floor,
            order,
            stock,
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
        self.stage == Stage::Impossible
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> StripProgress {
        let length = self.best.as_ref().map_or(f64::INFINITY, |best| best.length);
        let area: f64 = self
            .order
            .iter()
            .map(|&body| self.stock.exact_area(body))
            .sum();
        StripProgress {
            steps_done: self.steps_done,
            length,
            trying: self.trying,
            density: area / (length * self.strip.width),
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
        match self.stage {
            Stage::Start(done) => self.start(done),
            Stage::Untangle => self.untangle(),
            Stage::Impossible => {}
        }
    }

    fn start(&mut self, done: usize) {
        let Some(&body) = self.order.get(done) else {
            self.keep();
            return self.cut();
        };
        match start::free_place(&self.stock, &mut self.floor, &mut self.chance, body) {
            Some(pose) => {
                self.floor.put(&self.stock, body, pose);
                self.stage = Stage::Start(done + 1);
            }
            None if self.trying > 64.0 * generous(&self.strip) => self.stage = Stage::Impossible,
            None => self.reach(self.trying * 2.0),
        }
    }

    fn untangle(&mut self) {
        match self
            .untangle
            .step(&self.stock, &mut self.floor, &mut self.chance)
        {
            Round::Going => {}
            Round::Clear => {
                if self.keep() {
                    self.shorter = (self.shorter * 1.3).min(CUTS.1);
                    self.cut();
                }
            }
            Round::Over => {
                if self.untangle.least().2 > PATIENCE {
                    self.give_up();
                }
            }
        }
    }

    /// Keeps what lies on the floor as the shortest, if f64 agrees.
    fn keep(&mut self) -> bool {
        let plan = plan_of(&self.stock, &self.floor);
        let mut length = 0.0_f64;
        for placed in &plan.placed {
            let outline = self.stock.problem.lying(placed).unwrap_or_default();
            length = length.max(plane::bounds(&outline).x1);
        }
        let length = length + self.strip.margin.max(self.stock.hair);
        self.stock.problem = self.strip.cut_to(length.max(self.trying));
        if !self.untangle.proved(&self.stock, &plan) {
            return false;
        }
        self.best = Some(StripPlan { length, plan });
        self.best_poses = self.floor.poses();
        true
    }

    /// Tries a shorter length from the best layout.
    fn cut(&mut self) {
        let best = self.best.as_ref().map_or(self.trying, |best| best.length);
        self.given_up.clear();
        self.tries = 0;
        self.floor.restore(&self.stock, &self.best_poses.clone());
        self.move_up(best * self.shorter);
        self.reach(best * (1.0 - self.shorter));
        self.begin();
    }

    /// Takes a slice out of the cloth at a place of chance: what lies beyond moves up by its width, so that it is not always the end
    /// of the cloth that gets tight.
    fn move_up(&mut self, by: f64) {
        let Some(bounds) = self.stock.bays.first().map(|bay| bay.bounds) else {
            return;
        };
        let from = self.chance.between(bounds.x_min, bounds.x_max);
        let beyond: Vec<_> = self
            .floor
            .bodies()
            .filter(|(_, pose)| pose.x > from)
            .collect();
        for (body, pose) in beyond {
            let x = pose.x - by as f32;
            self.floor.put(&self.stock, body, Pose { x, ..pose });
        }
    }

    fn begin(&mut self) {
        self.untangle.forget();
        self.untangle.count(&self.stock, &mut self.floor);
        self.stage = Stage::Untangle;
    }

    /// Makes the cloth so long; what lies beyond is pushed in.
    fn reach(&mut self, length: f64) {
        self.trying = length;
        let margin = self.strip.margin;
        if let Some(bay) = self.stock.bays.first_mut() {
            bay.become_box(Rect::new(
                margin,
                margin,
                length - margin,
                self.strip.width - margin,
            ));
        }
        self.floor.rebuild(&self.stock, 0);
        let poses: Vec<_> = self.floor.bodies().collect();
        for (body, pose) in poses {
            let Some([x0, x1, y0, y1]) = self.stock.room_to_move(&pose) else {
                continue;
            };
            let pushed = Pose {
                x: pose.x.clamp(x0, x1),
                y: pose.y.clamp(y0, y1),
                ..pose
            };
            if pushed != pose {
                self.floor.put(&self.stock, body, pushed);
            }
        }
    }

    /// Nothing becomes better: starts again from one of the layouts given up, with two bodies swapped; after some tries from the
    /// best, less much shorter.
    fn give_up(&mut self) {
        let (least, poses, _) = self.untangle.least();
        self.given_up.push((least, poses.to_vec()));
        self.given_up.sort_by(|a, b| a.0.total_cmp(&b.0));
        self.tries += 1;
        if self.tries >= TRIES {
            self.shorter = (self.shorter * 0.5).max(CUTS.2);
            return self.cut();
        }
        // Better ones more often.
        let lot = (self.chance.bell() * 0.4).abs().min(0.999);
        let index = (lot * self.given_up.len() as f32) as usize;
        if let Some((_, poses)) = self.given_up.get(index) {
            self.floor.restore(&self.stock, &poses.clone());
        }
        stir::swap_two(&self.stock, &mut self.floor, &mut self.chance);
        self.begin();
    }
}

/// A length that surely takes everything even when laid badly.
fn generous(strip: &StripProblem) -> f64 {
    let mut area = 0.0;
    let mut longest = 0.0_f64;
    for part in strip
        .items
        .iter()
        .filter_map(|item| item.ways.first())
        .flat_map(|way| &way.parts)
    {
        let bounds = plane::bounds(&part.outline);
        let diameter = plane::long(bounds.size().to_vec2());
        area += (bounds.width() + strip.gap) * (bounds.height() + strip.gap);
        longest = longest.max(diameter);
    }
    (2.0 * area / strip.width.max(1e-9) + 2.0 * (longest + strip.margin)).min(5e5)
}
