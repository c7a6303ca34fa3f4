//! The threads of a cloth, as lines inside its outline: warp along the grain, weft across.

use kurbo::{Point, Vec2};

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
        assert!((lines - lines.round()).abs() < 1e-9 && (9.0..=11.0).contains(&lines), "{lines}");
        assert!(threads.iter().all(|(a, b)| (a.x - b.x).abs() < 1e-9));
    }

    #[test]
    fn the_warp_of_a_grain_turned_left_leans_left() {
        let warp = warp(90.0);
        assert!((warp.x + 1.0).abs() < 1e-12 && warp.y.abs() < 1e-12);
    }
}
