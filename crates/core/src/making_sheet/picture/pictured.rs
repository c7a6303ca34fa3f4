//! One piece of a little picture: unfolded, turned to the side that is up.

use kurbo::{Affine, BezPath, Line as Stroke, ParamCurve, PathSeg, Point, Vec2};

use super::Pictured;
use crate::edge::Edge;
use crate::finish::FinishedPiece;
use crate::geometry::parallel::right_of;
use crate::notch::stroke_spacing;
use crate::piece::{Copy, Face, Piece, Side};
use crate::seams::Stretch;
use crate::tolerance::JOINING;

/// A notch is drawn this long, as a share of the allowance it lies in (*own*).
const NOTCH: f64 = 0.8;

/// Which half of a piece cut on the fold is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Half {
    /// The one that is drawn: the right side of the body.
    Drawn,
    /// Its mirror image.
    Mirrored,
    /// Both.
    Both,
}

impl Half {
    /// The half that lies on this side of the body.
    pub(super) fn of(piece: &Piece, side: Side) -> Self {
        match (piece.fold_edge(), side) {
            (None, _) | (_, Side::Right) => Self::Drawn,
            (_, Side::Left) => Self::Mirrored,
            (_, Side::Whole) => Self::Both,
        }
    }
}

/// Mirrors the drawn half into the other one.
fn over_fold(piece: &Piece) -> Option<Affine> {
    let line = &piece.fold_edge()?.line;
    let along = line.end() - line.start();
    (along.hypot2() > 0.0).then(|| Affine::reflect(line.start(), along))
}

/// The cut line of a piece as it is when unfolded.
pub fn whole_cut(piece: &FinishedPiece) -> BezPath {
    unfolded(&piece.piece, &piece.cut)
}

/// A closed line with its mirror image beyond the fold, the fold itself left out.
fn unfolded(piece: &Piece, half: &BezPath) -> BezPath {
    let Some((mirror, fold)) = over_fold(piece).zip(piece.fold_edge()) else {
        return half.clone();
    };
    let (at, along) = (fold.line.start(), unit(fold.line.end() - fold.line.start()));
    let near = |p: Point| ((p - at).cross(along)).abs() <= JOINING.0;
    let on_fold = |part: &PathSeg| near(part.start()) && near(part.eval(0.5)) && near(part.end());
    let parts: Vec<PathSeg> = half.segments().collect();
    let Some(last) = parts.iter().rposition(on_fold) else {
        return half.clone();
    };
    let kept: Vec<PathSeg> = parts
        .iter()
        .cycle()
        .skip(last + 1)
        .take(parts.len())
        .filter(|part| !on_fold(part))
        .copied()
        .collect();
    let back = kept.iter().rev().map(|part| mirror * part.reverse());
    // One line in one go: where halves meet their last digits may differ, and a new start would draw the fold as a line.
    let mut whole = BezPath::new();
    for part in kept.iter().copied().chain(back) {
        if whole.elements().is_empty() {
            whole.move_to(part.start());
        }
        whole.push(part.as_path_el());
    }
    whole.close_path();
    whole
}

/// The same direction, one long; a fold always has length.
fn unit(along: Vec2) -> Vec2 {
    along / along.hypot2().sqrt().max(1e-12)
}

/// From the drawing to the picture: mirrored for a left copy, and once more for the other side up.
pub(super) fn picture_from_piece(piece: &Piece, copy: Copy, up: Face) -> Affine {
    let flips = [
        copy.side == Side::Left,
        piece.face == Face::Wrong,
        up == Face::Wrong,
    ];
    if flips.iter().filter(|flip| **flip).count() % 2 == 1 {
        Affine::scale_non_uniform(-1.0, 1.0)
    } else {
        Affine::IDENTITY
    }
}

/// From the drawing to the picture, once for each half that is worked.
fn halves(piece: &Piece, half: Half, to: Affine) -> Vec<Affine> {
    let mirrored = over_fold(piece).map(|mirror| to * mirror);
    match half {
        Half::Drawn => vec![to],
        Half::Mirrored => mirrored.into_iter().collect(),
        Half::Both => std::iter::once(to).chain(mirrored).collect(),
    }
}

/// A copy of a piece with this side up and these edges worked.
pub(super) fn pictured(
    piece: &FinishedPiece,
    copy: Copy,
    half: Half,
    up: Face,
    edges: &[&str],
) -> Pictured {
    let to = picture_from_piece(&piece.piece, copy, up);
    let own = &piece.piece;
    let worked = own
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .filter(|(edge, _)| edges.contains(&edge.name.as_str()));
    let (mut lines, mut notches) = (Vec::new(), Vec::new());
    for (edge, allowance) in worked {
        for from in halves(own, half, to) {
            lines.push(from * edge.line.to_path());
            let strokes = notch_strokes(own, edge, allowance.0);
            notches.extend(strokes.into_iter().map(|stroke| from * stroke));
        }
    }
    let cut = to * whole_cut(piece);
    let label_at = if over_fold(own).is_some() {
        to * own.fold_edge().map_or(piece.label_at, |fold| {
            // On the fold, level with the middle of the half.
            let (a, b) = (fold.line.start(), fold.line.end());
            let along = unit(b - a);
            a + along * (piece.label_at - a).dot(along)
        })
    } else {
        to * piece.label_at
    };
    Pictured {
        piece: own.name.clone(),
        copy,
        up,
        seen: cut.clone(),
        cut,
        shade: BezPath::new(),
        worked: lines,
        edges: edges.iter().map(|edge| (*edge).to_owned()).collect(),
        notches,
        label_at,
    }
}

fn notch_strokes(piece: &Piece, edge: &Edge, allowance: f64) -> Vec<Stroke> {
    let own = piece.notches.iter().filter(|n| n.edge == edge.name);
    let depth = allowance * NOTCH;
    own.flat_map(|notch| {
        let length = edge.line.length().max(1e-9);
        let count = notch.kind.strokes();
        let apart = stroke_spacing(depth) / length;
        (0..count).map(move |i| {
            let shift = apart * (f64::from(i) - f64::from(count - 1) / 2.0);
            let at = (notch.fraction + shift).clamp(0.0, 1.0);
            let (point, out) = (edge.line.at(at), right_of(edge.line.direction(at)));
            Stroke::new(point + out * allowance, point + out * (allowance - depth))
        })
    })
    .collect()
}

/// Where a side of a seam starts and ends in the picture.
pub(super) fn ends(
    piece: &FinishedPiece,
    copy: Copy,
    half: Half,
    up: Face,
    side: &[Stretch],
) -> Option<(Point, Point)> {
    let to = picture_from_piece(&piece.piece, copy, up);
    let from = halves(&piece.piece, half, to).first().copied()?;
    let at = |stretch: &Stretch, fraction: f64| {
        let edge = piece.piece.outline.edge(&stretch.edge)?;
        Some(from * edge.line.at(fraction))
    };
    let (first, last) = (side.first()?, side.last()?);
    Some((at(first, first.from)?, at(last, last.to)?))
}

impl Pictured {
    /// The same moved as a whole.
    pub(super) fn moved(self, by: Affine) -> Self {
        let path = |path: BezPath| by * path;
        Self {
            cut: path(self.cut),
            seen: path(self.seen),
            shade: path(self.shade),
            worked: self.worked.into_iter().map(path).collect(),
            notches: self.notches.into_iter().map(|s| by * s).collect(),
            label_at: by * self.label_at,
            ..self
        }
    }

    /// Which way its cloth lies from a line: positive on the left.
    pub(super) fn lies(&self, from: Point, along: Vec2) -> f64 {
        along.cross(self.label_at - from)
    }
}
