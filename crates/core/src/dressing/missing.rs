//! Openings that a garment needs and does not name: a neckline without a slit, a sleeve, a leg, a waist.

use super::passage::{Part, cloth, over_pads};
use super::slit::{edge_of, free, girth_of, neighbours, sewn};
use crate::adapt::Adapted;
use crate::edge::{EdgeRef, Finish};
use crate::garment::{Garment, Opening, OpeningSize, Passing};
use crate::measure::Measure;
use crate::piece::{Frame, Piece, Placement, Role};
use crate::seams::{Seam, side_length};
use crate::tape::{TapeKind, TapePath};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// A closed hole through which something has to pass, and which the garment names no opening for.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    /// The opening as it could be named: its hole, and what is open beside it already.
    pub opening: Opening,
    /// Its size.
    pub size: OpeningSize,
    /// What has to pass.
    pub part: Part,
    /// Girth that has to pass, with cloth.
    pub girth: Mm,
    /// How much more it opens than that; negative is too small.
    pub margin: Mm,
    /// The slit that lets it pass.
    pub slit: Mm,
    /// Are all its edges there on the source garment, so that it can be named there?
    pub can_be_named: bool,
}

impl Missing {
    /// Is it wide enough as it is?
    pub fn passes(&self) -> bool {
        self.margin.0 >= -DRAWING.0
    }
}

/// What a walk along the open edges beside a hole comes to.
enum Walked {
    /// A slit over these edges, this long.
    Slit(f64, Vec<EdgeRef>),
    /// Open down to the hem: there is no closed hole.
    RunsOut,
}

/// Steps of a walk after which it has surely come round.
const STEPS: usize = 16;

/// Every closed hole that the garment names no opening for.
pub(super) fn missing(adapted: &Adapted) -> Vec<Missing> {
    let garment = &adapted.made;
    let has = |passes| garment.openings.iter().any(|o| o.passes == passes);
    let neck = neck_edges(garment);
    let mut wanted = Vec::new();
    if !has(Passing::Head) && !neck.is_empty() {
        wanted.push((Passing::Head, "neck", neck.clone()));
    }
    if neck.is_empty() && !has(Passing::Trunk) {
        wanted.push((Passing::Trunk, "waist", waist_edges(garment)));
    }
    if !has(Passing::Hand) {
        wanted.push((Passing::Hand, "wrist", lowest_edges(garment, Frame::Arm)));
    }
    if !has(Passing::Foot) {
        wanted.push((Passing::Foot, "leg", lowest_edges(garment, Frame::Leg)));
    }
    wanted
        .into_iter()
        .filter(|(_, _, hole)| !hole.is_empty())
        .filter_map(|(passes, name, hole)| proposal(adapted, passes, name, hole))
        .collect()
}

fn proposal(adapted: &Adapted, passes: Passing, name: &str, hole: Vec<EdgeRef>) -> Option<Missing> {
    let garment = &adapted.made;
    let Walked::Slit(length, slit) = beside(garment, passes, &hole) else {
        return None;
    };
    let taken = |name: &str| garment.openings.iter().any(|o| o.name == name);
    let mut numbered = 2_u32;
    let mut own = name.to_owned();
    while taken(&own) {
        own = format!("{name} {numbered}");
        numbered += 1;
    }
    let opening = Opening {
        name: own,
        hole,
        slit,
        passes,
    };
    let size = OpeningSize {
        hole: opening.size(&adapted.pieces).ok()?.hole,
        slit: Mm(length),
    };
    let body = &adapted.fitting.body;
    let part = match passes {
        Passing::Head => Part::Head,
        Passing::Hand => Part::Hand,
        Passing::Foot => Part::Foot,
        Passing::Trunk => Part::Hips,
    };
    let give = if part.is_of_torso() {
        body.give()
    } else {
        Mm(0.0)
    };
    let girth = over_pads(adapted, part) - give + cloth(adapted, part);
    let there = |at: &EdgeRef| edge_of(&adapted.garment.pieces, at).is_some();
    Some(Missing {
        can_be_named: opening.hole.iter().chain(&opening.slit).all(there),
        margin: size.open() - girth,
        slit: size.slit_for(girth),
        opening,
        size,
        part,
        girth,
    })
}

fn is_outer(piece: &Piece, frame: Frame) -> bool {
    piece.placement == Placement::Framed(frame) && piece.copies_in(Role::Shell) > 0
}

/// Is no part of this edge closed by a seam, a fold or a dart?
fn is_open(garment: &Garment, at: &EdgeRef) -> bool {
    let is_leg = garment.piece(&at.piece).is_some_and(|piece| {
        let mut darts = piece.darts.iter();
        darts.any(|dart| dart.leg_in == at.edge || dart.leg_out == at.edge)
    });
    !is_leg && free(garment, at).is_some_and(|(from, to)| to - from > 1.0 - 1e-6)
}

/// Edges that a girth of these measures runs along, on outer pieces of the torso or legs, no seam closing them.
fn taped(garment: &Garment, measures: &[Measure]) -> Vec<EdgeRef> {
    let tapes = garment
        .tape_lines
        .iter()
        .filter(|tape| tape.kind == TapeKind::Girth && measures.contains(&tape.measure));
    let mut list: Vec<EdgeRef> = Vec::new();
    for part in tapes.flat_map(|tape| &tape.parts) {
        let TapePath::Along { edge, .. } = &part.path else {
            continue;
        };
        let at = EdgeRef::new(&part.piece, edge);
        let piece = garment.piece(&at.piece);
        let is_outer = piece.is_some_and(|p| is_outer(p, Frame::Torso) || is_outer(p, Frame::Leg));
        if is_outer && is_open(garment, &at) && !list.contains(&at) {
            list.push(at);
        }
    }
    list
}

/// The same by a word in the edges' names.
fn named(garment: &Garment, word: &str, but: &str) -> Vec<EdgeRef> {
    let outer = garment
        .pieces
        .iter()
        .filter(|p| is_outer(p, Frame::Torso) || is_outer(p, Frame::Leg));
    outer
        .flat_map(|piece| {
            let edges = piece.outline.edges().iter();
            edges.map(|edge| EdgeRef::new(&piece.name, &edge.name))
        })
        .filter(|at| at.edge.to_lowercase().contains(word) && !at.edge.contains(but))
        .filter(|at| is_open(garment, at))
        .collect()
}

fn neck_edges(garment: &Garment) -> Vec<EdgeRef> {
    let taped = taped(garment, &[Measure::NeckGirth, Measure::NeckBaseGirth]);
    if taped.is_empty() {
        named(garment, "neck", "extension")
    } else {
        taped
    }
}

/// Upper edges at the waist of what hangs from it.
fn waist_edges(garment: &Garment) -> Vec<EdgeRef> {
    let taped = taped(garment, &[Measure::WaistGirth]);
    let list = if taped.is_empty() {
        named(garment, "waist", "hem")
    } else {
        taped
    };
    let is_above = |at: &EdgeRef| {
        edge_of(&garment.pieces, at)
            .is_some_and(|(piece, edge)| edge.line.at(0.5).y > piece.outline.bounds().center().y)
    };
    list.into_iter().filter(is_above).collect()
}

/// The lowest edge of every outer piece of an arm or a leg; of a cuff or band sewn to it, where that is narrower.
fn lowest_edges(garment: &Garment, frame: Frame) -> Vec<EdgeRef> {
    let pieces = garment.pieces.iter().filter(|piece| is_outer(piece, frame));
    let lowest = pieces.filter_map(|piece| {
        let edges = piece.outline.edges().iter();
        let low = edges.min_by(|a, b| a.line.at(0.5).y.total_cmp(&b.line.at(0.5).y))?;
        Some(EdgeRef::new(&piece.name, &low.name))
    });
    let mut list: Vec<EdgeRef> = Vec::new();
    for at in lowest.filter(|at| is_open(garment, at)) {
        for edge in banded(garment, &at).unwrap_or_else(|| vec![at.clone()]) {
            if !list.contains(&edge) {
                list.push(edge);
            }
        }
    }
    list
}

/// Edges of the band that an edge is drawn into.
fn banded(garment: &Garment, at: &EdgeRef) -> Option<Vec<EdgeRef>> {
    let is_here = |side: &[crate::seams::Stretch]| {
        side.iter()
            .any(|s| s.piece == at.piece && s.edge == at.edge && s.copy.role == Role::Shell)
    };
    let is_band = |side: &[crate::seams::Stretch]| {
        side.iter().all(|s| {
            let piece = garment.piece(&s.piece);
            s.copy.role == Role::Shell
                && piece.is_some_and(|p| matches!(p.placement, Placement::Follows(_)))
        })
    };
    garment.seams.iter().find_map(|seam| {
        let (own, other) = if is_here(&seam.a) && is_band(&seam.b) {
            (&seam.a, &seam.b)
        } else if is_here(&seam.b) && is_band(&seam.a) {
            (&seam.b, &seam.a)
        } else {
            return None;
        };
        let lengths = side_length(own, &garment.pieces)
            .ok()
            .zip(side_length(other, &garment.pieces).ok());
        let is_narrower = lengths.is_some_and(|(own, band)| band.0 < own.0 + DRAWING.0);
        is_narrower.then(|| {
            let edges = other.iter();
            edges.map(|s| EdgeRef::new(&s.piece, &s.edge)).collect()
        })
    })
}

/// Everything open beside a hole: the longest slit, or that it runs out at the hem.
fn beside(garment: &Garment, passes: Passing, hole: &[EdgeRef]) -> Walked {
    let mut best = (0.0, Vec::new());
    for at in hole {
        let Some(piece) = garment.piece(&at.piece) else {
            continue;
        };
        let sides = crate::garment::times_on_tape(piece, girth_of(passes)) / 2.0;
        for (name, at_end) in neighbours(piece, &at.edge) {
            let next = EdgeRef::new(&piece.name, name);
            if hole.contains(&next) {
                continue;
            }
            match walk(garment, next, at_end) {
                Walked::RunsOut => return Walked::RunsOut,
                Walked::Slit(length, edges) if length * sides > best.0 => {
                    best = (length * sides, edges);
                }
                Walked::Slit(..) => {}
            }
        }
    }
    Walked::Slit(best.0, best.1)
}

/// Walks along open edges from a corner of the hole, on to the next piece where they are sewn across.
fn walk(garment: &Garment, mut at: EdgeRef, mut at_end: bool) -> Walked {
    let (mut length, mut edges) = (0.0, Vec::new());
    for _ in 0..STEPS {
        let Some((piece, edge)) = edge_of(&garment.pieces, &at) else {
            return Walked::Slit(length, edges);
        };
        let whole = edge.line.length();
        if is_open(garment, &at) {
            if is_hem(edge.finish_at(0.5), &edge.name) {
                return Walked::RunsOut;
            }
            length += whole;
            edges.push(at.clone());
            // On to the edge at its other end.
            let other = neighbours(piece, &edge.name);
            let next = if at_end { other.first() } else { other.last() };
            let Some((name, end)) = next else {
                return Walked::Slit(length, edges);
            };
            (at, at_end) = (EdgeRef::new(&at.piece, *name), *end);
            continue;
        }
        let corner = if at_end { 1.0 } else { 0.0 };
        let touches = |(from, to): &(f64, f64)| {
            if at_end {
                *to > 1.0 - 1e-6
            } else {
                *from < 1e-6
            }
        };
        if let Some((from, to)) = free(garment, &at).filter(touches) {
            length += (to - from) * whole;
            edges.push(at);
            return Walked::Slit(length, edges);
        }
        match across(garment, &at, corner).filter(|_| !edges.is_empty()) {
            Some((next, end)) if !edges.contains(&next) => (at, at_end) = (next, end),
            _ => return Walked::Slit(length, edges),
        }
    }
    Walked::RunsOut
}

fn is_hem(finish: Finish, name: &str) -> bool {
    matches!(finish, Finish::Hem { .. } | Finish::Casing { .. })
        || ["hem", "waist"].iter().any(|word| name.contains(word))
}

/// The edge of the next piece at the corner where this edge is sewn to it, and whether it meets that corner at its end.
fn across(garment: &Garment, at: &EdgeRef, corner: f64) -> Option<(EdgeRef, bool)> {
    if sewn(garment, at).is_empty() {
        return None;
    }
    let mate = |seam: &Seam| {
        for (own, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            let (first, last) = (own.first()?, own.last()?);
            let is = |s: &crate::seams::Stretch, f: f64| {
                s.piece == at.piece && s.edge == at.edge && (f - corner).abs() < 1e-6
            };
            if is(first, first.from) {
                let mate = other.first()?;
                return Some((mate.piece.clone(), mate.edge.clone(), mate.from));
            }
            if is(last, last.to) {
                let mate = other.last()?;
                return Some((mate.piece.clone(), mate.edge.clone(), mate.to));
            }
        }
        None
    };
    let outer = garment.seams.iter().filter(|seam| {
        let mut all = seam.a.iter().chain(&seam.b);
        all.all(|s| s.copy.role == Role::Shell)
    });
    let (piece, edge, fraction) = outer.into_iter().find_map(mate)?;
    let piece = garment.piece(&piece)?;
    if !matches!(piece.placement, Placement::Framed(_)) {
        return None;
    }
    let found = neighbours(piece, &edge);
    let (name, end) = if fraction < 0.5 {
        found.first()?
    } else {
        found.last()?
    };
    Some((EdgeRef::new(&piece.name, *name), *end))
}
