//! Where two moved lines meet at a corner.
//!
//! Millimetres, y up, lines moved to the right of travel. Knows no cloth: which corner gets which shape because of hems,
//! folds and darts is decided in [`crate::allowance`].

use kurbo::{CubicBez, Point, Vec2};

use super::crossing::crossings;
use super::parallel::{
    SMOOTH, Spot, at_spot, from_spot, meets_line, right_of, straight, turned_round, up_to,
};

/// A moved line where it comes to a corner, or leaves it.
#[derive(Debug, Clone, Copy)]
pub struct Side<'a> {
    /// The moved line.
    pub chain: &'a [CubicBez],
    /// Is the corner at the end of the chain (the line comes), or at its start (it leaves)?
    pub end: End,
    /// The corner of the line that was moved.
    pub corner: Point,
    /// Unit direction of travel at the corner.
    pub along: Vec2,
    /// How far it was moved, outwards positive.
    pub width: f64,
}

/// Which end of a line lies at a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The line comes to the corner.
    Comes,
    /// The line leaves the corner.
    Leaves,
}

/// How far a line reaches: a spot on it, or a point on its straight continuation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Where the line is cut; `None` when it is carried on instead.
    pub spot: Option<Spot>,
    /// The point it reaches.
    pub at: Point,
}

/// The shape two moved lines make at a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shape {
    /// They run on smoothly.
    Smooth,
    /// Both carried on until they meet.
    Mitred,
    /// Carried on to the limit, then cut straight across.
    SquaredOff,
    /// One stops square, and the line steps to the other.
    Stepped,
    /// They cross, and both are cut there.
    Trimmed,
    /// They neither meet nor cross here: joined through the corner, the crossing is resolved later.
    Through,
}

/// Two moved lines joined at a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined<S> {
    /// What it looks like.
    pub shape: S,
    /// Where the coming line is cut; `None` keeps all of it.
    pub before: Option<Spot>,
    /// The way from the coming to the leaving line; gaps are closed by straight lines.
    pub way: Vec<CubicBez>,
    /// Where the leaving line is cut; `None` keeps all of it.
    pub after: Option<Spot>,
}

impl Side<'_> {
    /// Where the moved line ends at the corner.
    pub fn tip(&self) -> Point {
        self.corner + right_of(self.along) * self.width
    }

    /// Direction in which the line is carried on past the corner.
    pub fn ahead(&self) -> Vec2 {
        match self.end {
            End::Comes => self.along,
            End::Leaves => -self.along,
        }
    }

    /// How far the line must be carried on (negative: cut back) along its tangent to meet the endless line through
    /// `at` square to `normal`; `None` when it runs along that line.
    pub fn run_out(&self, at: Point, normal: Vec2) -> Option<f64> {
        let slope = self.ahead().dot(normal);
        (slope.abs() > 1e-9).then(|| (at - self.tip()).dot(normal) / slope)
    }

    /// Where the line meets the endless line through `at` square to `normal`: carried on, or cut back at the spot
    /// nearest the corner. `None` when it would run out further than `most`, or never meets it.
    pub fn reach(&self, at: Point, normal: Vec2, most: f64) -> Option<Reach> {
        let run = self.run_out(at, normal);
        if let Some(run) = run
            && (-1e-9..=most).contains(&run)
        {
            return Some(Reach {
                spot: None,
                at: self.tip() + self.ahead() * run.max(0.0),
            });
        }
        let spots = meets_line(self.chain, at, normal);
        let spot = match self.end {
            End::Comes => spots.last().copied(),
            End::Leaves => spots.first().copied(),
        }?;
        Some(Reach {
            spot: Some(spot),
            at: at_spot(self.chain, spot),
        })
    }

    /// The line from where it reaches, walked away from the corner.
    pub fn away_from(&self, reach: &Reach) -> Vec<CubicBez> {
        let mut kept = match (self.end, reach.spot) {
            (End::Comes, Some(spot)) => turned_round(&up_to(self.chain, spot)),
            (End::Leaves, Some(spot)) => from_spot(self.chain, spot),
            (End::Comes, None) => turned_round(self.chain),
            (End::Leaves, None) => self.chain.to_vec(),
        };
        if reach.spot.is_none() && (reach.at - self.tip()).hypot2() > 1e-18 {
            let tip = kept.first().map_or(self.tip(), |c| c.p0);
            kept.insert(0, straight(reach.at, tip));
        }
        kept
    }
}

/// The chain from its start to where it first meets the endless line through `at` square to `normal`, carried on
/// straight when it is too short. `None` when it never gets there within `most`.
pub fn cut_at_line(
    chain: &[CubicBez],
    at: Point,
    normal: Vec2,
    most: f64,
) -> Option<Vec<CubicBez>> {
    let start = chain.first()?.p0;
    let spots = meets_line(chain, at, normal);
    let spot = spots
        .into_iter()
        .find(|s| (at_spot(chain, *s) - start).hypot2() > 1e-12 || (s.cubic, s.t) > (0, 1e-3));
    if let Some(spot) = spot {
        return Some(up_to(chain, spot));
    }
    let last = chain.last()?;
    let along = super::curve::direction_on(last, 1.0);
    let slope = along.dot(normal);
    let run = (at - last.p3).dot(normal) / slope;
    if !run.is_finite() || !(0.0..=most).contains(&run) {
        return None;
    }
    let mut carried = chain.to_vec();
    carried.push(straight(last.p3, last.p3 + along * run));
    Some(carried)
}

/// Joins two moved lines at a corner.
///
/// `limit` is the furthest a corner may lie from the corner of the unmoved line, mm.
pub fn join(before: &Side<'_>, after: &Side<'_>, limit: f64) -> Joined<Shape> {
    let (e1, e2) = (before.tip(), after.tip());
    let (t1, t2) = (before.along, after.along);
    let turn = t1.cross(t2);
    let wider = before.width.abs().max(after.width.abs());
    if turn.abs() < SMOOTH && t1.dot(t2) > 0.0 {
        let shape = if (before.width - after.width).abs() < 1e-9 {
            Shape::Smooth
        } else {
            Shape::Stepped
        };
        return via(shape, Vec::new());
    }
    if turn.abs() < SMOOTH {
        // straight back: square across the end
        let far = |p: Point| straight(p, p + t1 * wider);
        let (a, b) = (far(e1), far(e2));
        return via(
            Shape::SquaredOff,
            vec![a, straight(a.p3, b.p3), straight(b.p3, b.p0)],
        );
    }
    let d = e2 - e1;
    let (run1, run2) = (d.cross(t2) / turn, t1.cross(d) / turn);
    if run1 >= -1e-9 && run2 >= -1e-9 {
        return run_out(before, after, e1 + t1 * run1, limit, (run1, run2));
    }
    // lines moved by one width run out or cross together; with two widths one may have to stop square
    let extends = run1.max(run2);
    let inner = turn * (before.width + after.width) < 0.0;
    if extends <= 1e-9 || (inner && extends <= 0.5 * wider) {
        return trim(before, after, run1.max(0.0), run2.max(0.0));
    }
    step(before, after)
}

fn via(shape: Shape, way: Vec<CubicBez>) -> Joined<Shape> {
    Joined {
        shape,
        before: None,
        way,
        after: None,
    }
}

/// A way that is one point: the gaps to it are closed by straight lines.
pub fn point(p: Point) -> CubicBez {
    CubicBez::new(p, p, p, p)
}

fn run_out(
    before: &Side<'_>,
    after: &Side<'_>,
    tip: Point,
    limit: f64,
    runs: (f64, f64),
) -> Joined<Shape> {
    let out = tip - before.corner;
    let far = out.hypot2().sqrt();
    if far <= limit + 1e-9 {
        return via(Shape::Mitred, vec![point(tip)]);
    }
    let out = out / far;
    let stop = |side: &Side<'_>, run: f64| {
        let slope = side.ahead().dot(out);
        let along = if slope > 1e-9 {
            (limit - (side.tip() - before.corner).dot(out)) / slope
        } else {
            0.0
        };
        side.tip() + side.ahead() * along.clamp(0.0, run)
    };
    let (a, b) = (stop(before, runs.0), stop(after, runs.1));
    via(Shape::SquaredOff, vec![straight(a, b)])
}

fn through(corner: Point) -> Joined<Shape> {
    via(Shape::Through, vec![point(corner)])
}

/// Cuts both lines where they cross, the first a little carried on, so that lines that only touch are found too.
fn trim(before: &Side<'_>, after: &Side<'_>, run1: f64, run2: f64) -> Joined<Shape> {
    const OVER: f64 = 1e-4;
    let mut a = before.chain.to_vec();
    a.push(straight(
        before.tip(),
        before.tip() + before.along * (run1 + OVER),
    ));
    let mut b = vec![straight(
        after.tip() - after.along * (run2 + OVER),
        after.tip(),
    )];
    b.extend_from_slice(after.chain);
    // the crossing nearest the corner on both lines: the least of the line is lost
    let lost = |c: &super::crossing::Crossing| {
        (before.chain.len() as f64 - c.first.cubic as f64 - c.first.t)
            + c.second.cubic as f64
            + c.second.t
    };
    let Some(c) = crossings(&a, &b)
        .into_iter()
        .min_by(|x, y| lost(x).total_cmp(&lost(y)))
    else {
        return through(before.corner);
    };
    let first = (c.first.cubic < before.chain.len()).then_some(c.first);
    let second = c.second.cubic.checked_sub(1).map(|cubic| Spot {
        cubic,
        t: c.second.t,
    });
    Joined {
        shape: Shape::Trimmed,
        before: first,
        way: vec![point(c.at)],
        after: second,
    }
}

/// The wider line stops square to itself; from there the line runs towards the corner until it meets the narrower one.
fn step(before: &Side<'_>, after: &Side<'_>) -> Joined<Shape> {
    let wide_comes = before.width.abs() > after.width.abs();
    let (wide, narrow) = if wide_comes {
        (before, after)
    } else {
        (after, before)
    };
    let Some(reach) = narrow.reach(wide.corner, wide.along, wide.width.abs()) else {
        return Joined {
            shape: Shape::Stepped,
            ..through(before.corner)
        };
    };
    // beyond the corner, or above the wide line: no way straight down
    let height = (reach.at - wide.corner).dot(right_of(wide.along)) * wide.width.signum();
    if !(-1e-9..=wide.width.abs()).contains(&height) {
        return Joined {
            shape: Shape::Stepped,
            ..through(before.corner)
        };
    }
    let (first, second) = if wide_comes {
        (None, reach.spot)
    } else {
        (reach.spot, None)
    };
    Joined {
        shape: Shape::Stepped,
        before: first,
        way: vec![point(reach.at)],
        after: second,
    }
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;
    use crate::geometry::parallel::parallel;

    /// Two straight lines of 50 mm meeting at the origin; the second leaves at `degrees` to the left of the first.
    fn corner(degrees: f64, w1: f64, w2: f64, limit: f64) -> Joined<Shape> {
        let (sin, cos) = (degrees.to_radians().sin(), degrees.to_radians().cos());
        let t2 = Vec2::new(cos, sin);
        let a = parallel(&[straight(Point::new(-50.0, 0.0), Point::ZERO)], w1);
        let b = parallel(&[straight(Point::ZERO, (t2 * 50.0).to_point())], w2);
        let before = Side {
            chain: &a,
            end: End::Comes,
            corner: Point::ZERO,
            along: Vec2::new(1.0, 0.0),
            width: w1,
        };
        let after = Side {
            chain: &b,
            end: End::Leaves,
            corner: Point::ZERO,
            along: t2,
            width: w2,
        };
        join(&before, &after, limit)
    }

    fn close(a: Point, b: (f64, f64)) {
        assert!((a - Point::from(b)).hypot() < 1e-3, "{a:?} is not {b:?}");
    }

    #[test]
    fn a_square_corner_is_mitred_to_both_widths() {
        let joined = corner(90.0, 6.0, 10.0, 30.0);
        assert_eq!(joined.shape, Shape::Mitred);
        close(joined.way[0].p0, (10.0, -6.0));
    }

    #[test]
    fn a_sharp_corner_is_squared_off_at_the_limit() {
        // turn of 150 degrees: the mitre would lie 5 / sin 15 = 19.3 mm out
        let joined = corner(150.0, 5.0, 5.0, 15.0);
        assert_eq!(joined.shape, Shape::SquaredOff);
        let (a, b) = (joined.way[0].p0, joined.way[0].p3);
        let out = (a.midpoint(b)).to_vec2();
        assert!((out.hypot() - 15.0).abs() < 1e-9);
        assert!(
            (b - a).dot(out).abs() < 1e-9,
            "square to the corner's middle line"
        );
        assert!((a.y - -5.0).abs() < 1e-9, "still on the moved line");
    }

    #[test]
    fn an_inner_corner_is_cut_where_the_lines_cross() {
        let joined = corner(-90.0, 6.0, 4.0, 30.0);
        assert_eq!(joined.shape, Shape::Trimmed);
        close(joined.way[0].p0, (-4.0, -6.0));
        assert!(joined.before.is_some() && joined.after.is_some());
    }

    #[test]
    fn a_line_without_allowance_stops_its_neighbour_at_an_inner_corner() {
        let joined = corner(-90.0, 6.0, 0.0, 30.0);
        assert_eq!(joined.shape, Shape::Trimmed);
        close(joined.way[0].p0, (0.0, -6.0));
    }

    #[test]
    fn two_widths_that_run_nearly_straight_on_step_square() {
        for degrees in [-10.0, 0.0, 10.0] {
            let joined = corner(degrees, 12.0, 6.0, 36.0);
            assert_eq!(joined.shape, Shape::Stepped, "{degrees}");
            let narrow = joined
                .way
                .first()
                .map_or_else(|| Point::new(0.0, -6.0), |c| c.p0);
            assert!(
                narrow.x.abs() < 1e-9,
                "the step is square to the wider line at {degrees}: {narrow:?}"
            );
        }
    }

    #[test]
    fn turning_straight_back_is_squared_off() {
        let joined = corner(180.0, 5.0, 5.0, 15.0);
        assert_eq!(joined.shape, Shape::SquaredOff);
    }
}
