//! Where a garment ends: necklines, wrists, hems.

use std::collections::BTreeSet;

use super::height::{Half, OnBody};
use crate::adapt::Adapted;
use crate::edge::{Edge, EdgeRef};
use crate::garment::{Garment, Passing};
use crate::measure::Measure;
use crate::piece::{Frame, Piece, Placement};
use crate::seams::{Seam, Stretch};
use crate::tape::TapePath;
use crate::units::Mm;

/// A kind of end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum EndKind {
    /// Neckline.
    Neckline,
    /// End of a sleeve.
    Wrist,
    /// Lower edge on the trunk or a leg.
    Hem,
}

impl EndKind {
    /// What it is called: "neckline".
    pub fn label(self) -> &'static str {
        match self {
            Self::Neckline => "neckline",
            Self::Wrist => "wrist",
            Self::Hem => "hem",
        }
    }
}

/// Where a garment ends.
#[derive(Debug, Clone, PartialEq)]
pub struct End {
    /// What kind of end.
    pub kind: EndKind,
    /// In which half; both for an arm.
    pub half: Half,
    /// Height on the body: of a neckline its lowest place, of a wrist or hem the mean of the edge. With what is sewn to it.
    pub height: f64,
    /// The edge.
    pub edge: EdgeRef,
}

/// Where the garment ends, one end for each kind and half: the lowest hem and wrist, the highest neckline.
pub(super) fn ends(adapted: &Adapted, placed: &[OnBody]) -> Vec<End> {
    let garment = &adapted.made;
    let necklines = necklines(garment);
    let mut all: Vec<End> = Vec::new();
    for on in placed {
        let Some(piece) = garment.pieces.get(on.index) else {
            continue;
        };
        for (edge, heights) in piece.outline.edges().iter().zip(&on.edges) {
            if let Some(end) = end_of(garment, on, piece, (edge, *heights), &necklines) {
                keep(&mut all, end);
            }
        }
    }
    // Where front and back are known, what lies between them says nothing more.
    let known: Vec<(EndKind, Half)> = all.iter().map(|end| (end.kind, end.half)).collect();
    all.retain(|end| {
        end.half != Half::Both
            || ![Half::Front, Half::Back]
                .iter()
                .all(|half| known.contains(&(end.kind, *half)))
    });
    all
}

/// Every edge at which the garment ends in this way.
pub(super) fn edges_of(adapted: &Adapted, placed: &[OnBody], kind: EndKind) -> Vec<EdgeRef> {
    let garment = &adapted.made;
    let necklines = necklines(garment);
    let mut found = Vec::new();
    for on in placed {
        let Some(piece) = garment.pieces.get(on.index) else {
            continue;
        };
        for (edge, heights) in piece.outline.edges().iter().zip(&on.edges) {
            let end = end_of(garment, on, piece, (edge, *heights), &necklines);
            found.extend(end.filter(|end| end.kind == kind).map(|end| end.edge));
        }
    }
    found
}

fn keep(all: &mut Vec<End>, end: End) {
    let beyond = |a: &End, b: &End| match a.kind {
        EndKind::Neckline => a.height > b.height,
        EndKind::Wrist | EndKind::Hem => a.height < b.height,
    };
    match all
        .iter_mut()
        .find(|other| other.kind == end.kind && other.half == end.half)
    {
        Some(other) if beyond(&end, other) => *other = end,
        Some(_) => {}
        None => all.push(end),
    }
}

fn end_of(
    garment: &Garment,
    on: &OnBody,
    piece: &Piece,
    (edge, (low, mean, high)): (&Edge, (f64, f64, f64)),
    necklines: &BTreeSet<EdgeRef>,
) -> Option<End> {
    let at = EdgeRef::new(&piece.name, &edge.name);
    if necklines.contains(&at) {
        let stands = beyond(garment, &at, true);
        return Some(End {
            kind: EndKind::Neckline,
            half: on.half,
            height: low + stands.0,
            edge: at,
        });
    }
    let is_dart = piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge.name || dart.leg_out == edge.name);
    let is_across = high - low < 0.5 * edge.line.length();
    let is_low = mean < f64::midpoint(on.reach.0, on.reach.1);
    if edge.is_fold() || is_dart || !is_across || !is_low || is_sewn_on(garment, &at) {
        return None;
    }
    let (kind, half) = match on.frame {
        Frame::Torso | Frame::Leg => (EndKind::Hem, on.half),
        Frame::Arm => (EndKind::Wrist, Half::Both),
        Frame::Head => return None,
    };
    Some(End {
        kind,
        half,
        height: mean - beyond(garment, &at, false).0,
        edge: at,
    })
}

/// Edges of the neckline: those a neck girth is taken along, and those the head passes.
pub(super) fn necklines(garment: &Garment) -> BTreeSet<EdgeRef> {
    let of_neck = |measure| matches!(measure, Measure::NeckGirth | Measure::NeckBaseGirth);
    let taped = garment
        .tape_lines
        .iter()
        .filter(|tape| of_neck(tape.measure))
        .flat_map(|tape| &tape.parts)
        .filter_map(|part| match &part.path {
            TapePath::Along { edge, .. } => Some(EdgeRef::new(&part.piece, edge)),
            _ => None,
        });
    let passed = garment
        .openings
        .iter()
        .filter(|opening| opening.passes == Passing::Head)
        .flat_map(|opening| opening.hole.iter().cloned());
    taped.chain(passed).collect()
}

fn is_framed(garment: &Garment, piece: &str) -> bool {
    garment
        .piece(piece)
        .is_some_and(|piece| matches!(piece.placement, Placement::Framed(_)))
}

pub(super) fn on_edge(side: &[Stretch], at: &EdgeRef) -> bool {
    side.iter()
        .any(|s| s.piece == at.piece && s.edge == at.edge)
}

/// Does the garment go on beyond this edge on another piece of the body, or on another copy of the same piece?
fn is_sewn_on(garment: &Garment, at: &EdgeRef) -> bool {
    let goes_on = |other: &[Stretch], role| {
        other
            .iter()
            .any(|s| s.copy.role == role && is_framed(garment, &s.piece))
    };
    garment.seams.iter().any(|seam| {
        let role = |side: &[Stretch]| {
            side.iter()
                .find(|s| s.piece == at.piece && s.edge == at.edge)
                .map(|s| s.copy.role)
        };
        role(&seam.a).is_some_and(|role| goes_on(&seam.b, role))
            || role(&seam.b).is_some_and(|role| goes_on(&seam.a, role))
    })
}

/// A band or ruffle sewn to an edge: its piece, the edge of it that is sewn, and whether it is folded lengthwise.
pub(crate) struct Band<'a> {
    pub piece: &'a Piece,
    pub is_folded: bool,
    pub depth: Mm,
}

/// What lies on no part of the body and is sewn to this edge.
pub(crate) fn bands<'a>(garment: &'a Garment, at: &EdgeRef) -> Vec<Band<'a>> {
    let mut found: Vec<Band<'a>> = Vec::new();
    for seam in &garment.seams {
        for (side, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            if !on_edge(side, at) {
                continue;
            }
            for stretch in other {
                let Some(piece) = garment.piece(&stretch.piece) else {
                    continue;
                };
                let known = found.iter().any(|band| band.piece.name == piece.name);
                if known || matches!(piece.placement, Placement::Framed(_)) {
                    continue;
                }
                let sewn = EdgeRef::new(&stretch.piece, &stretch.edge);
                found.extend(band(garment, piece, &sewn));
            }
        }
    }
    found
}

fn band<'a>(garment: &Garment, piece: &'a Piece, sewn: &EdgeRef) -> Option<Band<'a>> {
    let length = piece.outline.edge(&sewn.edge)?.line.length();
    let is_folded = garment.seams.iter().any(|seam| folds_back(seam, sewn));
    let times = if is_folded { 0.5 } else { 1.0 };
    Some(Band {
        piece,
        is_folded,
        depth: Mm(times * piece.outline.area().abs() / length.max(1e-9)),
    })
}

/// Is another edge of the same piece sewn to this one? Then it is folded in between.
fn folds_back(seam: &Seam, sewn: &EdgeRef) -> bool {
    let other_edge = |side: &[Stretch]| {
        side.iter()
            .any(|s| s.piece == sewn.piece && s.edge != sewn.edge)
    };
    on_edge(&seam.a, sewn) && other_edge(&seam.b) || on_edge(&seam.b, sewn) && other_edge(&seam.a)
}

/// How far bands and ruffles carry the garment beyond an edge; at a neckline only what stands: a folded band.
fn beyond(garment: &Garment, at: &EdgeRef, standing: bool) -> Mm {
    let bands = bands(garment, at);
    let depths = bands
        .iter()
        .filter(|band| band.is_folded || !standing)
        .map(|band| band.depth.0);
    Mm(depths.fold(0.0, f64::max))
}
