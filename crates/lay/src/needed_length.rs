//! How much of a cloth to buy: the least length of a given width that takes everything, with the plan.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan};
use petitoile_core::laying::{CopyToLay, ToLay};
use petitoile_core::piece::Face;
use petitoile_core::{Degrees, Mm};

use crate::bridge::Bridge;
use crate::check_plan::check_plan;
use crate::job::{LayError, Unusable, strip_ready};
use crate::search::StripSearch;

/// A cloth as it lies in the shop, and how long to look.
#[derive(Debug, Clone, PartialEq)]
pub struct Bolt {
    /// Which cloth; `None`: everything is cut from it.
    pub cloth: Option<String>,
    /// From selvedge to selvedge.
    pub width: Mm,
    /// Strip along every edge that is not used.
    ///
    /// Default: 10 mm (common practice, no source)
    pub margin: Mm,
    /// Must all pieces point the same way?
    pub nap: bool,
    /// Are both sides alike?
    pub sides_alike: bool,
    /// Where chance starts.
    pub seed: u64,
}

impl Bolt {
    /// A cloth of a width, everything else as usual: 10 mm at the edges, no nap, a right and a wrong side.
    pub fn of_width(width: Mm) -> Self {
        Self {
            cloth: None,
            width,
            margin: Mm(10.0),
            nap: false,
            sides_alike: false,
            seed: 1,
        }
    }

    /// A length of it as an offcut; its length runs along x, the selvedges, and so the grain, with it.
    pub fn cut_to(&self, length: Mm) -> Offcut {
        let corner = |x: f64, y: f64| Point::new(x, y);
        Offcut {
            name: self.name(),
            cloth: self.cloth.clone().unwrap_or_default(),
            outline: vec![
                corner(0.0, 0.0),
                corner(length.0, 0.0),
                corner(length.0, self.width.0),
                corner(0.0, self.width.0),
            ],
            blemishes: Vec::new(),
            // Up is to the left, so that a page that is turned reads right.
            grain: Degrees(90.0),
            grain_doubt: Degrees(0.0),
            face: Face::Right,
            sides_alike: self.sides_alike,
            nap: self.nap,
            margin: self.margin,
            thickness: None,
        }
    }

    fn name(&self) -> String {
        match &self.cloth {
            Some(cloth) => format!("{cloth} to buy"),
            None => "cloth to buy".to_owned(),
        }
    }

    fn takes(&self, copy: &CopyToLay) -> bool {
        copy.cloth.is_none() || self.cloth.is_none() || copy.cloth == self.cloth
    }
}

/// How far the search for a length is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthProgress {
    /// Steps made since the start.
    pub steps: u64,
    /// Shortest length so far that passes the check; `None` while there is none.
    pub length: Option<Mm>,
    /// Length being tried.
    pub trying: Mm,
}

/// A length that is enough.
#[derive(Debug, Clone, PartialEq)]
pub struct NeededLength {
    /// Length to buy, margins included.
    pub length: Mm,
    /// That length of cloth.
    pub offcut: Arc<Offcut>,
    /// Where everything lies on it. It passes the check.
    pub plan: LayPlan,
}

/// A search for the least length.
#[derive(Debug)]
pub struct LengthJob {
    bolt: Bolt,
    to_lay: ToLay,
    bridge: Bridge,
    search: StripSearch,
    unusable: Vec<Unusable>,
    best: Option<NeededLength>,
    /// The last length that was looked at.
    known: f64,
}

impl LengthJob {
    /// Makes a job ready: every copy of this cloth is laid, cut whole.
    ///
    /// # Errors
    /// [`LayError`] when nothing is to be cut from this cloth, or width or margin cannot be used.
    pub fn new(to_lay: &ToLay, bolt: &Bolt) -> Result<Self, LayError> {
        let mut wanted = to_lay.clone();
        wanted.copies.retain(|copy| bolt.takes(copy));
        for copy in &mut wanted.copies {
            // What is bought takes every piece whole, of whatever name the cloth has.
            copy.pieced.clear();
            copy.cloth = None;
        }
        if wanted.copies.is_empty() {
            return Err(LayError::NothingToLay);
        }
        let room = bolt.width.0 - 2.0 * bolt.margin.0;
        if !(room.is_finite() && room > 0.0) {
            return Err(LayError::Number("the width of the cloth".to_owned()));
        }
        let offcut = Arc::new(bolt.cut_to(bolt.width));
        let mut bridge = Bridge::new(&wanted, &[offcut], &LayPlan::default());
        let (search, unusable) = strip_ready(&mut bridge, bolt)?;
        Ok(Self {
            bolt: bolt.clone(),
            to_lay: wanted,
            bridge,
            search,
            unusable,
            best: None,
            known: f64::INFINITY,
        })
    }

    /// Makes steps.
    pub fn step(&mut self, steps: u64) -> LengthProgress {
        self.search.run_for(steps);
        let found = self.search.best().map_or(f64::INFINITY, |best| best.length);
        if found < self.known {
            self.known = found;
            self.keep();
        }
        if let Some(best) = &mut self.best {
            best.plan.steps = self.search.progress().steps_done;
        }
        self.progress()
    }

    /// How far it is.
    pub fn progress(&self) -> LengthProgress {
        let now = self.search.progress();
        LengthProgress {
            steps: now.steps_done,
            length: self.best.as_ref().map(|best| best.length),
            trying: Mm(now.trying),
        }
    }

    /// The shortest length so far. `None` before there is one, or when a piece is wider than the cloth: see
    /// [`Self::too_wide`].
    pub fn best(&self) -> Option<&NeededLength> {
        self.best.as_ref()
    }

    /// Copies that cannot be laid because of their outlines; the length does not count them.
    pub fn unusable(&self) -> &[Unusable] {
        &self.unusable
    }

    /// Copies that no length takes: across the cloth they are larger than its width, by this much at least.
    pub fn too_wide(&self) -> Vec<(CopyRef, Mm)> {
        let usable = self.bolt.width.0 - 2.0 * self.bolt.margin.0;
        self.to_lay
            .copies
            .iter()
            .filter_map(|copy| {
                let tolerance = copy.grain_tolerance.0.abs();
                let over = least_across(copy, tolerance) - usable;
                (over > 0.0).then(|| (copy.of.clone(), Mm(over)))
            })
            .collect()
    }

    /// The wanted copies, as they are counted.
    pub fn to_lay(&self) -> &ToLay {
        &self.to_lay
    }

    fn keep(&mut self) {
        let Some(found) = self.search.best() else {
            return;
        };
        let offcut = Arc::new(self.bolt.cut_to(Mm(found.length)));
        let plan = LayPlan {
            seed: self.bolt.seed,
            steps: self.search.progress().steps_done,
            placed: found
                .plan
                .placed
                .iter()
                .filter_map(|placed| self.bridge.told(placed))
                .collect(),
            ..LayPlan::default()
        };
        let all = plan.placed.len() + self.unusable.len() >= self.to_lay.copies.len();
        let offcuts = [Arc::clone(&offcut)];
        if all && check_plan(&self.to_lay, &offcuts, &plan).is_empty() {
            self.best = Some(NeededLength {
                length: Mm(found.length),
                offcut,
                plan,
            });
        }
    }
}

/// Width of a copy across its grain, in the turn within its tolerance where it is least: at the ends of the range, or where an
/// edge of its hull lies along the grain. Looked for in 64 turns, so up to a few hundredths too large; the search decides.
pub(crate) fn least_across(copy: &CopyToLay, tolerance: f64) -> f64 {
    const TURNS: u32 = 64;
    (0..=TURNS)
        .map(|i| {
            let off = (2.0 * f64::from(i) / f64::from(TURNS) - 1.0) * tolerance;
            let (sin, cos) = libm::sincos((copy.whole.grain.0 + off).to_radians());
            let across = copy.whole.outline.iter().map(|p| p.x * cos + p.y * sin);
            let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
            high - low
        })
        .fold(f64::INFINITY, f64::min)
}
