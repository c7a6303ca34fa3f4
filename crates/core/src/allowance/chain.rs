//! A line that grows cubic by cubic until it closes.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use kurbo::{BezPath, CubicBez, Point};

use crate::geometry::parallel::{is_straight, straight};
use crate::tolerance::JOINING;

/// A line that grows: gaps are closed straight, straight pieces that run on are made one.
#[derive(Default)]
pub(super) struct Growing {
    pub chain: Vec<CubicBez>,
    /// Was the end placed by a corner? Then nothing is moved to meet it; elsewhere gaps up to [`JOINING`] are drawn shut.
    placed: bool,
}

impl Growing {
    /// Adds a part of a corner, exactly where it is.
    pub fn add_placed(&mut self, c: CubicBez) {
        self.placed = true;
        self.add(c);
        self.placed = true;
    }

    /// Squared length of the gaps that are drawn shut here.
    fn shut(&self) -> f64 {
        if self.placed {
            1e-18
        } else {
            JOINING.0 * JOINING.0
        }
    }

    /// Carries the line on to a point.
    pub fn carry_on(&mut self, p: Point) {
        let Some(last) = self.chain.last_mut() else {
            return;
        };
        if (p - last.p3).hypot2() <= 1e-18 {
            return;
        }
        let (d, e) = (last.p3 - last.p0, p - last.p3);
        if is_straight(last)
            && d.cross(e).abs() <= 1e-9 * (d.hypot2() * e.hypot2()).sqrt()
            && d.dot(e) > 0.0
        {
            *last = straight(last.p0, p);
        } else {
            let from = last.p3;
            self.chain.push(straight(from, p));
        }
    }

    /// Adds a cubic; a cubic without length only names a point.
    pub fn add(&mut self, mut c: CubicBez) {
        if c.p0 == c.p3 && c.p0 == c.p1 && c.p0 == c.p2 {
            if self.chain.is_empty() {
                self.chain.push(c);
            } else {
                self.carry_on(c.p0);
            }
            return;
        }
        if let Some(last) = self.chain.last_mut()
            && last.p0 == last.p3
            && last.p0 == last.p1
        {
            // the line was begun with a point
            let start = last.p0;
            self.chain.pop();
            if (c.p0 - start).hypot2() > 1e-18 {
                self.chain.push(straight(start, c.p0));
            }
        }
        let shut = self.shut();
        self.placed = false;
        if let Some(last) = self.chain.last() {
            let gap = last.p3 - c.p0;
            if gap.hypot2() > shut {
                self.carry_on(c.p0);
            } else if is_straight(&c) {
                c = straight(last.p3, c.p3);
            } else {
                c.p0 += gap;
                c.p1 += gap;
            }
        }
        match self.chain.last() {
            Some(_) if is_straight(&c) => self.carry_on(c.p3),
            _ => self.chain.push(c),
        }
    }

    /// Joins the end to the start.
    pub fn closed(mut self) -> Vec<CubicBez> {
        let Some(start) = self.chain.first().map(|c| c.p0) else {
            return self.chain;
        };
        let Some(end) = self.chain.last().map(|c| c.p3) else {
            return self.chain;
        };
        if (start - end).hypot2() > self.shut() {
            self.carry_on(start);
        } else if let Some(last) = self.chain.last_mut() {
            *last = if is_straight(last) {
                straight(last.p0, start)
            } else {
                CubicBez::new(last.p0, last.p1, last.p2 + (start - end), start)
            };
        }
        // the line may have begun in the middle of a straight stretch
        if let [first, .., last] = self.chain.as_slice() {
            let (d, e) = (last.p3 - last.p0, first.p3 - first.p0);
            if is_straight(first)
                && is_straight(last)
                && d.cross(e).abs() <= 1e-9 * (d.hypot2() * e.hypot2()).sqrt()
                && d.dot(e) > 0.0
            {
                self.chain[0] = straight(last.p0, first.p3);
                self.chain.pop();
            }
        }
        self.chain
    }
}

/// A closed chain as a path; straight cubics become lines.
pub(super) fn closed_path(chain: &[CubicBez]) -> BezPath {
    let mut path = open_path(chain);
    path.close_path();
    path
}

/// A chain as a path; straight cubics become lines.
pub(crate) fn open_path(chain: &[CubicBez]) -> BezPath {
    let mut path = BezPath::new();
    if let Some(first) = chain.first() {
        path.move_to(first.p0);
    }
    for c in chain {
        if is_straight(c) {
            path.line_to(c.p3);
        } else {
            path.curve_to(c.p1, c.p2, c.p3);
        }
    }
    path
}
