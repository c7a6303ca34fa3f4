//! A piece turned upright, with its names, fold, darts, copies and its part of the body.

use super::made::unique;
use super::named::Naming;
use super::plan::{fold_role, frame, is_fold};
use super::read::Read;
use super::what::Cut;
use crate::edge::{Edge, Finish, FinishStretch};
use crate::geometry::outline::Outline;
use crate::piece::{
    Copy, Dart, DartPress, Follow, FollowRule, Piece, Placement, Role as Layer, Side,
};

/// A piece turned upright, named, with its fold, copies and part of the body.
pub(super) fn turned_piece(piece: &Piece, read: &Read, naming: &Naming) -> Option<Piece> {
    let edges: Vec<Edge> = piece
        .outline
        .edges()
        .iter()
        .enumerate()
        .map(|(i, edge)| Edge {
            name: naming.edge(i),
            line: edge.line.mapped(|p| read.motion * p),
            finish: finish_of(edge, read, i),
            allowance: edge.allowance,
        })
        .collect();
    let outline = Outline::new(edges).ok()?;
    let mut next = piece.clone();
    next.name.clone_from(&naming.piece);
    next.outline = outline;
    next.placement = placement(read);
    next.copies = naming
        .copies
        .clone()
        .unwrap_or_else(|| piece.copies.clone());
    let edge_now = |name: &mut String| {
        if let Some(at) = piece.outline.index_of(name) {
            *name = naming.edge(at);
        }
    };
    for line in &mut next.body_lines {
        for at in [&mut line.from, &mut line.to] {
            edge_now(&mut at.edge);
            at.fraction = naming.fraction(at.fraction);
        }
    }
    for notch in &mut next.notches {
        edge_now(&mut notch.edge);
        notch.fraction = naming.fraction(notch.fraction);
    }
    for op in &mut next.fullness {
        edge_now(&mut op.edge);
        if let Some(even) = &mut op.even_to {
            edge_now(even);
        }
        let (from, to) = (naming.fraction(op.from), naming.fraction(op.to));
        (op.from, op.to) = (from.min(to), from.max(to));
    }
    for mark in &mut next.marks {
        mark.kind = mark.kind.mapped(|p| read.motion * p);
    }
    next.grainline = piece
        .grainline
        .map(|(a, b)| (read.motion * a, read.motion * b));
    next.darts = darts(piece, read, naming);
    Some(next)
}

/// The finish of an edge: a fold where the piece is folded, none where one was marked that is not.
fn finish_of(edge: &Edge, read: &Read, at: usize) -> Vec<FinishStretch> {
    let folded = fold_role(read)
        .filter(|role| is_fold(read, *role))
        .is_some_and(|role| read.bits(role).iter().any(|bit| bit.edge == at));
    if folded {
        return vec![FinishStretch {
            from: 0.0,
            to: 1.0,
            finish: Finish::Fold,
        }];
    }
    if edge.is_fold() {
        return Vec::new();
    }
    edge.finish.clone()
}

fn placement(read: &Read) -> Placement {
    frame(read).map_or(
        Placement::Follows(Follow {
            length: FollowRule::Mate,
            depth: FollowRule::Detail,
        }),
        Placement::Framed,
    )
}

/// Darts that were marked and those that were found, their legs in the order the outline runs now.
fn darts(piece: &Piece, read: &Read, naming: &Naming) -> Vec<Dart> {
    let mut darts: Vec<Dart> = Vec::new();
    for [first, second] in &read.darts {
        let marked = piece
            .darts
            .iter()
            .find(|dart| piece.outline.index_of(&dart.leg_in) == Some(*first));
        let (leg_in, leg_out) = if naming.reversed {
            (second, first)
        } else {
            (first, second)
        };
        let name = marked.map_or("dart", |dart| dart.name.as_str());
        let pressed = marked.map_or(DartPress::Before, |dart| dart.pressed);
        let pressed = match (pressed, naming.reversed && marked.is_some()) {
            (DartPress::Before, true) => DartPress::After,
            (DartPress::After, true) => DartPress::Before,
            (as_it_is, false) => as_it_is,
        };
        darts.push(Dart {
            name: unique(name, |name| darts.iter().any(|dart| dart.name == name)),
            leg_in: naming.edge(*leg_in),
            leg_out: naming.edge(*leg_out),
            pressed,
        });
    }
    darts
}

/// The layers a piece is cut in.
pub(super) fn layers(piece: &Piece) -> Vec<Layer> {
    let mut layers: Vec<Layer> = piece.copies.iter().map(|copy| copy.role).collect();
    layers.sort();
    layers.dedup();
    if layers.is_empty() {
        layers.push(Layer::Shell);
    }
    layers
}

/// Copies of a piece that is cut so, in these layers.
pub(super) fn copies(cut: Cut, layers: &[Layer]) -> Vec<Copy> {
    let sides: &[Side] = match cut {
        Cut::Pair => &[Side::Right, Side::Left],
        Cut::Fold | Cut::Once => &[Side::Whole],
    };
    layers
        .iter()
        .flat_map(|role| {
            sides.iter().map(|side| Copy {
                side: *side,
                role: *role,
            })
        })
        .collect()
}
