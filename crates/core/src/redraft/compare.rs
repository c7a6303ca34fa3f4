//! How far one outline is from another, after laying them on each other as well as turning and moving can.
#![allow(clippy::indexing_slicing, reason = "samples are made in pairs here")]

use kurbo::{Affine, ParamCurve, Point, Vec2};

use crate::geometry::outline::Outline;

/// Distance along two outlines, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distance {
    /// The largest.
    pub max: f64,
    /// The root of the mean square.
    pub rms: f64,
}

/// Samples per edge.
const SAMPLES: u32 = 80;

/// Distance between two outlines with the same edges, the first laid on the second by the rigid movement that brings
/// like places of like edges nearest (least squares), then nearest distances both ways.
pub fn distance(a: &Outline, b: &Outline) -> Distance {
    let (mut p, q) = (samples(a, b), samples(b, b));
    let lay = laid_on(&p, &q);
    for point in &mut p {
        *point = lay * *point;
    }
    let mut all: Vec<f64> = p.iter().map(|x| nearest(*x, &q)).collect();
    all.extend(q.iter().map(|x| nearest(*x, &p)));
    let max = all.iter().copied().fold(0.0, f64::max);
    let rms = (all.iter().map(|d| d * d).sum::<f64>() / all.len().max(1) as f64).sqrt();
    Distance { max, rms }
}

/// Points at even shares of every edge, in the order of the edges of `order`.
fn samples(outline: &Outline, order: &Outline) -> Vec<Point> {
    let mut points = Vec::new();
    for edge in order.edges() {
        let Some(own) = outline.edge(&edge.name) else {
            continue;
        };
        let lengths: Vec<(f64, kurbo::CubicBez)> = own
            .line
            .cubics()
            .flat_map(|c| {
                (0..32).map(move |k| c.subsegment(f64::from(k) / 32.0..f64::from(k + 1) / 32.0))
            })
            .map(|c| ((c.p3 - c.p0).hypot(), c))
            .collect();
        let total: f64 = lengths.iter().map(|l| l.0).sum();
        let (mut at, mut before) = (0, 0.0);
        for k in 0..SAMPLES {
            let wanted = total * f64::from(k) / f64::from(SAMPLES);
            while at + 1 < lengths.len() && before + lengths[at].0 < wanted {
                before += lengths[at].0;
                at += 1;
            }
            let (length, c) = lengths[at];
            points.push(c.eval(((wanted - before) / length.max(1e-12)).clamp(0.0, 1.0)));
        }
    }
    points
}

/// The rigid movement that brings `p` nearest to `q`, point by point (closed form in the plane).
fn laid_on(p: &[Point], q: &[Point]) -> Affine {
    let mean = |list: &[Point]| {
        list.iter().fold(Vec2::ZERO, |s, p| s + p.to_vec2()) / list.len().max(1) as f64
    };
    let (mp, mq) = (mean(p), mean(q));
    let (mut cosine, mut sine) = (0.0, 0.0);
    for (a, b) in p.iter().zip(q) {
        let (a, b) = (a.to_vec2() - mp, b.to_vec2() - mq);
        cosine += a.dot(b);
        sine += a.cross(b);
    }
    Affine::translate(mq) * Affine::rotate(libm::atan2(sine, cosine)) * Affine::translate(-mp)
}

/// Distance from a point to a closed polygon.
fn nearest(p: Point, polygon: &[Point]) -> f64 {
    let mut best = f64::INFINITY;
    for i in 0..polygon.len() {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        let d = b - a;
        let t = ((p - a).dot(d) / d.hypot2().max(1e-18)).clamp(0.0, 1.0);
        best = best.min((a + d * t - p).hypot2());
    }
    best.sqrt()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::edge::Edge;
    use crate::geometry::curve::Line;

    fn square(size: f64, turn: f64) -> Outline {
        let corner =
            |x: f64, y: f64| Affine::rotate(turn) * Point::new(x, y) + Vec2::new(40.0, -7.0) * turn;
        let c = [
            corner(0.0, 0.0),
            corner(size, 0.0),
            corner(size, size),
            corner(0.0, size),
        ];
        Outline::new(
            (0..4)
                .map(|i| Edge::seam(format!("{i}"), Line::straight(c[i], c[(i + 1) % 4])))
                .collect(),
        )
        .unwrap()
    }

    #[test]
    fn a_turned_piece_is_no_distance_away() {
        assert!(distance(&square(100.0, 0.7), &square(100.0, 0.0)).max < 1e-9);
    }

    #[test]
    fn a_square_one_mm_larger_all_round_is_one_mm_away_on_its_sides() {
        let d = distance(&square(102.0, 0.3), &square(100.0, 0.0));
        approx::assert_abs_diff_eq!(d.max, 2f64.sqrt(), epsilon = 1e-6);
        assert!(d.rms > 0.99 && d.rms < 1.1, "{d:?}");
    }
}
