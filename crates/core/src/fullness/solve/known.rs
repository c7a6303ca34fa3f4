//! What a request says about pleats and tucks, and the whole number that follows from it.

use super::limits::MOST;
use super::{Depth, Leftover, Wanted};
use crate::fullness::{Kind, place};
use crate::units::Mm;

/// What is known so far, in plain mm; `share` is a depth as a share of the spacing.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Known {
    pub finished: Option<f64>,
    pub cloth: Option<f64>,
    pub count: Option<u32>,
    pub spacing: Option<f64>,
    pub depth: Option<f64>,
    pub share: Option<f64>,
    /// Depths that one pleat takes.
    pub takes: f64,
    /// Depth of a full one, as a share of its spacing.
    pub full: f64,
}

/// What the request says, visible widths turned into spacing or depth.
pub(super) fn known(wanted: &Wanted) -> Known {
    let mm = |m: Option<Mm>| m.map(|m| m.0);
    let full = wanted.kind.full_depth().unwrap_or(1.0);
    let (depth, share) = match wanted.depth {
        Some(Depth::Of(depth)) => (Some(depth.0), None),
        Some(Depth::Full) => (None, Some(full)),
        Some(Depth::Share(share)) => (None, Some(share * full)),
        None => (None, None),
    };
    let mut known = Known {
        finished: mm(wanted.finished),
        cloth: mm(wanted.cloth),
        count: wanted.count,
        spacing: mm(wanted.spacing),
        depth,
        share,
        takes: wanted.kind.depths_taken().unwrap_or(2.0),
        full,
    };
    if let Some(visible) = wanted.visible.map(|v| v.0) {
        match wanted.kind {
            Kind::PinTucks | Kind::WideTucks => known.depth = Some(visible),
            // Tops that touch, unless something else says how far apart they are.
            Kind::Box | Kind::DoubleBox => {
                let told = known.count.is_some() || wanted.marks.is_some();
                known.spacing = known.spacing.or((!told).then_some(visible));
            }
            _ => known.spacing = Some(visible),
        }
    }
    known
}

/// Uses the distance between marks and the ratio.
pub(super) fn reduce(known: &mut Known, wanted: &Wanted) {
    if let Some(marks) = wanted.marks.map(|m| m.0) {
        match (known.spacing, known.depth, known.share) {
            (Some(spacing), None, None) => known.depth = Some((marks - spacing) / known.takes),
            (None, Some(depth), _) => known.spacing = Some(marks - known.takes * depth),
            (None, None, Some(share)) => known.spacing = Some(marks / (1.0 + known.takes * share)),
            // A box pleat's depth comes from its top, below; else full.
            (None, None, None) if !wanted.kind.is_tuck() && known.cloth.is_none() => {
                known.share = Some(known.full);
                known.spacing = Some(marks / (1.0 + known.takes * known.full));
            }
            _ => {}
        }
    }
    if let Some(ratio) = wanted.ratio {
        known.cloth = known.cloth.or(known.finished.map(|f| f * ratio));
        known.finished = known.finished.or(known.cloth.map(|c| c / ratio));
        if known.depth.is_none() && known.share.is_none() && known.cloth.is_none() {
            known.share = Some((ratio - 1.0) / known.takes).filter(|s| *s > 0.0);
        }
    }
    // A box pleat of which only the top is given is folded until its folds meet behind.
    if let (Kind::Box | Kind::DoubleBox, Some(top), None, None) =
        (wanted.kind, wanted.visible, known.depth, known.share)
        && !(known.finished.is_some() && known.cloth.is_some())
    {
        known.depth = Some(top.0 / 2.0);
    }
}

/// The whole number nearest to what is asked.
pub(super) fn counted(known: &Known, wanted: &Wanted) -> Option<u32> {
    let marks = known.spacing.zip(
        known
            .depth
            .or(known.spacing.zip(known.share).map(|(p, s)| p * s)),
    );
    let marks = marks
        .map(|(p, d)| p + known.takes * d)
        .or(wanted.marks.map(|m| m.0));
    if let Some((finished, spacing)) = known.finished.zip(known.spacing) {
        return Some(nearest(finished, spacing, wanted));
    }
    if let Some((cloth, marks)) = known.cloth.zip(marks) {
        return Some(nearest(cloth, marks, wanted));
    }
    if let Some(((cloth, finished), depth)) = known.cloth.zip(known.finished).zip(known.depth) {
        return Some(within(((cloth - finished) / (known.takes * depth)).round()));
    }
    let full = (!wanted.kind.is_tuck()).then_some(known.full)?;
    if let Some((finished, depth)) = known.finished.zip(known.depth) {
        return Some(nearest(finished, depth / full, wanted));
    }
    if let Some((cloth, depth)) = known.cloth.zip(known.depth) {
        return Some(nearest(cloth, depth / full + known.takes * depth, wanted));
    }
    let (cloth, spacing) = known.cloth.zip(known.spacing)?;
    Some(nearest(cloth, spacing * (1.0 + known.takes * full), wanted))
}

pub(super) fn within(count: f64) -> u32 {
    if count.is_finite() {
        count.clamp(1.0, f64::from(MOST)) as u32
    } else {
        1
    }
}

/// How many steps of this length fit best, plain parts left out. Tucks between margins round up (handbook, p. 194), and
/// so nothing is left wider than asked; what keeps its spacing rounds down.
fn nearest(length: f64, step: f64, wanted: &Wanted) -> u32 {
    const WHOLE: f64 = 1e-6;
    let mut count = within((length / step).round());
    // What is left plain depends on the count through the gaps between groups.
    for _ in 0..4 {
        let (_, plain) = place::plain_part(count, length, &wanted.layout);
        let share = (length - plain).max(0.0) / step;
        let steps = match (wanted.leftover, wanted.layout.margin) {
            (Leftover::Plain, _) => (share + WHOLE).floor(),
            (_, Some(_)) if wanted.kind.is_tuck() => (share - WHOLE).ceil(),
            _ => share.round(),
        };
        let posts = if wanted.layout.margin.is_some() {
            f64::from(place::range_count(length, &wanted.layout))
        } else {
            0.0
        };
        let next = within(steps + posts);
        if next == count {
            break;
        }
        count = next;
    }
    count
}

impl Known {
    /// The finished length with this many, if it follows from what is known.
    pub(super) fn finished_with(&self, count: u32, wanted: &Wanted) -> Option<f64> {
        let taken = self.depth.map(|d| self.takes * f64::from(count) * d);
        self.finished
            .or_else(|| Some(self.cloth? - taken?))
            .or_else(|| {
                // By spacing; with cloth and a share, the spacing follows from the cloth instead.
                let spacing = self
                    .spacing
                    .filter(|_| self.cloth.is_none() || self.share.is_none())?;
                let (steps, plain) = place::plain_part(count, f64::INFINITY, &wanted.layout);
                Some(f64::from(steps.max(1)) * spacing + plain)
            })
    }

    /// The finished length with this many whose depth is a share of their spacing.
    pub(super) fn full_finished(&self, count: u32, wanted: &Wanted) -> Option<f64> {
        let share = self.share.unwrap_or(self.full);
        let (steps, plain) = place::plain_part(count, f64::INFINITY, &wanted.layout);
        let steps = f64::from(steps.max(1));
        if let Some(cloth) = self.cloth {
            let taken = self.takes * f64::from(count) * share / steps;
            return Some((cloth + taken * plain) / (1.0 + taken));
        }
        let depth = self.depth.filter(|_| !wanted.kind.is_tuck())?;
        Some(depth / share * steps + plain)
    }
}
