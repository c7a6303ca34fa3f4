//! What a drafter's pen does: quarter ellipses, rays, normals, and the check that an outline can be cut.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

use super::{DraftError, DraftPiece};
use crate::edge::{Edge, Finish};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;

/// Control length of a quarter ellipse as a share of its half axis (nearly 4/3 (sqrt 2 - 1)).
const QUARTER: f64 = 0.5523;

/// A quarter ellipse that leaves `from` level and arrives at `to` upright.
pub(super) fn level_then_upright(from: Point, to: Point) -> CubicBez {
    let d = to - from;
    CubicBez::new(
        from,
        from + Vec2::new(QUARTER * d.x, 0.0),
        to - Vec2::new(0.0, QUARTER * d.y),
        to,
    )
}

/// A quarter ellipse that leaves `from` upright and arrives at `to` level.
pub(super) fn upright_then_level(from: Point, to: Point) -> CubicBez {
    let d = to - from;
    CubicBez::new(
        from,
        from + Vec2::new(0.0, QUARTER * d.y),
        to - Vec2::new(QUARTER * d.x, 0.0),
        to,
    )
}

/// A neckline that leaves `from` level and arrives at the shoulder seam square to it.
///
/// Rounder at the shoulder than a quarter ellipse where the neckline rises little. *Own.*
pub(super) fn level_then_square(from: Point, to: Point, shoulder: Point) -> CubicBez {
    let up = -turned_right(unit(shoulder - to));
    let level = Vec2::new((to.x - from.x) / 2.0, 0.0);
    CubicBez::new(
        from,
        from + level,
        to - up * (0.2 * (to - from).hypot()),
        to,
    )
}

/// A curve level at both ends.
pub(super) fn level_both(from: Point, to: Point) -> CubicBez {
    let third = Vec2::new((to.x - from.x) / 3.0, 0.0);
    CubicBez::new(from, from + third, to - third, to)
}

/// From the shoulder end down to the width line: leaves square to the shoulder seam, arrives upright.
pub(super) fn square_then_upright(neck: Point, shoulder: Point, to: Point) -> CubicBez {
    let d = (to - shoulder).hypot() / 3.0;
    CubicBez::new(
        shoulder,
        shoulder + turned_right(unit(shoulder - neck)) * d,
        to + Vec2::new(0.0, d),
        to,
    )
}

/// A hem that leaves `from` square to the seam running in direction `seam` and arrives level at `to` on x = 0.
pub(super) fn hem(seam: Vec2, from: Point, to: Point) -> CubicBez {
    let third = from.x / 3.0;
    CubicBez::new(
        from,
        from + turned_right(unit(seam)) * third,
        Point::new(third, to.y),
        to,
    )
}

/// Unit vector; zero stays zero.
pub(super) fn unit(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 0.0 { v / length } else { Vec2::ZERO }
}

/// A direction turned by a quarter to the right.
pub(super) fn turned_right(v: Vec2) -> Vec2 {
    Vec2::new(v.y, -v.x)
}

/// The point at a distance from `from` towards `through`.
pub(super) fn on_ray(from: Point, through: Point, distance: f64) -> Point {
    from + unit(through - from) * distance
}

/// The other leg of a right-angled triangle; refuses when the long side is too short.
pub(super) fn other_leg(
    piece: &'static str,
    edge: &'static str,
    long: f64,
    leg: f64,
) -> Result<f64, DraftError> {
    let square = long * long - leg * leg;
    if square < 0.0 || !square.is_finite() {
        return Err(DraftError::OutOfReach {
            piece,
            edge,
            length: long,
            distance: leg.abs(),
        });
    }
    Ok(square.sqrt())
}

/// Refuses an edge that comes out without length.
pub(super) fn must_have_length(
    piece: &'static str,
    edge: &'static str,
    length: f64,
) -> Result<(), DraftError> {
    if length > 0.0 {
        Ok(())
    } else {
        Err(DraftError::NoLength {
            piece,
            edge,
            length,
        })
    }
}

/// A straight edge through corners.
pub(super) fn straight(name: &str, corners: &[Point]) -> Option<Edge> {
    Line::through_corners(corners).map(|line| Edge::seam(name, line))
}

/// A straight edge on which the cloth is folded.
pub(super) fn fold(name: &str, from: Point, to: Point) -> Option<Edge> {
    Some(Edge::finished(name, Line::straight(from, to), Finish::Fold))
}

/// A curved edge.
pub(super) fn curved(name: &str, cubics: &[CubicBez]) -> Option<Edge> {
    Line::from_cubics(cubics).map(|line| Edge::seam(name, line))
}

/// Checks a clockwise list of edges and makes a piece of it.
///
/// # Errors
/// [`DraftError`] when the edges do not close, the outline crosses itself or is inside out.
pub(super) fn piece(
    name: &'static str,
    points: &[(&'static str, Point)],
    clockwise: Vec<Option<Edge>>,
) -> Result<DraftPiece, DraftError> {
    let edges: Vec<Edge> = clockwise.into_iter().flatten().collect();
    if let Some(at) = crossing(&edges) {
        return Err(DraftError::Crossing {
            piece: name,
            x: at.x,
            y: at.y,
        });
    }
    let first = edges.first().map(|e| e.name.clone());
    let outline = Outline::new(edges).map_err(|why| DraftError::NoOutline { piece: name, why })?;
    // `Outline::new` turns a clockwise list round, so the first edge must now be the last.
    if outline.edges().last().map(|e| e.name.clone()) != first {
        return Err(DraftError::InsideOut { piece: name });
    }
    Ok(DraftPiece {
        name,
        outline,
        points: points.to_vec(),
    })
}

/// Chords a cubic is cut into for the crossing check.
const CHORDS: u32 = 32;

/// Where a closed list of edges crosses itself, if it does.
pub(super) fn crossing(edges: &[Edge]) -> Option<Point> {
    let mut points: Vec<Point> = Vec::new();
    for cubic in edges.iter().flat_map(|e| e.line.cubics()) {
        let straight =
            turn(cubic.p0, cubic.p3, cubic.p1) == 0.0 && turn(cubic.p0, cubic.p3, cubic.p2) == 0.0;
        let n = if straight { 1 } else { CHORDS };
        points.extend((0..n).map(|i| cubic.eval(f64::from(i) / f64::from(n))));
    }
    let ends = points.iter().skip(1).chain(points.first());
    let chords: Vec<(Point, Point)> = points.iter().copied().zip(ends.copied()).collect();
    for (i, (a, b)) in chords.iter().enumerate() {
        // The next chord shares a point with this one, and so does the last with the first.
        for (c, d) in chords.iter().skip(i + 2) {
            if crosses(*a, *b, *c, *d) && b != c && a != d {
                return Some(a.midpoint(*b));
            }
        }
    }
    None
}

/// Do two chords cross inside both?
fn crosses(a: Point, b: Point, c: Point, d: Point) -> bool {
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// Twice the area of a triangle, positive when it turns left; 0 when the corners lie in line but for rounding.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    let (along, to) = (b - a, c - a);
    let area = along.cross(to);
    if area.abs() <= ROUNDING * along.hypot() * to.hypot().max(1.0) {
        0.0
    } else {
        area
    }
}

/// Sine of an angle that is rounding and no bend.
const ROUNDING: f64 = 1e-9;
