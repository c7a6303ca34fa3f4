//! A whole piece mirrored or turned.

use kurbo::{Affine, Point, Vec2};

use super::Axis;
use super::kept::Reshaped;
use super::slash::{move_marks, turned};
use crate::alteration::moves::finite;
use crate::alteration::{AlterationError, Bit, Carried};
use crate::edge::{Edge, EdgeRef};
use crate::piece::Piece;
use crate::tolerance::JOINING;
use crate::units::Degrees;

/// Mirrors a piece about an axis through its middle. Its edges run the other way round now.
pub(super) fn mirror(piece: &Piece, axis: Axis) -> Result<Reshaped, AlterationError> {
    let middle = piece.outline.bounds().center();
    let with = match axis {
        Axis::Upright => Affine::new([-1.0, 0.0, 0.0, 1.0, 2.0 * middle.x, 0.0]),
        Axis::Level => Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 2.0 * middle.y]),
    };
    let edges = piece.outline.edges();
    let mirrored = edges.iter().rev().map(|edge| Edge {
        line: edge.line.mapped(|p| with * p).reversed(),
        ..edge.clone()
    });
    let carried = edges.iter().fold(Carried::default(), |carried, edge| {
        let own = EdgeRef::new(&piece.name, &edge.name);
        carried.with_edge(own.clone(), vec![Bit::turned(own)])
    });
    let mut mirrored = Reshaped::with_edges(piece, mirrored.collect(), carried)?;
    move_marks(&mut mirrored.piece, |_| with);
    Ok(mirrored)
}

/// Turns a piece about its middle, counter-clockwise, its grainline with it.
pub(super) fn turn(piece: &Piece, by: Degrees) -> Result<Reshaped, AlterationError> {
    let angle = finite(by.0)?.to_radians();
    let with = turned(angle, piece.outline.bounds().center());
    let edges = piece.outline.edges().iter().map(|edge| Edge {
        line: edge.line.mapped(|p| with * p),
        ..edge.clone()
    });
    let drawn = Piece {
        grainline: Some(grainline(piece)),
        ..piece.clone()
    };
    let mut turned = Reshaped::with_edges(&drawn, edges.collect(), Carried::default())?;
    move_marks(&mut turned.piece, |_| with);
    Ok(turned)
}

/// Turns a piece so that its grainline stands upright, the way that turns less.
pub(super) fn turn_to_grain(piece: &Piece) -> Result<Reshaped, AlterationError> {
    let (a, b) = grainline(piece);
    let along = b - a;
    if along.hypot() <= JOINING.0 {
        return Err(AlterationError::Refused(
            "its grainline has no length; lay it anew first".to_owned(),
        ));
    }
    let up = if along.y < 0.0 { -along } else { along };
    let off = libm::atan2(up.x, up.y);
    if (off * along.hypot()).abs() <= JOINING.0 * 1e-3 {
        return Err(AlterationError::Refused(
            "its grainline stands upright already; there is nothing to turn".to_owned(),
        ));
    }
    turn(piece, Degrees(off.to_degrees()))
}

/// Its grainline, or an upright one through its middle.
fn grainline(piece: &Piece) -> (Point, Point) {
    piece.grainline.unwrap_or_else(|| {
        let bounds = piece.outline.bounds();
        let half = Vec2::new(0.0, bounds.height() / 4.0);
        (bounds.center() - half, bounds.center() + half)
    })
}
