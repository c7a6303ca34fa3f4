//! What closes an opening: how many, how long, and cords and elastic in casings.

use super::{ELASTIC_JOIN, END, Material, TIE};
use crate::body::BodyKind;
use crate::closure::Closure;
use crate::edge::{EdgeRef, Finish};
use crate::finish::Finished;
use crate::garment::Opening;
use crate::piece::Side;
use crate::units::{LengthUnit, Mm};

/// Hanging out of a casing at each end of a cord, to tie a bow: this share of the casing, and no less (*own*).
const TAIL: (f64, f64) = (0.35, 60.0);

/// From one closure to the next on a doll, and on a person (common practice, no source).
const PITCH: (f64, f64) = (20.0, 70.0);

/// Eyelets lie this far inside the edge (*own*).
const EYELET_INSET: f64 = 4.0;

/// What closes an opening and how much of it; empty when it has nothing to close.
pub(in crate::making_sheet) fn of_opening(
    finished: &Finished,
    name: &str,
    unit: LengthUnit,
) -> Vec<Material> {
    let adapted = &finished.filled.adapted;
    let Some(opening) = adapted.made.openings.iter().find(|o| o.name == name) else {
        return Vec::new();
    };
    let Some(slit) = slit_length(finished, opening) else {
        return Vec::new();
    };
    let Some(closure) = adapted.fitting.closures.get(name) else {
        return Vec::new();
    };
    closing(finished, opening, *closure, slit, unit)
}

/// How long an opening's slit is: of each edge the part that is not sewn up.
fn slit_length(finished: &Finished, opening: &Opening) -> Option<Mm> {
    let pieces = &finished.filled.adapted.pieces;
    let open = |at: &EdgeRef| {
        let piece = pieces.iter().find(|piece| piece.name == at.piece)?;
        let edge = piece.outline.edge(&at.edge)?;
        let sewn: f64 = edge
            .finish
            .iter()
            .filter(|stretch| stretch.finish == Finish::Seam)
            .map(|stretch| (stretch.to - stretch.from).abs())
            .sum();
        let share = if edge.finish.is_empty() {
            1.0
        } else {
            (1.0 - sewn).max(0.0)
        };
        Some(edge.line.length() * share)
    };
    opening.slit.iter().map(open).sum::<Option<f64>>().map(Mm)
}

/// How many closures along a slit: one at each end and no further apart than the pitch.
fn along(slit: Mm, is_doll: bool) -> usize {
    let pitch = if is_doll { PITCH.0 } else { PITCH.1 };
    if slit.0 <= 0.0 {
        return 1;
    }
    // Saturates far beyond any slit.
    (slit.0 / pitch - 1e-9).ceil() as usize + 1
}

fn closing(
    finished: &Finished,
    opening: &Opening,
    closure: Closure,
    slit: Mm,
    unit: LengthUnit,
) -> Vec<Material> {
    let is_doll = finished.filled.adapted.fitting.body.kind == BodyKind::Doll;
    let count = along(slit, is_doll);
    let pitch = if is_doll { PITCH.0 } else { PITCH.1 };
    let why = format!(
        "{} opening, slit {}: one at each end, at most {} apart",
        opening.name,
        unit.show(slit),
        unit.show(Mm(pitch))
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
        Closure::Lacing { gap } => lacing(opening, gap, slit, count, unit),
        Closure::Ties => {
            let tie = Mm(if is_doll { TIE.0 } else { TIE.1 });
            vec![Material {
                is_cord: true,
                ..Material::new("ribbons to tie", why)
                    .counted(count * 2)
                    .long(Mm(tie.0 + END.0))
            }]
        }
        Closure::Drawstring | Closure::Elastic { .. } => {
            in_casing(finished, opening, closure, unit)
        }
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
fn in_casing(
    finished: &Finished,
    opening: &Opening,
    closure: Closure,
    unit: LengthUnit,
) -> Vec<Material> {
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

/// Openings that still wait for something to close them, with the length of their slit.
pub(in crate::making_sheet) fn unclosed(finished: &Finished) -> Vec<(String, Mm)> {
    let adapted = &finished.filled.adapted;
    adapted
        .made
        .openings
        .iter()
        .filter(|opening| !adapted.fitting.closures.contains_key(&opening.name))
        .filter_map(|opening| {
            let slit = slit_length(finished, opening)?;
            (slit.0 > 0.0).then(|| (opening.name.clone(), slit))
        })
        .collect()
}
