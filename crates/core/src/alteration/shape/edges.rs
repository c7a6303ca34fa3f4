//! Edges of an outline: split, joined, renamed, brought to a length.

use super::kept::{Reshaped, dart_of, no_leg, stretched_at};
use crate::alteration::moves::{finite, follow, index_of};
use crate::alteration::{AlterationError, Bit, Carried};
use crate::edge::{Edge, EdgeRef, OutlinePoint};
use crate::geometry::curve::Line;
use crate::geometry::parallel::straight;
use crate::piece::Piece;
use crate::tolerance::{JOINING, MEASURING};
use crate::units::Mm;

/// Makes two edges of one.
pub(super) fn split(
    piece: &Piece,
    at: &OutlinePoint,
    name: &str,
) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, &at.edge)?;
    let fraction = finite(at.fraction)?;
    no_leg(piece, &at.edge)?;
    free_name(piece, name)?;
    let edge = edge_at(piece, index, &at.edge)?;
    if edge.is_fold() {
        return Err(AlterationError::Refused(format!(
            "{} is the fold, which stays one edge; open the piece out first",
            at.edge
        )));
    }
    let length = edge.line.length();
    let near_end = length * fraction.min(1.0 - fraction);
    if near_end <= JOINING.0 {
        return Err(AlterationError::Refused(format!(
            "{} would be split {:.2} mm from its end; choose a place at least {} mm inside",
            at.edge,
            near_end.max(0.0),
            JOINING.0
        )));
    }
    let parts = edge
        .line
        .between(0.0, fraction)
        .zip(edge.line.between(fraction, 1.0));
    let (first, second) = parts.ok_or(AlterationError::NotFinite)?;
    let mut edges = Vec::new();
    for (i, edge) in piece.outline.edges().iter().enumerate() {
        if i == index {
            edges.push(Edge::seam(&at.edge, first.clone()));
            edges.push(Edge::seam(name, second.clone()));
        } else {
            edges.push(edge.clone());
        }
    }
    let own = |edge: &str| EdgeRef::new(&piece.name, edge);
    let bits = vec![
        Bit::new((0.0, fraction), own(&at.edge), (0.0, 1.0)),
        Bit::new((fraction, 1.0), own(name), (0.0, 1.0)),
    ];
    Reshaped::with_edges(
        piece,
        edges,
        Carried::default().with_edge(own(&at.edge), bits),
    )
}

/// Makes one edge of an edge and the next.
pub(super) fn join(piece: &Piece, name: &str) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, name)?;
    let count = piece.outline.edges().len();
    if count < 2 {
        return Err(AlterationError::Refused(format!(
            "{name} is the only edge; there is none to join it to"
        )));
    }
    let next = (index + 1) % count;
    let first = edge_at(piece, index, name)?;
    let second = edge_at(piece, next, name)?;
    no_leg(piece, name)?;
    no_leg(piece, &second.name)?;
    if first.is_fold() != second.is_fold() {
        return Err(AlterationError::Refused(format!(
            "only one of {name} and {} lies on the fold; they cannot be one edge",
            second.name
        )));
    }
    let line = one_line(&first.line, &second.line).ok_or(AlterationError::NotFinite)?;
    let share = first.line.length() / (first.line.length() + second.line.length());
    let own = |edge: &str| EdgeRef::new(&piece.name, edge);
    let carried = Carried::default()
        .with_edge(
            own(name),
            vec![Bit::new((0.0, 1.0), own(name), (0.0, share))],
        )
        .with_edge(
            own(&second.name),
            vec![Bit::new((0.0, 1.0), own(name), (share, 1.0))],
        );
    let mut edges: Vec<Edge> = Vec::new();
    for (i, edge) in piece.outline.edges().iter().enumerate() {
        if i == index {
            edges.push(Edge::seam(name, line.clone()));
        } else if i != next {
            edges.push(edge.clone());
        }
    }
    Reshaped::with_edges(piece, edges, carried)
}

/// Two lines end to end. Two straight ones in one direction become one straight line, two parts of one curve that
/// curve again; everything else keeps a point between.
pub(in crate::alteration) fn one_line(first: &Line, second: &Line) -> Option<Line> {
    let mut cubics: Vec<_> = first.cubics().collect();
    let mut rest: Vec<_> = second.cubics().collect();
    // the second starts where the first ends, to the last bit
    if let (Some(last), Some(next)) = (cubics.last(), rest.first_mut()) {
        next.p0 = last.p3;
    }
    let meet = (cubics.last().copied(), rest.first().copied());
    if let (Some(last), Some(next)) = meet
        && let Some(whole) = super::lines::same_cubic(&last, &next)
    {
        cubics.pop();
        rest.remove(0);
        cubics.push(whole);
    }
    cubics.extend(rest);
    Line::from_cubics(&cubics)
}

/// Gives an edge another name.
pub(super) fn rename(piece: &Piece, edge: &str, name: &str) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, edge)?;
    free_name(piece, name)?;
    let edges = piece.outline.edges().iter().enumerate();
    let edges = edges.map(|(i, old)| Edge {
        name: if i == index { name } else { &old.name }.to_owned(),
        ..old.clone()
    });
    let own = |edge: &str| EdgeRef::new(&piece.name, edge);
    let carried = Carried::default().with_edge(own(edge), vec![Bit::whole(own(name))]);
    Reshaped::with_edges(piece, edges.collect(), carried)
}

/// A name that no edge of the piece has.
pub(in crate::alteration) fn free_name(piece: &Piece, name: &str) -> Result<(), AlterationError> {
    if name.trim().is_empty() {
        return Err(AlterationError::Refused(
            "an edge needs a name; type one".to_owned(),
        ));
    }
    if piece.outline.edge(name).is_some() {
        return Err(AlterationError::Taken {
            what: "edge",
            name: name.to_owned(),
        });
    }
    Ok(())
}

/// Brings an edge to a length: cut off at its end, or run on straight from there. The next edge follows with its start.
pub(super) fn set_length(
    piece: &Piece,
    name: &str,
    length: Mm,
) -> Result<Reshaped, AlterationError> {
    let index = index_of(piece, name)?;
    let wanted = finite(length.0)?;
    let count = piece.outline.edges().len();
    let old = edge_at(piece, index, name)?;
    let next = edge_at(piece, (index + 1) % count, name)?;
    if count < 2 {
        return Err(AlterationError::Refused(format!(
            "{name} is the whole outline; split it where its end shall be"
        )));
    }
    if wanted <= MEASURING.0 {
        return Err(AlterationError::Refused(format!(
            "{name} cannot be {wanted:.2} mm long; type a length above {} mm, or join it to its neighbour",
            MEASURING.0
        )));
    }
    for leg in [&old.name, &next.name] {
        if let Some(dart) = dart_of(piece, leg) {
            return Err(AlterationError::Refused(format!(
                "{name} ends at {}, whose legs would no longer be equal; move the dart instead, or change the edge at its other end",
                dart.name
            )));
        }
    }
    let before = old.line.length();
    let line = of_length(&old.line, before, wanted).ok_or(AlterationError::NotFinite)?;
    let by = line.end() - old.line.end();
    let mut lines: Vec<Line> = Vec::new();
    for (i, edge) in piece.outline.edges().iter().enumerate() {
        lines.push(if i == index {
            line.clone()
        } else if i == (index + 1) % count {
            follow(&edge.line, by, kurbo::Vec2::ZERO)
        } else {
            edge.line.clone()
        });
    }
    let edge = EdgeRef::new(&piece.name, name);
    let bits = stretched_at(edge.clone(), 1.0, before, wanted);
    let edges = piece.outline.edges().iter().zip(lines);
    let edges = edges.map(|(edge, line)| Edge {
        line,
        ..edge.clone()
    });
    Reshaped::with_edges(
        piece,
        edges.collect(),
        Carried::default().with_edge(edge, bits),
    )
}

fn of_length(line: &Line, before: f64, wanted: f64) -> Option<Line> {
    if line.is_straight() {
        let along = (line.end() - line.start()) / before;
        return Some(Line::straight(line.start(), line.start() + along * wanted));
    }
    if wanted <= before {
        return line.between(0.0, wanted / before);
    }
    let end = line.end();
    let on = straight(end, end + line.direction(1.0) * (wanted - before));
    one_line(line, &Line::from_cubics(&[on])?)
}

pub(in crate::alteration) fn edge_at<'a>(
    piece: &'a Piece,
    index: usize,
    name: &str,
) -> Result<&'a Edge, AlterationError> {
    let edge = piece.outline.edges().get(index);
    edge.ok_or_else(|| AlterationError::NoEdge(name.to_owned()))
}
