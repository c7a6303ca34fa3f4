//! A smooth curve through given points, as a thin lath bent round pins would lie.

use kurbo::{CubicBez, Point, Vec2};

use crate::geometry::curve::Line;
use crate::tolerance::JOINING;

/// The smooth curve through all points in order, with given directions of travel at its ends where there are any.
///
/// Direction and bend run on without a break at every inner point. An end without a direction runs out straight, as a
/// free lath does. Points on the one before them are left out; `None` when fewer than two are left.
///
/// # Source
/// The cubic spline over chord lengths; its equations are in every textbook on numerical methods (from memory).
///
/// # Example
/// ```
/// # use petitoile_core::{geometry::spline::through, kurbo::Point};
/// let straight = through(&[Point::new(0.0, 0.0), Point::new(30.0, 0.0), Point::new(70.0, 0.0)], None, None);
/// assert!(straight.is_some_and(|line| (line.length() - 70.0).abs() < 1e-9));
/// ```
pub fn through(points: &[Point], start: Option<Vec2>, end: Option<Vec2>) -> Option<Line> {
    let points = apart(points);
    let chords: Vec<f64> = points
        .iter()
        .zip(points.iter().skip(1))
        .map(|(a, b)| (*b - *a).hypot())
        .collect();
    let speeds = speeds(&points, &chords, unit(start), unit(end))?;
    let ends = points.iter().zip(points.iter().skip(1));
    let ways = speeds.iter().zip(speeds.iter().skip(1));
    let cubics: Vec<CubicBez> = ends
        .zip(ways)
        .zip(&chords)
        .map(|(((a, b), (leave, arrive)), h)| {
            CubicBez::new(*a, *a + *leave * (h / 3.0), *b - *arrive * (h / 3.0), *b)
        })
        .collect();
    Line::from_cubics(&cubics)
}

/// Points that lie on the one before them left out.
fn apart(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
    for p in points.iter().filter(|p| p.is_finite()) {
        if kept
            .last()
            .is_none_or(|last| (*last - *p).hypot() > JOINING.0)
        {
            kept.push(*p);
        }
    }
    kept
}

fn unit(way: Option<Vec2>) -> Option<Vec2> {
    way.filter(|way| way.hypot() > 0.0 && way.is_finite())
        .map(|way| way / way.hypot())
}

/// How the curve travels at each point, so that its bend runs on: one equation a point, solved from the first to the
/// last and back.
fn speeds(
    points: &[Point],
    chords: &[f64],
    start: Option<Vec2>,
    end: Option<Vec2>,
) -> Option<Vec<Vec2>> {
    let (first, last) = (chords.first()?, chords.last()?);
    let slope = |i: usize| Some((*points.get(i + 1)? - *points.get(i)?) / *chords.get(i)?);
    let n = chords.len();
    // Of each equation: what stands before, at and after the point, and its right side.
    let mut rows: Vec<(f64, f64, f64, Vec2)> = Vec::with_capacity(n + 1);
    rows.push(match start {
        Some(way) => (0.0, *first, 0.0, way * *first),
        None => (0.0, 2.0 * first, *first, slope(0)? * (3.0 * first)),
    });
    for i in 1..n {
        let (before, after) = (*chords.get(i - 1)?, *chords.get(i)?);
        let right = slope(i - 1)? * (3.0 * after) + slope(i)? * (3.0 * before);
        rows.push((after, 2.0 * (before + after), before, right));
    }
    rows.push(match end {
        Some(way) => (0.0, *last, 0.0, way * *last),
        None => (*last, 2.0 * last, 0.0, slope(n - 1)? * (3.0 * last)),
    });
    Some(solved(rows))
}

/// Three-band equations, by elimination.
fn solved(rows: Vec<(f64, f64, f64, Vec2)>) -> Vec<Vec2> {
    let mut done: Vec<(f64, Vec2)> = Vec::with_capacity(rows.len());
    for (below, at, above, right) in rows {
        let (share, value) = done.last().copied().unwrap_or((0.0, Vec2::ZERO));
        let pivot = at - below * share;
        done.push((above / pivot, (right - value * below) / pivot));
    }
    let mut after = Vec2::ZERO;
    let mut speeds: Vec<Vec2> = done
        .iter()
        .rev()
        .map(|(share, value)| {
            after = *value - after * *share;
            after
        })
        .collect();
    speeds.reverse();
    speeds
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::geometry::curve::direction_on;

    fn circle(n: u32) -> Vec<Point> {
        (0..=n)
            .map(|i| {
                let angle = f64::from(i) / f64::from(n) * std::f64::consts::FRAC_PI_2;
                Point::new(100.0 * libm::cos(angle), 100.0 * libm::sin(angle))
            })
            .collect()
    }

    /// A spline through points of a circle comes nearer to it with the fourth power of their distance (closed form:
    /// distance from the centre).
    #[test]
    fn a_lath_round_a_circle_lies_on_it_the_better_the_more_pins() {
        let mut before = f64::INFINITY;
        for n in [2, 4, 8, 16] {
            let line = through(
                &circle(n),
                Some(Vec2::new(0.0, 1.0)),
                Some(Vec2::new(-1.0, 0.0)),
            );
            let line = line.unwrap();
            let worst = (0..=200)
                .map(|i| (line.at(f64::from(i) / 200.0).to_vec2().hypot() - 100.0).abs())
                .fold(0.0, f64::max);
            assert!(worst < before / 8.0, "{n} pins: {worst} mm");
            before = worst;
        }
        assert!(before < 1e-3, "{before}");
    }

    #[test]
    fn the_curve_passes_every_point_and_keeps_its_end_directions() {
        let points = [(0.0, 0.0), (30.0, 12.0), (55.0, -8.0), (90.0, 4.0)].map(Point::from);
        let (start, end) = (Vec2::new(1.0, 2.0), Vec2::new(0.0, -3.0));
        let line = through(&points, Some(start), Some(end)).unwrap();
        for (i, p) in points.iter().enumerate() {
            assert!((line.points()[3 * i] - *p).hypot() < 1e-9);
        }
        assert!((line.direction(0.0) - start / start.hypot()).hypot() < 1e-9);
        assert!((line.direction(1.0) - end / end.hypot()).hypot() < 1e-9);
    }

    #[test]
    fn the_curve_has_no_corner_at_an_inner_point() {
        let points = [(0.0, 0.0), (30.0, 40.0), (35.0, 90.0), (120.0, 95.0)].map(Point::from);
        let line = through(&points, None, None).unwrap();
        let cubics: Vec<CubicBez> = line.cubics().collect();
        for pair in cubics.windows(2) {
            let turn = direction_on(&pair[0], 1.0).cross(direction_on(&pair[1], 0.0));
            assert!(turn.abs() < 1e-9, "{turn}");
        }
    }

    #[test]
    fn one_place_is_no_curve() {
        let p = Point::new(3.0, 4.0);
        assert_eq!(through(&[p, p, p], None, None), None);
        assert_eq!(through(&[], None, None), None);
    }
}
