//! From a finished garment to everything that is to be laid.

use kurbo::Point;

use super::opened::{Unusable, is_mirrored, opened_out};
use super::{CopyToLay, Hidden, LayShape, PieceLaying, ToLay};
use crate::cloth::GoodFor;
use crate::edge::Edge;
use crate::finding::{Finding, Gravity, Place, Warned};
use crate::finish::{Finished, FinishedPiece};
use crate::fitting::Fitting;
use crate::lay_plan::CopyRef;
use crate::piece::{Copy, Role};
use crate::units::{LengthUnit, Mm};

/// Places along an edge at which is looked which edge lies nearest to a fault.
const LOOKS: u32 = 16;

/// Everything that is to be laid for a finished garment: every copy of every piece, as it is cut; `hidden` is what its
/// outfits cover of it. Lengths are told in `unit`.
///
/// Findings: a piece whose cut line crosses itself, or that reaches beyond its fold; its copies are left out.
pub fn to_lay(finished: &Finished, hidden: &Hidden, unit: LengthUnit) -> Warned<ToLay> {
    let fitting = &finished.filled.adapted.fitting;
    let mut findings = Vec::new();
    let mut copies = Vec::new();
    for piece in &finished.pieces {
        match opened_out(piece) {
            Ok(shape) => copies.extend(copies_of(piece, &shape, fitting, hidden)),
            Err(_) if piece.piece.copies.is_empty() => {}
            Err(why) => findings.push(finding(piece, why, unit)),
        }
    }
    Warned {
        outcome: ToLay {
            copies,
            gap: fitting.laying.gap,
        },
        findings,
    }
}

fn copies_of(
    finished: &FinishedPiece,
    shape: &LayShape,
    fitting: &Fitting,
    hidden: &Hidden,
) -> Vec<CopyToLay> {
    let piece = &finished.piece;
    let chosen = fitting
        .laying
        .pieces
        .get(&piece.name)
        .copied()
        .unwrap_or_default();
    let mut before: Vec<Copy> = Vec::new();
    let mut list = Vec::new();
    for copy in &piece.copies {
        let number = before.iter().filter(|other| *other == copy).count();
        before.push(*copy);
        let whole = LayShape {
            mirrored: is_mirrored(piece, *copy),
            ..shape.clone()
        };
        list.push(CopyToLay {
            of: CopyRef {
                piece: piece.name.clone(),
                copy: *copy,
                number,
            },
            whole,
            pieced: Vec::new(),
            cloth: fitting
                .cloths
                .get(&copy.role)
                .map(|cloth| cloth.name.clone()),
            needs: needs(&chosen, copy.role, hidden.whole(&piece.name).is_some()),
            priority: chosen.priority.unwrap_or(priority(copy.role)),
            grain_tolerance: chosen
                .grain_tolerance
                .unwrap_or(fitting.laying.grain_tolerance),
            upside_down: chosen.upside_down.unwrap_or(true),
        });
    }
    list
}

/// What a place on cloth must be good for: linings and what is mounted are seen from inside only.
fn needs(chosen: &PieceLaying, role: Role, is_hidden: bool) -> GoodFor {
    chosen.needs.unwrap_or(match role {
        Role::Shell if is_hidden => GoodFor::Hidden,
        Role::Shell => GoodFor::Anything,
        Role::Lining | Role::Interlining | Role::FlatLined => GoodFor::Inside,
    })
}

fn priority(role: Role) -> u8 {
    match role {
        Role::Shell => 2,
        Role::Lining | Role::Interlining | Role::FlatLined => 3,
    }
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
