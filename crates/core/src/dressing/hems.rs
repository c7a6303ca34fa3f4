//! Where the hem hangs over the floor, barefoot and in shoes.

use super::mended::raised;
use crate::adapt::Adapted;
use crate::alteration::Alteration;
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece, Placement, Role};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// A hem looked at is one that hangs this far down at least, as a share of waist to floor. Own.
const LONG: f64 = 0.8;

/// Where a long hem hangs.
#[derive(Debug, Clone, PartialEq)]
pub struct HemRoom {
    /// The piece that hangs lowest.
    pub piece: String,
    /// From the hem down to the floor, barefoot; negative drags.
    pub barefoot: Mm,
    /// The same in shoes.
    pub in_shoes: Mm,
    /// How much shoes lift.
    pub shoes: Mm,
    /// Does the fitting wear shoes?
    pub wears_shoes: bool,
    /// Shortens every piece that lies on the floor until its hem clears it; empty where none does, or no hand work does it.
    pub shorter: Vec<Alteration>,
}

impl HemRoom {
    /// From the hem to the floor as it is worn.
    pub fn worn(&self) -> Mm {
        if self.wears_shoes {
            self.in_shoes
        } else {
            self.barefoot
        }
    }

    /// Does it drag as it is worn?
    pub fn drags(&self) -> bool {
        self.worn().0 < -DRAWING.0
    }
}

/// The lowest hem of the garment; `None` when it ends well above the floor, or has no body line to hang from.
pub(super) fn hem(adapted: &Adapted) -> Option<HemRoom> {
    let body = &adapted.fitting.body;
    let hanging = adapted.pieces.iter().filter(|piece| {
        piece.copies_in(Role::Shell) > 0
            && matches!(
                piece.placement,
                Placement::Framed(Frame::Torso | Frame::Leg)
            )
    });
    let feet: Vec<(&Piece, f64)> = hanging
        .filter_map(|piece| Some((&**piece, foot(adapted, piece)?)))
        .collect();
    let lowest = feet.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let (piece, foot) = *lowest?;
    let (waist, floor) = (
        body.height_of(Level::Waist).0,
        body.height_of(Level::Floor).0,
    );
    if waist - foot < LONG * (waist - floor) {
        return None;
    }
    let shoes = body.mm(Measure::ShoeHeight);
    let barefoot = Mm(foot - floor);
    let wears_shoes = adapted.fitting.with_shoes;
    let ground = if wears_shoes { floor - shoes.0 } else { floor };
    let dragging: Vec<(&Piece, f64)> = feet
        .iter()
        .map(|(piece, foot)| (*piece, ground - foot))
        .filter(|(_, by)| *by > DRAWING.0)
        .collect();
    Some(HemRoom {
        piece: piece.name.clone(),
        barefoot,
        in_shoes: barefoot + shoes,
        shoes,
        wears_shoes,
        shorter: raised(adapted, &dragging),
    })
}

/// How high the foot of a piece hangs against the nape: measured down the drawing from its lowest body line.
fn foot(adapted: &Adapted, piece: &Piece) -> Option<f64> {
    let body = &adapted.fitting.body;
    let lines = piece
        .body_lines
        .iter()
        .filter(|line| line.level != Level::Floor);
    let line = lines.min_by(|a, b| {
        let height = |level| body.height_of(level).0;
        height(a.level).total_cmp(&height(b.level))
    })?;
    let (from, to) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
    let below = f64::midpoint(from.y, to.y) - piece.outline.bounds().y0;
    Some(body.height_of(line.level).0 - below)
}
