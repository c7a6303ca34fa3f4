//! What closes an opening: how many, how long, and cords and elastic in casings.

use super::{ELASTIC_JOIN, END, Material};
use crate::closure::Closure;
use crate::dressing::{Closing, Passage, how_many, tie_width, usual_bow};
use crate::finish::Finished;
use crate::garment::Opening;
use crate::making_sheet::Basis;
use crate::piece::Side;
use crate::units::{LengthUnit, Mm};

/// Hanging out of a casing at each end of a cord, to tie a bow: this share of the casing, and no less (*own*).
const TAIL: (f64, f64) = (0.35, 60.0);

/// Eyelets lie this far inside the edge (*own*).
const EYELET_INSET: f64 = 4.0;

/// What closes an opening and how much of it; empty when it has nothing to close, or is sewn shut.
///
/// The closure the maker chose; where she chose none, the one that suits the size best ([`Closing::used`]).
pub(in crate::making_sheet) fn of_opening(basis: &Basis<'_>, name: &str) -> Vec<Material> {
    let adapted = &basis.finished.filled.adapted;
    let Some(opening) = adapted.made.openings.iter().find(|o| o.name == name) else {
        return Vec::new();
    };
    let Some((passage, closing)) = closed(basis, name) else {
        return Vec::new();
    };
    let Some(closure) = closing.used() else {
        return Vec::new();
    };
    let mut all = rows(basis, opening, closure, passage.slit);
    if closing.chosen.is_none() {
        for material in &mut all {
            material.why.push_str("; suits this size (common practice)");
        }
    }
    all
}

/// The passage of an opening, and what closes it.
pub(in crate::making_sheet) fn closed<'a>(
    basis: &Basis<'a>,
    name: &str,
) -> Option<(&'a Passage, &'a Closing)> {
    let mut passages = basis.dressing.passages.iter();
    let passage = passages.find(|passage| passage.name == name)?;
    Some((passage, passage.closing.as_ref()?))
}

fn rows(basis: &Basis<'_>, opening: &Opening, closure: Closure, slit: Mm) -> Vec<Material> {
    let (finished, unit) = (basis.finished, basis.unit);
    let body = &finished.filled.adapted.fitting.body;
    let (count, apart) = how_many(body, closure, slit);
    let count = count as usize;
    let why = format!(
        "{} opening, slit {}: one to every {}",
        opening.name,
        unit.show(slit),
        unit.show(apart)
    );
    let small = |what: String| Material {
        is_small_part: true,
        ..Material::new(what, why.clone()).counted(count)
    };
    match closure {
        Closure::Hooks => vec![small("hooks and worked bars".to_owned())],
        Closure::Snaps { diameter } => vec![small(format!("snaps, {}", unit.show(diameter)))],
        Closure::Buttons { diameter } => vec![small(format!("buttons, {}", unit.show(diameter)))],
        Closure::ButtonsOverSnaps { diameter } => vec![
            small(format!("buttons for show, {}", unit.show(diameter))),
            small("snaps beneath them".to_owned()),
        ],
        Closure::HookAndLoop { width } => vec![
            Material::new(
                "hook-and-loop tape",
                format!("{} opening, the whole slit", opening.name),
            )
            .long(slit)
            .wide(width),
        ],
        Closure::Lacing { gap } => {
            // One pair of eyelets at each end, and no further apart than the closures would be. Saturates far beyond any slit.
            let steps = (slit.0 / apart.0.max(1e-9) - 1e-9).ceil().max(1.0) as usize;
            lacing(opening, gap, slit, steps + 1, unit)
        }
        Closure::Ties => {
            let tie = usual_bow(body, tie_width(body)).length();
            vec![Material {
                is_cord: true,
                ..Material::new(
                    "ribbons to tie",
                    format!("{why}; each enough for half a bow"),
                )
                .counted(count * 2)
                .long(tie + END)
            }]
        }
        Closure::Drawstring | Closure::Elastic { .. } => in_casing(basis, opening, closure),
        Closure::SewnShut => Vec::new(),
    }
}

/// Eyelets on both edges, and a lace that crosses between every two.
fn lacing(opening: &Opening, gap: Mm, slit: Mm, count: usize, unit: LengthUnit) -> Vec<Material> {
    let steps = count.saturating_sub(1);
    let pitch = if steps > 0 {
        slit.0 / steps as f64
    } else {
        0.0
    };
    let across = gap.0 + 2.0 * EYELET_INSET;
    // At the foot straight across, then two crossings a step, and two tails to tie.
    let crossing = (across * across + pitch * pitch).sqrt();
    let tail = (slit.0 * TAIL.0).max(TAIL.1);
    let long = across + 2.0 * steps as f64 * crossing + 2.0 * tail;
    vec![
        Material {
            is_small_part: true,
            ..Material::new(
                "eyelets, metal or worked",
                format!("{} opening, {count} on each edge", opening.name),
            )
            .counted(count * 2)
        },
        Material {
            is_cord: true,
            ..Material::new(
                "lace",
                format!(
                    "{} opening, gap {}, {steps} crossings, {} to tie at each end",
                    opening.name,
                    unit.show(gap),
                    unit.show(Mm(tail))
                ),
            )
            .long(Mm(long))
        },
    ]
}

/// How many holes like this the garment has: a hand's and a foot's are there twice when their piece is cut for both sides.
fn holes(finished: &Finished, opening: &Opening) -> usize {
    let pieces = &finished.filled.adapted.pieces;
    let is_pair = opening.hole.iter().any(|at| {
        pieces
            .iter()
            .find(|piece| piece.name == at.piece)
            .is_some_and(|piece| piece.copies.iter().any(|copy| copy.side == Side::Left))
    });
    let is_limb = matches!(
        opening.passes,
        crate::garment::Passing::Hand | crate::garment::Passing::Foot
    );
    if is_pair && is_limb { 2 } else { 1 }
}

/// Elastic or cord in the casing round a hole.
fn in_casing(basis: &Basis<'_>, opening: &Opening, closure: Closure) -> Vec<Material> {
    let (finished, unit) = (basis.finished, basis.unit);
    let Ok(size) = opening.size(&finished.filled.pieces) else {
        return Vec::new();
    };
    let count = holes(finished, opening);
    match closure {
        Closure::Elastic { relaxed, .. } => vec![
            Material::new(
                "elastic",
                format!(
                    "{} opening: ring of {} and {} to join",
                    opening.name,
                    unit.show(relaxed),
                    unit.show(ELASTIC_JOIN)
                ),
            )
            .counted(count)
            .long(relaxed + ELASTIC_JOIN),
        ],
        _ => {
            let tail = (size.hole.0 * TAIL.0).max(TAIL.1);
            vec![Material {
                is_cord: true,
                ..Material::new(
                    "cord or ribbon",
                    format!(
                        "{} opening: casing {} and {} to tie at each end",
                        opening.name,
                        unit.show(size.hole),
                        unit.show(Mm(tail))
                    ),
                )
                .counted(count)
                .long(Mm(size.hole.0 + 2.0 * tail))
            }]
        }
    }
}

/// What is listed although the maker did not choose it: one sentence an opening.
pub(in crate::making_sheet) fn suggested(basis: &Basis<'_>) -> Vec<String> {
    let made = &basis.finished.filled.adapted.made;
    let unchosen = made.openings.iter().filter_map(|opening| {
        let (passage, closing) = closed(basis, &opening.name)?;
        let first = closing.suited.first()?;
        closing
            .chosen
            .is_none()
            .then_some((passage, closing, first))
    });
    unchosen
        .map(|(passage, closing, first)| {
            let slit = if passage.slit.0 > 0.0 {
                format!(" (slit {})", basis.unit.show(passage.slit))
            } else {
                String::new()
            };
            let overlap = if first.fits {
                String::new()
            } else {
                format!(
                    ", which want {} of overlap where {} is",
                    basis.unit.show(first.overlap),
                    basis.unit.show(closing.overlap)
                )
            };
            format!(
                "What closes the {} opening{slit}? Here it is {}{overlap}, as suits this size; choose in the Fit tray, Dressing.",
                passage.name,
                first.closure.noun()
            )
        })
        .collect()
}
