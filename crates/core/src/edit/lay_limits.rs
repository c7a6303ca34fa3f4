//! What an edit may bring in about laying: places on cloth, lines of piecings, offcuts. A part that lies there since before
//! its piece was taken out may stay; it is told as a stray.

use kurbo::Point;

use super::EditError;
use super::limits::{HEMS, THICKNESS, length, name, number, piece};
use crate::cloth::Offcut;
use crate::garment::Garment;
use crate::lay_plan::{LayChange, LayPlan, Placed};
use crate::laying::Laying;
use crate::units::{Degrees, Mm};

/// Where a piece may lie on cloth, mm: 100 m either way.
const CLOTH: (f64, f64) = (-100_000.0, 100_000.0);

/// Allowance of a new seam, mm.
const NEW_SEAMS: (f64, f64) = (0.0, 100.0);

/// Numbers of a plan: places, turns, outlines as cut, lines and allowances of piecings.
pub(super) fn plan(plan: &LayPlan) -> Result<(), EditError> {
    plan.placed.iter().try_for_each(placed)?;
    for piecing in &plan.piecings {
        let what = format!("a new seam of {}", piecing.of.piece);
        for (from, to) in &piecing.lines {
            points(&what, &[*from, *to])?;
        }
        length(
            format!("the allowance of {what}"),
            piecing.allowance,
            NEW_SEAMS,
        )?;
    }
    Ok(())
}

fn placed(placed: &Placed) -> Result<(), EditError> {
    name("offcut", &placed.offcut)?;
    let place = format!("where {} lies", placed.piece);
    length(place.clone(), Mm(placed.moved.0), CLOTH)?;
    length(place, Mm(placed.moved.1), CLOTH)?;
    number(
        format!("the turn of {}", placed.piece),
        placed.turn.0,
        -360.0,
        360.0,
    )?;
    match &placed.as_cut {
        Some(cut) => outline(
            &format!("the outline of {} as it was cut", placed.piece),
            cut,
        ),
        None => Ok(()),
    }
}

/// A plan put down as a whole: what lay there before may stay whether its piece is there or not, and so may what is cut.
pub(super) fn names_of_plan(
    garment: &Garment,
    plan: &LayPlan,
    before: Option<&LayPlan>,
) -> Result<(), EditError> {
    let is_old =
        |placed: &Placed| before.is_some_and(|before| before.placed(&placed.part_ref()).is_some());
    plan.placed
        .iter()
        .filter(|placed| placed.as_cut.is_none() && !is_old(placed))
        .try_for_each(|placed| piece(garment, &placed.piece))
}

/// Of a change by hand, what it puts down must be there.
pub(super) fn names_of_change(garment: &Garment, change: &LayChange) -> Result<(), EditError> {
    match change {
        LayChange::Put(placed) => piece(garment, &placed.piece),
        LayChange::Piece(of, Some(_)) => piece(garment, &of.piece),
        LayChange::Piece(_, None)
        | LayChange::TakeUp(_)
        | LayChange::Pin(..)
        | LayChange::Cut(_)
        | LayChange::NotCut(_) => Ok(()),
    }
}

/// An offcut that has an area: three points at least, each a place on a table.
pub(super) fn offcut(offcut: &Offcut) -> Result<(), EditError> {
    name("offcut", &offcut.name)?;
    length(
        format!("the margin of {}", offcut.name),
        offcut.margin,
        HEMS,
    )?;
    let thick = offcut.thickness.map_or(Ok(()), |thick| {
        length(
            format!("the thickness of {}", offcut.name),
            thick,
            THICKNESS,
        )
    });
    thick?;
    number(
        format!("the grain of {}", offcut.name),
        offcut.grain.0,
        -360.0,
        360.0,
    )?;
    number(
        format!("the doubt of the grain of {}", offcut.name),
        offcut.grain_doubt.0,
        0.0,
        90.0,
    )?;
    let what = format!("the outline of {}", offcut.name);
    std::iter::once(&offcut.outline)
        .chain(offcut.blemishes.iter().map(|blemish| &blemish.outline))
        .try_for_each(|of| outline(&what, of))
}

fn outline(what: &str, of: &[Point]) -> Result<(), EditError> {
    if of.len() < 3 {
        return Err(EditError::CannotLay(format!(
            "use {what}: it has {} points and needs three at least",
            of.len()
        )));
    }
    points(what, of)
}

fn points(what: &str, of: &[Point]) -> Result<(), EditError> {
    of.iter().try_for_each(|p| {
        length(what, Mm(p.x), CLOTH)?;
        length(what, Mm(p.y), CLOTH)
    })
}

pub(super) fn gap(gap: Mm) -> Result<(), EditError> {
    length("the room between pieces".to_owned(), gap, (0.0, 50.0))
}

pub(super) fn grain_tolerance(tolerance: Degrees) -> Result<(), EditError> {
    number("the turn off the grain".to_owned(), tolerance.0, 0.0, 180.0)
}

/// How pieces are laid.
pub(super) fn laying(laying: &Laying) -> Result<(), EditError> {
    gap(laying.gap)?;
    grain_tolerance(laying.grain_tolerance)?;
    laying
        .pieces
        .values()
        .filter_map(|chosen| chosen.grain_tolerance)
        .try_for_each(grain_tolerance)
}
