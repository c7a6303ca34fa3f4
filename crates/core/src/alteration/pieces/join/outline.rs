//! The outline of a joined piece: what is left of both, edges that run on made one again.

use super::edge_name;
use crate::alteration::AlterationError;
use crate::alteration::moves::follow;
use crate::alteration::pieces::round::one_line;
use crate::edge::{Edge, EdgeRef};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::geometry::parallel::SMOOTH;
use crate::piece::Piece;
use crate::tolerance::DRAWING;

/// A bit of an old edge on the joined outline.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bitten {
    pub old: EdgeRef,
    /// Fractions of the old edge, in the order it is walked now.
    pub from: f64,
    pub to: f64,
    pub line: Line,
}

/// A new edge and the bits it is made of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    pub name: String,
    pub bits: Vec<Bitten>,
}

/// The new edges: the bits of the first piece, then those of the second; two that have one name and run on smoothly at
/// an end of the seam become one.
pub(super) fn grouped(first: &Piece, second: &Piece, [a, b]: [Vec<Bitten>; 2]) -> Vec<Group> {
    let b = drawn_together(&a, b);
    let legs: Vec<EdgeRef> = [first, second]
        .into_iter()
        .flat_map(|piece| {
            let legs = piece.darts.iter().flat_map(|d| [&d.leg_in, &d.leg_out]);
            legs.map(|leg| EdgeRef::new(&piece.name, leg))
        })
        .collect();
    let second_starts = a.len();
    let mut groups: Vec<Vec<Bitten>> = Vec::new();
    for (number, bit) in a.into_iter().chain(b).enumerate() {
        match groups.last_mut() {
            Some(group) if number == second_starts && runs_on(group.last(), &bit, &legs) => {
                group.push(bit);
            }
            _ => groups.push(vec![bit]),
        }
    }
    let closes = groups.len() > 1
        && groups
            .last()
            .zip(groups.first())
            .is_some_and(|(last, first)| {
                first
                    .first()
                    .is_some_and(|bit| runs_on(last.last(), bit, &legs))
            });
    if closes
        && let Some(last) = groups.pop()
        && let Some(first) = groups.first_mut()
    {
        first.splice(0..0, last);
    }
    named(groups)
}

/// The bits of the second piece with their ends exactly where the first one's are.
fn drawn_together(a: &[Bitten], b: Vec<Bitten>) -> Vec<Bitten> {
    let mut b = b;
    let (Some(start), Some(end)) = (a.first(), a.last()) else {
        return b;
    };
    let (start, end) = (start.line.start(), end.line.end());
    let zero = kurbo::Vec2::ZERO;
    if let Some(first) = b.first_mut() {
        let by = end - first.line.start();
        if by.hypot() <= 2.0 * DRAWING.0 {
            first.line = follow(&first.line, by, zero);
        }
    }
    if let Some(last) = b.last_mut() {
        let by = start - last.line.end();
        if by.hypot() <= 2.0 * DRAWING.0 {
            last.line = follow(&last.line, zero, by);
        }
    }
    b
}

/// Does a bit carry on the one before it: the same name, the same direction, neither a dart leg?
fn runs_on(before: Option<&Bitten>, bit: &Bitten, legs: &[EdgeRef]) -> bool {
    let Some(before) = before else { return false };
    let (a, b) = (before.line.direction(1.0), bit.line.direction(0.0));
    same_name(&before.old.edge, &bit.old.edge)
        && a.dot(b) > 0.0
        && a.cross(b).abs() <= SMOOTH
        && !legs.contains(&before.old)
        && !legs.contains(&bit.old)
}

/// "hem" and "hem", or "hem" and "hem 2", as a cut had named it.
fn same_name(a: &str, b: &str) -> bool {
    a == b || plain(a) == b || a == plain(b)
}

/// A name without the number a cut gave it.
fn plain(name: &str) -> &str {
    match name.rsplit_once(' ') {
        Some((base, number)) if number.parse::<u32>().is_ok() => base,
        _ => name,
    }
}

fn named(groups: Vec<Vec<Bitten>>) -> Vec<Group> {
    let mut named: Vec<Group> = Vec::new();
    let mut taken: Vec<String> = Vec::new();
    for bits in groups {
        let names = bits.iter().map(|bit| bit.old.edge.as_str());
        let base = names.min_by_key(|name| name.len()).unwrap_or("edge");
        let name = edge_name(base, &taken);
        taken.push(name.clone());
        named.push(Group { name, bits });
    }
    named
}

pub(super) fn outline_of(groups: &[Group]) -> Result<Outline, AlterationError> {
    let mut edges = Vec::new();
    for group in groups {
        let line =
            one_line(group.bits.iter().map(|bit| &bit.line)).ok_or(AlterationError::NotFinite)?;
        edges.push(Edge::seam(&group.name, line));
    }
    let outline = Outline::new(edges)?;
    let kept = outline.edges().iter().zip(groups);
    if kept
        .into_iter()
        .any(|(edge, group)| edge.name != group.name)
    {
        return Err(AlterationError::Crosses);
    }
    Ok(outline)
}
