//! What one edit mends about a bagged lining: a gap to turn it through, seams that were never sewn to the shell.
//!
//! An edit is offered only when the order made anew with it is better.

use super::LiningMethod;
use super::engine::{self, Ordered};
use super::graph::Node;
use super::step::Work;
use crate::alteration::{Alteration, MarkChange, SeamChange};
use crate::check::finding;
use crate::edge::{EdgeRef, Finish};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::piece::{Copy, Piece, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tolerance::MEASURING;
use crate::units::Mm;

/// No more of an edge than this is left open for turning: the corners must be sewn. Own.
const OPEN_AT_MOST: f64 = 0.8;

/// Leaves a gap of this length in a bagged seam of a turning step: straight edges first, the longest of them first. With
/// the edge that is opened; `None` when no edge is long enough, or the bundle would still not go through.
pub(super) fn gap(ordered: &Ordered<'_>, node: &Node, length: f64) -> Option<(EdgeRef, Edit)> {
    let garment = ordered.steps.surface.garment;
    let mut edges: Vec<(bool, f64, EdgeRef)> = Vec::new();
    for segment in &node.segments {
        let Some(at) = ordered.steps.surface.edge_ref(*segment) else {
            continue;
        };
        if edges.iter().any(|(_, _, known)| *known == at) {
            continue;
        }
        let piece = garment.piece(&at.piece);
        if let Some(edge) = piece.and_then(|piece| piece.outline.edge(&at.edge)) {
            edges.push((!edge.line.is_straight(), edge.line.length(), at));
        }
    }
    edges.sort_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
    edges
        .into_iter()
        .filter(|(_, long, _)| length <= OPEN_AT_MOST * long)
        .find_map(|(_, long, at)| {
            let half = 0.5 * length / long;
            let step = Alteration::Mark {
                piece: at.piece.clone(),
                change: MarkChange::SetFinish {
                    edge: at.edge.clone(),
                    from: 0.5 - half,
                    to: 0.5 + half,
                    finish: Finish::Open,
                },
            };
            let opened = step.applied(garment).ok()?.garment;
            let edit = Edit::Fitting {
                fitting: ordered.fitting.name.clone(),
                change: FittingEdit::AddAlteration(step),
            };
            turns_out(ordered, &opened, ordered.fitting, &node.key).then_some((at, edit))
        })
}

/// Is everything turned that this step turns, in the order the garment then has?
fn turns_out(ordered: &Ordered<'_>, garment: &Garment, fitting: &Fitting, key: &str) -> bool {
    let (steps, _) = engine::tied(garment, fitting, ordered.machine);
    let places = super::search::best(&steps.graph, &steps.surface, &Vec::new());
    let placed = engine::placed(&steps, &places);
    placed.iter().all(|at| {
        let node = steps.graph.nodes.get(at.node);
        node.is_none_or(|node| {
            !matches!(node.work, Work::Turn { .. }) || node.key != key || node.way_out <= at.mouth
        })
    })
}

/// Is any seam sewn between shell and lining?
pub(super) fn is_bagged(garment: &Garment) -> bool {
    garment.seams.iter().any(|seam| {
        let is = |side: &[Stretch], role| side.iter().any(|s| s.copy.role == role);
        (is(&seam.a, Role::Shell) && is(&seam.b, Role::Lining))
            || (is(&seam.a, Role::Lining) && is(&seam.b, Role::Shell))
    })
}

/// "Bagged" was chosen, but no seam joins lining and shell: the seams that are missing, as one change where they can be
/// found, else the method that can be sewn as it is.
pub(super) fn not_sewn(ordered: &Ordered<'_>) -> Option<Finding> {
    let garment = ordered.steps.surface.garment;
    if ordered.steps.lining != Some(LiningMethod::Bagged) || is_bagged(garment) {
        return None;
    }
    let seams = missing(garment);
    let long: f64 = seams.iter().map(|(_, _, long)| long).sum();
    let place = seams.first().map_or_else(Place::default, |(at, _, _)| {
        Place::edge(&at.piece, &at.edge)
    });
    let show = |mm: f64| ordered.unit.show(Mm(mm));
    if seams.is_empty() {
        return Some(finding(
            Gravity::Care,
            place,
            "a bagged lining is sewn to the shell along its edges; here 0 edges are free on both, so it is felled in."
                .to_owned(),
            "Line it by felling, or leave an edge of shell and lining unsewn.".to_owned(),
            Some(edit(ordered, FittingEdit::SetLining(Some(LiningMethod::Felled)))),
        ));
    }
    let names: Vec<String> = seams.iter().map(|(at, _, _)| at.to_string()).collect();
    let steps = seams
        .iter()
        .map(|(_, seam, _)| SeamChange::Sew(seam.clone()).of());
    let change = FittingEdit::AddAlterations(steps.collect());
    Some(finding(
        Gravity::Care,
        place,
        format!(
            "a bagged lining is sewn to the shell, but no seam joins them; {} of edge are free on both: {}.",
            show(long),
            names.join("; ")
        ),
        "Sew shell and lining together along these edges, or fell the lining in.".to_owned(),
        Some(edit(ordered, change)),
    ))
}

fn edit(ordered: &Ordered<'_>, change: FittingEdit) -> Edit {
    Edit::Fitting {
        fitting: ordered.fitting.name.clone(),
        change,
    }
}

/// A seam for every edge that shell and lining of one piece both have free, with the edge and its length. Hems stay free
/// where anything else can be bagged: through them it is turned.
fn missing(garment: &Garment) -> Vec<(EdgeRef, Seam, f64)> {
    let along = |hems: bool| -> Vec<(EdgeRef, Seam, f64)> {
        let pieces = garment.pieces.iter();
        pieces
            .flat_map(|piece| of_piece(garment, piece, hems))
            .collect()
    };
    let edges = along(false);
    if edges.is_empty() { along(true) } else { edges }
}

fn of_piece(garment: &Garment, piece: &Piece, hems: bool) -> Vec<(EdgeRef, Seam, f64)> {
    // The drawn copies: those of the right side, or the whole one.
    let of = |role: Role| {
        let mut own = piece.copies.iter().filter(|copy| copy.role == role);
        own.find(|copy| copy.side != Side::Left)
    };
    let Some((shell, lining)) = of(Role::Shell).zip(of(Role::Lining)) else {
        return Vec::new();
    };
    if shell.side != lining.side {
        return Vec::new();
    }
    let is_paired = piece.copies.iter().any(|copy| copy.side == Side::Left);
    let edges = piece.outline.edges().iter();
    edges
        .filter(|edge| {
            let finish = |s: f64| edge.finish_at(s);
            let is_free = [0.01, 0.5, 0.99].into_iter().all(|s| {
                matches!(finish(s), Finish::Seam | Finish::Facing)
                    || hems && matches!(finish(s), Finish::Hem { .. })
            });
            let is_dart = piece
                .darts
                .iter()
                .any(|dart| dart.leg_in == edge.name || dart.leg_out == edge.name);
            is_free && !is_dart && !edge.is_fold() && !is_sewn(garment, piece, &edge.name)
        })
        .map(|edge| {
            let side = |copy: Copy| {
                vec![Stretch {
                    piece: piece.name.clone(),
                    copy,
                    edge: edge.name.clone(),
                    from: 0.0,
                    to: 1.0,
                }]
            };
            let seam = Seam {
                name: name(garment, &piece.name, &edge.name),
                a: side(*shell),
                b: side(*lining),
                mirrored: is_paired || piece.fold_edge().is_some(),
                relation: Relation::Equal,
                kind: SeamKind::Plain,
                inserts: Vec::new(),
            };
            let at = EdgeRef::new(&piece.name, &edge.name);
            (at, seam, edge.line.length())
        })
        .filter(|(_, _, long)| MEASURING.0 < *long)
        .collect()
}

fn is_sewn(garment: &Garment, piece: &Piece, edge: &str) -> bool {
    let mut all = garment
        .seams
        .iter()
        .flat_map(|seam| seam.a.iter().chain(&seam.b));
    all.any(|s| s.piece == piece.name && s.edge == edge)
}

/// "front edge of front to its lining": a name no other seam has.
fn name(garment: &Garment, piece: &str, edge: &str) -> String {
    let base = format!("{edge} of {piece} to its lining");
    let taken = |name: &String| garment.seams.iter().any(|seam| seam.name == *name);
    let numbered = (2..).map(|n| format!("{base} {n}"));
    std::iter::once(base.clone())
        .chain(numbered)
        .find(|name| !taken(name))
        .unwrap_or(base)
}
