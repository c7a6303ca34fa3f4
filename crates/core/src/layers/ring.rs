//! The waist as a ring of edges: where each piece lies round the body.

use super::Worn;
use super::height::{Half, OnBody};
use crate::adapt::Adapted;
use crate::edge::EdgeRef;
use crate::garment::Garment;
use crate::measure::Level;
use crate::piece::{Copy, Piece, Side};
use crate::seams::Stretch;
use crate::tolerance::JOINING;

/// The waist edges of one half of the body, from the centre front to the centre back.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WaistRing {
    /// The edges in order.
    pub parts: Vec<RingPart>,
    /// Length of all of them, mm.
    pub half: f64,
}

/// One edge of the waist ring.
#[derive(Debug, Clone, PartialEq)]
pub struct RingPart {
    /// The edge.
    pub edge: EdgeRef,
    /// Where its start lies, from the centre front, 0, to the centre back, 1.
    pub at_start: f64,
    /// Where its end lies.
    pub at_end: f64,
}

/// The waist edges of one piece, one after the other across its darts, with what meets them at their two ends.
struct Link<'a> {
    piece: &'a Piece,
    half: Half,
    /// The edges from its start to its end, each with its length.
    edges: Vec<(EdgeRef, f64)>,
    length: f64,
    /// The edges that run into its start and out of its end.
    neighbours: [&'a str; 2],
}

impl WaistRing {
    /// The ring of a garment whose pieces hang from the waist and meet there seam by seam; `None` when they do not make
    /// one chain from front to back (a piece across both halves). Darts in an edge are counted closed.
    pub fn of(worn: &Worn) -> Option<Self> {
        let adapted = &*worn.adapted;
        let links: Vec<Link<'_>> = worn
            .placed
            .iter()
            .filter_map(|on| link(adapted, on))
            .collect();
        let chain = chain(&adapted.made, &links)?;
        let half: f64 = chain.iter().map(|(link, _)| link.length).sum();
        let mut walked = 0.0;
        let mut parts = Vec::new();
        for (link, forwards) in &chain {
            let mut edges: Vec<&(EdgeRef, f64)> = link.edges.iter().collect();
            if !forwards {
                edges.reverse();
            }
            for (edge, length) in edges {
                let (from, to) = (walked / half, (walked + length) / half);
                walked += length;
                parts.push(RingPart {
                    edge: edge.clone(),
                    at_start: if *forwards { from } else { to },
                    at_end: if *forwards { to } else { from },
                });
            }
        }
        Some(Self { parts, half })
    }
}

fn link<'a>(adapted: &'a Adapted, on: &OnBody) -> Option<Link<'a>> {
    let piece = adapted.made.pieces.get(on.index)?;
    let line = piece
        .body_lines
        .iter()
        .find(|line| line.level == Level::Waist)?;
    let (a, b) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
    // Only what hangs below the waist.
    if on.reach.1 > adapted.fitting.body.height_of(Level::Waist).0 + 1.0 {
        return None;
    }
    let way = waist(piece, a, b).or_else(|| waist(piece, b, a))?;
    let edges = piece.outline.edges();
    let (first, last) = (*way.first()?, *way.last()?);
    let before = edges.get((first + edges.len() - 1) % edges.len())?;
    let after = edges.get((last + 1) % edges.len())?;
    let own: Vec<(EdgeRef, f64)> = way
        .iter()
        .filter_map(|at| edges.get(*at))
        .filter(|edge| !is_leg(piece, &edge.name))
        .map(|edge| (EdgeRef::new(&piece.name, &edge.name), edge.line.length()))
        .collect();
    Some(Link {
        piece,
        half: on.half,
        length: own.iter().map(|(_, length)| length).sum(),
        edges: own,
        neighbours: [&before.name, &after.name],
    })
}

fn is_leg(piece: &Piece, edge: &str) -> bool {
    let mut darts = piece.darts.iter();
    darts.any(|dart| dart.leg_in == edge || dart.leg_out == edge)
}

/// The edges from one place to another, counter-clockwise, when all of them are one waist: a single edge, or several with
/// nothing but the legs of darts between.
fn waist(piece: &Piece, from: kurbo::Point, to: kurbo::Point) -> Option<Vec<usize>> {
    let near = |p: kurbo::Point, q: kurbo::Point| (p - q).hypot() < JOINING.0;
    let edges = piece.outline.edges();
    let first = edges
        .iter()
        .position(|edge| near(edge.line.start(), from))?;
    let mut way = Vec::new();
    for step in 0..edges.len() {
        let at = (first + step) % edges.len();
        let edge = edges.get(at)?;
        way.push(at);
        if near(edge.line.end(), to) {
            let leg = |at: &usize| edges.get(*at).is_some_and(|e| is_leg(piece, &e.name));
            let legs = way.iter().filter(|at| leg(at)).count();
            // Two legs between every two parts.
            return (way.len() - legs == legs / 2 + 1).then_some(way);
        }
    }
    None
}

/// The links in order from the centre front, each with whether it is walked from its start to its end.
fn chain<'a>(garment: &Garment, links: &'a [Link<'a>]) -> Option<Vec<(&'a Link<'a>, bool)>> {
    let ends = links
        .iter()
        .enumerate()
        .flat_map(|(i, _)| [(i, 0_usize), (i, 1)]);
    let free: Vec<(usize, usize)> = ends
        .filter(|(i, end)| next(garment, links, *i, *end).is_none())
        .collect();
    // A chain has two free ends; where both belong to one link there is no other.
    let (first, end) = *free.first()?;
    if free.len() != 2 {
        return None;
    }
    let mut walked: Vec<(&Link<'_>, bool)> = Vec::new();
    let (mut at, mut from) = (first, end);
    loop {
        let link = links.get(at)?;
        walked.push((link, from == 0));
        if walked.len() > links.len() {
            return None;
        }
        match next(garment, links, at, 1 - from) {
            Some((other, entered)) => (at, from) = (other, entered),
            None => break,
        }
    }
    if walked.len() != links.len() {
        return None;
    }
    if starts_behind(&walked) {
        walked.reverse();
        walked
            .iter_mut()
            .for_each(|(_, forwards)| *forwards = !*forwards);
    }
    Some(walked)
}

/// Does the chain start at the centre back?
fn starts_behind(walked: &[(&Link<'_>, bool)]) -> bool {
    let (Some((first, forwards)), Some((last, last_forwards))) = (walked.first(), walked.last())
    else {
        return false;
    };
    let name = |link: &Link<'_>, at_start: bool| {
        let [before, after] = link.neighbours;
        if at_start { before } else { after }.to_owned()
    };
    let (start, end) = (name(first, *forwards), name(last, !*last_forwards));
    let behind = |words: &str| words.contains("back");
    if behind(&start) != behind(&end) {
        return behind(&start);
    }
    let ahead = |words: &str| words.contains("front");
    if ahead(&start) != ahead(&end) {
        return ahead(&end);
    }
    first.half == Half::Back && last.half != Half::Back
}

/// The link that is sewn on at an end of a link, and at which of its own ends; `None` at a centre.
fn next(garment: &Garment, links: &[Link<'_>], at: usize, end: usize) -> Option<(usize, usize)> {
    let link = links.get(at)?;
    let edge = link.neighbours.get(end)?;
    let is_this = |s: &Stretch| s.piece == link.piece.name && s.edge == **edge;
    for seam in &garment.seams {
        for (side, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            let Some(own) = side.iter().find(|s| is_this(s)) else {
                continue;
            };
            for stretch in other {
                // A seam between the right and the left half is the centre.
                if is_across(own.copy, stretch.copy) {
                    continue;
                }
                let found = links.iter().enumerate().find_map(|(i, other)| {
                    let place = other
                        .neighbours
                        .iter()
                        .position(|name| *name == stretch.edge)?;
                    (other.piece.name == stretch.piece && i != at).then_some((i, place))
                });
                if found.is_some() {
                    return found;
                }
            }
        }
    }
    None
}

fn is_across(a: Copy, b: Copy) -> bool {
    matches!(
        (a.side, b.side),
        (Side::Right, Side::Left) | (Side::Left, Side::Right)
    )
}
