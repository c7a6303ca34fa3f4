//! Two pieces joined along a seam into one.

mod across;
mod outline;
mod side;

use std::sync::Arc;

use kurbo::{Affine, Point};

use self::across::{Across, lay_across, levels_over, tapes_over};
use self::outline::{Bitten, Group, grouped, outline_of};
use self::side::{SideRun, side_run};
use super::naming::{free_piece, piece_of, refuse};
use super::round::round;
use crate::alteration::marks::fresh;
use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::EdgeRef;
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::simple::crosses_itself;
use crate::piece::{Copy, Mark, Piece, Role, Side};
use crate::seams::{Seam, Stretch};
use crate::tolerance::DRAWING;

/// Differences below this are rounding: the pieces already lie side by side, mm.
const IN_PLACE: f64 = 1e-7;
/// Places at which two seam lines are compared.
const COMPARED: u32 = 64;
/// Grain that is off by less than this is not worth a word, degrees.
const GRAIN: f64 = 0.5;

pub(super) fn join(garment: &Garment, seam: &str, name: &str) -> Result<Altered, AlterationError> {
    let found = garment.seams.iter().find(|other| other.name == seam);
    let sewn = found.ok_or_else(|| AlterationError::NoSeam(seam.to_owned()))?;
    let (a, b) = (
        side_run(garment, seam, &sewn.a)?,
        side_run(garment, seam, &sewn.b)?,
    );
    if a.piece == b.piece {
        return refuse(format!(
            "{seam} sews {} to itself; lay the piece on a fold there instead",
            a.piece
        ));
    }
    free_piece(garment, name, &[&a.piece, &b.piece])?;
    let (first, second) = (piece_of(garment, &a.piece)?, piece_of(garment, &b.piece)?);
    let mirror = a.forwards == b.forwards;
    let motion = motion(&a.line, &b.line, mirror)?;
    let copies = copies(first, second, mirror)?;
    let groups = grouped(first, second, bitten(first, second, &a, &b, motion, mirror));
    let outline = outline_of(&groups)?;
    if crosses_itself(&outline).is_some() {
        return Err(AlterationError::Crosses);
    }
    let mut marks = first.marks.clone();
    marks.extend(second.marks.iter().map(|mark| Mark {
        name: mark.name.clone(),
        kind: mark.kind.mapped(|p| motion * p),
    }));
    let joined = Piece {
        name: name.to_owned(),
        outline,
        marks,
        copies: copies.clone(),
        ..first.clone()
    };
    let (before, across) = prepared(garment, &a, &b, &copies, mirror);
    let carried = carried(garment, &before, name, [&a.piece, &b.piece], &groups);
    let pieces = garment
        .pieces
        .iter()
        .filter(|piece| piece.name != b.piece)
        .map(|piece| {
            if piece.name == a.piece {
                Arc::new(joined.clone())
            } else {
                piece.clone()
            }
        })
        .collect();
    let mut altered = carried.altered(&before, pieces);
    lay_across(&mut altered, name, across);
    darts_apart(&mut altered.garment, name);
    one_fold(&altered.garment, name)?;
    altered.notes.extend(grain_off(name, first, second, motion));
    if mirror {
        altered.notes.push(turned_over(name, &b.piece));
    }
    Ok(altered)
}

/// The motion that lays side `b` on side `a`; refused when they differ by more than [`DRAWING`].
///
/// The best fit of two lines compared at equal shares of their lengths, least squares.
fn motion(a: &Line, b: &Line, mirror: bool) -> Result<Affine, AlterationError> {
    let flip = if mirror {
        Affine::FLIP_X
    } else {
        Affine::IDENTITY
    };
    let shares = (0..=COMPARED).map(|i| f64::from(i) / f64::from(COMPARED));
    let pairs: Vec<(Point, Point)> = shares.map(|s| (a.at(s), flip * b.at(s))).collect();
    let gap = |motion: Affine| {
        let off = pairs
            .iter()
            .map(|(to, from)| (motion * *from - *to).hypot());
        off.fold(0.0, f64::max)
    };
    if !mirror && gap(Affine::IDENTITY) <= IN_PLACE {
        return Ok(Affine::IDENTITY);
    }
    let count = pairs.len() as f64;
    let middle = |pick: &dyn Fn(&(Point, Point)) -> Point| {
        let sum = pairs
            .iter()
            .fold(kurbo::Vec2::ZERO, |sum, pair| sum + pick(pair).to_vec2());
        sum / count
    };
    let (to, from) = (middle(&|pair| pair.0), middle(&|pair| pair.1));
    let (mut dot, mut cross) = (0.0, 0.0);
    for (p, q) in &pairs {
        let (p, q) = (p.to_vec2() - to, q.to_vec2() - from);
        dot += q.dot(p);
        cross += q.cross(p);
    }
    let turn = libm::atan2(cross, dot);
    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
    let turned = Affine::new([cos, sin, -sin, cos, 0.0, 0.0]);
    let fitted = Affine::translate(to) * turned * Affine::translate(-from);
    let apart = gap(fitted);
    if apart > DRAWING.0 {
        return refuse(format!(
            "its two sides lie {apart:.1} mm apart at their worst place ({:.1} mm long against {:.1} mm); draw one like the other first",
            a.length(),
            b.length()
        ));
    }
    Ok(fitted * flip)
}

/// The copies of the joined piece: those both have, or those of the half on a fold when the other is cut as a pair.
fn copies(first: &Piece, second: &Piece, mirror: bool) -> Result<Vec<Copy>, AlterationError> {
    let swapped: Vec<Copy> = second
        .copies
        .iter()
        .map(|copy| Copy {
            side: match (copy.side, mirror) {
                (Side::Right, true) => Side::Left,
                (Side::Left, true) => Side::Right,
                (side, _) => side,
            },
            ..*copy
        })
        .collect();
    let sorted = |list: &[Copy]| {
        let mut list = list.to_vec();
        list.sort_unstable();
        list
    };
    if sorted(&first.copies) == sorted(&swapped) {
        return Ok(first.copies.clone());
    }
    let fits = |fold: &Piece, other: &Piece| {
        fold.fold_edge().is_some()
            && other.fold_edge().is_none()
            && [
                Role::Shell,
                Role::Lining,
                Role::Interlining,
                Role::FlatLined,
            ]
            .into_iter()
            .all(|role| other.copies_in(role) == 2 * fold.copies_in(role))
    };
    if fits(first, second) {
        return Ok(first.copies.clone());
    }
    if fits(second, first) {
        return Ok(second.copies.clone());
    }
    let times = |count: usize| match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        more => format!("{more} times"),
    };
    refuse(format!(
        "{} is cut {} and {} {}; have both cut alike first",
        first.name,
        times(first.copies.len()),
        second.name,
        times(second.copies.len())
    ))
}

/// What is left of both outlines, in the order of the joined one.
fn bitten(
    first: &Piece,
    second: &Piece,
    a: &SideRun,
    b: &SideRun,
    motion: Affine,
    mirror: bool,
) -> [Vec<Bitten>; 2] {
    let own = |piece: &Piece, run: &SideRun| -> Vec<Bitten> {
        round(&piece.outline, run.end, run.start)
            .into_iter()
            .filter_map(|way| {
                Some(Bitten {
                    old: EdgeRef::new(&piece.name, &piece.outline.edges().get(way.edge)?.name),
                    from: way.from,
                    to: way.to,
                    line: way.line,
                })
            })
            .collect()
    };
    let moved = own(second, b).into_iter().map(|bit| Bitten {
        line: bit.line.mapped(|p| motion * p),
        ..bit
    });
    let others = if mirror {
        let mut list: Vec<Bitten> = moved
            .map(|bit| Bitten {
                from: bit.to,
                to: bit.from,
                line: bit.line.reversed(),
                ..bit
            })
            .collect();
        list.reverse();
        list
    } else {
        moved.collect()
    };
    [own(first, a), others]
}

/// The garment without the seam and what ends on it, and what ran over it.
fn prepared(
    garment: &Garment,
    a: &SideRun,
    b: &SideRun,
    copies: &[Copy],
    mirror: bool,
) -> (Garment, Vec<Across>) {
    let mut before = garment.clone();
    let mut across = Vec::new();
    before.seams.retain(|seam| {
        let gone = |side: &[Stretch]| {
            [a, b]
                .iter()
                .any(|run| side.iter().all(|stretch| run.holds_stretch(stretch)))
        };
        !(gone(&seam.a) && gone(&seam.b))
    });
    for seam in &mut before.seams {
        for stretch in seam.a.iter_mut().chain(&mut seam.b) {
            rename_copy(stretch, a, b, copies, mirror);
        }
    }
    for slot in &mut before.pieces {
        for run in [a, b] {
            if slot.name == run.piece {
                let piece = Arc::make_mut(slot);
                piece
                    .notches
                    .retain(|notch| !run.holds(&notch.edge, notch.fraction));
            }
        }
    }
    levels_over(&mut before, a, b, &mut across);
    tapes_over(&mut before, a, b, &mut across);
    (before, across)
}

/// Stretches of the joined piece name one of its copies.
fn rename_copy(stretch: &mut Stretch, a: &SideRun, b: &SideRun, copies: &[Copy], mirror: bool) {
    if stretch.piece == b.piece && mirror {
        stretch.copy.side = match stretch.copy.side {
            Side::Right => Side::Left,
            Side::Left => Side::Right,
            Side::Whole => Side::Whole,
        };
    }
    let own = stretch.piece == a.piece || stretch.piece == b.piece;
    if own && !copies.contains(&stretch.copy) {
        let same_layer = copies.iter().find(|copy| copy.role == stretch.copy.role);
        if let Some(copy) = same_layer {
            stretch.copy = *copy;
        }
    }
}

/// Where every edge of the two pieces is now.
fn carried(
    garment: &Garment,
    before: &Garment,
    name: &str,
    old: [&str; 2],
    groups: &[Group],
) -> Carried {
    let mut carried = Carried::default();
    for piece in old.into_iter().filter_map(|name| garment.piece(name)) {
        carried = carried.with_piece(&piece.name, &[name]);
        for edge in piece.outline.edges() {
            let at = EdgeRef::new(&piece.name, &edge.name);
            let bits = bits_of(&at, name, groups);
            carried = carried.with_edge(at, bits);
        }
    }
    let is_gone = |seam: &&Seam| !before.seams.iter().any(|kept| kept.name == seam.name);
    for seam in garment.seams.iter().filter(is_gone) {
        carried = carried.with_seam(&seam.name, &[]);
    }
    carried
}

fn bits_of(old: &EdgeRef, name: &str, groups: &[Group]) -> Vec<Bit> {
    let mut bits = Vec::new();
    for group in groups {
        let whole: f64 = group.bits.iter().map(|bit| bit.line.length()).sum();
        let mut reached = 0.0;
        for bit in &group.bits {
            let next = reached + bit.line.length();
            if bit.old == *old && whole > 0.0 {
                let (start, end) = (reached / whole, (next / whole).min(1.0));
                let edge = EdgeRef::new(name, &group.name);
                bits.push(if bit.from <= bit.to {
                    Bit::new((bit.from, bit.to), edge, (start, end))
                } else {
                    Bit::new((bit.to, bit.from), edge, (end, start))
                });
            }
            reached = next;
        }
    }
    bits.sort_by(|a, b| a.from.total_cmp(&b.from));
    bits
}

/// Darts of both pieces that have one name get names of their own.
fn darts_apart(garment: &mut Garment, name: &str) {
    let Some(slot) = garment.pieces.iter_mut().find(|piece| piece.name == name) else {
        return;
    };
    let mut taken: Vec<String> = Vec::new();
    for dart in &mut Arc::make_mut(slot).darts {
        dart.name = edge_name(&dart.name, &taken);
        taken.push(dart.name.clone());
    }
}

fn one_fold(garment: &Garment, name: &str) -> Result<(), AlterationError> {
    let folds: Vec<&str> = garment
        .piece(name)
        .into_iter()
        .flat_map(|piece| piece.outline.edges())
        .filter(|edge| edge.is_fold())
        .map(|edge| edge.name.as_str())
        .collect();
    match folds.as_slice() {
        [first, second, ..] => refuse(format!(
            "it would be folded along {first} and along {second}; open one of the two pieces out first"
        )),
        _ => Ok(()),
    }
}

/// Tells how far the grain of the second piece is off that of the first when they are one.
fn grain_off(name: &str, first: &Piece, second: &Piece, motion: Affine) -> Option<Finding> {
    let along = |piece: &Piece| {
        let (a, b) = piece
            .grainline
            .unwrap_or((Point::ZERO, Point::new(0.0, 1.0)));
        (a, b)
    };
    let (a, b) = along(first);
    let (c, d) = along(second);
    let (one, other) = (b - a, motion * d - motion * c);
    let off = libm::atan2(one.cross(other).abs(), one.dot(other).abs()).to_degrees();
    (off > GRAIN).then(|| Finding {
        gravity: Gravity::Note,
        place: Place::piece(name),
        what: format!(
            "what was {} lies {off:.0} degrees off its grain now.",
            second.name
        ),
        advice: "Look whether it may hang so; else turn the grain of the joined piece.".to_owned(),
        remedy: None,
    })
}

fn turned_over(name: &str, piece: &str) -> Finding {
    Finding {
        gravity: Gravity::Note,
        place: Place::piece(name),
        what: format!("what was {piece} was turned over, so that the two lie side by side."),
        advice: "Its marks are mirrored with it.".to_owned(),
        remedy: None,
    }
}

/// A name that is not taken yet.
fn edge_name(base: &str, taken: &[String]) -> String {
    fresh(base, taken.iter().map(String::as_str))
}
