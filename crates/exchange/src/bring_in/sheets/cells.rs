//! Points and segments found by where they are: a plane of square cells.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{ParamCurve, PathEl, PathSeg, Point, Rect, flatten};

/// Steps along segments that are taken at most.
const STEPS: usize = 6_000_000;

/// What lies in each cell.
#[derive(Clone)]
pub(super) struct Cells<T> {
    side: f64,
    steps: usize,
    cells: BTreeMap<(i64, i64), Vec<T>>,
}

impl<T: Copy + PartialEq> Cells<T> {
    pub fn new(side: f64) -> Self {
        Self {
            side,
            steps: STEPS,
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

    /// Puts a thing into every cell that a segment goes through inside of a window, where `here` allows it.
    ///
    /// Steps are counted over all calls: when there are too many, what comes later is not found by place.
    pub fn along(
        &mut self,
        segment: &PathSeg,
        thing: T,
        window: Rect,
        here: impl Fn(Point) -> bool,
    ) {
        let step = self.side / 2.0;
        let mut last = segment.start();
        let path = [PathEl::MoveTo(last), segment.as_path_el()];
        flatten(path, self.side / 20.0, |element| {
            if let PathEl::LineTo(to) = element {
                if let Some((enter, leave)) = within(last, to, window) {
                    let (from, until) = (last.lerp(to, enter), last.lerp(to, leave));
                    let count = (from.distance(until) / step).ceil().max(1.0) as usize;
                    for i in 0..=count {
                        if self.steps == 0 {
                            break;
                        }
                        self.steps -= 1;
                        let p = from.lerp(until, i as f64 / count as f64);
                        if here(p) {
                            self.put(p, thing);
                        }
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

/// Where a chord enters and leaves a window, as shares of it; clipped against the four sides in turn.
fn within(a: Point, b: Point, window: Rect) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let step = b - a;
    for (start, step, least, most) in [
        (a.x, step.x, window.x0, window.x1),
        (a.y, step.y, window.y0, window.y1),
    ] {
        if step == 0.0 {
            if start < least || most < start {
                return None;
            }
            continue;
        }
        let (s, t) = ((least - start) / step, (most - start) / step);
        enter = enter.max(s.min(t));
        leave = leave.min(s.max(t));
    }
    (enter <= leave).then_some((enter, leave))
}
