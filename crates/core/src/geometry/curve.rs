//! A line of cubic curves joined end to end: length along it, point at a length, nearest point, split.

use std::sync::OnceLock;

use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, ParamCurveDeriv, Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::tolerance::MEASURING;

/// How exactly arcs are measured inside, mm: far below [`MEASURING`], so that sums of many stay below it.
const ARC: f64 = 1e-9;

/// Cubic curves joined end to end, kept as `3 n + 1` control points; a straight stretch is a cubic whose
/// control points lie at its thirds.
///
/// The first and every third point lie on the line, the two between steer it.
///
/// The lengths of its cubics are reckoned once and kept: a line never changes, and every tray asks for them again.
#[derive(Clone, Serialize, Deserialize)]
#[serde(try_from = "Vec<(f64, f64)>", into = "Vec<(f64, f64)>")]
pub struct Line {
    points: Vec<Point>,
    /// Length of each cubic, as soon as somebody asked.
    lengths: OnceLock<Box<[f64]>>,
}

impl PartialEq for Line {
    fn eq(&self, other: &Self) -> bool {
        self.points == other.points
    }
}

impl std::fmt::Debug for Line {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Line")
            .field("points", &self.points)
            .finish()
    }
}

impl From<Vec<Point>> for Line {
    /// Of points that are known to be `3 n + 1` finite ones.
    fn from(points: Vec<Point>) -> Self {
        Self {
            points,
            lengths: OnceLock::new(),
        }
    }
}

/// Why a list of points is not a line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LineError {
    /// Not `3 n + 1` points with `n` at least 1.
    #[error("a line needs 4, 7, 10 ... points, {0} were given")]
    Count(usize),
    /// A coordinate is infinite or not a number.
    #[error("point {0} has no finite coordinates")]
    NotFinite(usize),
}

impl TryFrom<Vec<(f64, f64)>> for Line {
    type Error = LineError;
    fn try_from(points: Vec<(f64, f64)>) -> Result<Self, LineError> {
        Self::new(points.into_iter().map(Point::from).collect())
    }
}

impl From<Line> for Vec<(f64, f64)> {
    fn from(line: Line) -> Self {
        line.points.into_iter().map(|p| (p.x, p.y)).collect()
    }
}

impl Line {
    /// Checks the points and makes a line of them.
    ///
    /// # Errors
    /// [`LineError`] when their number is not `3 n + 1` or one of them is not finite.
    pub fn new(points: Vec<Point>) -> Result<Self, LineError> {
        if points.len() < 4 || points.len() % 3 != 1 {
            return Err(LineError::Count(points.len()));
        }
        match points.iter().position(|p| !p.is_finite()) {
            Some(at) => Err(LineError::NotFinite(at)),
            None => Ok(Self::from(points)),
        }
    }

    /// A straight line.
    pub fn straight(from: Point, to: Point) -> Self {
        Self::from(vec![
            from,
            from.lerp(to, 1.0 / 3.0),
            from.lerp(to, 2.0 / 3.0),
            to,
        ])
    }

    /// A line through all the given corners, straight between them. Two corners at least, else `None`.
    pub fn through_corners(corners: &[Point]) -> Option<Self> {
        let mut points = vec![*corners.first()?];
        for pair in corners.windows(2) {
            let [a, b] = pair else { continue };
            points.extend([a.lerp(*b, 1.0 / 3.0), a.lerp(*b, 2.0 / 3.0), *b]);
        }
        Self::new(points).ok()
    }

    /// Joins cubics end to end; each must start where the one before ended.
    pub fn from_cubics(cubics: &[CubicBez]) -> Option<Self> {
        let mut points = vec![cubics.first()?.p0];
        for c in cubics {
            points.extend([c.p1, c.p2, c.p3]);
        }
        Self::new(points).ok()
    }

    /// All control points, `3 n + 1` of them.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// Where the line starts.
    pub fn start(&self) -> Point {
        self.points.first().copied().unwrap_or_default()
    }

    /// Where the line ends.
    pub fn end(&self) -> Point {
        self.points.last().copied().unwrap_or_default()
    }

    /// The cubics, in order.
    pub fn cubics(&self) -> impl Iterator<Item = CubicBez> + '_ {
        self.points.windows(4).step_by(3).filter_map(|w| match w {
            [a, b, c, d] => Some(CubicBez::new(*a, *b, *c, *d)),
            _ => None,
        })
    }

    /// Length of each cubic, mm.
    fn lengths(&self) -> &[f64] {
        self.lengths
            .get_or_init(|| self.cubics().map(|c| length_of(&c)).collect())
    }

    /// Length along the line, mm.
    pub fn length(&self) -> f64 {
        self.lengths().iter().sum()
    }

    /// Which cubic, and the parameter on it, that lies at this fraction (0 to 1) of the length.
    pub fn locate(&self, fraction: f64) -> (usize, f64) {
        let lengths = self.lengths();
        let mut rest = fraction.clamp(0.0, 1.0) * lengths.iter().sum::<f64>();
        let last = lengths.len().saturating_sub(1);
        for (i, (cubic, length)) in self.cubics().zip(lengths).enumerate() {
            if rest <= *length || i == last {
                if *length <= 0.0 || rest <= 0.0 {
                    return (i, 0.0);
                }
                if rest >= *length {
                    return (i, 1.0);
                }
                return (i, parameter_at(&cubic, rest, *length));
            }
            rest -= *length;
        }
        (last, 1.0)
    }

    /// The point at a fraction (0 to 1) of the length.
    pub fn at(&self, fraction: f64) -> Point {
        let (i, t) = self.locate(fraction);
        self.cubics()
            .nth(i)
            .map_or_else(|| self.end(), |c| c.eval(t))
    }

    /// Unit direction of travel at a fraction (0 to 1) of the length; zero only for a line without length.
    pub fn direction(&self, fraction: f64) -> Vec2 {
        let (i, t) = self.locate(fraction);
        let Some(c) = self.cubics().nth(i) else {
            return Vec2::ZERO;
        };
        direction_on(&c, t)
    }

    /// The same line walked the other way.
    pub fn reversed(&self) -> Self {
        Self::from(self.points.iter().rev().copied().collect::<Vec<_>>())
    }

    /// The part between two fractions; walked backwards when `to` is before `from`. `None` when it is empty.
    pub fn between(&self, from: f64, to: f64) -> Option<Self> {
        if to < from {
            return self.between(to, from).map(|line| line.reversed());
        }
        let ((i, t), (j, u)) = (self.locate(from), self.locate(to));
        let cubics: Vec<CubicBez> = self
            .cubics()
            .enumerate()
            .filter(|(k, _)| (i..=j).contains(k))
            .map(|(k, c)| c.subsegment(if k == i { t } else { 0.0 }..if k == j { u } else { 1.0 }))
            .filter(|c| c.p0 != c.p3 || c.p0 != c.p1)
            .collect();
        Self::from_cubics(&cubics)
    }

    /// Is every control point within [`MEASURING`] of the straight line between the ends?
    pub fn is_straight(&self) -> bool {
        let (a, d) = (self.start(), self.end() - self.start());
        let length = d.hypot();
        length > 0.0
            && self
                .points
                .iter()
                .all(|p| ((*p - a).cross(d) / length).abs() <= MEASURING.0)
    }

    /// Every control point moved by `f`.
    pub fn mapped(&self, f: impl Fn(Point) -> Point) -> Self {
        Self::from(self.points.iter().map(|p| f(*p)).collect::<Vec<_>>())
    }

    /// The line as a path, started with a move.
    pub fn to_path(&self) -> kurbo::BezPath {
        let mut path = kurbo::BezPath::new();
        path.move_to(self.start());
        for c in self.cubics() {
            path.curve_to(c.p1, c.p2, c.p3);
        }
        path
    }
}

/// Is it a straight stretch walked evenly, its control points at its thirds?
fn is_even(c: &CubicBez) -> bool {
    let near = 1e-12 * (1.0 + c.p0.to_vec2().hypot() + c.p3.to_vec2().hypot());
    let third = |share| c.p0.lerp(c.p3, share);
    (c.p1 - third(1.0 / 3.0)).hypot() <= near && (c.p2 - third(2.0 / 3.0)).hypot() <= near
}

fn length_of(c: &CubicBez) -> f64 {
    if is_even(c) {
        (c.p3 - c.p0).hypot()
    } else {
        c.arclen(accuracy(c))
    }
}

/// Newton steps before the careful search takes over.
const STEPS: usize = 6;

/// The parameter at a length from the start of a cubic this long.
///
/// Newton from an even guess, each step measured from the one before: on the curves of pieces three or four steps; where it
/// leaves the curve or does not settle, the bracketing search.
fn parameter_at(c: &CubicBez, rest: f64, length: f64) -> f64 {
    if is_even(c) {
        return rest / length;
    }
    let (deriv, exact) = (c.deriv(), accuracy(c));
    let (mut at, mut along) = (0.0, 0.0);
    let mut next = rest / length;
    for _ in 0..STEPS {
        let part = c.subsegment(f64::min(at, next)..f64::max(at, next));
        along += (next - at).signum() * part.arclen(exact);
        at = next;
        let missing = rest - along;
        if missing.abs() <= exact {
            return at;
        }
        let speed = deriv.eval(at).to_vec2().hypot();
        next = at + missing / speed;
        if !(0.0..=1.0).contains(&next) {
            break;
        }
    }
    c.inv_arclen(rest, exact)
}

/// How exactly a cubic is measured: no finer than its own figures can tell.
fn accuracy(c: &CubicBez) -> f64 {
    let reach = (c.p1 - c.p0).hypot() + (c.p2 - c.p1).hypot() + (c.p3 - c.p2).hypot();
    ARC.max(reach * 1e-12)
}

/// Unit direction of a cubic at `t`; where its own derivative vanishes, that of the next control point apart.
pub fn direction_on(c: &CubicBez, t: f64) -> Vec2 {
    let d = c.deriv().eval(t).to_vec2();
    if d.hypot2() > 1e-18 {
        return d / d.hypot();
    }
    let candidates = if t < 0.5 {
        [c.p1 - c.p0, c.p2 - c.p0, c.p3 - c.p0]
    } else {
        [c.p3 - c.p2, c.p3 - c.p1, c.p3 - c.p0]
    };
    candidates
        .into_iter()
        .find(|v| v.hypot2() > 1e-18)
        .map_or(Vec2::ZERO, |v| v / v.hypot())
}
