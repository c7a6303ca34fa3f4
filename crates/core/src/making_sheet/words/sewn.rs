//! The sentence of a seam: how the cloth lies, what is sewn to what, on which side.

use crate::making_sheet::curves::listed;
use crate::making_sheet::side::{role_word, side_word};
use crate::piece::{Role, Side};
use crate::seams::{Seam, SeamKind, Stretch};

/// "Right sides together, sew left front side to back side."
pub(super) fn seam_sentence(seam: &Seam, side: Side) -> String {
    let lead = match seam.kind {
        SeamKind::Plain | SeamKind::Felled | SeamKind::Overedged | SeamKind::Bound => {
            "Right sides together, sew"
        }
        SeamKind::French => "Wrong sides together first, sew",
        SeamKind::Lapped => "Right sides up, lap and sew",
    };
    let how = match seam.kind {
        SeamKind::Plain | SeamKind::Lapped => "",
        SeamKind::French => " as a French seam",
        SeamKind::Felled => " as a felled seam",
        SeamKind::Overedged => " and overcast",
        SeamKind::Bound => " and bind",
    };
    let at = match side {
        Side::Whole => String::new(),
        side => format!(" on the {}", side_word(side)),
    };
    let (a, b) = (one_edge(&seam.a), one_edge(&seam.b));
    match (a, b) {
        (Some(a), Some(b)) if a.piece == b.piece && same_copy(&a, &b) => format!(
            "Fold {}{} {}, sew {} to {}{}{how}.",
            lining(&a),
            named(own_side(&a, side), a.piece.as_str()),
            match seam.kind {
                SeamKind::French => "wrong sides together first",
                SeamKind::Lapped => "right side out",
                _ => "right sides together",
            },
            a.edge,
            b.edge,
            if a.copy.side == Side::Whole {
                at.as_str()
            } else {
                ""
            }
        ),
        (Some(a), Some(b)) if a.edge == b.edge => format!(
            "{lead} {}{} to {} along the {}{at}{how}.",
            lining(&a),
            a.piece,
            other(&a, &b),
            a.edge
        ),
        (Some(a), Some(b)) => format!(
            "{lead} {}{} {} to {}{} {}{at}{how}.",
            lining(&a),
            a.piece,
            a.edge,
            lining(&b),
            b.piece,
            b.edge
        ),
        _ => format!(
            "{lead} the {}{at}{how}: {} to {}.",
            seam.name,
            pieces_of(&seam.a),
            pieces_of(&seam.b)
        ),
    }
}

/// One edge of one piece, where a side of a seam is no more.
#[derive(Clone)]
struct OneEdge {
    piece: String,
    edge: String,
    copy: crate::piece::Copy,
}

fn one_edge(side: &[Stretch]) -> Option<OneEdge> {
    let first = side.first()?;
    side.iter()
        .all(|s| s.piece == first.piece && s.edge == first.edge)
        .then(|| OneEdge {
            piece: first.piece.clone(),
            edge: first.edge.clone(),
            copy: first.copy,
        })
}

fn same_copy(a: &OneEdge, b: &OneEdge) -> bool {
    a.copy == b.copy
}

fn lining(edge: &OneEdge) -> &'static str {
    match edge.copy.role {
        Role::Shell => "",
        Role::Lining => "lining of ",
        Role::Interlining => "interlining of ",
        Role::FlatLined => "flat lining of ",
    }
}

/// What a piece is sewn to: "back", "its pair", "its lining".
fn other(a: &OneEdge, b: &OneEdge) -> String {
    if a.piece != b.piece {
        return format!("{}{}", lining(b), b.piece);
    }
    if a.copy.role == b.copy.role {
        return "its pair".to_owned();
    }
    format!("its {}", role_word(b.copy.role))
}

/// The side that names a piece: one that lies across both sides has none.
fn own_side(edge: &OneEdge, side: Side) -> Side {
    if edge.copy.side == Side::Whole {
        Side::Whole
    } else {
        side
    }
}

fn named(side: Side, piece: &str) -> String {
    match side {
        Side::Whole => format!("the {piece}"),
        side => format!("the {} {piece}", side_word(side)),
    }
}

fn pieces_of(side: &[Stretch]) -> String {
    let mut names: Vec<String> = Vec::new();
    for stretch in side {
        let name = match stretch.copy.role {
            Role::Shell => stretch.piece.clone(),
            other => format!("{} of {}", role_word(other), stretch.piece),
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    listed(names)
}
