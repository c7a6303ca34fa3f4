//! One record that is a line: LINE, ARC, CIRCLE, ELLIPSE, POLYLINE, LWPOLYLINE, SPLINE, SOLID.

use std::f64::consts::TAU;

use petitoile_core::geometry::spline::through;
use petitoile_core::kurbo::{BezPath, Point, Vec2};

use super::curves::{Spline, bulge_to, elliptic, round};
use super::pairs::{Record, figure};

/// A line in units of the file, in its own plane.
pub(super) struct Drawn {
    pub path: BezPath,
    pub closed: bool,
    pub filled: bool,
}

/// Its figures do not fit together.
pub(super) struct Odd;

/// What a record draws; `None` when it is no line. `corners` are the vertices of a POLYLINE.
pub(super) fn drawn(record: &Record<'_>, corners: &[Record<'_>]) -> Option<Result<Drawn, Odd>> {
    let drawn = match record.kind {
        "LINE" => straight(record),
        "ARC" => arc(record),
        "CIRCLE" => circle(record),
        "ELLIPSE" => ellipse(record),
        "LWPOLYLINE" => light(record),
        "POLYLINE" if record.flag(70, 16 | 64) => return None, // a mesh
        "POLYLINE" => polyline(record, corners),
        "SPLINE" => spline(record),
        "SOLID" | "TRACE" => area(record, true),
        "3DFACE" => area(record, false),
        _ => return None,
    };
    let is_sound = |drawn: &Drawn| {
        let elements = drawn.path.elements();
        2 <= elements.len()
            && elements
                .iter()
                .all(petitoile_core::kurbo::PathEl::is_finite)
    };
    Some(drawn.filter(is_sound).ok_or(Odd))
}

fn open(path: BezPath) -> Drawn {
    Drawn {
        path,
        closed: false,
        filled: false,
    }
}

fn straight(record: &Record<'_>) -> Option<Drawn> {
    let mut path = BezPath::new();
    path.move_to(record.point(10)?);
    path.line_to(record.point(11)?);
    Some(open(path))
}

fn arc(record: &Record<'_>) -> Option<Drawn> {
    let (middle, radius) = (record.point(10)?, record.figure(40)?);
    let (from, to) = (record.figure(50)?, record.figure(51)?);
    let mut sweep = (to - from).rem_euclid(360.0);
    if sweep == 0.0 {
        sweep = 360.0;
    }
    (0.0 < radius).then(|| open(round(middle, radius, from.to_radians(), sweep.to_radians())))
}

fn circle(record: &Record<'_>) -> Option<Drawn> {
    let (middle, radius) = (record.point(10)?, record.figure(40)?);
    (0.0 < radius).then(|| closed(round(middle, radius, 0.0, TAU)))
}

fn closed(mut path: BezPath) -> Drawn {
    path.close_path();
    Drawn {
        path,
        closed: true,
        filled: false,
    }
}

fn ellipse(record: &Record<'_>) -> Option<Drawn> {
    let (middle, major) = (record.point(10)?, record.point(11)?.to_vec2());
    let ratio = record.figure(40)?;
    let (from, to) = (
        record.figure(41).unwrap_or(0.0),
        record.figure(42).unwrap_or(TAU),
    );
    let is_mirrored = record.figure(230).is_some_and(|z| z < 0.0);
    let minor = major.turn_90() * if is_mirrored { -ratio } else { ratio };
    if ratio == 0.0 || major.hypot() == 0.0 {
        return None;
    }
    let sweep = (to - from).rem_euclid(TAU);
    if !(1e-9..=TAU - 1e-9).contains(&sweep) {
        return Some(closed(elliptic(middle, major, minor, from, TAU)));
    }
    Some(open(elliptic(middle, major, minor, from, sweep)))
}

/// A corner of a polyline and the bulge of what follows.
#[derive(Default, Clone, Copy)]
struct Corner {
    at: Point,
    bulge: f64,
}

fn light(record: &Record<'_>) -> Option<Drawn> {
    let mut corners: Vec<Corner> = Vec::new();
    for (code, value) in record.pairs() {
        if code == 10 {
            corners.push(Corner {
                at: Point::new(figure(value)?, f64::NAN),
                bulge: 0.0,
            });
        } else if let (20 | 42, Some(last)) = (code, corners.last_mut()) {
            let value = figure(value)?;
            if code == 20 {
                last.at.y = value;
            } else {
                last.bulge = value;
            }
        }
    }
    joined(&corners, record.flag(70, 1))
}

fn polyline(record: &Record<'_>, vertices: &[Record<'_>]) -> Option<Drawn> {
    let corners = vertices
        .iter()
        .filter(|vertex| !vertex.flag(70, 16)) // the frame of a curve, not on it
        .map(|vertex| {
            Some(Corner {
                at: vertex.point(10)?,
                bulge: vertex.figure(42).unwrap_or(0.0),
            })
        })
        .collect::<Option<Vec<Corner>>>()?;
    joined(&corners, record.flag(70, 1))
}

fn joined(corners: &[Corner], is_closed: bool) -> Option<Drawn> {
    let first = corners.first()?;
    if !corners.iter().all(|corner| corner.at.is_finite()) {
        return None;
    }
    let mut path = BezPath::new();
    path.move_to(first.at);
    for pair in corners.windows(2) {
        if let [from, to] = pair {
            bulge_to(&mut path, from.at, to.at, from.bulge);
        }
    }
    if !is_closed {
        return Some(open(path));
    }
    let last = corners.last()?;
    if last.bulge != 0.0 {
        bulge_to(&mut path, last.at, first.at, last.bulge);
    }
    Some(closed(path))
}

fn spline(record: &Record<'_>) -> Option<Drawn> {
    let mut spline = Spline {
        degree: usize::try_from(record.whole(71)?).ok()?,
        ..Spline::default()
    };
    let mut pinned: Vec<Point> = Vec::new();
    for (code, value) in record.pairs() {
        match code {
            40 => spline.knots.push(figure(value)?),
            41 => spline.weights.push(figure(value)?),
            10 => spline.points.push(Point::new(figure(value)?, f64::NAN)),
            20 => spline.points.last_mut()?.y = figure(value)?,
            11 => pinned.push(Point::new(figure(value)?, f64::NAN)),
            21 => pinned.last_mut()?.y = figure(value)?,
            _ => {}
        }
    }
    let path = if spline.points.is_empty() {
        // Only the points it runs through are given: a lath bent round pins.
        let direction = |code| record.point(code).map(Point::to_vec2);
        let sound = |direction: Option<Vec2>| direction.filter(|v| 0.0 < v.hypot());
        if !pinned.iter().all(|at| at.is_finite()) {
            return None;
        }
        through(&pinned, sound(direction(12)), sound(direction(13)))?.to_path()
    } else {
        spline.path()?
    };
    let is_closed = record.flag(70, 1)
        && path
            .elements()
            .first()
            .and_then(petitoile_core::kurbo::PathEl::end_point)
            .zip(path.elements().last().and_then(|last| last.end_point()))
            .is_some_and(|(a, b)| a.distance(b) <= 1e-6 * super::draw::longest(&path));
    Some(if is_closed { closed(path) } else { open(path) })
}

fn area(record: &Record<'_>, filled: bool) -> Option<Drawn> {
    let (a, b, c) = (record.point(10)?, record.point(11)?, record.point(12)?);
    let d = record.point(13).unwrap_or(c);
    let mut path = BezPath::new();
    path.move_to(a);
    path.line_to(b);
    // A filled area names its corners in zigzag.
    let (third, fourth) = if filled { (d, c) } else { (c, d) };
    path.line_to(third);
    if third != fourth {
        path.line_to(fourth);
    }
    Some(Drawn {
        filled,
        ..closed(path)
    })
}
