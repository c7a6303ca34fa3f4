//! From a finished garment to everything that is to be laid.

use std::sync::Arc;

use kurbo::Point;

use super::opened::{Unusable, is_mirrored, opened_out};
use super::pieced::Asked;
use super::seen::is_inside;
use super::{CopyToLay, Hidden, LayShape, PieceLaying, PiecedWay, ToLay};
use crate::cloth::GoodFor;
use crate::edge::Edge;
use crate::finding::{Finding, Gravity, Place, Warned};
use crate::finish::{Finished, FinishedPiece};
use crate::lay_plan::CopyRef;
use crate::units::{LengthUnit, Mm};

/// Places along an edge at which is looked which edge lies nearest to a fault.
const LOOKS: u32 = 16;

/// Everything that is to be laid for a finished garment: every copy of every piece, as it is cut; `hidden` is what its
/// outfits cover of it. Lengths are told in `unit`.
///
/// Findings: a piece whose cut line crosses itself, or that reaches beyond its fold; its copies are left out.
pub fn to_lay(finished: &Finished, hidden: &Hidden, unit: LengthUnit) -> Warned<ToLay> {
    laid_with(finished, Some(hidden), unit)
}

/// The same, every copy cut whole: what is asked while there is no cloth yet, at a third of the work.
pub fn to_lay_whole(finished: &Finished, unit: LengthUnit) -> Warned<ToLay> {
    laid_with(finished, None, unit)
}

/// Ways to piece are looked for where it is known what is hidden.
fn laid_with(finished: &Finished, hidden: Option<&Hidden>, unit: LengthUnit) -> Warned<ToLay> {
    let mut findings = Vec::new();
    let mut copies = Vec::new();
    for piece in &finished.pieces {
        match opened_out(piece) {
            Ok(shape) => copies.extend(copies_of(finished, piece, &shape, hidden, unit)),
            Err(_) if piece.piece.copies.is_empty() => {}
            Err(why) => findings.push(finding(piece, why, unit)),
        }
    }
    Warned {
        outcome: ToLay {
            copies,
            gap: finished.filled.adapted.fitting.laying.gap,
        },
        findings,
    }
}

fn copies_of(
    all: &Finished,
    finished: &FinishedPiece,
    shape: &LayShape,
    hidden: Option<&Hidden>,
    unit: LengthUnit,
) -> Vec<CopyToLay> {
    let adapted = &all.filled.adapted;
    let fitting = &adapted.fitting;
    let piece = &finished.piece;
    let chosen = fitting.laying.pieces.get(&piece.name);
    let chosen = chosen.copied().unwrap_or_default();
    let mut list: Vec<CopyToLay> = Vec::new();
    for (i, copy) in piece.copies.iter().enumerate() {
        let before = piece.copies.iter().take(i);
        let of = CopyRef {
            piece: piece.name.clone(),
            copy: *copy,
            number: before.filter(|other| *other == copy).count(),
        };
        let whole = LayShape {
            mirrored: is_mirrored(piece, *copy),
            ..shape.clone()
        };
        // Copies of one layer are pieced alike.
        let alike = list.iter().find(|other| other.of.copy.role == copy.role);
        let (pieced, new_seams) = match (alike, hidden) {
            (_, None) => (Vec::new(), Arc::default()),
            (Some(other), _) => (
                other.pieced.iter().map(|way| way.of(&of, &whole)).collect(),
                Arc::clone(&other.new_seams),
            ),
            (None, Some(hidden)) => {
                let asked = Asked {
                    finished,
                    garment: &adapted.made,
                    fitting,
                    hidden,
                    chosen,
                    of: &of,
                    whole: &whole,
                    unit,
                };
                (asked.ways(), Arc::new(asked.new_seams()))
            }
        };
        let cloth = fitting.cloths.get(&copy.role);
        let is_inside = is_inside(piece, copy.role);
        list.push(CopyToLay {
            pieced,
            new_seams,
            cloth: cloth.map(|cloth| cloth.name.clone()),
            needs: needs(
                &chosen,
                is_inside,
                hidden.is_some_and(|hidden| hidden.whole(&piece.name).is_some()),
            ),
            priority: chosen.priority.unwrap_or(if is_inside { 3 } else { 2 }),
            grain_tolerance: chosen
                .grain_tolerance
                .unwrap_or(fitting.laying.grain_tolerance),
            upside_down: chosen.upside_down.unwrap_or(true),
            of,
            whole,
        });
    }
    list
}

impl PiecedWay {
    /// The same way for another copy of the same layer.
    fn of(&self, of: &CopyRef, whole: &LayShape) -> Self {
        let mut way = self.clone();
        way.piecing.of = of.clone();
        for part in &mut way.parts {
            part.mirrored = whole.mirrored;
        }
        way
    }
}

/// What a place on cloth must be good for: linings, facings and what is mounted are seen from inside only.
fn needs(chosen: &PieceLaying, is_inside: bool, is_hidden: bool) -> GoodFor {
    chosen.needs.unwrap_or(match (is_inside, is_hidden) {
        (true, _) => GoodFor::Inside,
        (false, true) => GoodFor::Hidden,
        (false, false) => GoodFor::Anything,
    })
}

fn finding(finished: &FinishedPiece, why: Unusable, unit: LengthUnit) -> Finding {
    let near = |at: Point| edge_near(finished, at);
    let piece = &finished.piece.name;
    let (place, what, advice) = match why {
        Unusable::Crosses(at, length) => (
            Place::edge(piece, near(at)),
            format!(
                "The cut line crosses itself in a loop {} long, so the piece cannot be laid.",
                unit.show(Mm(length))
            ),
            "Make the allowance there narrower, or the curve rounder.",
        ),
        Unusable::BeyondFold(at, by) => (
            Place::edge(piece, near(at)),
            format!(
                "The half reaches {} beyond its fold, so it cannot be opened out.",
                unit.show(Mm(by))
            ),
            "Draw the half on one side of the fold.",
        ),
        Unusable::NoFold => (
            Place::piece(piece),
            "The cut line does not run along the fold, so the half cannot be opened out."
                .to_owned(),
            "Make the fold edge one straight line.",
        ),
        Unusable::Flat => (
            Place::piece(piece),
            "The cut line holds no cloth, so the piece cannot be laid.".to_owned(),
            "Give the piece a length and a width.",
        ),
    };
    Finding {
        gravity: Gravity::Unusable,
        place,
        what,
        advice: advice.to_owned(),
        remedy: None,
    }
}

/// Name of the edge that lies nearest.
fn edge_near(finished: &FinishedPiece, at: Point) -> String {
    let edges = finished.piece.outline.edges().iter();
    let far = |edge: &Edge| {
        (0..=LOOKS)
            .map(|i| (edge.line.at(f64::from(i) / f64::from(LOOKS)) - at).hypot())
            .fold(f64::INFINITY, f64::min)
    };
    edges
        .min_by(|a, b| far(a).total_cmp(&far(b)))
        .map(|edge| edge.name.clone())
        .unwrap_or_default()
}
