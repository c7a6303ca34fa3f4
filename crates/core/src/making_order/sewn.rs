//! What has been sewn so far: which segments are glued, what became one part, how each part lies.

use std::f64::consts::PI;

use super::surface::Surface;

/// What has been sewn so far.
#[derive(Debug, Clone)]
pub(super) struct Sewn {
    next: Vec<usize>,
    before: Vec<usize>,
    glued: Vec<bool>,
    /// Which part a copy belongs to, as a forest.
    part: Vec<usize>,
    /// Euler characteristic of a part, by its root: 1 for a disc.
    euler: Vec<i32>,
    /// Area of a part, by its root.
    area: Vec<f64>,
    /// Corners that have become one, as a forest; the corner of a number is where the segment of that number starts.
    corner: Vec<usize>,
}

/// The girth at which an edge lies in the round; `None` when it lies flat.
pub(super) type Ring = Option<f64>;

/// The boundaries of every part at one moment.
#[derive(Debug, Clone)]
pub(super) struct Boundaries {
    /// Which boundary a segment belongs to; `usize::MAX` when it is sewn.
    of: Vec<usize>,
    /// Length of each boundary.
    pub length: Vec<f64>,
    /// Root of the part it belongs to.
    pub part: Vec<usize>,
    /// The girth of each where it is the mouth of a ring.
    ring: Vec<Ring>,
}

impl Boundaries {
    /// The boundary a segment lies on, unless it is sewn.
    pub(super) fn of(&self, segment: usize) -> Option<usize> {
        self.of.get(segment).copied().filter(|b| *b != usize::MAX)
    }

    /// The narrowest ring that any of these segments lies on.
    pub(super) fn ring(&self, segments: &[usize]) -> Ring {
        segments
            .iter()
            .filter_map(|s| *self.ring.get(self.of(*s)?)?)
            .min_by(f64::total_cmp)
    }
}

fn root(forest: &[usize], mut at: usize) -> usize {
    while let Some(up) = forest.get(at) {
        if *up == at {
            break;
        }
        at = *up;
    }
    at
}

impl Sewn {
    /// Nothing is sewn yet.
    pub(super) fn nothing(surface: &Surface<'_>) -> Self {
        let count = surface.segments.len();
        Self {
            next: surface.segments.iter().map(|s| s.next).collect(),
            before: surface.segments.iter().map(|s| s.before).collect(),
            glued: vec![false; count],
            part: (0..surface.cuts.len()).collect(),
            euler: vec![1; surface.cuts.len()],
            area: surface.cuts.iter().map(|c| c.area).collect(),
            corner: (0..count).collect(),
        }
    }

    /// The part a copy belongs to.
    pub(super) fn part(&self, cut: usize) -> usize {
        root(&self.part, cut)
    }

    /// Is the part of this copy one disc?
    pub(super) fn is_disc(&self, cut: usize) -> bool {
        self.euler.get(self.part(cut)) == Some(&1)
    }

    /// The class of corners that the start of a segment belongs to.
    pub(super) fn corner(&self, segment: usize) -> usize {
        root(&self.corner, segment)
    }

    /// The segment after one along its boundary.
    pub(super) fn next(&self, segment: usize) -> usize {
        self.next.get(segment).copied().unwrap_or(segment)
    }

    /// Is it sewn?
    pub(super) fn is_glued(&self, segment: usize) -> bool {
        self.glued.get(segment).copied().unwrap_or(true)
    }

    /// Sews two segments together, start to end. Those that are sewn already stay as they are.
    pub(super) fn glue(&mut self, surface: &Surface<'_>, x: usize, y: usize) {
        let (Some(on_x), Some(on_y)) = (surface.segment(x), surface.segment(y)) else {
            return;
        };
        if x == y || self.is_glued(x) || self.is_glued(y) {
            return;
        }
        let (a, b) = (self.part(on_x.cut), self.part(on_y.cut));
        if a != b {
            let (more, area) = (
                self.euler.get(b).copied().unwrap_or(1),
                self.area.get(b).copied().unwrap_or(0.0),
            );
            if let (Some(euler), Some(whole)) = (self.euler.get_mut(a), self.area.get_mut(a)) {
                *euler += more;
                *whole += area;
            }
            if let Some(slot) = self.part.get_mut(b) {
                *slot = a;
            }
        }
        // One edge less; as many corners less as fall together.
        let mut change = 1;
        for (p, q) in [(x, on_y.next), (on_x.next, y)] {
            let (p, q) = (self.corner(p), self.corner(q));
            if p != q {
                change -= 1;
                if let Some(slot) = self.corner.get_mut(q) {
                    *slot = p;
                }
            }
        }
        if let Some(euler) = self.euler.get_mut(a) {
            *euler += change;
        }
        self.splice(x, y);
        for done in [x, y] {
            if let Some(slot) = self.glued.get_mut(done) {
                *slot = true;
            }
        }
    }

    fn splice(&mut self, x: usize, y: usize) {
        let (before_x, after_x) = (self.before_of(x), self.next(x));
        let (before_y, after_y) = (self.before_of(y), self.next(y));
        match (after_x == y, after_y == x) {
            (true, true) => {}
            (true, false) => self.link(before_x, after_y),
            (false, true) => self.link(before_y, after_x),
            (false, false) => {
                self.link(before_x, after_y);
                self.link(before_y, after_x);
            }
        }
    }

    fn before_of(&self, segment: usize) -> usize {
        self.before.get(segment).copied().unwrap_or(segment)
    }

    fn link(&mut self, first: usize, then: usize) {
        if let Some(slot) = self.next.get_mut(first) {
            *slot = then;
        }
        if let Some(slot) = self.before.get_mut(then) {
            *slot = first;
        }
    }

    /// Every boundary as it is now.
    pub(super) fn boundaries(&self, surface: &Surface<'_>) -> Boundaries {
        let mut found = Boundaries {
            of: vec![usize::MAX; self.next.len()],
            length: Vec::new(),
            part: Vec::new(),
            ring: Vec::new(),
        };
        for start in 0..self.next.len() {
            if self.is_glued(start) || found.of(start).is_some() {
                continue;
            }
            let number = found.length.len();
            let (mut at, mut length) = (start, 0.0);
            while !self.is_glued(at) && found.of(at).is_none() {
                length += surface.segment(at).map_or(0.0, |s| s.length);
                if let Some(slot) = found.of.get_mut(at) {
                    *slot = number;
                }
                at = self.next(at);
            }
            let part = surface.segment(start).map_or(0, |s| self.part(s.cut));
            let disc = self.euler.get(part).copied().unwrap_or(1) >= 1;
            let area = self.area.get(part).copied().unwrap_or(0.0);
            let flat = disc || area <= length * length / (4.0 * PI);
            found.length.push(length);
            found.part.push(part);
            found.ring.push((!flat).then_some(length));
        }
        found
    }
}
