//! A dart of an outline: its two legs, its mouth, its tip, and the edges beside it.

use kurbo::{Affine, BezPath, Point, Shape, Vec2};

use crate::alteration::shape::kept::{dart_of, no_leg};
use crate::alteration::{AlterationError, Bit};
use crate::edge::{Edge, EdgeRef};
use crate::geometry::curve::Line;
use crate::piece::{Dart, Piece};
use crate::tolerance::DRAWING;

/// How near two fractions lie that count as one.
pub(super) const NEAR: f64 = 1e-9;

/// The least part of an edge that stands for its end, where that is stretched.
const SLIVER: f64 = 1e-6;

/// A dart whose legs are two edges that follow each other.
#[derive(Clone)]
pub(super) struct Legs<'a> {
    pub piece: &'a Piece,
    pub dart: &'a Dart,
    /// Place of the edge from the mouth to the tip.
    pub first: usize,
    /// Place of the edge from the tip to the mouth.
    pub second: usize,
    /// Where the mouth begins, counter-clockwise.
    pub begin: Point,
    pub tip: Point,
    /// Where the mouth ends.
    pub end: Point,
}

impl<'a> Legs<'a> {
    pub fn find(piece: &'a Piece, name: &str) -> Result<Self, AlterationError> {
        let known = piece.darts.iter().find(|dart| dart.name == name);
        let dart = known.ok_or_else(|| AlterationError::NoDart(name.to_owned()))?;
        let legs = crate::allowance::dart_legs(piece);
        let own = legs.into_iter().find(|legs| legs.dart.name == name);
        let apart = || {
            AlterationError::Refused(format!(
                "the legs of {name} ({} and {}) are not two edges that follow each other; name the two edges that meet at its point",
                dart.leg_in, dart.leg_out
            ))
        };
        let own = own.ok_or_else(apart)?;
        let edges = piece.outline.edges();
        let (Some(into), Some(out)) = (edges.get(own.first), edges.get(own.second)) else {
            return Err(apart());
        };
        Ok(Self {
            piece,
            dart,
            first: own.first,
            second: own.second,
            begin: into.line.start(),
            tip: into.line.end(),
            end: out.line.end(),
        })
    }

    /// The same, if both legs are equally long.
    pub fn equal(piece: &'a Piece, name: &str) -> Result<Self, AlterationError> {
        let legs = Self::find(piece, name)?;
        let off = ((legs.begin - legs.tip).hypot() - (legs.end - legs.tip).hypot()).abs();
        if off > DRAWING.0 {
            return Err(AlterationError::Refused(format!(
                "the legs of {name} differ by {off:.1} mm; make them equal first by moving its tip"
            )));
        }
        Ok(legs)
    }

    /// The angle by which what follows its mouth turns until it meets what comes before, radians, counter-clockwise.
    pub fn closing(&self) -> f64 {
        let (before, after) = (self.begin - self.tip, self.end - self.tip);
        libm::atan2(after.cross(before), after.dot(before))
    }

    /// The names of its legs, counter-clockwise.
    pub fn names(&self) -> [String; 2] {
        let edges = self.piece.outline.edges();
        [self.first, self.second].map(|i| edges.get(i).map_or_else(String::new, |e| e.name.clone()))
    }

    /// Straight over its mouth.
    pub fn mouth(&self) -> Line {
        Line::straight(self.begin, self.end)
    }

    pub fn width(&self) -> f64 {
        (self.end - self.begin).hypot()
    }

    /// Square to its mouth, towards its tip, and how far that is.
    pub fn depth(&self) -> (Vec2, f64) {
        let along = (self.end - self.begin) / self.width().max(f64::MIN_POSITIVE);
        let inwards = along.turn_90();
        let depth = (self.tip - self.begin.midpoint(self.end)).dot(inwards);
        (inwards, depth)
    }

    /// The edges that are no leg of it, from the end of its mouth to its beginning.
    pub fn others(&self) -> Vec<Edge> {
        let edges = self.piece.outline.edges();
        let count = edges.len();
        let rest = (1..count.saturating_sub(1)).map(|step| (self.second + step) % count);
        rest.filter_map(|i| edges.get(i).cloned()).collect()
    }

    /// The edges before its mouth and after it, which are two edges, neither fold nor leg of another dart.
    pub fn beside(&self) -> Result<(Edge, Edge), AlterationError> {
        let others = self.others();
        let (Some(after), Some(before), true) = (others.first(), others.last(), others.len() > 1)
        else {
            return Err(AlterationError::Refused(format!(
                "only one edge lies beside {}; split it first",
                self.dart.name
            )));
        };
        for edge in [before, after] {
            no_leg(self.piece, &edge.name)?;
            if edge.is_fold() {
                return Err(AlterationError::Refused(format!(
                    "{} lies on the fold and opens into {}; open the piece out first",
                    edge.name, self.dart.name
                )));
            }
        }
        Ok((before.clone(), after.clone()))
    }

    pub fn own(&self, edge: &str) -> EdgeRef {
        EdgeRef::new(&self.piece.name, edge)
    }
}

/// The edges of an outline so that it starts where the old one did, if that edge is still there.
pub(super) fn started_as(old: &Piece, mut edges: Vec<Edge>) -> Vec<Edge> {
    let start = old.outline.edges().iter().find_map(|edge| {
        edges
            .iter()
            .position(|new| new.name == edge.name && dart_of(old, &edge.name).is_none())
    });
    edges.rotate_left(start.unwrap_or(0));
    edges
}

/// A name like this one that no edge has, neither of the piece nor of the list.
pub(in crate::alteration) fn fresh(piece: &Piece, edges: &[Edge], like: &str) -> String {
    let taken = |name: &str| {
        piece.outline.edge(name).is_some() || edges.iter().any(|edge| edge.name == name)
    };
    let mut number = 2_u32;
    loop {
        let name = format!("{like} {number}");
        if !taken(&name) {
            return name;
        }
        number = number.saturating_add(1);
    }
}

/// The name itself if no edge has it, else one like it.
pub(super) fn free(piece: &Piece, edges: &[Edge], name: &str) -> String {
    let taken = piece.outline.edge(name).is_some() || edges.iter().any(|edge| edge.name == name);
    if taken {
        fresh(piece, edges, name)
    } else {
        name.to_owned()
    }
}

/// Where an edge went that is now a part of a longer one: what is marked on it keeps its place, its start (or its end)
/// reaches out to where the neighbour begins, so that what is sewn from end to end stays sewn from end to end.
pub(super) fn reaching(edge: &EdgeRef, (start, end): (f64, f64), reach: (f64, f64)) -> Vec<Bit> {
    let mut bits = Vec::new();
    let (mut from, mut to) = (0.0, 1.0);
    if reach.0 < start - NEAR {
        from = SLIVER;
        bits.push(Bit::new((0.0, SLIVER), edge.clone(), (reach.0, start)));
    }
    if end + NEAR < reach.1 {
        to = 1.0 - SLIVER;
    }
    bits.push(Bit::new((from, to), edge.clone(), (start, end)));
    if to < 1.0 {
        bits.push(Bit::new((to, 1.0), edge.clone(), (end, reach.1)));
    }
    bits
}

/// Edges moved as a whole.
pub(super) fn moved(edges: &[Edge], with: Affine) -> Vec<Edge> {
    let moved = edges.iter().map(|edge| Edge {
        line: edge.line.mapped(|p| with * p),
        ..edge.clone()
    });
    moved.collect()
}

/// The part of a piece that follows the mouth of a dart: along its edges to a slash, over the slash, back along the leg.
pub(super) fn path_of(mouth: Point, edges: &[Edge], slash: Point, tip: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(mouth);
    for c in edges.iter().flat_map(|edge| edge.line.cubics()) {
        path.curve_to(c.p1, c.p2, c.p3);
    }
    path.line_to(slash);
    path.close_path();
    path
}

/// Does the first part turn, rather than the second? Not if it has the fold, or the grainline, or is the larger.
pub(super) fn first_moves(piece: &Piece, parts: [&[Edge]; 2], first: &BezPath) -> bool {
    let [with_fold, other] = parts.map(|edges| edges.iter().any(Edge::is_fold));
    if with_fold != other {
        return other;
    }
    match piece.grainline {
        Some((a, b)) => !first.contains(a.midpoint(b)),
        None => first.area().abs() * 2.0 < piece.outline.area(),
    }
}
