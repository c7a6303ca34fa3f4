//! Sides: the stretches of an outline between its true corners. Edges that run on into each other, or over a dart, are
//! one side. Angles in degrees.

use kurbo::{Point, Vec2};

use crate::geometry::curve::{Line, direction_on};
use crate::joins::inside;
use crate::piece::Piece;

/// A corner that turns by less than this is none.
const RUNS_ON: f64 = 15.0;
/// The same where a dart is closed between the two edges.
const OVER_DART: f64 = 50.0;
/// Corners up to this may be passed over to read a piece that has one side too many.
const PASSED_OVER: f64 = 50.0;
/// The first and last part of an edge, as a share of it.
const PART: f64 = 0.35;
/// Steps each cubic is looked at.
const STEPS: u32 = 8;

/// A stretch of an edge, walked from one fraction to the other; fractions as the edge is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bit {
    /// Place of the edge in the outline.
    pub(super) edge: usize,
    pub(super) from: f64,
    pub(super) to: f64,
}

impl Bit {
    /// The same stretch walked the other way.
    pub(super) fn turned(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            ..self
        }
    }

    /// Fraction of the edge at a share of the stretch.
    pub(super) fn at(self, share: f64) -> f64 {
        self.from + share * (self.to - self.from)
    }
}

/// Bits walked the other way.
pub(super) fn turned(bits: &[Bit]) -> Vec<Bit> {
    bits.iter().rev().map(|bit| bit.turned()).collect()
}

/// A side of an outline, as drawn (counter-clockwise).
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Side {
    /// Its edges in order, dart legs left out.
    pub(super) edges: Vec<usize>,
    pub(super) start: Point,
    pub(super) end: Point,
    pub(super) length: f64,
    /// How much it turns, positive where the piece bulges.
    pub(super) turn: f64,
    /// How far it lies off the line between its ends, as a share of that line; outwards positive.
    pub(super) bulge: f64,
    /// The farthest it lies off that line on either side, as a share of it.
    pub(super) off: f64,
    /// Where its first and its last part lead.
    pub(super) lead: Vec2,
    pub(super) tail: Vec2,
    /// Angle inside the piece where it starts, and where it ends.
    pub(super) before: f64,
    pub(super) after: f64,
}

impl Side {
    pub(super) fn chord(&self) -> Vec2 {
        self.end - self.start
    }

    pub(super) fn is_straight(&self) -> bool {
        self.off < 0.01
    }
}

/// The sides of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawn {
    pub(super) sides: Vec<Side>,
    /// Legs of its darts, in drawn order.
    pub(super) darts: Vec<[usize; 2]>,
    /// How many corners were passed over.
    pub(super) passed: usize,
}

/// Where two neighbouring edges meet.
#[derive(Debug, Clone, Copy)]
struct Joint {
    /// Angle inside the piece; with the dart between them closed, if there is one.
    angle: f64,
    over_dart: bool,
}

impl Joint {
    fn is_corner(self) -> bool {
        let limit = if self.over_dart { OVER_DART } else { RUNS_ON };
        (self.angle - 180.0).abs() > limit
    }
}

impl Drawn {
    pub(super) fn of(piece: &Piece) -> Self {
        let lines: Vec<&Line> = piece.outline.edges().iter().map(|e| &e.line).collect();
        let darts = darts(piece, &lines);
        let kept: Vec<usize> = (0..lines.len())
            .filter(|i| !darts.iter().any(|legs| legs.contains(i)))
            .collect();
        let joints: Vec<Joint> = (0..kept.len())
            .map(|k| joint(&lines, &kept, &darts, k))
            .collect();
        Self {
            sides: sides(&lines, &kept, &joints),
            darts,
            passed: 0,
        }
    }

    /// The same outline read with so many sides: its flattest corners are passed over. `None` when it has too few
    /// sides, or its corners are too sharp.
    pub(super) fn with_sides(&self, count: usize) -> Option<Self> {
        let mut drawn = self.clone();
        while drawn.sides.len() > count {
            let turn = |side: &Side| (side.after - 180.0).abs();
            let (at, flattest) = drawn
                .sides
                .iter()
                .enumerate()
                .min_by(|a, b| turn(a.1).total_cmp(&turn(b.1)))?;
            if turn(flattest) > PASSED_OVER || drawn.passed >= 2 {
                return None;
            }
            let next = (at + 1) % drawn.sides.len();
            let joined = joined(drawn.sides.get(at)?, drawn.sides.get(next)?);
            *drawn.sides.get_mut(at)? = joined;
            drawn.sides.remove(next);
            drawn.passed += 1;
        }
        (drawn.sides.len() == count).then_some(drawn)
    }
}

fn joined(a: &Side, b: &Side) -> Side {
    let chord = b.end - a.start;
    let size = chord.hypot().max(1e-9);
    let middle = chord.cross(a.end - a.start) / (size * size);
    Side {
        edges: a.edges.iter().chain(&b.edges).copied().collect(),
        start: a.start,
        end: b.end,
        length: a.length + b.length,
        turn: a.turn + b.turn + 180.0 - a.after,
        bulge: -middle,
        off: middle.abs().max(a.off).max(b.off),
        lead: a.lead,
        tail: b.tail,
        before: a.before,
        after: b.after,
    }
}

/// Pairs of straight legs of one length that meet in a sharp point inside the outline, and those marked as darts.
fn darts(piece: &Piece, lines: &[&Line]) -> Vec<[usize; 2]> {
    let mut found: Vec<[usize; 2]> = piece
        .darts
        .iter()
        .filter_map(|dart| {
            Some([
                piece.outline.index_of(&dart.leg_in)?,
                piece.outline.index_of(&dart.leg_out)?,
            ])
        })
        .collect();
    for (i, line) in lines.iter().enumerate() {
        let j = (i + 1) % lines.len();
        let Some(next) = lines.get(j) else { continue };
        if lines.len() < 5
            || found
                .iter()
                .any(|legs| legs.contains(&i) || legs.contains(&j))
        {
            continue;
        }
        let (a, b) = (line.length(), next.length());
        let mouth = (line.start() - next.end()).hypot();
        let apex = inside(line.direction(1.0), next.direction(0.0));
        let is_leg = |line: &Line| {
            let size = (line.end() - line.start()).hypot();
            line.length() < 1.01 * size
        };
        if apex > 290.0
            && (a - b).abs() < 0.03 * a.max(b)
            && mouth < 0.9 * a
            && is_leg(line)
            && is_leg(next)
        {
            found.push([i, j]);
        }
    }
    found
}

/// How kept edge number `k` meets the next one.
fn joint(lines: &[&Line], kept: &[usize], darts: &[[usize; 2]], k: usize) -> Joint {
    let (Some(a), Some(b)) = (kept.get(k), kept.get((k + 1) % kept.len())) else {
        return Joint {
            angle: 0.0,
            over_dart: false,
        };
    };
    let direction = |edge: usize, at: f64| lines.get(edge).map_or(Vec2::ZERO, |l| l.direction(at));
    let legs = darts
        .iter()
        .find(|legs| legs.first() == Some(&((a + 1) % lines.len())));
    match legs {
        Some([leg_in, leg_out]) => Joint {
            angle: inside(direction(*a, 1.0), direction(*leg_in, 0.0))
                + inside(direction(*leg_out, 1.0), direction(*b, 0.0)),
            over_dart: true,
        },
        None => Joint {
            angle: inside(direction(*a, 1.0), direction(*b, 0.0)),
            over_dart: false,
        },
    }
}

fn sides(lines: &[&Line], kept: &[usize], joints: &[Joint]) -> Vec<Side> {
    let count = kept.len();
    let corners: Vec<usize> = (0..count)
        .filter(|k| joints.get(*k).is_some_and(|joint| joint.is_corner()))
        .collect();
    let angle = |k: usize| joints.get(k).map_or(180.0, |joint| joint.angle);
    if corners.is_empty() {
        return vec![side(lines, kept, 180.0, 180.0)];
    }
    let ends = corners.iter().skip(1).chain(corners.first());
    corners
        .iter()
        .zip(ends)
        .map(|(from, to)| {
            // From the edge after one corner to the edge before the next.
            let steps = (to + count - from - 1) % count + 1;
            let edges: Vec<usize> = (1..=steps)
                .filter_map(|step| kept.get((from + step) % count).copied())
                .collect();
            side(lines, &edges, angle(*from), angle(*to))
        })
        .collect()
}

fn side(lines: &[&Line], edges: &[usize], before: f64, after: f64) -> Side {
    let own = || edges.iter().filter_map(|i| lines.get(*i));
    let start = own().next().map_or(Point::ORIGIN, |l| l.start());
    let end = own().next_back().map_or(Point::ORIGIN, |l| l.end());
    let (mut turn, mut last): (f64, Option<Vec2>) = (0.0, None);
    let mut points = vec![start];
    for (n, line) in own().enumerate() {
        for cubic in line.cubics() {
            for step in 0..=STEPS {
                let t = f64::from(step) / f64::from(STEPS);
                let now = direction_on(&cubic, t);
                // Over a dart the direction leaps; that is no turn of the side.
                let leaps =
                    step == 0 && n > 0 && last.is_some_and(|l| inside(l, now) < 180.0 - RUNS_ON);
                if let Some(last) = last.filter(|_| !leaps) {
                    turn += libm::atan2(last.cross(now), last.dot(now)).to_degrees();
                }
                last = Some(now);
                points.push(kurbo::ParamCurve::eval(&cubic, t));
            }
        }
    }
    let chord = end - start;
    let size = chord.hypot().max(1e-9);
    // The piece lies to the left: outwards is to the right.
    let offs = points
        .iter()
        .map(|p| -chord.cross(*p - start) / (size * size));
    let (low, high) = offs.fold((0.0_f64, 0.0_f64), |(l, h), off| (l.min(off), h.max(off)));
    Side {
        edges: edges.to_vec(),
        start,
        end,
        length: own().map(|l| l.length()).sum(),
        turn,
        bulge: if high > -low { high } else { low },
        off: high.max(-low),
        lead: own().next().map_or(Vec2::ZERO, |l| l.at(PART) - l.start()),
        tail: own()
            .next_back()
            .map_or(Vec2::ZERO, |l| l.end() - l.at(1.0 - PART)),
        before,
        after,
    }
}
