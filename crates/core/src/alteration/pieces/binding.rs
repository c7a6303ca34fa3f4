//! A binding: a strip folded four ways round neighbouring edges.

use std::sync::Arc;

use kurbo::Point;

use super::naming::{above_zero, free_piece, piece_of, refuse, roles, seam_name, told_by};
use super::run::run_of;
use super::turn::round_an_edge;
use crate::alteration::{AlterationError, Altered, Carried};
use crate::edge::{Edge, Finish};
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::{Follow, FollowRule, Mark, MarkKind, Piece, Placement, Role};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::units::Mm;

/// What is asked: see [`super::PiecesChange::Binding`].
pub(super) struct Binding<'a> {
    pub piece: &'a str,
    pub edges: &'a [String],
    pub width: Mm,
    pub turn_of_cloth: Mm,
    pub bias: bool,
    pub name: &'a str,
}

/// Width of the strip of a double-fold binding: four times what shows, and half round the edge it encloses.
///
/// # Source
/// Four times: fact sheet row B08 (12.7 mm finished, 50.8 mm cut), secondary. Half round: geometry, row H02.
pub(super) fn strip_width(width: f64, edge: f64) -> f64 {
    4.0 * width + round_an_edge(Mm(edge), Mm(0.0)).0
}

pub(super) fn binding(garment: &Garment, asked: &Binding<'_>) -> Result<Altered, AlterationError> {
    let piece = piece_of(garment, asked.piece)?;
    free_piece(garment, asked.name, &[])?;
    let width = above_zero("a width", asked.width.0)?;
    let edge = asked.turn_of_cloth.0;
    if !edge.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    if edge < 0.0 {
        return refuse(format!(
            "an edge {edge:.1} mm thick is none; type 0 or more"
        ));
    }
    let run = run_of(piece, asked.edges)?;
    let length: f64 = run
        .iter()
        .filter_map(|i| piece.outline.edges().get(*i))
        .map(|edge| edge.line.length())
        .sum();
    let fold = at_fold(piece, &run);
    let whole = if fold.is_some() { 2.0 * length } else { length };
    let role = roles(piece).first().copied().unwrap_or(Role::Shell);
    let strip = strip(piece, role, asked, whole, (width, edge))?;
    let mut altered = garment.clone();
    if let Some(at) = altered.pieces.iter().position(|p| p.name == asked.piece) {
        if let Some(slot) = altered.pieces.get_mut(at) {
            *slot = Arc::new(bound(piece, &run)?);
        }
        altered.pieces.insert(at + 1, Arc::new(strip));
    }
    sew(&mut altered, piece, role, &run, asked.name, fold);
    Ok(Altered {
        garment: altered,
        carried: Carried::default(),
        notes: Vec::new(),
    })
}

/// Which end of the run lies on the fold.
#[derive(Clone, Copy)]
enum AtFold {
    Start,
    End,
}

fn at_fold(piece: &Piece, run: &[usize]) -> Option<AtFold> {
    let count = piece.outline.edges().len();
    let folded = |number: usize| {
        let edge = piece.outline.edges().get(number % count);
        edge.is_some_and(Edge::is_fold)
    };
    let (first, last) = (run.first()?, run.last()?);
    if folded(first + count - 1) {
        Some(AtFold::Start)
    } else if folded(last + 1) {
        Some(AtFold::End)
    } else {
        None
    }
}

/// The strip, net: its long edges are folded in, so nothing is added there.
fn strip(
    piece: &Piece,
    role: Role,
    asked: &Binding<'_>,
    length: f64,
    (width, edge): (f64, f64),
) -> Result<Piece, AlterationError> {
    let deep = strip_width(width, edge);
    let p = [(0.0, 0.0), (length, 0.0), (length, deep), (0.0, deep)].map(Point::from);
    let [a, b, c, d] = p;
    let edges = vec![
        Edge::finished("sewn edge", Line::straight(a, b), Finish::Raw),
        Edge::seam("end", Line::straight(b, c)),
        Edge::finished("other edge", Line::straight(c, d), Finish::Raw),
        Edge::seam("beginning", Line::straight(d, a)),
    ];
    let fold = |y: f64| Mark {
        name: String::new(),
        kind: MarkKind::Fold(Line::straight(Point::new(0.0, y), Point::new(length, y))),
    };
    let middle = Point::new(length / 2.0, deep / 2.0);
    let reach = deep / 3.0;
    let along = if asked.bias {
        kurbo::Vec2::new(1.0, 1.0) * (reach / std::f64::consts::SQRT_2)
    } else {
        kurbo::Vec2::new(reach, 0.0)
    };
    Ok(Piece {
        name: asked.name.to_owned(),
        outline: Outline::new(edges)?,
        placement: Placement::Follows(Follow {
            length: FollowRule::Mate,
            depth: FollowRule::Typed(Mm(deep)),
        }),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: vec![fold(width), fold(deep / 2.0), fold(deep - width)],
        grainline: Some((middle - along, middle + along)),
        fullness: Vec::new(),
        copies: piece
            .copies
            .iter()
            .filter(|copy| copy.role == role)
            .copied()
            .collect(),
        face: piece.face,
    })
}

/// The piece with its bound edges left as cut: the binding takes them in.
fn bound(piece: &Piece, run: &[usize]) -> Result<Piece, AlterationError> {
    let edges = piece.outline.edges().iter().enumerate().map(|(i, edge)| {
        if run.contains(&i) {
            Edge::finished(&edge.name, edge.line.clone(), Finish::Raw)
        } else {
            edge.clone()
        }
    });
    Ok(Piece {
        outline: Outline::new(edges.collect())?,
        ..piece.clone()
    })
}

fn sew(
    garment: &mut Garment,
    piece: &Piece,
    role: Role,
    run: &[usize],
    name: &str,
    fold: Option<AtFold>,
) {
    let Some((copy, mirrored)) = told_by(piece, role) else {
        return;
    };
    let a = run
        .iter()
        .filter_map(|i| piece.outline.edges().get(*i))
        .map(|edge| Stretch {
            piece: piece.name.clone(),
            copy,
            edge: edge.name.clone(),
            from: 0.0,
            to: 1.0,
        })
        .collect();
    let (from, to) = match fold {
        Some(AtFold::Start) => (0.5, 1.0),
        Some(AtFold::End) => (0.0, 0.5),
        None => (0.0, 1.0),
    };
    let b = vec![Stretch {
        piece: name.to_owned(),
        copy,
        edge: "sewn edge".to_owned(),
        from,
        to,
    }];
    garment.seams.push(Seam {
        name: seam_name(garment, &format!("{name} to {}", piece.name)),
        a,
        b,
        mirrored,
        relation: Relation::Equal,
        kind: SeamKind::Bound,
        inserts: Vec::new(),
    });
}
