//! Where the seams of a piecing end on the outline of their piece.

use kurbo::{Affine, Point};

use crate::geometry::curve::Line;
use crate::lay_plan::Piecing;
use crate::piece::Piece;

/// Places along an edge at which is looked first.
const LOOKS: u32 = 32;

/// How often the nearest of them is looked at more closely.
const CLOSER: u32 = 24;

/// Where the seams of a piecing run into the edges of their piece: number of the edge and fraction of it, each place once.
///
/// Seams end on the cut line; the nearest place of the stitch line counts, on the half that is drawn. The fold is no edge.
pub(crate) fn seam_ends(piece: &Piece, piecing: &Piecing) -> Vec<(usize, f64)> {
    let ends = piecing.lines.iter().flat_map(|(a, b)| [*a, *b]);
    let mut all: Vec<(usize, f64)> = Vec::new();
    for end in ends.filter_map(|end| nearest(piece, in_half(piece, end))) {
        let known = |other: &(usize, f64)| other.0 == end.0 && (other.1 - end.1).abs() < 1e-3;
        if !all.iter().any(known) {
            all.push(end);
        }
    }
    all
}

fn nearest(piece: &Piece, at: Point) -> Option<(usize, f64)> {
    let edges = piece.outline.edges().iter().enumerate();
    let found = edges
        .filter(|(_, edge)| !edge.is_fold())
        .map(|(i, edge)| (i, nearest_on(&edge.line, at)));
    found
        .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
        .map(|(i, (fraction, _))| (i, fraction))
}

/// The nearest place on a line: fraction and distance.
fn nearest_on(line: &Line, at: Point) -> (f64, f64) {
    let far = |fraction: f64| (line.at(fraction) - at).hypot();
    let looks = (0..=LOOKS).map(|i| f64::from(i) / f64::from(LOOKS));
    let best = looks.min_by(|a, b| far(*a).total_cmp(&far(*b)));
    let (mut best, mut step) = (best.unwrap_or(0.0), 1.0 / f64::from(LOOKS));
    for _ in 0..CLOSER {
        step /= 2.0;
        let beside = [best - step, best, best + step].map(|f| f.clamp(0.0, 1.0));
        let nearer = beside
            .into_iter()
            .min_by(|a, b| far(*a).total_cmp(&far(*b)));
        best = nearer.unwrap_or(best);
    }
    (best, far(best))
}

/// The point, or its mirror image, in the half that is drawn.
fn in_half(piece: &Piece, at: Point) -> Point {
    let Some(fold) = piece.fold_edge() else {
        return at;
    };
    let (from, to) = (fold.line.start(), fold.line.end());
    let along = to - from;
    let side = |p: Point| along.cross(p - from);
    if along.hypot() > 0.0 && side(at) * side(piece.outline.bounds().center()) < 0.0 {
        Affine::reflect(from, along) * at
    } else {
        at
    }
}
