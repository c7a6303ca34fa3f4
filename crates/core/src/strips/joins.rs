//! Where the joins of a strip fall: kept off places, hidden, as evenly spread as their segments allow.
//!
//! Exact: the places each join can reach are intervals, carried from the first to the last.

use super::{Hidden, Hiding, Join, StripWanted};
use crate::units::Mm;

/// A part of the joined strip in which cloth and finished edge run evenly.
#[derive(Debug, Clone, Copy)]
struct Part {
    cloth: (f64, f64),
    finished: (f64, f64),
    hidden: Hidden,
}

/// The strip as joins see it.
#[derive(Debug, Clone)]
pub(super) struct Ground<'a> {
    wanted: &'a StripWanted,
    /// Length of the joined strip.
    length: f64,
    finished: f64,
    parts: Vec<Part>,
    /// Where hidden joins that keep off everything may lie, and where shown ones that keep off may.
    hidden: Vec<(f64, f64)>,
    clear: Vec<(f64, f64)>,
}

/// How much a placing may leave undone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Care {
    /// Hidden and off all places.
    Full,
    /// Off all places.
    KeepsOff,
    /// Anywhere.
    None,
}

/// What a segment may cover: at least and at most.
pub(super) type Reach = (f64, f64);

/// Rounding, mm.
const NEAR: f64 = 1e-7;

impl<'a> Ground<'a> {
    pub fn new(wanted: &'a StripWanted) -> Self {
        let (length, finished) = wanted.lengths();
        let (length, finished) = (length.0, finished.0);
        let end = wanted.at_ends() / 2.0;
        let parts = match &wanted.hiding {
            Hiding::UnderPleats(folded) => {
                let spans = folded.spans.iter().map(|span| Part {
                    cloth: (end + span.cloth.0.0, end + span.cloth.1.0),
                    finished: (span.edge.0.0, span.edge.1.0),
                    hidden: match span.pleat {
                        Some(pleat) if span.below.0.min(span.below.1) > 0 => {
                            Hidden::UnderPleat(pleat)
                        }
                        _ => Hidden::Shown,
                    },
                });
                spans.collect()
            }
            hiding => vec![Part {
                cloth: (end, length - end),
                finished: (0.0, finished),
                hidden: if *hiding == Hiding::InGathers {
                    Hidden::InGathers
                } else {
                    Hidden::Shown
                },
            }],
        };
        let mut ground = Self {
            wanted,
            length,
            finished,
            parts,
            hidden: Vec::new(),
            clear: Vec::new(),
        };
        let is_plain = wanted.hiding == Hiding::Nowhere;
        let clear = |part: &Part, inset: f64| ground.off(part, inset);
        let all: Vec<_> = ground
            .parts
            .iter()
            .flat_map(|part| clear(part, 0.0))
            .collect();
        let good = ground
            .parts
            .iter()
            .filter(|part| is_plain || part.hidden != Hidden::Shown);
        let good: Vec<_> = good
            .flat_map(|part| clear(part, ground.inset(part)))
            .collect();
        (ground.clear, ground.hidden) = (merged(all), merged(good));
        ground
    }

    /// How far from a fold a join in the underside of a pleat stays: its allowance, where there is room.
    fn inset(&self, part: &Part) -> f64 {
        match part.hidden {
            Hidden::UnderPleat(_) => self
                .wanted
                .allowance
                .0
                .min((part.cloth.1 - part.cloth.0) / 2.0),
            _ => 0.0,
        }
    }

    /// The places in a part that keep off everything.
    fn off(&self, part: &Part, inset: f64) -> Vec<(f64, f64)> {
        let (a, b) = part.cloth;
        let slope = (part.finished.1 - part.finished.0) / (b - a).max(f64::MIN_POSITIVE);
        let mut left = vec![(a + inset, b - inset)];
        for place in &self.wanted.keep_off {
            let (at, by) = (place.at * self.finished, place.by.0);
            let ends = [at - by, at + by].map(|f| a + (f - part.finished.0) / slope);
            let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            let inside = slope != 0.0 && high > low;
            left = left
                .into_iter()
                .flat_map(|(from, to)| {
                    if inside {
                        vec![(from, to.min(low)), (from.max(high), to)]
                    } else {
                        vec![(from, to)]
                    }
                })
                .filter(|(from, to)| *to >= *from)
                .collect();
        }
        left
    }

    /// Places of the joins between segments of these reaches, nearest to `ideal`; `None` when there are none.
    pub fn placed(&self, reaches: &[Reach], ideal: &[f64], care: Care) -> Option<Vec<f64>> {
        let whole = vec![(0.0, self.length)];
        let allowed = match care {
            Care::Full => &self.hidden,
            Care::KeepsOff => &self.clear,
            Care::None => &whole,
        };
        let mut reached: Vec<Vec<(f64, f64)>> = vec![vec![(0.0, 0.0)]];
        for (least, most) in reaches.iter().take(reaches.len().saturating_sub(1)) {
            let before = reached.last()?;
            let next = before.iter().map(|(a, b)| (a + least, b + most)).collect();
            let next = common(&merged(next), allowed);
            if next.is_empty() {
                return None;
            }
            reached.push(next);
        }
        // Backwards from the end: each join as near to its ideal place as the one behind it allows.
        let mut places = Vec::new();
        let mut behind = self.length;
        for ((reach, (least, most)), ideal) in reached
            .iter()
            .skip(1)
            .zip(reaches.iter().skip(1))
            .zip(ideal)
            .rev()
        {
            let (low, high) = (behind - most - NEAR, behind - least + NEAR);
            let free = reach
                .iter()
                .filter_map(|(a, b)| Some((a.max(low), b.min(high))).filter(|(a, b)| a <= b));
            let near = free.map(|(a, b)| ideal.clamp(a, b));
            behind = near.min_by(|a, b| (a - ideal).abs().total_cmp(&(b - ideal).abs()))?;
            places.push(behind);
        }
        places.reverse();
        let (least, most) = reaches.first()?;
        let first = places.first().copied().unwrap_or(self.length);
        (least - NEAR <= first && first <= most + NEAR).then_some(places)
    }

    /// What is to be said of a join at a place.
    pub fn join(&self, at: f64) -> Join {
        let inside = |part: &&Part| part.cloth.0 - NEAR <= at && at <= part.cloth.1 + NEAR;
        let here = self.parts.iter().filter(inside);
        // At the very edge of a part the better hidden one counts.
        let part = here.max_by_key(|part| part.hidden != Hidden::Shown);
        let finished = part.map_or(
            if at * 2.0 < self.length {
                0.0
            } else {
                self.finished
            },
            |p| {
                let share = (at - p.cloth.0) / (p.cloth.1 - p.cloth.0).max(f64::MIN_POSITIVE);
                p.finished.0 + share * (p.finished.1 - p.finished.0)
            },
        );
        let too_near = self.wanted.keep_off.iter().find_map(|place| {
            let far = (finished - place.at * self.finished).abs();
            (far < place.by.0 - NEAR).then(|| (place.what.clone(), Mm(far)))
        });
        Join {
            on_cloth: Mm(at),
            on_finished: Mm(finished),
            hidden: part.map_or(Hidden::Shown, |p| p.hidden),
            too_near,
        }
    }
}

/// Intervals sorted, those that touch made one.
fn merged(mut list: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for (from, to) in list {
        match merged.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => merged.push((from, to)),
        }
    }
    merged
}

/// What two sorted lists of intervals have in common.
fn common(a: &[(f64, f64)], b: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut common = Vec::new();
    let (mut i, mut j) = (0, 0);
    while let (Some(x), Some(y)) = (a.get(i), b.get(j)) {
        let (from, to) = (x.0.max(y.0), x.1.min(y.1));
        if from <= to {
            common.push((from, to));
        }
        if x.1 < y.1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    common
}
