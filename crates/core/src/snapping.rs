//! What a place on the table snaps to: points, edges, squares, level and upright, body lines, the fold, the grid.
//!
//! Table coordinates, mm, x right, y up. Pure: where things lie, where the pointer is and how far its reach goes come in
//! as arguments. Nearest point first, then where two helping lines meet, then one helping line, then an edge, then the
//! grid.

mod guides;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveNearest, Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::geometry::curve::{Line, direction_on};
use crate::piece::Piece;
use crate::tolerance::{JOINING, MEASURING};
use guides::{Guide, guides};

/// What the maker lets places snap to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Snapping {
    /// Corners and points of other pieces and of what is being drawn.
    pub points: bool,
    /// Edges.
    pub edges: bool,
    /// Square (90 degrees) to the line before and to an edge.
    pub squares: bool,
    /// Level with other points, upright over or under them.
    pub level: bool,
    /// Body lines.
    pub body_lines: bool,
    /// The fold, as far as it runs.
    pub fold: bool,
    /// The marks of the rulers.
    pub grid: bool,
}

impl Default for Snapping {
    fn default() -> Self {
        Self {
            points: true,
            edges: true,
            squares: true,
            level: true,
            body_lines: true,
            fold: true,
            grid: false,
        }
    }
}

impl Snapping {
    /// Nothing snaps.
    pub const OFF: Self = Self {
        points: false,
        edges: false,
        squares: false,
        level: false,
        body_lines: false,
        fold: false,
        grid: false,
    };
}

/// Where a line that is being drawn comes from.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Start {
    /// Where it starts.
    pub at: Point,
    /// The direction of the line before it.
    pub before: Option<Vec2>,
}

/// A place with a name, besides what lies on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPoint {
    /// Where.
    pub at: Point,
    /// What it is: "first point".
    pub words: String,
}

/// Everything a place can snap to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Scene {
    /// The pieces, and how far each is moved from its own coordinates to the table.
    pub pieces: Vec<(Arc<Piece>, Vec2)>,
    /// Points of what is being drawn.
    pub points: Vec<NamedPoint>,
    /// Where the line that is being drawn starts.
    pub start: Option<Start>,
    /// A point that is being moved: it does not snap to itself, nor to the edges it lies on.
    pub moving: Option<Point>,
    /// Distance of the marks of the grid, mm.
    pub grid: f64,
}

/// What a place snapped to.
#[derive(Debug, Clone, PartialEq)]
pub struct Snap {
    /// Where.
    pub at: Point,
    /// What it is, in the maker's words: "corner of Front", "square to the line before".
    pub words: String,
    /// Helping lines to show.
    pub lines: Vec<(Point, Point)>,
}

/// What the place under the pointer snaps to, if anything is within reach (mm).
pub fn snap(scene: &Scene, pointer: Point, reach: f64, to: Snapping) -> Option<Snap> {
    let nearest_point = to
        .points
        .then(|| nearest_point(scene, pointer, reach))
        .flatten();
    if nearest_point.is_some() {
        return nearest_point;
    }
    let guides: Vec<Guide> = guides(scene, pointer, reach, to);
    meeting(&guides, pointer, reach)
        .or_else(|| on_edge_and_guide(scene, &guides, pointer, reach, to))
        .or_else(|| one_guide(&guides, pointer))
        .or_else(|| {
            to.edges
                .then(|| nearest_edge(scene, pointer, reach))
                .flatten()
        })
        .or_else(|| to.grid.then(|| grid(scene.grid, pointer, reach)).flatten())
}

fn plain(at: Point, words: String) -> Snap {
    Snap {
        at,
        words,
        lines: Vec::new(),
    }
}

/// Every point of the scene that can be snapped to, with what it is.
fn points(scene: &Scene) -> impl Iterator<Item = (Point, PointName<'_>)> {
    let own = scene
        .points
        .iter()
        .map(|p| (p.at, PointName::Own(&p.words)));
    let corners = scene.pieces.iter().flat_map(|(piece, moved)| {
        let edges = piece.outline.edges().iter();
        edges.map(move |edge| (edge.line.start() + *moved, PointName::Corner(&piece.name)))
    });
    own.chain(corners).filter(|(at, _)| !is_moving(scene, *at))
}

/// A name that is put into words only for the winner.
#[derive(Clone, Copy)]
enum PointName<'a> {
    Own(&'a str),
    Corner(&'a str),
}

impl PointName<'_> {
    fn words(self) -> String {
        match self {
            Self::Own(words) => words.to_owned(),
            Self::Corner(piece) => format!("corner of {piece}"),
        }
    }
}

fn is_moving(scene: &Scene, at: Point) -> bool {
    scene
        .moving
        .is_some_and(|moving| (moving - at).hypot() <= JOINING.0)
}

fn nearest_point(scene: &Scene, pointer: Point, reach: f64) -> Option<Snap> {
    points(scene)
        .map(|(at, name)| ((at - pointer).hypot(), at, name))
        .filter(|(distance, ..)| *distance <= reach)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, at, name)| plain(at, name.words()))
}

/// Where two helping lines meet within reach.
fn meeting(guides: &[Guide], pointer: Point, reach: f64) -> Option<Snap> {
    let pairs = guides
        .iter()
        .enumerate()
        .flat_map(|(i, a)| guides.iter().skip(i + 1).map(move |b| (a, b)));
    pairs
        .filter_map(|(a, b)| Some((a.meets(b)?, a, b)))
        .map(|(at, a, b)| ((at - pointer).hypot(), at, a, b))
        .filter(|(distance, ..)| *distance <= reach)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, at, a, b)| Snap {
            at,
            words: format!("{}, {}", a.words, b.words),
            lines: vec![(a.through, at), (b.through, at)],
        })
}

/// Where a helping line meets an edge within reach.
fn on_edge_and_guide(
    scene: &Scene,
    guides: &[Guide],
    pointer: Point,
    reach: f64,
    to: Snapping,
) -> Option<Snap> {
    if !to.edges {
        return None;
    }
    let mut best: Option<(f64, Snap)> = None;
    for (piece, moved) in near_pieces(scene, pointer, reach) {
        for edge in piece.outline.edges() {
            for cubic in edge.line.cubics() {
                let cubic = kurbo::Affine::translate(moved) * cubic;
                if far_from(&cubic, pointer, reach) {
                    continue;
                }
                for guide in guides {
                    for hit in
                        kurbo::PathSeg::Cubic(cubic).intersect_line(guide.around(pointer, reach))
                    {
                        let at = cubic.eval(hit.segment_t);
                        let distance = (at - pointer).hypot();
                        let better = best.as_ref().is_none_or(|(before, _)| distance < *before);
                        if distance <= reach && better && !is_moving_on(scene, &cubic) {
                            let words =
                                format!("{}, on {} of {}", guide.words, edge.name, piece.name);
                            let lines = vec![(guide.through, at)];
                            best = Some((distance, Snap { at, words, lines }));
                        }
                    }
                }
            }
        }
    }
    best.map(|(_, snap)| snap)
}

fn one_guide(guides: &[Guide], pointer: Point) -> Option<Snap> {
    guides
        .iter()
        .map(|guide| (guide, guide.nearest(pointer)))
        .min_by(|a, b| (a.1 - pointer).hypot().total_cmp(&(b.1 - pointer).hypot()))
        .map(|(guide, at)| Snap {
            at,
            words: guide.words.clone(),
            lines: vec![(guide.through, at)],
        })
}

fn nearest_edge(scene: &Scene, pointer: Point, reach: f64) -> Option<Snap> {
    let mut best: Option<(f64, Point, String)> = None;
    for (piece, moved) in near_pieces(scene, pointer, reach) {
        for edge in piece.outline.edges() {
            for cubic in edge.line.cubics() {
                let cubic = kurbo::Affine::translate(moved) * cubic;
                if far_from(&cubic, pointer, reach) || is_moving_on(scene, &cubic) {
                    continue;
                }
                let found = cubic.nearest(pointer, MEASURING.0);
                let distance = found.distance_sq.sqrt();
                if distance <= reach && best.as_ref().is_none_or(|(before, ..)| distance < *before)
                {
                    let at = cubic.eval(found.t);
                    best = Some((distance, at, format!("on {} of {}", edge.name, piece.name)));
                }
            }
        }
    }
    best.map(|(_, at, words)| plain(at, words))
}

/// Does the point that is being moved lie on this stretch?
fn is_moving_on(scene: &Scene, cubic: &kurbo::CubicBez) -> bool {
    scene.moving.is_some_and(|moving| {
        !far_from(cubic, moving, JOINING.0)
            && cubic.nearest(moving, MEASURING.0).distance_sq.sqrt() <= JOINING.0
    })
}

/// Pieces whose bounds come within reach.
fn near_pieces(
    scene: &Scene,
    pointer: Point,
    reach: f64,
) -> impl Iterator<Item = (&Arc<Piece>, Vec2)> {
    scene
        .pieces
        .iter()
        .map(|(piece, moved)| (piece, *moved))
        .filter(move |(piece, moved)| {
            let cubics = piece
                .outline
                .edges()
                .iter()
                .flat_map(|edge| edge.line.cubics());
            cubics
                .into_iter()
                .any(|cubic| !far_from(&cubic, pointer - *moved, reach))
        })
}

/// The nearest edge of a piece within reach (mm, the piece's own coordinates), the fraction along it, and how far away
/// it is, mm.
pub fn edge_near(piece: &Piece, at: Point, reach: f64) -> Option<(&str, f64, f64)> {
    let mut best: Option<(f64, &Line, usize, f64, &str)> = None;
    for edge in piece.outline.edges() {
        for (i, cubic) in edge.line.cubics().enumerate() {
            if far_from(&cubic, at, reach) {
                continue;
            }
            let found = cubic.nearest(at, MEASURING.0);
            let distance = found.distance_sq.sqrt();
            if distance <= reach && best.is_none_or(|(before, ..)| distance < before) {
                best = Some((distance, &edge.line, i, found.t, &edge.name));
            }
        }
    }
    let (distance, line, number, t, name) = best?;
    let (mut along, mut whole) = (0.0, 0.0);
    for (i, cubic) in line.cubics().enumerate() {
        let length = cubic.arclen(MEASURING.0);
        if i < number {
            along += length;
        } else if i == number {
            along += cubic.subsegment(0.0..t).arclen(MEASURING.0);
        }
        whole += length;
    }
    let fraction = if whole > 0.0 { along / whole } else { 0.0 };
    Some((name, fraction.clamp(0.0, 1.0), distance))
}

/// Is the curve out of reach for sure? Its steering points enclose it.
pub(crate) fn far_from(cubic: &kurbo::CubicBez, p: Point, reach: f64) -> bool {
    let all = [cubic.p0, cubic.p1, cubic.p2, cubic.p3];
    all.iter().all(|q| q.x < p.x - reach)
        || all.iter().all(|q| q.x > p.x + reach)
        || all.iter().all(|q| q.y < p.y - reach)
        || all.iter().all(|q| q.y > p.y + reach)
}

fn grid(step: f64, pointer: Point, reach: f64) -> Option<Snap> {
    if !(step.is_finite() && step > 0.0) {
        return None;
    }
    let round = |v: f64| (v / step).round() * step;
    let at = Point::new(round(pointer.x), round(pointer.y));
    ((at - pointer).hypot() <= reach).then(|| plain(at, "grid".to_owned()))
}

/// Foot of the perpendicular from a point on a curve and the direction of the curve there, if the way is square to it.
pub(crate) fn foot(cubic: &kurbo::CubicBez, from: Point) -> Option<(Point, Vec2)> {
    let found = cubic.nearest(from, MEASURING.0);
    let at = cubic.eval(found.t);
    let way = direction_on(cubic, found.t);
    let to = at - from;
    let square = to.hypot() > JOINING.0 && (way.dot(to) / to.hypot()).abs() < 1e-3;
    square.then_some((at, way))
}
