//! The first three alterations: a moved edge, a moved corner, a piece lengthened at a body line.

use kurbo::{Point, Vec2};

use super::AlterationError;
use super::shape::widen::parallel;
use crate::geometry::curve::Line;
use crate::geometry::simple::crosses_itself;
use crate::measure::Level;
use crate::piece::Piece;
use crate::tolerance::JOINING;

pub(super) fn finite(mm: f64) -> Result<f64, AlterationError> {
    if mm.is_finite() {
        Ok(mm)
    } else {
        Err(AlterationError::NotFinite)
    }
}

pub(super) fn index_of(piece: &Piece, edge: &str) -> Result<usize, AlterationError> {
    piece
        .outline
        .index_of(edge)
        .ok_or_else(|| AlterationError::NoEdge(edge.to_owned()))
}

/// Moves an edge sideways; its corners slide along the neighbours, which keep their directions.
pub(super) fn move_edge(
    piece: &Piece,
    name: &str,
    outwards: f64,
) -> Result<Piece, AlterationError> {
    let index = index_of(piece, name)?;
    if piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == name || dart.leg_out == name)
    {
        return Err(AlterationError::DartLeg(name.to_owned()));
    }
    let edges = piece.outline.edges();
    let count = edges.len();
    let (Some(edge), Some(before), Some(after)) = (
        edges.get(index),
        edges.get((index + count - 1) % count),
        edges.get((index + 1) % count),
    ) else {
        return Err(AlterationError::NoEdge(name.to_owned()));
    };
    let start = slide(
        edge.line.direction(0.0),
        before.line.direction(1.0),
        outwards,
    );
    let end = slide(
        edge.line.direction(1.0),
        after.line.direction(0.0),
        outwards,
    );
    with_corners(piece, |corner| match corner {
        at if at == index => start,
        at if at == (index + 1) % count => end,
        _ => Vec2::ZERO,
    })
    .and_then(|moved| {
        replaced(
            &moved,
            index,
            parallel(&edge.line, (outwards, outwards), start, end),
        )
    })
}

/// How a corner moves when the edge with this direction moves outwards: along its neighbour, or straight out where
/// the neighbour runs nearly the same way.
pub(super) fn slide(edge: Vec2, neighbour: Vec2, outwards: f64) -> Vec2 {
    const NEARLY_ALONG: f64 = 0.3;
    let out = -edge.turn_90();
    let across = neighbour.dot(out);
    if across.abs() < NEARLY_ALONG {
        out * outwards
    } else {
        neighbour * (outwards / across)
    }
}

/// Moves the corner at the start of an edge.
pub(super) fn move_corner(piece: &Piece, name: &str, by: Vec2) -> Result<Piece, AlterationError> {
    let index = index_of(piece, name)?;
    let count = piece.outline.edges().len();
    let neighbours = [index, (index + count - 1) % count];
    for edge in neighbours
        .iter()
        .filter_map(|i| piece.outline.edges().get(*i))
        .filter(|edge| edge.is_fold())
    {
        let off = edge.line.direction(0.5).cross(by).abs();
        if off > JOINING.0 {
            return Err(AlterationError::LeavesFold(off));
        }
    }
    with_corners(
        piece,
        |corner| if corner == index { by } else { Vec2::ZERO },
    )
}

/// Moves everything beyond a body line away from it; the edges that cross the line stretch evenly.
pub(super) fn lengthen_at(piece: &Piece, level: Level, by: f64) -> Result<Piece, AlterationError> {
    let line = piece
        .body_lines
        .iter()
        .find(|line| line.level == level)
        .ok_or(AlterationError::NoLevel(level))?;
    let (from, to) = piece
        .point_at(&line.from)
        .zip(piece.point_at(&line.to))
        .ok_or(AlterationError::NoLevel(level))?;
    let across = if (to - from).hypot() > JOINING.0 {
        (to - from) / (to - from).hypot()
    } else {
        Vec2::new(1.0, 0.0)
    };
    let square = if across.x > 0.0 {
        -across.turn_90()
    } else {
        across.turn_90()
    };
    let down = match piece.fold_edge().map(|edge| edge.line.direction(0.5)) {
        Some(fold) if fold.dot(square).abs() > 0.5 => fold * fold.dot(square).signum(),
        _ => square,
    };
    let below = |p: Point| (p - from).dot(square);
    let starts: Vec<Point> = piece
        .outline
        .edges()
        .iter()
        .map(|edge| edge.line.start())
        .collect();
    let on_line = if starts.iter().any(|p| below(*p) > JOINING.0) {
        JOINING.0
    } else {
        -JOINING.0
    };
    let moves = |p: Point| {
        if below(p) > on_line {
            down * by
        } else {
            Vec2::ZERO
        }
    };
    let mut altered = with_corners(piece, |corner| {
        starts.get(corner).map_or(Vec2::ZERO, |p| moves(*p))
    })?;
    for mark in &mut altered.marks {
        mark.kind = mark.kind.moved(moves(mark.kind.middle()));
    }
    altered.grainline = piece
        .grainline
        .map(|(a, b)| (a + moves(a.midpoint(b)), b + moves(a.midpoint(b))));
    Ok(altered)
}

/// The piece with its corners moved (the corner of an index is where that edge starts); edges follow evenly.
pub(super) fn with_corners(
    piece: &Piece,
    by: impl Fn(usize) -> Vec2,
) -> Result<Piece, AlterationError> {
    let count = piece.outline.edges().len();
    let lines = piece
        .outline
        .edges()
        .iter()
        .enumerate()
        .map(|(i, edge)| follow(&edge.line, by(i), by((i + 1) % count)));
    checked(piece, lines.collect())
}

fn replaced(piece: &Piece, index: usize, line: Option<Line>) -> Result<Piece, AlterationError> {
    let line = line.ok_or(AlterationError::Crosses)?;
    let lines = piece.outline.edges().iter().enumerate().map(|(i, edge)| {
        if i == index {
            line.clone()
        } else {
            edge.line.clone()
        }
    });
    checked(piece, lines.collect())
}

/// A line whose ends move; what lies between moves in proportion to its place, so a straight line stays straight.
pub(super) fn follow(line: &Line, start: Vec2, end: Vec2) -> Line {
    if start == Vec2::ZERO && end == Vec2::ZERO {
        return line.clone();
    }
    let points = line.points();
    let mut along = vec![0.0];
    for pair in points.windows(2) {
        let [a, b] = pair else { continue };
        along.push(along.last().copied().unwrap_or(0.0) + (*b - *a).hypot());
    }
    let total = along.last().copied().unwrap_or(0.0).max(f64::MIN_POSITIVE);
    let moved = points
        .iter()
        .zip(&along)
        .map(|(p, at)| *p + start * (1.0 - at / total) + end * (at / total));
    Line::new(moved.collect()).unwrap_or_else(|_| line.clone())
}

/// The piece with new lines, if they still enclose it properly.
pub(super) fn checked(piece: &Piece, lines: Vec<Line>) -> Result<Piece, AlterationError> {
    let mut path = kurbo::BezPath::new();
    for cubic in lines.iter().flat_map(Line::cubics) {
        if path.is_empty() {
            path.move_to(cubic.p0);
        }
        path.curve_to(cubic.p1, cubic.p2, cubic.p3);
    }
    let outline = piece.outline.with_lines(lines)?;
    if kurbo::Shape::area(&path) <= 0.0 || crosses_itself(&outline).is_some() {
        return Err(AlterationError::Crosses);
    }
    Ok(Piece {
        outline,
        ..piece.clone()
    })
}
