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

/// A waist edge with what meets it at its two ends.
struct Link<'a> {
    piece: &'a Piece,
    half: Half,
    edge: EdgeRef,
    length: f64,
    /// The edges that run into its start and out of its end.
    neighbours: [&'a str; 2],
}

impl WaistRing {
    /// The ring of a garment whose pieces hang from the waist and meet there seam by seam; `None` when they do not make
    /// one chain from front to back (a dart in the edge, a piece across both halves).
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
        let parts = chain.iter().map(|(link, forwards)| {
            let (from, to) = (walked / half, (walked + link.length) / half);
            walked += link.length;
            RingPart {
                edge: link.edge.clone(),
                at_start: if *forwards { from } else { to },
                at_end: if *forwards { to } else { from },
            }
        });
        Some(Self {
            parts: parts.collect(),
            half,
        })
    }
}

fn link<'a>(adapted: &'a Adapted, on: &OnBody) -> Option<Link<'a>> {
    let piece = adapted.made.pieces.get(on.index)?;
    let line = piece
        .body_lines
        .iter()
        .find(|line| line.level == Level::Waist)?;
    let (a, b) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
    let edges = piece.outline.edges();
    let near = |p: kurbo::Point, q: kurbo::Point| (p - q).hypot() < JOINING.0;
    let index = edges.iter().position(|edge| {
        let (from, to) = (edge.line.start(), edge.line.end());
        near(from, a) && near(to, b) || near(from, b) && near(to, a)
    })?;
    let waist = edges.get(index)?;
    // Only what hangs below the waist.
    if on.reach.1 > adapted.fitting.body.height_of(Level::Waist).0 + 1.0 {
        return None;
    }
    let before = edges.get((index + edges.len() - 1) % edges.len())?;
    let after = edges.get((index + 1) % edges.len())?;
    Some(Link {
        piece,
        half: on.half,
        edge: EdgeRef::new(&piece.name, &waist.name),
        length: waist.line.length(),
        neighbours: [&before.name, &after.name],
    })
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
