//! Slashing a piece along rays and spreading it, in the limit of very many slashes.
//!
//! Rays run from a fraction of the edge to the same fraction of what lies opposite. **Even**: all parts between two
//! rays move along the edge, so the edge keeps every direction and is exactly its old shape, larger; the opposite edge
//! grows by the same amount where it runs parallel (straight or concentric). **Hinged**: the rays turn about the
//! opposite side, which bends but keeps its length. In both the edge gets its cloth length exactly.

use kurbo::{Affine, CubicBez, ParamCurve, Point};

use crate::edge::Edge;
use crate::geometry::curve::Line;
use crate::geometry::outline::{Outline, OutlineError};
use crate::tolerance::{DRAWING, MEASURING};

use super::fit::{INSIDE, Part, Place, fit};
use super::motion::{Kind, Motion};
use super::walk::{Walk, knots};

/// How close the fitted cubics come to the spread line.
const FIT: f64 = DRAWING.0 * 0.02;

/// What is spread, and how far.
#[derive(Debug, Clone, Copy)]
pub(super) struct Opening {
    /// Place of the edge in the outline.
    pub edge: usize,
    pub from: f64,
    pub to: f64,
    /// Length that is let in, mm.
    pub growth: f64,
    /// Place of the opposite edge when both are widened.
    pub even_to: Option<usize>,
}

/// Why a piece cannot be spread.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(super) enum SpreadError {
    #[error("there is no length between {from:.2} and {to:.2} of the edge")]
    NoLength { from: f64, to: f64 },
    #[error("nothing lies opposite this edge")]
    NothingOpposite,
    #[error("{0} lies on the fold of the cloth and would bend")]
    FoldBends(String),
    #[error("the piece is only {0:.1} mm deep at one place, too little to turn about")]
    TooShallow(f64),
    #[error("the spread piece would lap over itself near {x:.0}, {y:.0} mm")]
    Crosses { x: f64, y: f64 },
    #[error("{0}")]
    Outline(#[from] OutlineError),
}

/// A spread outline, and where everything went.
#[derive(Debug, Clone)]
pub(super) struct Spread {
    pub outline: Outline,
    /// What each edge is made of now, by its old fractions.
    parts: Vec<Vec<Part>>,
    motion: Motion,
}

/// Spreads an outline.
pub(super) fn spread(
    outline: &Outline,
    opening: Opening,
    grain_at: Option<Point>,
) -> Result<Spread, SpreadError> {
    let chain = match opening.even_to {
        Some(other) => vec![other],
        None => opposite_chain(outline, opening.edge)?,
    };
    for index in chain.iter().chain([&opening.edge]) {
        let fold = outline.edges().get(*index).filter(|edge| edge.is_fold());
        if let Some(edge) = fold.filter(|fold| !is_pulled_along(outline, opening, fold)) {
            return Err(SpreadError::FoldBends(edge.name.clone()));
        }
    }
    let mut motion = Motion::new(outline, opening, &chain)?;
    motion.settle = settled(outline, opening.edge, &chain, &motion, grain_at);
    let parts: Vec<Vec<Part>> = (0..outline.edges().len())
        .map(|index| edge_parts(outline, index, opening, &chain, &motion))
        .collect();
    let lines = parts
        .iter()
        .map(|parts| joined(parts))
        .collect::<Option<Vec<Line>>>()
        .ok_or(SpreadError::NothingOpposite)?;
    let spread = outline.with_lines(closed(lines))?;
    if let Some(at) = crate::geometry::simple::crosses_itself(&spread) {
        return Err(SpreadError::Crosses { x: at.x, y: at.y });
    }
    Ok(Spread {
        outline: spread,
        parts,
        motion,
    })
}

impl Spread {
    /// Where a fraction of an edge went.
    pub fn new_fraction(&self, edge: usize, old: f64) -> f64 {
        let Some(parts) = self.parts.get(edge) else {
            return old;
        };
        // The ends stay the ends; nothing needs to be measured for them.
        if old <= 0.0 || old >= 1.0 {
            return old;
        }
        let lengths: Vec<f64> = parts
            .iter()
            .map(|part| Line::from_cubics(&[part.cubic]).map_or(0.0, |l| l.length()))
            .collect();
        let total: f64 = lengths.iter().sum();
        let reached: f64 = parts
            .iter()
            .zip(&lengths)
            .map(|(p, length)| length * ((old - p.from) / (p.to - p.from)).clamp(0.0, 1.0))
            .sum();
        if total > 0.0 { reached / total } else { old }
    }

    /// Where a point inside the old outline went.
    pub fn moved(&self, point: Point) -> Point {
        self.motion.settled(self.motion.ray_through(point)) * point
    }

    /// Where two points went that keep their distance and, when spread evenly, their direction.
    pub fn moved_together(&self, a: Point, b: Point) -> (Point, Point) {
        let motion = self.motion.settled(self.motion.ray_through(a.midpoint(b)));
        (motion * a, motion * b)
    }

    /// The spread ray at a fraction of the spread range: its end on the edge, and its foot.
    pub fn ray(&self, at: f64) -> (Point, Point) {
        self.motion.moved_ray(at)
    }
}

/// What lies opposite an edge: the run of edges that go the other way, its neighbours left out. Empty when the two
/// neighbours meet in a point.
fn opposite_chain(outline: &Outline, edge: usize) -> Result<Vec<usize>, SpreadError> {
    const AGAINST: f64 = -0.7;
    let count = outline.edges().len();
    let others: Vec<usize> = (1..count).map(|step| (edge + step) % count).collect();
    let inner = match others.as_slice() {
        [] => return Err(SpreadError::NothingOpposite),
        [only] => return Ok(vec![*only]),
        [_, inner @ .., _] => inner,
    };
    let chord = |index: &usize| {
        let line = outline
            .edges()
            .get(*index)
            .map(|edge| edge.line.end() - edge.line.start())
            .unwrap_or_default();
        if line.hypot() > 0.0 {
            line / line.hypot()
        } else {
            line
        }
    };
    let along = chord(&edge);
    let against = |index: &usize| chord(index).dot(along) < AGAINST;
    match (
        inner.iter().position(against),
        inner.iter().rposition(against),
    ) {
        (Some(first), Some(last)) => Ok(inner
            .iter()
            .skip(first)
            .take(last + 1 - first)
            .copied()
            .collect()),
        _ => Ok(inner.to_vec()),
    }
}

/// Does a fold opposite only become longer? It does where both are straight and parallel and the edge is widened
/// evenly: a ruffle folded double.
fn is_pulled_along(outline: &Outline, opening: Opening, fold: &Edge) -> bool {
    let Some(edge) = outline.edges().get(opening.edge) else {
        return false;
    };
    let across = edge.line.direction(0.5).cross(fold.line.direction(0.5));
    let off = across.abs() * (fold.line.length() + opening.growth);
    let is_opposite = opening.even_to.is_some() && edge.name != fold.name;
    is_opposite && edge.line.is_straight() && fold.line.is_straight() && off < DRAWING.0
}

/// The motion that brings the fold back to its place, or else the grain, or else the middle of the piece.
fn settled(
    outline: &Outline,
    edge: usize,
    chain: &[usize],
    motion: &Motion,
    grain_at: Option<Point>,
) -> Affine {
    let fold = outline.edges().iter().position(|edge| edge.is_fold());
    let Some(fold) = fold.filter(|fold| !chain.contains(fold)) else {
        let at = grain_at.map_or(0.5, |point| motion.ray_through(point));
        return motion.raw(at).inverse();
    };
    if is_behind(outline, edge, chain, fold) {
        motion.raw(1.0).inverse()
    } else {
        Affine::IDENTITY
    }
}

/// Does an edge lie between the end of the widened edge and what lies opposite?
fn is_behind(outline: &Outline, edge: usize, chain: &[usize], index: usize) -> bool {
    let count = outline.edges().len();
    let steps = |to: usize| (to + count - edge) % count;
    let border = chain.first().map_or(2, |first| steps(*first));
    index != edge && steps(index) < border
}

/// What one edge of the spread outline is made of.
fn edge_parts(
    outline: &Outline,
    index: usize,
    opening: Opening,
    chain: &[usize],
    motion: &Motion,
) -> Vec<Part> {
    let Some(edge) = outline.edges().get(index) else {
        return Vec::new();
    };
    let before = motion.settled(0.0);
    let behind = motion.settled(1.0);
    if index == opening.edge {
        let mut parts = rigid(&edge.line, 0.0, opening.from, before);
        parts.extend(widened(&edge.line, opening, motion));
        parts.extend(rigid(&edge.line, opening.to, 1.0, behind));
        return parts;
    }
    if chain.contains(&index) {
        return opposite_parts(outline, index, chain, motion);
    }
    rigid(
        &edge.line,
        0.0,
        1.0,
        if is_behind(outline, opening.edge, chain, index) {
            behind
        } else {
            before
        },
    )
}

/// The part of the widened edge that is drawn in later.
fn widened(line: &Line, opening: Opening, motion: &Motion) -> Vec<Part> {
    if let Kind::Even(scale) = motion.kind {
        let start = motion.on_edge(0.0).at.to_vec2();
        let larger = motion.settle
            * Affine::translate(start)
            * Affine::scale(scale)
            * Affine::translate(-start);
        return rigid(line, opening.from, opening.to, larger);
    }
    let range = opening.to - opening.from;
    let parts = fit(&|at| motion.place(at, |ray| ray.edge), &motion.knots(), FIT);
    parts
        .into_iter()
        .map(|p| Part {
            from: opening.from + p.from * range,
            to: opening.from + p.to * range,
            ..p
        })
        .collect()
}

/// An edge opposite the widened one: moved before and behind the range, spread or bent inside it.
fn opposite_parts(outline: &Outline, index: usize, chain: &[usize], motion: &Motion) -> Vec<Part> {
    let Some((edge, whole)) = outline.edges().get(index).zip(motion.opposite.as_ref()) else {
        return Vec::new();
    };
    let lengths = |indices: &[usize]| -> f64 {
        indices
            .iter()
            .filter_map(|i| outline.edges().get(*i))
            .map(|e| e.line.length())
            .sum()
    };
    let start = chain.iter().position(|i| *i == index).map_or(0.0, |at| {
        lengths(&chain.iter().take(at).copied().collect::<Vec<_>>())
    });
    let (start, share) = (start / whole.length, edge.line.length() / whole.length);
    let range = motion.to - motion.from;
    // Fraction of this edge at a fraction of the range, and back.
    let mine = |at: f64| (1.0 - (motion.from + at * range) - start) / share;
    let at = |x: f64| (1.0 - (start + x * share) - motion.from) / range;
    let (first, last) = (mine(1.0).clamp(0.0, 1.0), mine(0.0).clamp(0.0, 1.0));
    let mut parts = rigid(&edge.line, 0.0, first, motion.settled(1.0));
    if last - first > INSIDE {
        let inner = knots(motion.knots().into_iter().map(mine), first, last);
        let place = |x: f64| {
            let f = at(x).clamp(0.0, 1.0);
            let place = motion.place(f, |ray| ray.foot);
            Place {
                slope: place.slope * (-share / range),
                ..place
            }
        };
        parts.extend(fit(&place, &inner, FIT));
    }
    parts.extend(rigid(&edge.line, last, 1.0, motion.settled(0.0)));
    parts
}

/// A stretch of a line moved as a whole.
fn rigid(line: &Line, from: f64, to: f64, motion: Affine) -> Vec<Part> {
    let Some(stretch) = (to - from > INSIDE)
        .then(|| line.between(from, to))
        .flatten()
    else {
        return Vec::new();
    };
    let Some(walk) = Walk::new([&stretch]) else {
        return Vec::new();
    };
    let joints = walk.joints();
    let bounds = joints.windows(2).filter_map(|pair| match pair {
        [a, b] => Some((*a, *b)),
        _ => None,
    });
    let placed = stretch.cubics().zip(bounds).filter(|(_, (a, b))| b > a);
    placed
        .map(|(c, (a, b))| Part {
            cubic: motion * c,
            from: from + a * (to - from),
            to: from + b * (to - from),
        })
        .collect()
}

/// Parts joined end to end, tiny gaps of rounding closed.
fn joined(parts: &[Part]) -> Option<Line> {
    let mut cubics: Vec<CubicBez> = Vec::new();
    for part in parts {
        let start = cubics.last().map_or(part.cubic.start(), |last| last.p3);
        cubics.push(CubicBez {
            p0: start,
            ..part.cubic
        });
    }
    Line::from_cubics(&cubics)
}

/// Every line made to start exactly where the one before ends.
fn closed(lines: Vec<Line>) -> Vec<Line> {
    let ends: Vec<Point> = lines.iter().map(Line::end).collect();
    let before = ends.iter().cycle().skip(ends.len().saturating_sub(1));
    lines
        .iter()
        .zip(before)
        .map(|(line, start)| {
            let mut points = line.points().to_vec();
            if let Some(first) = points
                .first_mut()
                .filter(|first| (**first - *start).hypot() < MEASURING.0)
            {
                *first = *start;
            }
            Line::new(points).unwrap_or_else(|_| line.clone())
        })
        .collect()
}
