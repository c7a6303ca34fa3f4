//! From a draft to a garment: pieces with body lines, seams and tape lines in few words.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::body_sheet::body;
use crate::drafts::{Draft, DraftMeasures};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Copy, Frame, Piece, Placement, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Mm;

pub(super) fn garment(
    name: &str,
    m: &DraftMeasures,
    pieces: Vec<Piece>,
    seams: Vec<Seam>,
    tape_lines: Vec<TapeLine>,
) -> Garment {
    Garment {
        name: name.to_owned(),
        made_for: Arc::new(body(m)),
        pieces: pieces.into_iter().map(Arc::new).collect(),
        seams,
        tape_lines,
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    }
}

pub(super) fn part(piece: &str, path: TapePath) -> TapePart {
    TapePart {
        piece: piece.to_owned(),
        path,
    }
}

pub(super) fn along(piece: &str, edge: &str) -> TapePart {
    part(
        piece,
        TapePath::Along {
            edge: edge.to_owned(),
            from: 0.0,
            to: 1.0,
        },
    )
}

pub(super) fn length(name: &str, measure: Measure, share: f64, parts: Vec<TapePart>) -> TapeLine {
    tape(name, measure, share, TapeKind::Length, parts)
}

pub(super) fn at(edge: &str, fraction: f64) -> OutlinePoint {
    OutlinePoint::new(edge, fraction)
}

pub(super) fn tape(
    name: &str,
    measure: Measure,
    share: f64,
    kind: TapeKind,
    parts: Vec<TapePart>,
) -> TapeLine {
    TapeLine {
        name: name.to_owned(),
        measure,
        share,
        kind,
        parts,
        hold: Hold::Fitted,
        overlap: Mm(0.0),
        lacing_gap: Mm(0.0),
    }
}

pub(super) fn whole() -> Vec<Copy> {
    vec![Copy {
        side: Side::Whole,
        role: Role::Shell,
    }]
}

pub(super) fn pair() -> Vec<Copy> {
    [Side::Right, Side::Left]
        .map(|side| Copy {
            side,
            role: Role::Shell,
        })
        .to_vec()
}

pub(super) fn piece(
    draft: &Draft,
    name: &str,
    frame: Frame,
    copies: Vec<Copy>,
    lines: &[(Level, OutlinePoint, OutlinePoint)],
) -> Option<Piece> {
    Some(Piece {
        name: name.to_owned(),
        outline: draft.outline(name)?.clone(),
        placement: Placement::Framed(frame),
        body_lines: lines
            .iter()
            .map(|(level, from, to)| BodyLine {
                level: *level,
                from: from.clone(),
                to: to.clone(),
            })
            .collect(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies,
    })
}

pub(super) type Span = (&'static str, f64, f64);

pub(super) fn seam(name: &str, a: &[(&str, Span)], b: &[(&str, Span)], relation: Relation) -> Seam {
    let side = |list: &[(&str, Span)]| {
        list.iter()
            .map(|(piece, (edge, from, to))| Stretch {
                piece: (*piece).to_owned(),
                copy: Copy {
                    side: Side::Right,
                    role: Role::Shell,
                },
                edge: (*edge).to_owned(),
                from: *from,
                to: *to,
            })
            .collect()
    };
    Seam {
        name: name.to_owned(),
        a: side(a),
        b: side(b),
        mirrored: true,
        relation,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    }
}
