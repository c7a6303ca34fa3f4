//! What is near a place of the table: the piece, its edge, what it snaps to; and how far arrow keys move.

use egui::Modifiers;
use kurbo::{ParamCurveArclen, ParamCurveNearest, Point};
use petitoile_core::geometry::curve::Line;
use petitoile_core::piece::Piece;
use petitoile_core::snapping::{Scene, Snapping, edge_near, snap};
use petitoile_core::{LengthUnit, Mm};

use super::hand::{At, Hand};
use super::snap::Snapped;

/// How exactly arcs are measured here, mm.
const ARC: f64 = 1e-3;

/// A place of the table as a tool sees it.
pub fn at(hand: &Hand<'_>, scene: &Scene, pointer: Point, to: Snapping) -> At {
    let pieces = || hand.garment.into_iter().flat_map(|garment| &garment.pieces);
    let near = pieces()
        .filter_map(|piece| {
            let own = pointer - hand.moved(&piece.name);
            Some((piece, edge_near(piece, own, hand.reach)?))
        })
        .min_by(|a, b| a.1.2.total_cmp(&b.1.2));
    let inside = || {
        pieces().find(|piece| {
            let own = pointer - hand.moved(&piece.name);
            piece.outline.bounds().contains(own) && piece.outline.contains(own)
        })
    };
    let piece = near
        .as_ref()
        .map(|(piece, _)| *piece)
        .or_else(inside)
        .map(|piece| piece.name.clone());
    // A key held down switches snapping off.
    let to = if hand.keys.command { Snapping::OFF } else { to };
    let snapped = snap(scene, pointer, hand.reach, to).map(|snap| Snapped {
        at: snap.at,
        what: snap.words,
        lines: snap.lines,
    });
    At {
        pointer,
        point: snapped.as_ref().map_or(pointer, |snapped| snapped.at),
        snapped,
        piece,
        edge: near.map(|(_, (edge, fraction, _))| (edge.to_owned(), fraction)),
    }
}

/// The nearest edge of a piece, the fraction along it, and how far away it is, mm.
pub fn nearest_edge(piece: &Piece, at: Point) -> Option<(String, f64, f64)> {
    let near = piece.outline.edges().iter().filter_map(|edge| {
        let (fraction, distance) = nearest_on(&edge.line, at)?;
        Some((edge.name.clone(), fraction, distance))
    });
    near.min_by(|a, b| a.2.total_cmp(&b.2))
}

/// The fraction of a line that is nearest to a place; 0 for a line without length.
pub fn fraction_near(line: &Line, at: Point) -> f64 {
    nearest_on(line, at).map_or(0.0, |(fraction, _)| fraction)
}

/// The nearest fraction of a line, and how far away it is, mm.
fn nearest_on(line: &Line, at: Point) -> Option<(f64, f64)> {
    let mut best: Option<(f64, f64)> = None;
    let mut before = 0.0;
    for cubic in line.cubics() {
        let found = cubic.nearest(at, ARC);
        if best.is_none_or(|(distance, _)| found.distance_sq < distance) {
            let along = kurbo::ParamCurve::subsegment(&cubic, 0.0..found.t).arclen(ARC);
            best = Some((found.distance_sq, before + along));
        }
        before += cubic.arclen(ARC);
    }
    let (distance, along) = best?;
    let fraction = if before > 0.0 { along / before } else { 0.0 };
    Some((fraction.clamp(0.0, 1.0), distance.sqrt()))
}

/// How far an arrow key moves: 1 mm, with Shift 10, with Alt a tenth; in inches 1/16, 1/4 and 1/64.
pub fn nudges(unit: LengthUnit) -> [(Modifiers, Mm); 3] {
    let [plain, shift, alt] = match unit {
        LengthUnit::Inch => [25.4 / 16.0, 25.4 / 4.0, 25.4 / 64.0],
        LengthUnit::Millimetre | LengthUnit::Centimetre => [1.0, 10.0, 0.1],
    };
    [
        (Modifiers::SHIFT, Mm(shift)),
        (Modifiers::ALT, Mm(alt)),
        (Modifiers::NONE, Mm(plain)),
    ]
}
