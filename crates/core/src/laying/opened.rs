//! One copy as it is cut: its cut line opened out over the fold, straight between its corners.

use kurbo::{Affine, Line, Point, Vec2};

use super::LayShape;
use crate::finish::FinishedPiece;
use crate::geometry::closed::{area, corners_of, counter_clockwise, crosses_itself, sides, tidied};
use crate::piece::{Copy, Face, Piece, Role, Side};
use crate::tolerance::JOINING;
use crate::units::Degrees;

/// Why a piece cannot be laid; what is measured is in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unusable {
    /// Its cut line crosses itself here, in a loop this long.
    Crosses(Point, f64),
    /// It reaches beyond its fold here, by this much.
    BeyondFold(Point, f64),
    /// Its cut line does not run along the fold.
    NoFold,
    /// It holds no cloth.
    Flat,
}

/// What is to be cut for every copy of a piece; not yet mirrored.
///
/// A half on the fold is opened out: the half and its mirror image, joined where the fold was.
pub(super) fn opened_out(finished: &FinishedPiece) -> Result<LayShape, Unusable> {
    let half = counter_clockwise(corners_of(&finished.cut));
    if area(&half) <= JOINING.0 {
        return Err(Unusable::Flat);
    }
    if let Some(found) = crosses_itself(&half) {
        return Err(Unusable::Crosses(found.at, found.length));
    }
    let (outline, fold) = match finished.fold {
        Some(fold) => {
            let (outline, fold) = unfolded(&half, fold)?;
            (outline, Some(fold))
        }
        None if finished.piece.fold_edge().is_some() => return Err(Unusable::NoFold),
        None => (half, None),
    };
    Ok(LayShape {
        outline,
        grain: grain(finished),
        mirrored: false,
        fold,
    })
}

/// The half with its mirror image, and the fold from cut line to cut line.
fn unfolded(half: &[Point], fold: Line) -> Result<(Vec<Point>, Line), Unusable> {
    let along = fold.p1 - fold.p0;
    let size = along.hypot();
    if size <= JOINING.0 {
        return Err(Unusable::NoFold);
    }
    let along = along / size;
    let off = |p: Point| along.cross(p - fold.p0);
    let on_fold = |p: Point| off(p).abs() <= JOINING.0;
    // The longest side that runs along the fold.
    let Some((last, _, _)) = sides(half)
        .enumerate()
        .filter(|(_, (a, b))| on_fold(*a) && on_fold(*b))
        .map(|(i, (a, b))| (i, (b - a).hypot(), a))
        .max_by(|a, b| a.1.total_cmp(&b.1))
    else {
        return Err(Unusable::NoFold);
    };
    // From where the fold ends, round to where it starts, both exactly on it.
    let mut chain: Vec<Point> = half.to_vec();
    chain.rotate_left((last + 1) % half.len());
    let onto = |p: Point| fold.p0 + along * (p - fold.p0).dot(along);
    for end in [0, chain.len() - 1] {
        if let Some(p) = chain.get_mut(end) {
            *p = onto(*p);
        }
    }
    let side = chain.iter().map(|p| off(*p)).sum::<f64>().signum();
    let beyond = |p: &Point| -side * off(*p);
    if let Some(worst) = chain
        .iter()
        .max_by(|a, b| beyond(a).total_cmp(&beyond(b)))
        .filter(|p| beyond(p) > JOINING.0)
    {
        return Err(Unusable::BeyondFold(*worst, beyond(worst)));
    }
    let (Some(start), Some(end)) = (chain.last().copied(), chain.first().copied()) else {
        return Err(Unusable::Flat);
    };
    let over = mirror(fold.p0, along);
    let inner = chain.iter().skip(1).take(chain.len().saturating_sub(2));
    let mirrored: Vec<Point> = inner.map(|p| over * *p).rev().collect();
    let mut outline = chain;
    outline.extend(mirrored);
    Ok((tidied(&outline), Line::new(start, end)))
}

/// Mirrors over the line through `at`.
pub(super) fn mirror(at: Point, along: Vec2) -> Affine {
    Affine::reflect(at, along)
}

/// Direction of the grainline against y, counter-clockwise, from above -90 to 90 degrees: a grainline has no arrowhead.
fn grain(finished: &FinishedPiece) -> Degrees {
    let along = finished.grain.p1 - finished.grain.p0;
    if along.hypot() <= 0.0 {
        return Degrees(0.0);
    }
    let angle = libm::atan2(-along.x, along.y).to_degrees();
    Degrees(if angle > 90.0 {
        angle - 180.0
    } else if angle <= -90.0 {
        angle + 180.0
    } else {
        angle
    })
}

/// Is this copy laid mirrored on cloth that shows its right side?
///
/// A left copy is, and one drawn with its wrong side up; both together is not. A half on the fold is alike both ways. A
/// lining that is one across the body and cut by the drawing of the shell lies wrong side to wrong side with it: it is its
/// mirror image. (Of a pair of linings one is cut as drawn and one mirrored anyway.)
pub(super) fn is_mirrored(piece: &Piece, copy: Copy) -> bool {
    if piece.fold_edge().is_some() {
        return false;
    }
    let lines_shell =
        copy.side == Side::Whole && copy.role == Role::Lining && piece.copies_in(Role::Shell) > 0;
    (copy.side == Side::Left) ^ (piece.face == Face::Wrong) ^ lines_shell
}
