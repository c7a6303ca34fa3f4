//! Points and segments found by where they are: a plane of square cells.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{ParamCurve, PathEl, PathSeg, Point, flatten};

/// What lies in each cell.
pub(super) struct Cells<T> {
    side: f64,
    cells: BTreeMap<(i64, i64), Vec<T>>,
}

impl<T: Copy + PartialEq> Cells<T> {
    pub fn new(side: f64) -> Self {
        Self {
            side,
            cells: BTreeMap::new(),
        }
    }

    fn of(&self, p: Point) -> (i64, i64) {
        (
            (p.x / self.side).floor() as i64,
            (p.y / self.side).floor() as i64,
        )
    }

    /// Puts a thing at a point.
    pub fn put(&mut self, at: Point, thing: T) {
        let cell = self.cells.entry(self.of(at)).or_default();
        if cell.last() != Some(&thing) {
            cell.push(thing);
        }
    }

    /// Puts a thing into every cell that a segment goes through, where `here` allows it.
    pub fn along(&mut self, segment: &PathSeg, thing: T, here: impl Fn(Point) -> bool) {
        let step = self.side / 2.0;
        let mut last = segment.start();
        let path = [PathEl::MoveTo(last), segment.as_path_el()];
        flatten(path, self.side / 20.0, |element| {
            if let PathEl::LineTo(to) = element {
                let count = (last.distance(to) / step).ceil().clamp(1.0, 1e5) as usize;
                for i in 0..=count {
                    let p = last.lerp(to, i as f64 / count as f64);
                    if here(p) {
                        self.put(p, thing);
                    }
                }
                last = to;
            }
        });
    }

    /// What lies within one cell's side of a point, and some things a little farther off.
    pub fn near(&self, at: Point) -> impl Iterator<Item = T> + '_ {
        let (x, y) = self.of(at);
        (x - 1..=x + 1)
            .flat_map(move |x| (y - 1..=y + 1).map(move |y| (x, y)))
            .filter_map(|cell| self.cells.get(&cell))
            .flatten()
            .copied()
    }
}
