//! Seams that the lay plan adds to a piece: where it is cut in two, for whom, with how much allowance.

use petitoile_core::LengthUnit;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::kurbo::{BezPath, Vec2};
use petitoile_core::laying::added_seams;

use super::STITCH_STROKE;
use crate::drawing::{Item, Layer};

/// Size of the words along a seam, mm.
const SIZE: f64 = 2.0;
/// Room between the words and the seam, mm.
const CLEAR: f64 = 0.8;

/// The seams that the plan of this fitting adds, as dashed stitch lines with words along them; the pattern itself keeps its
/// whole outline, for a plan may change.
pub(super) fn on_piece(finished: &Finished, piece: &FinishedPiece, unit: LengthUnit) -> Vec<Item> {
    let plan = finished.filled.adapted.fitting.lay_plan.as_ref();
    let seams = plan.map_or_else(Vec::new, |plan| added_seams(piece, plan));
    let mut items = Vec::new();
    for seam in seams {
        let mut line = BezPath::new();
        line.move_to(seam.line.p0);
        line.line_to(seam.line.p1);
        items.push(Item::dashed(
            Layer::StitchLines,
            line,
            STITCH_STROKE,
            &[4.0, 1.0, 1.0, 1.0],
        ));
        let along = seam.line.p1 - seam.line.p0;
        let inwards = piece.label_at - seam.line.midpoint();
        let square = along.turn_90();
        let side = if square.dot(inwards) < 0.0 {
            -square
        } else {
            square
        };
        let away = if along.hypot() > 0.0 {
            side / along.hypot() * (CLEAR + 0.5 * SIZE)
        } else {
            Vec2::ZERO
        };
        let turn = upright(along.atan2().to_degrees());
        items.push(
            Item::text(
                Layer::Text,
                seam.line.midpoint() + away,
                SIZE,
                seam.words(unit),
            )
            .centred()
            .turned(turn),
        );
    }
    items
}

/// Read from below or from the right.
fn upright(degrees: f64) -> f64 {
    let turn = degrees.rem_euclid(360.0);
    if 90.0 < turn && turn <= 270.0 {
        turn - 180.0
    } else {
        turn
    }
}
