//! The line of one edge drawn otherwise: anew, straight, smooth at a join, with a point more or less.

use kurbo::{Affine, CubicBez, ParamCurveArclen, Point, Vec2};

use super::PointRef;
use super::edges::edge_at;
use super::kept::Reshaped;
use super::points::with_point;
use super::ring::{Ring, Shifts};
use crate::alteration::moves::{finite, index_of};
use crate::alteration::{AlterationError, Carried};
use crate::edge::{Edge, OutlinePoint};
use crate::geometry::curve::Line;
use crate::geometry::parallel::{is_straight, straight};
use crate::piece::Piece;
use crate::tolerance::{JOINING, MEASURING};

/// How much a line drawn for another body may be turned (radians) and stretched to reach the corners of this one.
const MOST_TURN: f64 = 0.5;
const MOST_STRETCH: f64 = 2.0;

/// Draws an edge anew. A line whose ends lie elsewhere (it was drawn on another body) is turned and stretched until
/// they are the corners, if that changes it little.
pub(super) fn redraw(piece: &Piece, edge: &str, line: &Line) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, edge)?;
    let old = edge_at(piece, index, edge)?;
    let (from, to) = (old.line.start(), old.line.end());
    let off = (line.start() - from).hypot().max((line.end() - to).hypot());
    if off <= JOINING.0 {
        return replaced(piece, index, snapped(line, from, to)?);
    }
    let (drawn, wanted) = (line.end() - line.start(), to - from);
    let (stretch, turn) = if drawn.hypot() > JOINING.0 && wanted.hypot() > JOINING.0 {
        (
            wanted.hypot() / drawn.hypot(),
            libm::atan2(drawn.cross(wanted), drawn.dot(wanted)),
        )
    } else {
        (f64::INFINITY, 0.0)
    };
    if turn.abs() > MOST_TURN || !(1.0 / MOST_STRETCH..=MOST_STRETCH).contains(&stretch) {
        return Err(AlterationError::Refused(format!(
            "the new line of {edge} ends {off:.1} mm away from its corner; draw it from corner to corner"
        )));
    }
    let (sin, cos) = (libm::sin(turn) * stretch, libm::cos(turn) * stretch);
    let place = Affine::translate(from.to_vec2())
        * Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
        * Affine::translate(-line.start().to_vec2());
    replaced(
        piece,
        index,
        snapped(&line.mapped(|p| place * p), from, to)?,
    )
}

/// The line with exactly these ends.
fn snapped(line: &Line, from: Point, to: Point) -> Result<Line, AlterationError> {
    let mut points = line.points().to_vec();
    if let Some(first) = points.first_mut() {
        *first = from;
    }
    if let Some(last) = points.last_mut() {
        *last = to;
    }
    Line::new(points).map_err(|_| AlterationError::NotFinite)
}

/// Makes an edge straight.
pub(super) fn straighten(piece: &Piece, edge: &str) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, edge)?;
    let line = &edge_at(piece, index, edge)?.line;
    replaced(piece, index, Line::straight(line.start(), line.end()))
}

/// Makes the join at a point smooth. Where a straight line or a fold comes to it, the curve goes on in its direction;
/// else both steering points turn to the direction between.
pub(super) fn smooth(piece: &Piece, point: &PointRef) -> Result<Reshaped, AlterationError> {
    const SHARPEST: f64 = -0.87;
    let ring = Ring::of(piece);
    let place = ring.find(piece, point)?;
    on_the_line(point)?;
    let (before, after) = ring.steering(place);
    let come = direction(-before, ring.at(place) - ring.at(ring.step(place, -3)));
    let go = direction(after, ring.at(place + 3) - ring.at(place));
    if come.dot(go) < SHARPEST {
        return Err(AlterationError::Refused(format!(
            "the outline turns back on itself at this corner of {}, by {:.0} degrees; move its neighbours apart first",
            point.edge,
            libm::acos(come.dot(go).clamp(-1.0, 1.0)).to_degrees()
        )));
    }
    let cubics = [ring.step(place, -3), place];
    let straight = cubics.map(|cubic| ring.is_straight(cubic));
    let along = match straight {
        [true, false] => come,
        [false, true] => go,
        _ => direction(come + go, go),
    };
    let mut shifts = Shifts::new();
    let mut turn = |at: usize, old: Vec2, way: Vec2, chord: Vec2| {
        let reach = if old.hypot() > JOINING.0 {
            old.hypot()
        } else {
            chord.hypot() / 3.0
        };
        let moved = way * reach - old;
        if moved.hypot() > 0.0 {
            shifts.insert(at, moved);
        }
    };
    let far = |end: usize| ring.at(end) - ring.at(place);
    if straight != [true, false] {
        turn(
            ring.step(place, -1),
            before,
            -along,
            far(ring.step(place, -3)),
        );
    }
    if straight != [false, true] {
        turn(ring.step(place, 1), after, along, far(ring.step(place, 3)));
    }
    Reshaped::with_lines(piece, ring.lines(&shifts))
}

/// The direction of a vector, or of another where it has none.
fn direction(first: Vec2, second: Vec2) -> Vec2 {
    let chosen = if first.hypot() > JOINING.0 {
        first
    } else {
        second
    };
    chosen / chosen.hypot().max(f64::MIN_POSITIVE)
}

/// Puts a point into an edge; its shape stays.
pub(super) fn add_point(piece: &Piece, at: &OutlinePoint) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, &at.edge)?;
    let fraction = finite(at.fraction)?;
    let line = &edge_at(piece, index, &at.edge)?.line;
    let more = with_point(line, fraction).ok_or_else(|| {
        AlterationError::Refused(format!(
            "{} has a point within {} mm of this place already",
            at.edge, JOINING.0
        ))
    })?;
    replaced(piece, index, more)
}

/// Takes a point out of an edge. Straight parts leave a straight line; curves keep their directions at the neighbours.
pub(super) fn remove_point(piece: &Piece, point: &PointRef) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, &point.edge)?;
    let line = &edge_at(piece, index, &point.edge)?.line;
    let last = line.points().len().saturating_sub(1);
    if last < point.number {
        return Err(AlterationError::NoPoint {
            edge: point.edge.clone(),
            number: point.number,
        });
    }
    on_the_line(point)?;
    if point.number == 0 || point.number == last {
        return Err(AlterationError::Refused(format!(
            "this is a corner of {}; join the two edges first",
            point.edge
        )));
    }
    let number = point.number / 3;
    let cubics: Vec<CubicBez> = line.cubics().collect();
    let mut fewer = Vec::new();
    for (i, cubic) in cubics.iter().enumerate() {
        let next = cubics.get(i + 1);
        match next {
            Some(next) if i + 1 == number => fewer.push(as_one(cubic, next)),
            _ if i == number => {}
            _ => fewer.push(*cubic),
        }
    }
    let fewer = Line::from_cubics(&fewer).ok_or(AlterationError::NotFinite)?;
    replaced(piece, index, fewer)
}

/// One cubic in place of two. Two parts of one cubic give that cubic again.
fn as_one(first: &CubicBez, second: &CubicBez) -> CubicBez {
    if is_straight(first) && is_straight(second) {
        return straight(first.p0, second.p3);
    }
    if let Some(whole) = same_cubic(first, second) {
        return whole;
    }
    let [a, b] = [first, second].map(|c| c.arclen(MEASURING.0));
    let share = a / (a + b).max(f64::MIN_POSITIVE);
    reaching_over(first, second, share.clamp(0.05, 0.95))
}

/// A cubic that starts as one and ends as another, when the first is this share of it.
fn reaching_over(first: &CubicBez, second: &CubicBez, share: f64) -> CubicBez {
    CubicBez::new(
        first.p0,
        first.p0 + (first.p1 - first.p0) / share,
        second.p3 + (second.p2 - second.p3) / (1.0 - share),
        second.p3,
    )
}

/// The one cubic that two are parts of; `None` when they are parts of none.
pub(super) fn same_cubic(first: &CubicBez, second: &CubicBez) -> Option<CubicBez> {
    use kurbo::ParamCurve;
    let (before, after) = (first.p3 - first.p2, second.p1 - second.p0);
    let (a, b) = (before.hypot(), after.hypot());
    if a <= 0.0 || b <= 0.0 || before.dot(after) <= 0.0 {
        return None;
    }
    let near = |p: Point, q: Point| (p - q).hypot() <= MEASURING.0 * 1e-3;
    let same = |x: CubicBez, y: &CubicBez| {
        near(x.p1, y.p1) && near(x.p2, y.p2) && near(x.p3, y.p3) && near(x.p0, y.p0)
    };
    if is_straight(first) && is_straight(second) {
        let whole = straight(first.p0, second.p3);
        let along = whole.p3 - whole.p0;
        let share = (first.p3 - whole.p0).dot(along) / along.hypot2();
        return near(whole.eval(share), first.p3).then_some(whole);
    }
    let share = a / (a + b);
    let whole = reaching_over(first, second, share);
    let parts =
        same(whole.subsegment(0.0..share), first) && same(whole.subsegment(share..1.0), second);
    parts.then_some(whole)
}

fn on_the_line(point: &PointRef) -> Result<(), AlterationError> {
    if point.number.is_multiple_of(3) {
        return Ok(());
    }
    Err(AlterationError::Refused(format!(
        "point {} of {} steers the curve; choose a point that lies on the line",
        point.number, point.edge
    )))
}

/// The piece with another line for one edge; what is marked on it keeps its share of the edge.
fn replaced(piece: &Piece, index: usize, line: Line) -> Result<Reshaped, AlterationError> {
    let edges = piece.outline.edges().iter().enumerate();
    let edges = edges.map(|(i, edge)| {
        let line = if i == index { &line } else { &edge.line };
        Edge {
            line: line.clone(),
            ..edge.clone()
        }
    });
    Reshaped::with_edges(piece, edges.collect(), Carried::default())
}
