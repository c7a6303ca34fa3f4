//! From the stitch line to the cut line of one piece.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use kurbo::{BezPath, CubicBez, Point, Vec2};

use super::chain::{Growing, closed_path};
use super::corners::{CornerKind, corner_between};
use super::{AllowancePlan, strips};
use crate::edge::{Edge, EdgeRef, Finish};
use crate::geometry::corner::{End, Joined, Side};
use crate::geometry::crossing::outer_loop;
use crate::geometry::curve::direction_on;
use crate::geometry::parallel::{SMOOTH, Spot, between, parallel, straight};
use crate::piece::{Dart, DartPress, Piece};

/// The cut line of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct CutLine {
    /// The line, closed, counter-clockwise, crossing itself nowhere.
    pub chain: Vec<CubicBez>,
    /// The stretches it was made from, in order; dart legs have none.
    pub runs: Vec<Run>,
    /// Its corners, in order; one after each run.
    pub corners: Vec<Corner>,
}

/// A smooth stretch of stitch line with one finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Place of its edge in the outline.
    pub edge: usize,
    /// How it is finished.
    pub finish: Finish,
    /// Strips of cloth beyond it, from the stitch line outwards.
    pub strips: Vec<f64>,
    /// Sum of the strips.
    pub width: f64,
    /// The stitch line.
    pub stitch: Vec<CubicBez>,
    /// The stitch line moved outwards by the width, before its corners are made.
    pub moved: Vec<CubicBez>,
}

/// A corner of the cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// What it looks like.
    pub kind: CornerKind,
    /// The corner of the stitch line (for a dart: the near end of its mouth).
    pub at: Point,
    /// Place of the edge before it in the outline.
    pub before: usize,
    /// Place of the edge after it.
    pub after: usize,
}

/// A dart's mouth, as the cut line sees it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DartMouth {
    pub apex: Point,
    /// End of the mouth at the edge before, and the leg's direction outwards there.
    pub before: Point,
    pub before_leg: Vec2,
    /// End of the mouth at the edge after, and the leg's direction outwards there.
    pub after: Point,
    pub after_leg: Vec2,
    /// From the apex, half way between the legs.
    pub middle: Vec2,
    pub pressed: DartPress,
    /// Furthest a line is carried on: longer than leg and mouth together.
    pub most: f64,
}

impl Run {
    /// A run with its moved line.
    pub(super) fn new(
        edge: usize,
        finish: Finish,
        strips: Vec<f64>,
        stitch: Vec<CubicBez>,
    ) -> Self {
        let width = strips.iter().sum();
        let moved = parallel(&stitch, width);
        Self {
            edge,
            finish,
            strips,
            width,
            stitch,
            moved,
        }
    }

    /// The moved line at one of its ends.
    pub(super) fn side(&self, end: End) -> Side<'_> {
        let (corner, along) = match (end, self.stitch.first(), self.stitch.last()) {
            (End::Leaves, Some(c), _) => (c.p0, direction_on(c, 0.0)),
            (End::Comes, _, Some(c)) => (c.p3, direction_on(c, 1.0)),
            _ => (Point::ZERO, Vec2::ZERO),
        };
        Side {
            chain: &self.moved,
            end,
            corner,
            along,
            width: self.width,
        }
    }
}

/// The stretches of an edge, in order, without gaps; places without a finish are seams.
pub(crate) fn stretches(edge: &Edge) -> Vec<(f64, f64, Finish)> {
    let mut given: Vec<_> = edge
        .finish
        .iter()
        .filter(|s| s.from.is_finite() && s.to.is_finite())
        .collect();
    given.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut list: Vec<(f64, f64, Finish)> = Vec::with_capacity(given.len() + 1);
    let mut done = 0.0;
    for s in given {
        let (from, to) = (s.from.clamp(done, 1.0), s.to.clamp(0.0, 1.0));
        if to - from <= 1e-9 {
            continue;
        }
        if from - done > 1e-9 {
            list.push((done, from, Finish::Seam));
        }
        list.push((if from - done > 1e-9 { from } else { done }, to, s.finish));
        done = to;
    }
    if 1.0 - done > 1e-9 {
        list.push((done, 1.0, Finish::Seam));
    }
    list
}

/// Cuts a list of cubics where its direction jumps; cubics without length are left out.
pub(super) fn smooth_parts(cubics: impl Iterator<Item = CubicBez>) -> Vec<Vec<CubicBez>> {
    let mut parts: Vec<Vec<CubicBez>> = Vec::new();
    for c in cubics.filter(|c| {
        (c.p3 - c.p0).hypot2() > 1e-18
            || (c.p1 - c.p0).hypot2() > 1e-18
            || (c.p2 - c.p0).hypot2() > 1e-18
    }) {
        let on = parts
            .last()
            .and_then(|part| part.last())
            .is_some_and(|last| {
                let (a, b) = (direction_on(last, 1.0), direction_on(&c, 0.0));
                a.cross(b).abs() < SMOOTH && a.dot(b) > 0.0
            });
        match parts.last_mut() {
            Some(part) if on => part.push(c),
            _ => parts.push(vec![c]),
        }
    }
    parts
}

/// A dart with the places of its legs in the outline, in the order of the outline.
pub(crate) struct Legs<'a> {
    pub dart: &'a Dart,
    pub first: usize,
    pub second: usize,
}

/// The legs of every dart whose two legs follow each other in the outline.
pub(crate) fn dart_legs(piece: &Piece) -> Vec<Legs<'_>> {
    let n = piece.outline.edges().len();
    let place = |name: &str| piece.outline.index_of(name);
    piece
        .darts
        .iter()
        .filter_map(|dart| {
            let (a, b) = (place(&dart.leg_in)?, place(&dart.leg_out)?);
            // an outline drawn clockwise has been turned round, and the legs with it
            [(a, b), (b, a)]
                .into_iter()
                .find(|(a, b)| (a + 1) % n == *b && n > 2)
                .map(|(first, second)| Legs {
                    dart,
                    first,
                    second,
                })
        })
        .collect()
}

/// Direction from a dart's apex half way between its legs: where its cloth is folded, also when they differ a little in length.
pub(crate) fn middle_of(apex: Point, before: Point, after: Point) -> Vec2 {
    let unit = |v: Vec2| {
        if v.hypot2() > 0.0 {
            v / v.hypot2().sqrt()
        } else {
            v
        }
    };
    unit(unit(before - apex) + unit(after - apex))
}

fn mouth(piece: &Piece, legs: &Legs<'_>) -> DartMouth {
    let (a, b) = (
        &piece.outline.edges()[legs.first].line,
        &piece.outline.edges()[legs.second].line,
    );
    let (before, apex, after) = (a.start(), a.end(), b.end());
    let outwards = |c: Option<CubicBez>, t: f64| c.map_or(Vec2::ZERO, |c| direction_on(&c, t));
    let length = (before.midpoint(after) - apex).hypot2().sqrt();
    let middle = middle_of(apex, before, after);
    DartMouth {
        apex,
        before,
        before_leg: -outwards(a.cubics().next(), 0.0),
        after,
        after_leg: outwards(b.cubics().last(), 1.0),
        middle,
        pressed: legs.dart.pressed,
        most: 2.0 * length + 4.0 * (after - before).hypot2().sqrt(),
    }
}

/// The cut line of a piece: every edge moved outwards by its own allowance, every corner shaped by [`CornerKind`].
///
/// Straight edges move exactly, curves stay within [`crate::geometry::parallel::FIT`] of the true parallel. Where the
/// moved line crosses itself in hollow places, the part at full distance is kept. A piece that cannot be gone round
/// gives its stitch line.
///
/// # Example
/// ```
/// # use petitoile_core::{allowance::*, edge::*, geometry::{curve::Line, outline::Outline}, piece::*, Mm};
/// # let corners = [(0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0)];
/// # let edges = (0..4).map(|i| Edge::seam(format!("edge {i}"), Line::straight(corners[i].into(), corners[(i + 1) % 4].into()))).collect();
/// # let rule = FollowRule::Detail;
/// # let piece = Piece { name: "pocket".into(), outline: Outline::new(edges)?, placement: Placement::Follows(Follow { length: rule.clone(), depth: rule }),
/// #     body_lines: vec![], darts: vec![], notches: vec![], marks: vec![], grainline: None, fullness: vec![], copies: vec![], face: Face::Right };
/// let plan = AllowancePlan { seam: Mm(4.0), ..AllowancePlan::default() };
/// let cut = cut_line(&piece, &plan);
/// assert_eq!(kurbo::Shape::area(&cut.path()), 28.0 * 38.0);
/// # Ok::<(), petitoile_core::geometry::outline::OutlineError>(())
/// ```
pub fn cut_line(piece: &Piece, plan: &AllowancePlan) -> CutLine {
    let legs = dart_legs(piece);
    let runs = runs_of(piece, plan, &legs);
    let n = runs.len();
    let mut joins = Vec::with_capacity(n);
    let mut corners = Vec::with_capacity(n);
    for i in 0..n {
        let (before, after) = (&runs[i], &runs[(i + 1) % n]);
        let mouth = mouth_between(piece, &legs, &runs, i);
        let joined = corner_between(before, after, mouth.as_ref(), plan);
        corners.push(Corner {
            kind: joined.shape,
            at: before.side(End::Comes).corner,
            before: before.edge,
            after: after.edge,
        });
        joins.push(joined);
    }
    let chain = outer_loop(&put_together(&runs, joins)).unwrap_or_else(|| {
        piece
            .outline
            .edges()
            .iter()
            .flat_map(|e| e.line.cubics())
            .collect()
    });
    CutLine {
        chain,
        runs,
        corners,
    }
}

fn runs_of(piece: &Piece, plan: &AllowancePlan, legs: &[Legs<'_>]) -> Vec<Run> {
    let mut runs = Vec::new();
    for (place, edge) in piece.outline.edges().iter().enumerate() {
        if legs.iter().any(|l| l.first == place || l.second == place) {
            continue;
        }
        let name = EdgeRef::new(&piece.name, &edge.name);
        for (from, to, finish) in stretches(edge) {
            let strips = strips(finish, plan, &name, edge.allowance);
            let whole = from <= 0.0 && to >= 1.0;
            let part = if whole {
                None
            } else {
                edge.line.between(from, to)
            };
            let line = part.as_ref().unwrap_or(&edge.line);
            if finish == Finish::Fold {
                // a fold is straight, whatever the drawing says
                runs.push(Run::new(
                    place,
                    finish,
                    strips,
                    vec![straight(line.start(), line.end())],
                ));
                continue;
            }
            runs.extend(
                smooth_parts(line.cubics())
                    .into_iter()
                    .map(|stitch| Run::new(place, finish, strips.clone(), stitch)),
            );
        }
    }
    runs
}

/// The dart between run `i` and the next one, if exactly one lies there.
fn mouth_between(piece: &Piece, legs: &[Legs<'_>], runs: &[Run], i: usize) -> Option<DartMouth> {
    let n = piece.outline.edges().len();
    let (from, to) = (runs[i].edge, runs[(i + 1) % runs.len()].edge);
    if from == to && i + 1 != runs.len() {
        return None;
    }
    legs.iter()
        .find(|l| (from + 1) % n == l.first && (l.second + 1) % n == to)
        .map(|l| mouth(piece, l))
}

fn first_spot() -> Spot {
    Spot { cubic: 0, t: 0.0 }
}

fn last_spot(chain: &[CubicBez]) -> Spot {
    Spot {
        cubic: chain.len().saturating_sub(1),
        t: 1.0,
    }
}

/// Runs and corners as one closed line that may still cross itself.
fn put_together(runs: &[Run], mut joins: Vec<Joined<CornerKind>>) -> Vec<CubicBez> {
    let n = runs.len();
    // cut away from both ends past each other: give the trimmed corners their full lines back, the crossing is resolved later
    let overlaps = |joins: &[Joined<CornerKind>], i: usize| match (
        joins[(i + n - 1) % n].after,
        joins[i].before,
    ) {
        (Some(from), Some(to)) => to <= from,
        _ => false,
    };
    for (i, run) in runs.iter().enumerate() {
        if !overlaps(&joins, i) {
            continue;
        }
        for (k, corner) in [
            ((i + n - 1) % n, run.side(End::Leaves).corner),
            (i, run.side(End::Comes).corner),
        ] {
            if joins[k].shape == CornerKind::Trimmed {
                joins[k] = Joined {
                    shape: CornerKind::Trimmed,
                    before: None,
                    way: vec![crate::geometry::corner::point(corner)],
                    after: None,
                };
            }
        }
    }
    let mut line = Growing::default();
    for (i, run) in runs.iter().enumerate() {
        let from = joins[(i + n - 1) % n].after.unwrap_or_else(first_spot);
        let to = joins[i].before.unwrap_or_else(|| last_spot(&run.moved));
        for c in between(&run.moved, from, to) {
            line.add(c);
        }
        for c in &joins[i].way {
            line.add_placed(*c);
        }
    }
    line.closed()
}

impl CutLine {
    /// The cut line as a closed path; straight stretches are lines.
    pub fn path(&self) -> BezPath {
        closed_path(&self.chain)
    }
}
