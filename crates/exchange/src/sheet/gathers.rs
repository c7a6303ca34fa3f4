//! What is gathered or eased: words for the label, and rows of running stitch where a longer edge is drawn in.

use petitoile_core::Mm;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::fullness::Fullness;
use petitoile_core::kurbo::BezPath;
use petitoile_core::piece::Piece;
use petitoile_core::seams::{Relation, Seam, Stretch, side_length};

/// An edge this many times as long as its mate, said to be gathered, is (common practice, no source).
const GATHERED_FROM: f64 = 1.05;

/// An edge said to be eased in must be gathered from here on: no cloth takes in more (common practice, no source).
const EASED_UP_TO: f64 = 1.10;

/// Less than this is eased in under the fingers without being told (common practice, no source).
const EASE_TOLD_FROM: f64 = 1.0;

/// Where the two rows run, as shares of the allowance from the stitch line: those of gathers drawn by hand.
const ROWS: [f64; 2] = [1.0 / 3.0, 2.0 / 3.0];

/// Points along a row.
const STEPS: u32 = 48;

/// Edges of a piece that are drawn in, and to what length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawnIn {
    /// "cap back and cap front".
    pub edges: String,
    /// Length when sewn.
    pub to: Mm,
    /// Gathered, or only eased?
    pub is_gathered: bool,
    /// Does it run over the fold, so that `to` counts both halves?
    pub is_over_fold: bool,
}

/// Everything that is drawn in on a piece, first the gathers drawn into its outline, then those of its seams.
pub(super) fn drawn_in(finished: &Finished, piece: &FinishedPiece) -> Vec<DrawnIn> {
    let adapted = &finished.filled.adapted;
    let name = &piece.piece.name;
    let before = adapted.pieces.iter().find(|p| &p.name == name);
    let mut all = Vec::new();
    for op in before.iter().flat_map(|p| &p.fullness) {
        let edge = before.and_then(|p| p.outline.edge(&op.edge));
        let is_gathered = match op.fullness {
            Fullness::Gathers { .. } | Fullness::Shirring { .. } => true,
            Fullness::Ease { .. } => false,
            _ => continue,
        };
        let Some(edge) = edge else {
            continue;
        };
        let is_over_fold = meets_fold(&piece.piece, &op.edge);
        all.push(DrawnIn {
            edges: op.edge.clone(),
            to: whole(
                Mm(edge.line.length() * (op.to - op.from).abs()),
                is_over_fold,
            ),
            is_gathered,
            is_over_fold,
        });
    }
    for seam in &adapted.made.seams {
        let Some(side) = longer_side(seam).filter(|side| is_all_of(side, name)) else {
            continue;
        };
        let lengths = (
            side_length(side, &adapted.pieces),
            side_length(&seam.b, &adapted.pieces),
        );
        let (Ok(long), Ok(short)) = lengths else {
            continue;
        };
        let most = match seam.relation {
            Relation::Eased(_) => EASED_UP_TO,
            Relation::Equal | Relation::Ratio(_) => GATHERED_FROM,
        };
        let is_gathered = long.0 > short.0 * most;
        if !is_gathered && long.0 - short.0 < EASE_TOLD_FROM {
            continue;
        }
        let mut edges: Vec<&str> = Vec::new();
        for stretch in side {
            if !edges.contains(&stretch.edge.as_str()) {
                edges.push(&stretch.edge);
            }
        }
        let is_over_fold = edges.iter().any(|edge| meets_fold(&piece.piece, edge));
        let told = DrawnIn {
            edges: edges.join(" and "),
            to: whole(short, is_over_fold),
            is_gathered,
            is_over_fold,
        };
        if !all.iter().any(|known: &DrawnIn| known.edges == told.edges) {
            all.push(told);
        }
    }
    all
}

/// A half's length, or both halves'.
fn whole(half: Mm, is_over_fold: bool) -> Mm {
    if is_over_fold { half + half } else { half }
}

/// Does an edge of a half run on over the fold into the other half?
fn meets_fold(piece: &Piece, edge: &str) -> bool {
    let edges = piece.outline.edges();
    let around = edges.iter().zip(edges.iter().cycle().skip(1));
    piece.fold_edge().is_some_and(|fold| {
        around.into_iter().any(|(a, b)| {
            (a.name == edge && b.name == fold.name) || (a.name == fold.name && b.name == edge)
        })
    })
}

/// The side that is drawn in, when the seam says so.
fn longer_side(seam: &Seam) -> Option<&[Stretch]> {
    match seam.relation {
        Relation::Ratio(ratio) if ratio > 1.0 => Some(&seam.a),
        Relation::Eased(by) if by.0 > 0.0 => Some(&seam.a),
        _ => None,
    }
}

fn is_all_of(side: &[Stretch], piece: &str) -> bool {
    !side.is_empty() && side.iter().all(|stretch| stretch.piece == piece)
}

/// Rows of running stitch in the allowance of every edge that a seam gathers.
pub(crate) fn rows(finished: &Finished, piece: &FinishedPiece) -> Vec<BezPath> {
    let adapted = &finished.filled.adapted;
    let mut done: Vec<&str> = Vec::new();
    let mut rows = Vec::new();
    for seam in &adapted.made.seams {
        let is_gathered = matches!(seam.relation, Relation::Ratio(ratio) if ratio > GATHERED_FROM);
        if !is_gathered || !is_all_of(&seam.a, &piece.piece.name) {
            continue;
        }
        for stretch in &seam.a {
            if !done.contains(&stretch.edge.as_str()) {
                done.push(&stretch.edge);
                rows.extend(ROWS.iter().filter_map(|share| row(piece, stretch, *share)));
            }
        }
    }
    rows
}

fn row(piece: &FinishedPiece, stretch: &Stretch, share: f64) -> Option<BezPath> {
    let outline = &piece.piece.outline;
    let at = outline.index_of(&stretch.edge)?;
    let line = &outline.edges().get(at)?.line;
    let outside = share * piece.allowances.get(at)?.0;
    if outside <= 0.0 {
        return None;
    }
    let mut path = BezPath::new();
    for step in 0..=STEPS {
        let part = f64::from(step) / f64::from(STEPS);
        let place = stretch.from + part * (stretch.to - stretch.from);
        // Outlines run counter-clockwise: the cloth lies on the left.
        let point = line.at(place) - line.direction(place).turn_90() * outside;
        if step == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    Some(path)
}
