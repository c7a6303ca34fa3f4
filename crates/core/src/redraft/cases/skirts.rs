//! The gored and the half-circle skirt, each with the tape lines its rule uses.

use super::pieces::{along, at, garment, length, pair, part, piece, seam, tape, whole};
use crate::drafts::{
    CircleShare, Constants, DraftError, DraftMeasures, circular_skirt, gored_skirt,
};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece};
use crate::seams::Relation;
use crate::tape::{TapeKind, TapePart, TapePath};
use crate::units::MM_PER_INCH;

pub(super) fn gored(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = gored_skirt(m, Constants::InProportion)?;
    let waist_hip = 6.0 * MM_PER_INCH * Constants::InProportion.scale(m.bust_girth);
    let mut pieces = Vec::new();
    for (name, left, right, copies) in [
        ("front", "centre front", "front seam", whole()),
        ("side", "front seam", "back seam", pair()),
        ("back", "back seam", "centre back", pair()),
    ] {
        let Some(outline) = draft.outline(name) else {
            continue;
        };
        let down = |edge: &str, top: bool| -> OutlinePoint {
            // The end of the edge at the waist, or the place on it at hip level.
            let Some(line) = outline.edge(edge).map(|e| &e.line) else {
                return at(edge, 0.0);
            };
            let from_start = line.start().y > line.end().y;
            let height = (line.end().y - line.start().y).abs();
            let share = if top {
                0.0
            } else {
                (waist_hip / height).min(1.0)
            };
            at(edge, if from_start { share } else { 1.0 - share })
        };
        pieces.extend(piece(
            &draft,
            name,
            Frame::Torso,
            copies,
            &[
                (Level::Waist, down(left, true), down(right, true)),
                (Level::Hip, down(left, false), down(right, false)),
                (Level::Knee, at("hem", 0.0), at("hem", 1.0)),
            ],
        ));
    }
    let hip_line = |name: &str| {
        let line = pieces
            .iter()
            .find(|p| p.name == name)
            .and_then(|p| p.body_lines.iter().find(|l| l.level == Level::Hip))?;
        Some(part(
            name,
            TapePath::Across(line.from.clone(), line.to.clone()),
        ))
    };
    let guarded = hip_follows_waist(m);
    let hips: Vec<TapePart> = ["front", "side", "back"]
        .into_iter()
        .filter_map(hip_line)
        .collect();
    let seams = vec![
        seam(
            "front seam",
            &[("front", ("front seam", 0.0, 1.0))],
            &[("side", ("front seam", 0.0, 1.0))],
            Relation::Equal,
        ),
        seam(
            "back seam",
            &[("side", ("back seam", 0.0, 1.0))],
            &[("back", ("back seam", 0.0, 1.0))],
            Relation::Equal,
        ),
    ];
    let tapes = vec![
        length(
            "front waist",
            Measure::WaistGirth,
            1.0 / 8.0,
            vec![along("front", "waist")],
        ),
        length(
            "side waist",
            Measure::WaistGirth,
            1.0 / 6.0,
            vec![along("side", "waist")],
        ),
        length(
            "waist",
            Measure::WaistGirth,
            0.5,
            ["front", "side", "back"]
                .map(|p| along(p, "waist"))
                .to_vec(),
        ),
        length(
            "front hip",
            Measure::WaistGirth,
            1.0 / 8.0,
            hip_line("front").into_iter().collect(),
        ),
        length(
            "side hip",
            Measure::WaistGirth,
            1.0 / 4.0,
            hip_line("side").into_iter().collect(),
        ),
        if guarded {
            length(
                "back hip",
                Measure::WaistGirth,
                5.0 / 24.0,
                hip_line("back").into_iter().collect(),
            )
        } else {
            length("hip", Measure::HipGirth, 0.5, hips)
        },
        tape(
            "front length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("front", "centre front")],
        ),
        tape(
            "side length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("side", "back seam")],
        ),
        tape(
            "back length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("back", "centre back")],
        ),
    ];
    Ok(garment("five-gored skirt", m, pieces, seams, tapes))
}

/// The gored rule holds the back gore at the hip no narrower than at the waist: where that acts, it follows the waist.
pub(super) fn hip_follows_waist(m: &DraftMeasures) -> bool {
    let Ok(draft) = gored_skirt(m, Constants::InProportion) else {
        return false;
    };
    let Some(back) = draft.pieces.iter().find(|p| p.name == "back") else {
        return false;
    };
    let (Some(waist), Some(hip), Some(top)) = (back.point("4"), back.point("5"), back.point("1"))
    else {
        return false;
    };
    (hip.x - (waist - top).hypot()).abs() < 0.01
}

pub(super) fn circular(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = circular_skirt(m.waist_girth, m.skirt_front, CircleShare::Half)?;
    let pieces: Vec<Piece> = draft
        .outlines()
        .filter_map(|(name, _)| {
            piece(
                &draft,
                name,
                Frame::Torso,
                whole(),
                &[
                    (Level::Waist, at("waist", 0.0), at("waist", 1.0)),
                    (Level::Knee, at("hem", 0.0), at("hem", 1.0)),
                ],
            )
        })
        .collect();
    let name = pieces.first().map_or(String::new(), |p| p.name.clone());
    let tapes = vec![
        tape(
            "waist",
            Measure::WaistGirth,
            1.0,
            TapeKind::Girth,
            vec![along(&name, "waist")],
        ),
        tape(
            "front length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along(&name, "centre front")],
        ),
        tape(
            "back length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along(&name, "centre back")],
        ),
    ];
    Ok(garment("half-circle skirt", m, pieces, Vec::new(), tapes))
}
