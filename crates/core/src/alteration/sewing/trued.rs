//! Corners trued at the end of a seam: the edges that run over it get one direction there.
//!
//! Straight edges stay straight where they can: both corners slide along the seam by as much. Otherwise the edges are
//! bent near the seam, half the turn each.

use std::sync::Arc;

use kurbo::{Affine, CubicBez, Point, Vec2};

use super::{TrueTo, note, seam_of};
use crate::alteration::moves::checked;
use crate::alteration::{AlterationError, Altered, Carried};
use crate::finding::Finding;
use crate::garment::Garment;
use crate::geometry::curve::{Line, direction_on};
use crate::joins::{Join, JoinCorner};
use crate::piece::Piece;
use crate::seams::Seam;

/// A turn that is none, degrees.
const TRUE: f64 = 1e-9;

/// Most of a seam that truing may take off or add.
const MOST: f64 = 0.5;

/// A change of a seam's difference that is worth telling, mm.
const TOLD: f64 = 0.05;

pub(super) fn true_join(
    garment: &Garment,
    name: &str,
    at_start: bool,
    to: TrueTo,
) -> Result<Altered, AlterationError> {
    let seam = seam_of(garment, name)?;
    let join = join_at(garment, seam, at_start)?;
    let mut next = garment.clone();
    if to == TrueTo::Straight {
        slide(&mut next, &join)?;
    }
    let join = join_at(&next, seam, at_start)?;
    let (turn_a, turn_b) = turns(&join, to);
    turn(&mut next, &join.a, turn_a)?;
    if (&join.a.piece, &join.a.run_edge, join.a.at_run_edge_start)
        != (&join.b.piece, &join.b.run_edge, join.b.at_run_edge_start)
    {
        turn(&mut next, &join.b, turn_b)?;
    }
    let mut notes = moved(garment, &next, name);
    if notes.is_empty() {
        let what = "its corners are true already; nothing moved.".to_owned();
        notes.push(note(name, what, "Nothing to do."));
    }
    notes.extend(changed_seams(garment, &next));
    Ok(Altered {
        garment: next,
        carried: Carried::default(),
        notes,
    })
}

fn join_at(garment: &Garment, seam: &Seam, at_start: bool) -> Result<Join, AlterationError> {
    Join::at(garment, seam, at_start).map_err(|why| AlterationError::Refused(why.to_string()))
}

/// By how many degrees the angle of each corner becomes smaller.
fn turns(join: &Join, to: TrueTo) -> (f64, f64) {
    let (a, b) = (join.a.angle, join.b.angle);
    match to {
        TrueTo::Square => (a - 90.0, b - 90.0),
        TrueTo::Straight | TrueTo::Smooth => {
            let half = (a + b - 180.0) / 2.0;
            (half, half)
        }
    }
}

/// Slides both corners along the seam until the two straight edges make one straight line.
fn slide(garment: &mut Garment, join: &Join) -> Result<(), AlterationError> {
    let (a, b) = (&join.a, &join.b);
    if (join.a.angle + join.b.angle - 180.0).abs() <= TRUE
        || a.piece == b.piece
        || !runs_straight(garment, a)
        || !runs_straight(garment, b)
    {
        return Ok(());
    }
    let (Some(on_a), Some(on_b)) = (ends(garment, a), ends(garment, b)) else {
        return Ok(());
    };
    let (near, far) = (on_a.far, join.a_from_b * on_b.far);
    let line = far - near;
    let across = line.cross(on_a.onwards);
    if across.abs() < 0.2 * line.hypot() {
        // The edges run nearly along the seam: they are bent instead.
        return Ok(());
    }
    let by = -line.cross(on_a.corner - near) / across;
    let shorter = on_a.seam_length.min(on_b.seam_length);
    if by.abs() > MOST * shorter {
        return Err(AlterationError::Refused(format!(
            "a straight line there would move the end of the seam by {:.1} mm, more than half of its {shorter:.1} mm; run it smoothly instead, or move the corners first",
            by.abs()
        )));
    }
    for (corner, ends) in [(a, &on_a), (b, &on_b)] {
        slid(garment, corner, ends, by)?;
    }
    Ok(())
}

fn runs_straight(garment: &Garment, corner: &JoinCorner) -> bool {
    let piece = garment.piece(&corner.piece);
    let edge = piece.and_then(|piece| piece.outline.edge(&corner.run_edge));
    edge.is_some_and(|edge| edge.line.is_straight())
}

/// The corner of a piece at the end of a seam.
struct Ends {
    corner: Point,
    /// The other end of the edge that runs over the seam.
    far: Point,
    /// Direction in which the seam would go on past the corner.
    onwards: Vec2,
    seam_length: f64,
}

fn ends(garment: &Garment, corner: &JoinCorner) -> Option<Ends> {
    let piece = garment.piece(&corner.piece)?;
    let run = &piece.outline.edge(&corner.run_edge)?.line;
    let seam = &piece.outline.edge(&corner.seam_edge)?.line;
    let (at, far) = if corner.at_run_edge_start {
        (run.start(), run.end())
    } else {
        (run.end(), run.start())
    };
    let onwards = if corner.at_seam_edge_start {
        -seam.direction(0.0)
    } else {
        seam.direction(1.0)
    };
    Some(Ends {
        corner: at,
        far,
        onwards,
        seam_length: seam.length(),
    })
}

/// A piece whose seam edge goes on (or ends sooner) by so much, its straight edge drawn to the new corner.
fn slid(
    garment: &mut Garment,
    corner: &JoinCorner,
    ends: &Ends,
    by: f64,
) -> Result<(), AlterationError> {
    let piece = piece_of(garment, &corner.piece)?;
    let seam = line_of(piece, &corner.seam_edge)?;
    // Walked towards the corner.
    let towards = if corner.at_seam_edge_start {
        seam.reversed()
    } else {
        seam
    };
    let longer = if towards.is_straight() {
        Some(Line::straight(
            towards.start(),
            towards.end() + ends.onwards * by,
        ))
    } else if by < 0.0 {
        towards.between(0.0, 1.0 + by / ends.seam_length)
    } else {
        let cubics: Vec<CubicBez> = towards.cubics().collect();
        let bit = Line::straight(towards.end(), towards.end() + ends.onwards * by);
        Line::from_cubics(&cubics.into_iter().chain(bit.cubics()).collect::<Vec<_>>())
    };
    let longer = longer.ok_or(AlterationError::Crosses)?;
    let run = Line::straight(ends.far, longer.end());
    let share = ends.seam_length / longer.length();
    let (run, longer) = (
        if corner.at_run_edge_start {
            run.reversed()
        } else {
            run
        },
        if corner.at_seam_edge_start {
            longer.reversed()
        } else {
            longer
        },
    );
    let mut slid = redrawn(
        piece,
        &[(&corner.run_edge, run), (&corner.seam_edge, longer)],
    )?;
    // What is marked along the seam stays where it was.
    let kept = |fraction: f64| {
        if corner.at_seam_edge_start {
            1.0 - (1.0 - fraction) * share
        } else {
            fraction * share
        }
        .clamp(0.0, 1.0)
    };
    for notch in &mut slid.notches {
        if notch.edge == corner.seam_edge && (1e-9..=1.0 - 1e-9).contains(&notch.fraction) {
            notch.fraction = kept(notch.fraction);
        }
    }
    for end in slid
        .body_lines
        .iter_mut()
        .flat_map(|line| [&mut line.from, &mut line.to])
    {
        if end.edge == corner.seam_edge && (1e-9..=1.0 - 1e-9).contains(&end.fraction) {
            end.fraction = kept(end.fraction);
        }
    }
    put(garment, slid);
    Ok(())
}

/// Makes the angle at a corner smaller by so many degrees, the edge that runs over the seam bent near it.
fn turn(garment: &mut Garment, corner: &JoinCorner, degrees: f64) -> Result<(), AlterationError> {
    if degrees.abs() <= TRUE {
        return Ok(());
    }
    let piece = piece_of(garment, &corner.piece)?;
    let line = line_of(piece, &corner.run_edge)?;
    // Inside the outline the edge that goes on from a corner lies clockwise of the one that comes to it.
    let by = if corner.at_run_edge_start {
        degrees
    } else {
        -degrees
    };
    let bent = bent(&line, corner.at_run_edge_start, by).ok_or(AlterationError::Crosses)?;
    let turned = redrawn(piece, &[(&corner.run_edge, bent)])?;
    put(garment, turned);
    Ok(())
}

/// A line whose direction at one end is turned by so many degrees, counter-clockwise; its ends stay where they are.
fn bent(line: &Line, at_start: bool, degrees: f64) -> Option<Line> {
    let towards = if at_start {
        line.reversed()
    } else {
        line.clone()
    };
    let mut cubics: Vec<CubicBez> = towards.cubics().collect();
    let last = cubics.last_mut()?;
    let back = -direction_on(last, 1.0);
    let handle = (last.p2 - last.p3).hypot();
    let handle = if handle > 1e-9 {
        handle
    } else {
        (last.p0 - last.p3).hypot() / 3.0
    };
    let turned = Affine::rotate(degrees.to_radians()) * (back * handle).to_point();
    last.p2 = last.p3 + turned.to_vec2();
    let bent = Line::from_cubics(&cubics)?;
    Some(if at_start { bent.reversed() } else { bent })
}

pub(super) fn piece_of<'a>(garment: &'a Garment, name: &str) -> Result<&'a Piece, AlterationError> {
    let found = garment.piece(name);
    found
        .map(|piece| &**piece)
        .ok_or_else(|| AlterationError::NoPiece(name.to_owned()))
}

pub(super) fn line_of(piece: &Piece, edge: &str) -> Result<Line, AlterationError> {
    let found = piece.outline.edge(edge);
    found
        .map(|edge| edge.line.clone())
        .ok_or_else(|| AlterationError::NoEdge(edge.to_owned()))
}

/// A piece with some of its edges on other lines.
pub(super) fn redrawn(piece: &Piece, new: &[(&str, Line)]) -> Result<Piece, AlterationError> {
    let lines = piece.outline.edges().iter().map(|edge| {
        let found = new.iter().find(|(name, _)| *name == edge.name);
        found.map_or_else(|| edge.line.clone(), |(_, line)| line.clone())
    });
    checked(piece, lines.collect())
}

pub(super) fn put(garment: &mut Garment, piece: Piece) {
    if let Some(slot) = garment.pieces.iter_mut().find(|p| p.name == piece.name) {
        *slot = Arc::new(piece);
    }
}

/// What moved, edge by edge, with mm.
pub(super) fn moved(before: &Garment, after: &Garment, seam: &str) -> Vec<Finding> {
    let mut notes = Vec::new();
    for (old, new) in before.pieces.iter().zip(&after.pieces) {
        if Arc::ptr_eq(old, new) {
            continue;
        }
        for (edge, now) in old.outline.edges().iter().zip(new.outline.edges()) {
            let (was, is) = (edge.line.length(), now.line.length());
            let most = (0..=32)
                .map(|i| f64::from(i) / 32.0)
                .map(|at| (edge.line.at(at) - now.line.at(at)).hypot())
                .fold(0.0, f64::max);
            if most <= 5e-4 {
                continue;
            }
            let longer = match is - was {
                by if by.abs() < 0.05 => "as long as before".to_owned(),
                by if by < 0.0 => format!("{:.1} mm shorter", -by),
                by => format!("{by:.1} mm longer"),
            };
            let what = format!(
                "{}, {} moved by up to {most:.1} mm and is {longer}.",
                old.name, edge.name
            );
            notes.push(note(seam, what, "Walk the seams it belongs to."));
        }
    }
    notes
}

/// Seams whose sides fit otherwise than before, with mm.
pub(super) fn changed_seams(before: &Garment, after: &Garment) -> Vec<Finding> {
    let changed = |seam: &Seam| {
        let old = before.seams.iter().find(|other| other.name == seam.name)?;
        let was = old.difference(&before.pieces).ok()?.0;
        let is = seam.difference(&after.pieces).ok()?.0;
        ((is - was).abs() > TOLD).then(|| {
            let what = format!(
                "its first side is now {:.1} mm too {} for its second; it was {:.1} mm too {}.",
                is.abs(),
                if is < 0.0 { "short" } else { "long" },
                was.abs(),
                if was < 0.0 { "short" } else { "long" },
            );
            note(&seam.name, what, "Ease it in, or alter one of the edges.")
        })
    };
    after.seams.iter().filter_map(changed).collect()
}
