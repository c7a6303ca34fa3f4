//! Snap to touch: out of what it overlaps, up to what is near.

use petitoile_core::kurbo::Vec2;

use super::contact::{Contact, Shape, beside, inside};

/// Rounds at most.
const ROUNDS: usize = 40;

/// A touching part keeps this more than it must, mm: rounding.
const CLEAR: f64 = 1e-6;

/// Everything around a part that it must stay off.
#[derive(Debug, Clone)]
pub(super) struct Around {
    edge: Shape,
    margin: f64,
    /// What lies there, and how far to stay off it.
    others: Vec<(Shape, f64)>,
}

impl Around {
    pub(super) fn new(edge: Shape, margin: f64, others: Vec<(Shape, f64)>) -> Self {
        Self {
            edge,
            margin,
            others,
        }
    }

    /// Contacts within `reach`.
    fn contacts(&self, part: &Shape, reach: f64) -> Vec<Contact> {
        let others = self
            .others
            .iter()
            .filter(|(other, keep)| !part.far_from(other, keep + reach))
            .filter_map(|(other, keep)| beside(part, other, *keep));
        inside(part, &self.edge, self.margin)
            .into_iter()
            .chain(others)
            .collect()
    }

    /// Room left to what is nearest, mm, at most 1: below 0, by how much it is in the way.
    pub(super) fn room(&self, part: &Shape) -> f64 {
        self.contacts(part, 1.0)
            .iter()
            .map(|contact| contact.room)
            .fold(1.0, f64::min)
    }

    /// The way a part must be moved to lie free and touch what is within `reach`: at most two things, so that it goes into
    /// a corner. `None` when there is no free place within `reach`.
    pub(super) fn snapped(&self, part: &Shape, reach: f64) -> Option<Vec2> {
        let mut way = self.freed(part, Vec2::ZERO, reach)?;
        let mut touched: Option<Vec2> = None;
        for _ in 0..2 {
            let Some(next) = self.drawn_near(part, way, reach, touched) else {
                break;
            };
            let Some(free) = self.freed(part, next.0, reach) else {
                break;
            };
            way = free;
            touched = Some(next.1);
        }
        Some(way)
    }

    /// Pushes a part out of all it overlaps.
    fn freed(&self, part: &Shape, from: Vec2, reach: f64) -> Option<Vec2> {
        let mut way = from;
        for _ in 0..ROUNDS {
            let lying = part.moved(way);
            let contacts = self.contacts(&lying, 0.0);
            let worst = contacts.iter().min_by(|a, b| a.room.total_cmp(&b.room));
            match worst {
                Some(worst) if worst.room < 0.0 => way += worst.away * (CLEAR - worst.room),
                _ => return Some(way),
            }
            if way.hypot() > reach + CLEAR * 10.0 {
                return None;
            }
        }
        None
    }

    /// The way to touch the nearest thing, along what it touches already, and the direction away from it.
    fn drawn_near(
        &self,
        part: &Shape,
        way: Vec2,
        reach: f64,
        touched: Option<Vec2>,
    ) -> Option<(Vec2, Vec2)> {
        let left = reach - way.hypot();
        self.contacts(&part.moved(way), left)
            .into_iter()
            .filter(|contact| contact.room > CLEAR * 2.0)
            .filter_map(|contact| {
                let towards = -contact.away;
                let along = match touched {
                    None => towards,
                    Some(off) => towards - off * towards.dot(off),
                };
                let share = along.dot(towards);
                // Almost the same direction as what it touches: nothing to be had there.
                if share < 0.2 {
                    return None;
                }
                let step = along * ((contact.room - CLEAR) / share);
                (step.hypot() <= left).then_some((way + step, contact.away, step.hypot()))
            })
            .min_by(|a, b| a.2.total_cmp(&b.2))
            .map(|(way, away, _)| (way, away))
    }

    /// How far a part can go in a direction before it touches, at most `reach`; from where it is not free, to the first free
    /// place. `None` when there is none.
    pub(super) fn pushed(&self, part: &Shape, direction: Vec2, reach: f64) -> Option<Vec2> {
        let long = direction.hypot();
        if long <= 0.0 || !long.is_finite() || !reach.is_finite() {
            return None;
        }
        let at = |far: f64| direction * (far / long);
        let free = |far: f64| {
            self.contacts(&part.moved(at(far)), 0.0)
                .iter()
                .all(|contact| contact.room >= 0.0)
        };
        let room = |far: f64| {
            self.contacts(&part.moved(at(far)), f64::INFINITY)
                .iter()
                .map(|contact| contact.room)
                .fold(f64::INFINITY, f64::min)
        };
        let starts_free = free(0.0);
        let (mut from, mut to) = (0.0, 0.0);
        while to < reach {
            from = to;
            to = (to + STRIDE.max(if starts_free { room(to) } else { 0.0 })).min(reach);
            if free(to) != starts_free {
                return Some(at(turning(from, to, starts_free, free)));
            }
        }
        starts_free.then(|| at(to.max(from)))
    }
}

/// A part is moved on by this at least, mm: nothing that lies there is thinner.
const STRIDE: f64 = 0.25;

/// The free place next to where free and not free meet.
fn turning(mut from: f64, mut to: f64, starts_free: bool, free: impl Fn(f64) -> bool) -> f64 {
    while to - from > CLEAR {
        let middle = (from + to) / 2.0;
        if free(middle) == starts_free {
            from = middle;
        } else {
            to = middle;
        }
    }
    if starts_free { from } else { to }
}
