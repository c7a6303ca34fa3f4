//! A facing: a copy of the piece along some of its edges, so deep, a turn of cloth smaller where it is sewn on.

use std::sync::Arc;

use super::cut::grain_on;
use super::naming::{above_zero, free_piece, piece_of, refuse, roles, seam_name, told_by};
use super::round::one_line;
use super::run::{bit_of, moved_in, not_a_leg, run_of, widths};
use crate::allowance::fraction_near;
use crate::alteration::marks::fresh;
use crate::alteration::moves::follow;
use crate::alteration::{AlterationError, Altered, Carried};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::geometry::simple::crosses_itself;
use crate::notch::Notch;
use crate::piece::{BodyLine, Piece, Role};
use crate::seams::{Relation, Seam, SeamKind, Stretch, side_length};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// What is asked: see [`super::PiecesChange::Facing`].
pub(super) struct Facing<'a> {
    pub piece: &'a str,
    pub edges: &'a [String],
    pub depth: Mm,
    pub turn_of_cloth: Mm,
    pub name: &'a str,
}

pub(super) fn facing(garment: &Garment, asked: &Facing<'_>) -> Result<Altered, AlterationError> {
    let piece = piece_of(garment, asked.piece)?;
    free_piece(garment, asked.name, &[])?;
    let depth = above_zero("a depth", asked.depth.0)?;
    let turn = asked.turn_of_cloth.0;
    if !turn.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    if turn < 0.0 || turn >= depth {
        return refuse(format!(
            "a turn of cloth of {turn:.1} mm does not go into a depth of {depth:.1} mm; type one between 0 and the depth"
        ));
    }
    let run = run_of(piece, asked.edges)?;
    let made = drawn(piece, &run, asked)?;
    let mut altered = garment.clone();
    for slot in &mut altered.pieces {
        if slot.name == asked.piece {
            *slot = Arc::new(faced(piece, &run)?);
        }
    }
    let place = altered.pieces.iter().position(|p| p.name == asked.piece);
    let place = place.map_or(altered.pieces.len(), |at| at + 1);
    altered.pieces.insert(place, Arc::new(made));
    sew(&mut altered, piece, &run, asked.name);
    Ok(Altered {
        garment: altered,
        carried: Carried::default(),
        notes: Vec::new(),
    })
}

/// Two edges beside the run as far as the facing goes, and how far that is.
struct Beside {
    after: usize,
    before: usize,
    /// Fraction of the edge after the run where the facing ends.
    upto: f64,
    /// Fraction of the edge before the run where it begins.
    from: f64,
}

fn drawn(piece: &Piece, run: &[usize], asked: &Facing<'_>) -> Result<Piece, AlterationError> {
    let inner = moved_in(piece, "a depth", &widths(piece, run, asked.depth))?;
    let outer = moved_in(
        piece,
        "a turn of cloth",
        &widths(piece, run, asked.turn_of_cloth),
    )?;
    let count = piece.outline.edges().len();
    let (Some(first), Some(last)) = (run.first().copied(), run.last().copied()) else {
        return refuse("no edge was chosen".into());
    };
    let (after, before) = ((last + 1) % count, (first + count - 1) % count);
    let (Some(next), Some(previous)) = (
        outer.outline.edges().get(after),
        outer.outline.edges().get(before),
    ) else {
        return refuse("no edge was chosen".into());
    };
    not_a_leg(piece, &next.name)?;
    not_a_leg(piece, &previous.name)?;
    let lines = run.iter().filter_map(|i| inner.outline.edges().get(*i));
    let deep = one_line(lines.map(|edge| &edge.line))
        .ok_or(AlterationError::NotFinite)?
        .reversed();
    let beside = Beside {
        after,
        before,
        upto: fraction_near(&next.line, deep.start()),
        from: fraction_near(&previous.line, deep.end()),
    };
    let too_deep = || {
        AlterationError::Refused(format!(
            "a depth of {:.1} mm goes beyond the edges beside it; make it less",
            asked.depth.0
        ))
    };
    let down = next.line.between(0.0, beside.upto).ok_or_else(too_deep)?;
    let up = previous
        .line
        .between(beside.from, 1.0)
        .ok_or_else(too_deep)?;
    if after == before && beside.from <= beside.upto {
        return Err(too_deep());
    }
    let deep = follow(&deep, down.end() - deep.start(), up.start() - deep.end());
    let mut taken: Vec<String> = Vec::new();
    let mut name = |base: &str| {
        let name = fresh(base, taken.iter().map(String::as_str));
        taken.push(name.clone());
        name
    };
    let mut edges: Vec<Edge> = run
        .iter()
        .filter_map(|i| outer.outline.edges().get(*i))
        .map(|edge| Edge::seam(name(&edge.name), edge.line.clone()))
        .collect();
    let next_name = name(&next.name);
    edges.push(bit_of(next, &next_name, 0.0, beside.upto, down));
    edges.push(Edge::finished(name("inner edge"), deep, Finish::Raw));
    let previous_name = name(&previous.name);
    edges.push(bit_of(previous, &previous_name, beside.from, 1.0, up));
    let outline = Outline::new(edges)?;
    if crosses_itself(&outline).is_some() {
        return Err(too_deep());
    }
    let names = (next_name, previous_name);
    Ok(put_on(
        piece, &outer, run, asked.name, outline, &beside, &names,
    ))
}

/// The facing with notches, body lines, grain and copies.
fn put_on(
    piece: &Piece,
    outer: &Piece,
    run: &[usize],
    name: &str,
    outline: Outline,
    beside: &Beside,
    (next, previous): &(String, String),
) -> Piece {
    let place = |at: &OutlinePoint| -> Option<OutlinePoint> {
        let number = outer.outline.index_of(&at.edge)?;
        let rest = 1.0 - beside.from;
        if run.contains(&number) {
            Some(at.clone())
        } else if number == beside.after && at.fraction <= beside.upto {
            Some(OutlinePoint::new(next, at.fraction / beside.upto))
        } else if number == beside.before && at.fraction >= beside.from {
            Some(OutlinePoint::new(
                previous,
                (at.fraction - beside.from) / rest,
            ))
        } else {
            None
        }
    };
    let notches = outer.notches.iter().filter_map(|notch| {
        let at = place(&OutlinePoint::new(&notch.edge, notch.fraction))?;
        Some(Notch {
            edge: at.edge,
            fraction: at.fraction,
            kind: notch.kind,
        })
    });
    let body_lines = outer.body_lines.iter().filter_map(|line| {
        Some(BodyLine {
            level: line.level,
            from: place(&line.from)?,
            to: place(&line.to)?,
        })
    });
    let role = roles(piece).first().copied().unwrap_or(Role::Shell);
    Piece {
        name: name.to_owned(),
        placement: piece.placement.clone(),
        body_lines: body_lines.collect(),
        darts: Vec::new(),
        notches: notches.collect(),
        marks: Vec::new(),
        grainline: grain_on(piece, &outline),
        fullness: Vec::new(),
        copies: piece
            .copies
            .iter()
            .filter(|copy| copy.role == role)
            .copied()
            .collect(),
        face: piece.face,
        outline,
    }
}

/// The piece with its faced edges finished so.
fn faced(piece: &Piece, run: &[usize]) -> Result<Piece, AlterationError> {
    let edges = piece.outline.edges().iter().enumerate().map(|(i, edge)| {
        if run.contains(&i) {
            Edge::finished(&edge.name, edge.line.clone(), Finish::Facing)
        } else {
            edge.clone()
        }
    });
    Ok(Piece {
        outline: Outline::new(edges.collect())?,
        ..piece.clone()
    })
}

fn sew(garment: &mut Garment, piece: &Piece, run: &[usize], name: &str) {
    let role = roles(piece).first().copied().unwrap_or(Role::Shell);
    let Some((copy, mirrored)) = told_by(piece, role) else {
        return;
    };
    let side = |of: &str| -> Vec<Stretch> {
        run.iter()
            .filter_map(|i| piece.outline.edges().get(*i))
            .map(|edge| Stretch {
                piece: of.to_owned(),
                copy,
                edge: edge.name.clone(),
                from: 0.0,
                to: 1.0,
            })
            .collect()
    };
    let (a, b) = (side(&piece.name), side(name));
    let relation = as_drawn(garment, &a, &b);
    garment.seams.push(Seam {
        name: seam_name(garment, &format!("{name} to {}", piece.name)),
        a,
        b,
        mirrored,
        relation,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    });
}

/// Equal, or eased by what side `a` is longer as the pieces are drawn.
pub(super) fn as_drawn(garment: &Garment, a: &[Stretch], b: &[Stretch]) -> Relation {
    let length = |side: &[Stretch]| side_length(side, &garment.pieces).map_or(0.0, |mm| mm.0);
    let longer = length(a) - length(b);
    if longer.abs() <= JOINING.0 {
        Relation::Equal
    } else {
        Relation::Eased(Mm(longer))
    }
}
