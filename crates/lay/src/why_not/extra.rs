//! The smallest extra rectangle of cloth that takes what does not lie.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::{CopyToLay, ToLay};
use petitoile_core::piece::Face;
use petitoile_core::{Degrees, Mm};

use super::{Answer, Question};
use crate::needed_length::{Bolt, LengthJob, least_across};

/// Widths tried, against the widest piece.
const WIDTHS: [f64; 5] = [1.0, 1.2, 1.5, 2.0, 3.0];

/// A trial for every width; the smallest area is kept.
pub(super) struct ExtraTrial {
    left: ToLay,
    offcuts: Vec<Arc<Offcut>>,
    plan: LayPlan,
    cloth: Option<String>,
    widths: Vec<f64>,
    running: Option<LengthJob>,
    steps_each: u64,
    best: Option<(f64, Arc<Offcut>, LayPlan)>,
}

/// Something to name the trial by before it has run: a rectangle for the largest piece. `None` when nothing can be given.
pub(super) fn first_guess(question: &Question, answer: &Answer) -> Option<Arc<Offcut>> {
    let left = left(question, answer)?;
    let widest = left.copies.iter().map(across).fold(0.0, f64::max);
    let longest = left.copies.iter().map(along).fold(0.0, f64::max);
    Some(rectangle(question, &left, widest, longest))
}

impl ExtraTrial {
    pub(super) fn new(question: &Question, answer: &Answer) -> Option<Self> {
        let left = left(question, answer)?;
        let widest = left.copies.iter().map(across).fold(0.0, f64::max);
        let mut widths: Vec<f64> = WIDTHS
            .into_iter()
            .map(|share| (widest * share + 0.01).ceil())
            .collect();
        if left.copies.len() == 1 {
            widths.truncate(1);
        }
        widths.reverse();
        Some(Self {
            cloth: left.copies.first().and_then(|copy| copy.cloth.clone()),
            left,
            offcuts: question.offcuts.clone(),
            plan: question.plan.clone(),
            steps_each: (question.steps / 4).max(1),
            widths,
            running: None,
            best: None,
        })
    }

    /// Steps made.
    pub(super) fn step(&mut self, steps: u64) -> u64 {
        if self.running.is_none() {
            self.running = self.next();
        }
        let Some(job) = &mut self.running else {
            return 0;
        };
        let left = self
            .steps_each
            .saturating_sub(job.progress().steps)
            .min(steps);
        let progress = job.step(left);
        if progress.steps >= self.steps_each {
            self.keep();
        }
        left
    }

    pub(super) fn is_done(&self) -> bool {
        self.running.is_none() && self.widths.is_empty()
    }

    /// The rectangle, and the plan with what lies on it.
    pub(super) fn found(&self) -> Option<(Arc<Offcut>, LayPlan)> {
        let (_, offcut, on_it) = self.best.as_ref()?;
        let mut plan = self.plan.clone();
        let of_left = |of: &petitoile_core::lay_plan::CopyRef| {
            self.left.copies.iter().any(|copy| copy.of == *of)
        };
        plan.placed.retain(|placed| !of_left(&placed.of()));
        plan.piecings.retain(|piecing| !of_left(&piecing.of));
        plan.placed.extend(on_it.placed.iter().cloned());
        Some((Arc::clone(offcut), plan))
    }

    fn next(&mut self) -> Option<LengthJob> {
        while let Some(width) = self.widths.pop() {
            let bolt = Bolt {
                cloth: self.cloth.clone(),
                margin: Mm(0.0),
                ..Bolt::of_width(Mm(width))
            };
            if let Ok(job) = LengthJob::new(&self.left, &bolt) {
                return Some(job);
            }
        }
        None
    }

    fn keep(&mut self) {
        let job = self.running.take();
        let Some(found) = job.as_ref().and_then(LengthJob::best) else {
            return;
        };
        let (width, length) = match found.offcut.outline.get(2) {
            Some(corner) => (corner.y, corner.x.ceil()),
            None => return,
        };
        let area = width * length;
        if self.best.as_ref().is_some_and(|best| best.0 <= area) {
            return;
        }
        let name = free_name(&self.offcuts, self.cloth.as_deref());
        // The bolt runs along x, the extra piece stands: a quarter turn back, and its low corner at 0 again.
        let mut offcut = Offcut::clone(&found.offcut);
        offcut.name.clone_from(&name);
        offcut.outline = corners(width, length);
        offcut.grain = Degrees(0.0);
        let mut plan = found.plan.clone();
        for placed in &mut plan.placed {
            placed.offcut.clone_from(&name);
            placed.turn = Degrees(libm::remainder(placed.turn.0 - 90.0, 360.0));
            let (x, y) = placed.moved;
            placed.moved = (y, length - x);
        }
        self.best = Some((area, Arc::new(offcut), plan));
    }
}

/// What does not lie, of one cloth: that of the first. Several cloths need several rectangles; they are told one after the
/// other.
fn left(question: &Question, answer: &Answer) -> Option<ToLay> {
    let is_left = |copy: &CopyToLay| answer.not_laid.iter().any(|left| left.of == copy.of);
    let first = question.to_lay.copies.iter().find(|copy| is_left(copy))?;
    let mut left = question.to_lay.clone();
    left.copies
        .retain(|copy| is_left(copy) && copy.cloth == first.cloth);
    Some(left)
}

fn rectangle(question: &Question, left: &ToLay, width: f64, length: f64) -> Arc<Offcut> {
    let cloth = left.copies.first().and_then(|copy| copy.cloth.clone());
    Arc::new(Offcut {
        name: free_name(&question.offcuts, cloth.as_deref()),
        cloth: cloth.unwrap_or_default(),
        outline: corners(width.ceil(), length.ceil()),
        blemishes: Vec::new(),
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: Face::Right,
        sides_alike: false,
        nap: false,
        margin: Mm(0.0),
        thickness: None,
    })
}

fn corners(width: f64, length: f64) -> Vec<Point> {
    let corner = |x: f64, y: f64| Point::new(x, y);
    vec![
        corner(0.0, 0.0),
        corner(width, 0.0),
        corner(width, length),
        corner(0.0, length),
    ]
}

/// "extra linen", "extra linen 2".
fn free_name(offcuts: &[Arc<Offcut>], cloth: Option<&str>) -> String {
    let base = format!("extra {}", cloth.unwrap_or("cloth"));
    let taken = |name: &str| offcuts.iter().any(|offcut| offcut.name == name);
    let mut name = base.clone();
    let mut number = 1;
    while taken(&name) {
        number += 1;
        name = format!("{base} {number}");
    }
    name
}

fn across(copy: &CopyToLay) -> f64 {
    least_across(copy, copy.grain_tolerance.0.abs())
}

fn along(copy: &CopyToLay) -> f64 {
    let (sin, cos) = libm::sincos((copy.whole.grain.0 + 90.0).to_radians());
    let at = copy.whole.outline.iter().map(|p| p.x * cos + p.y * sin);
    let (low, high) = at.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    high - low
}
