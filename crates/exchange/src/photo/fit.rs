//! From many noisy points in mm to a few smooth curves with corners kept.
//!
//! Corners first ([`super::ring`]); between corners one straight line, or one spline by least squares.

use petitoile_core::kurbo::{BezPath, CubicBez, Point, Vec2};

use super::ring::{APART, FitPoint, ROUNDED_PX, Ring};
use super::spline::{Knots, Spline};

/// So many neighbouring points are averaged before they count as off a curve.
const TOGETHER: usize = 7;
/// Most cubics between two corners.
const MOST_SPANS: usize = 120;

/// A closed line of curves.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    /// Closed.
    pub path: BezPath,
    /// Its corners, in the order of the path.
    pub corners: Vec<Point>,
    /// One line for each stretch from corner to corner.
    pub stretches: Vec<Vec<CubicBez>>,
    /// How far single points usually lie off it, mm (standard deviation).
    pub scatter: f64,
    /// The farthest that several neighbouring points lie off it, mm.
    pub off: f64,
    /// How many numbers the curves are made of, and how many points they were made from.
    pub numbers: (usize, usize),
}

/// Fits curves to a closed line of points; `pixel` is the size of a pixel, mm.
pub(super) fn fit(points: &[FitPoint], pixel: f64) -> Option<Fitted> {
    if points.iter().filter(|p| p.is_clear).count() < 8 {
        return None;
    }
    let ring = Ring::new(points, pixel);
    let scatter = ring.scatter();
    let corners = ring.corners(scatter);
    // As fine as the points allow, never finer than a ninth of a pixel.
    let tolerance = (pixel / 9.0).max(3.3 * scatter / (TOGETHER as f64 / APART as f64).sqrt());
    let mut fitted = Fitted {
        path: BezPath::new(),
        corners: corners.iter().map(|c| c.point).collect(),
        stretches: Vec::new(),
        scatter,
        off: 0.0,
        numbers: (0, 0),
    };
    if corners.is_empty() {
        let all = ring.between(0.0, ring.length, 0.0);
        let stretch = smooth(&all, None, tolerance, pixel)?;
        fitted.add(stretch, all.len());
    }
    for (corner, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let to = if next.s > corner.s {
            next.s
        } else {
            next.s + ring.length
        };
        let between = ring.between(corner.s, to, ROUNDED_PX * pixel);
        let ends = (corner.point, next.point);
        let stretch = straight(&between, ends, tolerance)
            .or_else(|| smooth(&between, Some(ends), tolerance, pixel))
            .unwrap_or_else(|| Stretch::line(ends));
        fitted.add(stretch, between.len());
    }
    fitted.close()
}

impl Fitted {
    fn add(&mut self, stretch: Stretch, points: usize) {
        self.off = self.off.max(stretch.off);
        self.numbers.0 += 2 * (stretch.cubics.len() + 3);
        self.numbers.1 += points;
        self.stretches.push(stretch.cubics);
    }

    fn close(mut self) -> Option<Self> {
        let first = self.stretches.first()?.first()?.p0;
        self.path.move_to(first);
        for c in self.stretches.iter().flatten() {
            if is_straight(c) {
                self.path.line_to(c.p3);
            } else {
                self.path.curve_to(c.p1, c.p2, c.p3);
            }
        }
        self.path.close_path();
        Some(self)
    }
}

/// Are the two middle points at the thirds?
pub(super) fn is_straight(c: &CubicBez) -> bool {
    let off = |p: Point, share: f64| (p - c.p0.lerp(c.p3, share)).hypot();
    off(c.p1, 1.0 / 3.0) < 1e-9 && off(c.p2, 2.0 / 3.0) < 1e-9
}

/// A stretch of curve and how far off its points are.
struct Stretch {
    cubics: Vec<CubicBez>,
    off: f64,
}

impl Stretch {
    fn line((from, to): (Point, Point)) -> Self {
        let thirds = CubicBez::new(from, from.lerp(to, 1.0 / 3.0), from.lerp(to, 2.0 / 3.0), to);
        Self {
            cubics: vec![thirds],
            off: 0.0,
        }
    }
}

/// A straight line between two corners, when all points lie along it.
fn straight(points: &[(f64, Point)], ends: (Point, Point), tolerance: f64) -> Option<Stretch> {
    let along = (ends.1 - ends.0).normalize();
    let off: Vec<f64> = points
        .iter()
        .map(|(_, p)| along.cross(*p - ends.0))
        .collect();
    let most = together(&off).into_iter().map(f64::abs).fold(0.0, f64::max);
    (most <= tolerance).then(|| Stretch {
        off: most,
        ..Stretch::line(ends)
    })
}

/// Means of so many neighbours; of all when they are fewer.
fn together(off: &[f64]) -> Vec<f64> {
    let window = TOGETHER.min(off.len()).max(1);
    let mean = |w: &[f64]| w.iter().sum::<f64>() / w.len() as f64;
    off.windows(window).map(mean).collect()
}

/// A smooth curve along points, open between two corners or closed.
fn smooth(
    points: &[(f64, Point)],
    ends: Option<(Point, Point)>,
    tolerance: f64,
    pixel: f64,
) -> Option<Stretch> {
    if points.len() < 4 {
        return None;
    }
    let mut places = places_of(points, ends);
    let start = if ends.is_some() { 1 } else { 8 };
    let mut knots = Knots::even(start, ends.is_none());
    let length = points.last()?.0;
    loop {
        let spline = Spline::fit(knots.clone(), &places, ends)?;
        // Once more with every point at the place of the curve that is nearest to it.
        for place in &mut places {
            place.0 = nearer(&spline, *place);
        }
        let spline = Spline::fit(spline.knots().clone(), &places, ends)?;
        let off: Vec<f64> = places
            .iter()
            .map(|place| off_curve(&spline, *place))
            .collect();
        let groups = together(&off);
        let most = groups.iter().map(|off| off.abs()).fold(0.0, f64::max);
        let half = TOGETHER.min(off.len()) / 2;
        let mut is_off = vec![false; knots.spans()];
        let mut counts = vec![0_usize; knots.spans()];
        for (t, _) in &places {
            if let Some(count) = counts.get_mut(knots.span_at(*t)) {
                *count += 1;
            }
        }
        for (i, group) in groups.iter().enumerate() {
            let Some((t, _)) = places.get(i + half) else {
                continue;
            };
            if group.abs() > tolerance
                && let Some(is_off) = is_off.get_mut(knots.span_at(*t))
            {
                *is_off = true;
            }
        }
        let is_halved = |n: usize| {
            let (from, to) = knots.span(n);
            is_off.get(n) == Some(&true)
                && counts.get(n).is_some_and(|count| *count >= 8)
                && (to - from) * length > 6.0 * pixel
        };
        let next = knots.halved(is_halved);
        if next.spans() == knots.spans() || next.spans() > MOST_SPANS {
            return Some(Stretch {
                cubics: spline.cubics(),
                off: most,
            });
        }
        knots = next;
    }
}

/// The points with their share of the length, 0 to 1.
fn places_of(points: &[(f64, Point)], ends: Option<(Point, Point)>) -> Vec<(f64, Point)> {
    let first = points.first().copied().unwrap_or_default();
    let last = points.last().copied().unwrap_or_default();
    let (before, after) = match ends {
        Some((from, to)) => ((first.1 - from).hypot(), (last.1 - to).hypot()),
        None => (0.0, (last.1 - first.1).hypot()),
    };
    let mut length = before;
    let mut places = Vec::with_capacity(points.len());
    let mut previous = first.1;
    for (_, p) in points {
        length += (*p - previous).hypot();
        previous = *p;
        places.push((length, *p));
    }
    let length = (length + after).max(f64::MIN_POSITIVE);
    for place in &mut places {
        place.0 /= length;
    }
    places
}

/// A step towards the place of a curve that is nearest to a point.
fn nearer(spline: &Spline, (t, p): (f64, Point)) -> f64 {
    let (at, speed) = motion(spline, t);
    let step = (p - at).dot(speed) / speed.hypot2().max(f64::MIN_POSITIVE);
    (t + step.clamp(-0.01, 0.01)).clamp(0.0, 1.0)
}

/// How far a point lies to the left of a curve.
fn off_curve(spline: &Spline, (t, p): (f64, Point)) -> f64 {
    let (at, speed) = motion(spline, t);
    speed.cross(p - at) / speed.hypot().max(f64::MIN_POSITIVE)
}

fn motion(spline: &Spline, t: f64) -> (Point, Vec2) {
    const SMALL: f64 = 1e-4;
    let (from, to) = ((t - SMALL).max(0.0), (t + SMALL).min(1.0));
    let speed = (spline.at(to) - spline.at(from)) / (to - from);
    (spline.at(t), speed)
}
