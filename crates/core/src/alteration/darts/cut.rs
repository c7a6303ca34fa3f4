//! A new dart cut into an edge, and the tip of a dart moved.

use kurbo::{Affine, Point, Vec2};

use super::legs::{Legs, free, fresh};
use super::pivot::free_dart_name;
use crate::alteration::moves::{finite, follow, index_of};
use crate::alteration::shape::edges::edge_at;
use crate::alteration::shape::kept::{Reshaped, no_leg};
use crate::alteration::{AlterationError, Bit, Carried};
use crate::edge::{Edge, EdgeRef, OutlinePoint};
use crate::geometry::curve::Line;
use crate::piece::{Dart, DartPress, Piece};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Cuts a dart into an edge, which becomes two. Its legs are made equal: where its tip leans, the ends of its mouth
/// move along the legs to their mean length and the edges follow.
pub(super) fn add(
    piece: &Piece,
    name: &str,
    at: &OutlinePoint,
    width: Mm,
    tip: Point,
) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, &at.edge)?;
    let (width, fraction) = (finite(width.0)?, finite(at.fraction)?);
    let tip = Point::new(finite(tip.x)?, finite(tip.y)?);
    no_leg(piece, &at.edge)?;
    free_dart_name(piece, name, None)?;
    let edge = edge_at(piece, index, &at.edge)?;
    if edge.is_fold() {
        return Err(AlterationError::Refused(format!(
            "{} is the fold; cut the dart into another edge, or open the piece out first",
            at.edge
        )));
    }
    let length = edge.line.length();
    let (begin, end) = (
        fraction * length - width / 2.0,
        fraction * length + width / 2.0,
    );
    let room = begin.min(length - end);
    if width <= JOINING.0 || room <= JOINING.0 {
        return Err(AlterationError::Refused(if width <= JOINING.0 {
            format!("a dart of {width:.2} mm takes nothing up; make it wider")
        } else {
            format!(
                "its mouth would reach {:.1} mm beyond the end of {}; lay it farther in, or make it narrower",
                (JOINING.0 - room).max(0.1),
                at.edge
            )
        }));
    }
    if !piece.outline.contains(tip) {
        return Err(AlterationError::Refused(format!(
            "its tip would lie {:.1} mm outside the piece; choose a place inside",
            outside(piece, tip)
        )));
    }
    let parts = edge
        .line
        .between(0.0, begin / length)
        .zip(edge.line.between(end / length, 1.0));
    let (first, last) = parts.ok_or(AlterationError::NotFinite)?;
    let second = fresh(piece, &[], &at.edge);
    let [leg_in, leg_out] = ["in", "out"].map(|leg| free(piece, &[], &format!("{name} {leg}")));
    let [from, to] = equal_mouth(first.end(), last.start(), tip)?;
    let mut edges = Vec::new();
    for (i, edge) in piece.outline.edges().iter().enumerate() {
        if i != index {
            edges.push(edge.clone());
            continue;
        }
        let before = follow(&first, Vec2::ZERO, from - first.end());
        let after = follow(&last, to - last.start(), Vec2::ZERO);
        edges.push(Edge::seam(&at.edge, before));
        edges.push(Edge::seam(&leg_in, Line::straight(from, tip)));
        edges.push(Edge::seam(&leg_out, Line::straight(tip, to)));
        edges.push(Edge::seam(&second, after));
    }
    let carried = parted(piece, &at.edge, &second, [begin, end].map(|at| at / length));
    let mut reshaped = Reshaped::with_edges(piece, edges, carried)?;
    let mut darts = piece.darts.clone();
    darts.push(Dart {
        name: name.to_owned(),
        leg_in,
        leg_out,
        pressed: DartPress::default(),
    });
    reshaped.darts = Some(darts);
    Ok(reshaped)
}

fn outside(piece: &Piece, p: Point) -> f64 {
    let edges = piece.outline.edges().iter();
    edges
        .map(|edge| {
            let near = crate::allowance::fraction_near(&edge.line, p);
            (edge.line.at(near) - p).hypot()
        })
        .fold(f64::INFINITY, f64::min)
}

/// The ends of a mouth, moved along the legs until both are as long as their mean.
fn equal_mouth(begin: Point, end: Point, tip: Point) -> Result<[Point; 2], AlterationError> {
    let (into, out) = (begin - tip, end - tip);
    let mean = f64::midpoint(into.hypot(), out.hypot());
    if into.hypot().min(out.hypot()) <= JOINING.0 {
        return Err(AlterationError::Refused(
            "its tip would lie on the edge; choose a place inside the piece".to_owned(),
        ));
    }
    if (into.hypot() - out.hypot()).abs() <= JOINING.0 * 1e-6 {
        return Ok([begin, end]);
    }
    Ok([
        tip + into * (mean / into.hypot()),
        tip + out * (mean / out.hypot()),
    ])
}

/// Where an edge went that a mouth was cut out of: what lay in the mouth is now at its two ends.
fn parted(piece: &Piece, first: &str, second: &str, [begin, end]: [f64; 2]) -> Carried {
    const SLIVER: f64 = 1e-6;
    let own = |edge: &str| EdgeRef::new(&piece.name, edge);
    let middle = f64::midpoint(begin, end);
    let (a, b) = (begin * (1.0 - SLIVER), end + (1.0 - end) * SLIVER);
    let bits = vec![
        Bit::new((0.0, a), own(first), (0.0, 1.0 - SLIVER)),
        Bit::new((a, middle), own(first), (1.0 - SLIVER, 1.0)),
        Bit::new((middle, b), own(second), (0.0, SLIVER)),
        Bit::new((b, 1.0), own(second), (SLIVER, 1.0)),
    ];
    Carried::default().with_edge(own(first), bits)
}

/// Moves the tip of a dart. Both legs become equal: the ends of its mouth move along them to their mean length.
pub(super) fn move_tip(
    piece: &Piece,
    name: &str,
    right: Mm,
    up: Mm,
) -> Result<Reshaped, AlterationError> {
    let by = Vec2::new(finite(right.0)?, finite(up.0)?);
    let legs = Legs::find(piece, name)?;
    let tip = legs.tip + by;
    let [begin, end] = equal_mouth(legs.begin, legs.end, tip)?;
    let edges = piece.outline.edges();
    let count = edges.len();
    let (before, after) = ((legs.first + count - 1) % count, (legs.second + 1) % count);
    let moved = edges.iter().enumerate().map(|(i, edge)| {
        let start = if i == after {
            end - legs.end
        } else {
            Vec2::ZERO
        };
        let finish = if i == before {
            begin - legs.begin
        } else {
            Vec2::ZERO
        };
        if i == legs.first {
            between(&edge.line, begin, tip)
        } else if i == legs.second {
            between(&edge.line, tip, end)
        } else {
            follow(&edge.line, start, finish)
        }
    });
    Reshaped::with_lines(piece, moved.collect())
}

/// The same line turned and stretched until it has these ends.
fn between(line: &Line, from: Point, to: Point) -> Line {
    let (old, new) = (line.end() - line.start(), to - from);
    if line.is_straight() || old.hypot() <= JOINING.0 {
        return Line::straight(from, to);
    }
    let (cos, sin) = (old.dot(new) / old.hypot2(), old.cross(new) / old.hypot2());
    let with = Affine::translate(from.to_vec2())
        * Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
        * Affine::translate(-line.start().to_vec2());
    let mut points: Vec<Point> = line.points().iter().map(|p| with * *p).collect();
    if let Some(last) = points.last_mut() {
        *last = to;
    }
    Line::new(points).unwrap_or_else(|_| Line::straight(from, to))
}
