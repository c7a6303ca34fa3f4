//! The threads of a cloth, as lines inside its outline: warp along the grain, weft across.

use std::sync::Arc;

use kurbo::{Point, Vec2};
use petitoile_core::cloth::Offcut;

use crate::canvas::shapes;

/// Threads are painted this far apart at least, screen points.
const APART: f64 = 4.5;

/// A stretch of a thread, in the coordinates of the offcut.
pub type Thread = (Point, Point);

/// Threads `apart` mm from one another along a direction, inside the first outline and outside the others.
pub fn threads(outlines: &[&[Point]], along: Vec2, apart: f64) -> Vec<Thread> {
    let Some(along) = unit(along).filter(|_| apart > 0.0) else {
        return Vec::new();
    };
    let across = Vec2::new(-along.y, along.x);
    let sides: Vec<Thread> = outlines
        .iter()
        .flat_map(|outline| {
            let next = outline.iter().cycle().skip(1);
            outline.iter().zip(next).map(|(a, b)| (*a, *b))
        })
        .collect();
    let far = |p: &Point| p.to_vec2().dot(across);
    let all = outlines.first().copied().unwrap_or_default();
    let (low, high) = all
        .iter()
        .map(far)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
    if !(low.is_finite() && high.is_finite()) {
        return Vec::new();
    }
    let first = (low / apart).ceil() as i64;
    let last = (high / apart).floor() as i64;
    (first..=last)
        .flat_map(|i| {
            let at = i as f64 * apart;
            let mut cuts: Vec<f64> = sides
                .iter()
                .filter_map(|(a, b)| {
                    let (from, to) = (far(a) - at, far(b) - at);
                    // Half open, so that a corner on the line counts once.
                    ((from < 0.0) != (to < 0.0)).then(|| {
                        let p = a.lerp(*b, from / (from - to));
                        p.to_vec2().dot(along)
                    })
                })
                .collect();
            cuts.sort_by(f64::total_cmp);
            let point = move |s: f64| (along * s + across * at).to_point();
            let pairs: Vec<Thread> = cuts
                .chunks(2)
                .filter_map(|pair| match pair {
                    [a, b] => Some((point(*a), point(*b))),
                    _ => None,
                })
                .collect();
            pairs
        })
        .collect()
}

/// Direction of the warp of a grain against y, counter-clockwise, in degrees.
pub fn warp(grain: f64) -> Vec2 {
    let angle = grain.to_radians();
    Vec2::new(-angle.sin(), angle.cos())
}

/// Threads and fills of the offcuts, worked out once for each offcut and zoom.
#[derive(Default)]
pub struct Woven {
    ready: Vec<Ready>,
}

/// One offcut ready to paint, in its own coordinates.
pub struct Ready {
    of: Arc<Offcut>,
    step: i32,
    /// Its inside.
    pub fill: shapes::Fill,
    /// Threads along the grain.
    pub warp: Vec<Thread>,
    /// Threads across.
    pub weft: Vec<Thread>,
    /// Within its margin; empty when it has none.
    pub usable: Vec<Vec<Point>>,
}

impl Woven {
    /// The offcut, fine enough for this scale (screen points per mm).
    pub fn of(&mut self, offcut: &Arc<Offcut>, scale: f64) -> Option<&Ready> {
        // Threads stay while the zoom changes by less than a factor of two.
        let step = (APART / scale.max(1e-3)).log2().ceil() as i32;
        let same = |ready: &Ready| Arc::ptr_eq(&ready.of, offcut) && ready.step == step;
        if !self.ready.iter().any(same) {
            self.ready.retain(|ready| ready.of.name != offcut.name);
            self.ready.push(Ready::new(offcut, step));
        }
        self.ready.iter().find(|ready| same(ready))
    }
}

impl Ready {
    fn new(offcut: &Arc<Offcut>, step: i32) -> Self {
        let apart = 2.0_f64.powi(step);
        let holes = offcut.blemishes.iter().filter(|blemish| blemish.is_hole);
        let outlines: Vec<&[Point]> = std::iter::once(offcut.outline.as_slice())
            .chain(holes.map(|hole| hole.outline.as_slice()))
            .collect();
        let along = warp(offcut.grain.0);
        let across = Vec2::new(along.y, -along.x);
        let flat: Vec<[f32; 2]> = offcut
            .outline
            .iter()
            .map(|p| [p.x as f32, p.y as f32])
            .collect();
        Self {
            of: offcut.clone(),
            step,
            fill: shapes::fill(&flat),
            warp: threads(&outlines, along, apart),
            weft: threads(&outlines, across, apart * 2.0),
            usable: if offcut.margin.0 > 0.0 {
                petitoile_lay::usable(offcut)
            } else {
                Vec::new()
            },
        }
    }
}

fn unit(v: Vec2) -> Option<Vec2> {
    let long = v.hypot();
    (long > 1e-12 && long.is_finite()).then(|| v / long)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn threads_end_at_the_edge_and_at_holes() {
        let square = |x: f64, y: f64, side: f64| {
            [(x, y), (x + side, y), (x + side, y + side), (x, y + side)].map(Point::from)
        };
        let (cloth, hole) = (square(0.0, 0.0, 10.0), square(3.5, 3.5, 3.0));
        let threads = threads(&[&cloth, &hole], Vec2::new(0.0, 1.0), 1.0);
        let length: f64 = threads.iter().map(|(a, b)| (*b - *a).hypot()).sum();
        // Eleven lines at x = 0 to 10 less one on an edge; at x = 4, 5 and 6 the hole takes 3 mm each.
        let lines = (length + 9.0) / 10.0;
        assert!(
            (lines - lines.round()).abs() < 1e-9 && (9.0..=11.0).contains(&lines),
            "{lines}"
        );
        assert!(threads.iter().all(|(a, b)| (a.x - b.x).abs() < 1e-9));
    }

    #[test]
    fn the_warp_of_a_grain_turned_left_leans_left() {
        let warp = warp(90.0);
        assert!((warp.x + 1.0).abs() < 1e-12 && warp.y.abs() < 1e-12);
    }
}
