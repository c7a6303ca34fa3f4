//! Curves as chords, each point marked as a corner or as a point of a curve.

use petitoile_core::kurbo::{BezPath, CubicBez, ParamCurve, PathEl, PathSeg, Point, Vec2};

/// How far a chord may lie beside its curve, mm.
const NEAR: f64 = 0.005;

/// Chords of one curve at most.
const MOST: f64 = 2000.0;

/// Curves that meet at less than this run on smoothly: sine of 0.3 degrees.
const SMOOTH: f64 = 0.005;

/// Points nearer than this are one, mm.
const SAME: f64 = 1e-5;

/// A point of a polyline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Chord {
    pub at: Point,
    /// A corner, or an end of something straight.
    pub is_turn: bool,
}

/// The points of every unbroken line in a path, and whether it is closed.
pub(super) fn chords(path: &BezPath) -> Vec<(Vec<Chord>, bool)> {
    let mut all = Vec::new();
    let mut segments: Vec<PathSeg> = Vec::new();
    let mut start = Point::ZERO;
    let mut at = Point::ZERO;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                all.extend(line(&std::mem::take(&mut segments), false));
                (start, at) = (p, p);
                continue;
            }
            PathEl::LineTo(p) => segments.push(straight(at, p)),
            PathEl::QuadTo(a, p) => {
                let quad = petitoile_core::kurbo::QuadBez::new(at, a, p);
                segments.push(PathSeg::Cubic(quad.raise()));
            }
            PathEl::CurveTo(a, b, p) => segments.push(PathSeg::Cubic(CubicBez::new(at, a, b, p))),
            PathEl::ClosePath => {
                segments.push(straight(at, start));
                all.extend(line(&std::mem::take(&mut segments), true));
                at = start;
                continue;
            }
        }
        at = segments.last().map_or(at, PathSeg::end);
    }
    all.extend(line(&segments, false));
    all
}

fn straight(from: Point, to: Point) -> PathSeg {
    PathSeg::Line(petitoile_core::kurbo::Line::new(from, to))
}

fn line(segments: &[PathSeg], is_closed: bool) -> Option<(Vec<Chord>, bool)> {
    let parts: Vec<PathSeg> = segments
        .iter()
        .copied()
        .filter(|part| SAME < size(part))
        .collect();
    let first = *parts.first()?;
    let last = *parts.last()?;
    let mut points = vec![Chord {
        at: first.start(),
        is_turn: !(is_closed && runs_on(&last, &first)),
    }];
    for (i, part) in parts.iter().enumerate() {
        if let PathSeg::Cubic(curve) = part {
            let count = count(curve);
            let mut n = 1.0;
            while n < count {
                points.push(Chord {
                    at: curve.eval(n / count),
                    is_turn: false,
                });
                n += 1.0;
            }
        }
        points.push(Chord {
            at: part.end(),
            is_turn: !parts.get(i + 1).is_some_and(|next| runs_on(part, next)),
        });
    }
    points.dedup_by(|next, kept| {
        let is_same = kept.at.distance(next.at) <= SAME;
        kept.is_turn |= is_same && next.is_turn;
        is_same
    });
    if is_closed && 1 < points.len() && last.end().distance(first.start()) <= SAME {
        points.pop();
    }
    (1 < points.len()).then_some((points, is_closed))
}

/// Longest side of the box around a part and its handles.
fn size(part: &PathSeg) -> f64 {
    let PathSeg::Cubic(c) = part else {
        return part.start().distance(part.end());
    };
    [c.p1, c.p2, c.p3]
        .iter()
        .map(|p| p.distance(c.p0))
        .fold(0.0, f64::max)
}

/// How many chords stay near enough (Wang's formula, 1984, from memory).
fn count(c: &CubicBez) -> f64 {
    let bend =
        |a: Point, b: Point, c: Point| (a.to_vec2() - 2.0 * b.to_vec2() + c.to_vec2()).hypot();
    let most = bend(c.p0, c.p1, c.p2).max(bend(c.p1, c.p2, c.p3));
    (0.75 * most / NEAR).sqrt().ceil().clamp(2.0, MOST)
}

/// Do two curves meet without a corner?
fn runs_on(before: &PathSeg, after: &PathSeg) -> bool {
    let (PathSeg::Cubic(a), PathSeg::Cubic(b)) = (before, after) else {
        return false;
    };
    let first = |points: [Vec2; 3]| points.into_iter().find(|v| SAME < v.hypot());
    let out = first([a.p3 - a.p2, a.p3 - a.p1, a.p3 - a.p0]);
    let on = first([b.p1 - b.p0, b.p2 - b.p0, b.p3 - b.p0]);
    match (out, on) {
        (Some(out), Some(on)) => {
            let (out, on) = (out / out.hypot(), on / on.hypot());
            0.0 < out.dot(on) && out.cross(on).abs() < SMOOTH
        }
        _ => false,
    }
}
