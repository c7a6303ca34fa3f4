//! Seams that a lay plan adds to a piece, as they lie on the piece as it is drawn.

use kurbo::{Line, Point};

use super::opened::mirror;
use super::words;
use crate::finish::FinishedPiece;
use crate::lay_plan::{CopyRef, LayPlan, Piecing, PiecingKind};
use crate::tolerance::JOINING;
use crate::units::{LengthUnit, Mm};

/// A seam that a plan adds to a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct AddedSeam {
    /// The copies that are cut so.
    pub copies: Vec<CopyRef>,
    /// Where it is sewn, in the drawing of the piece; of a half on the fold, on that half.
    pub line: Line,
    /// What the copies are pieced for.
    pub kind: PiecingKind,
    /// Allowance on both sides of it.
    pub allowance: Mm,
}

/// The seams that a plan adds to a piece; copies that are pieced alike share one.
pub fn added_seams(finished: &FinishedPiece, plan: &LayPlan) -> Vec<AddedSeam> {
    let mut all: Vec<AddedSeam> = Vec::new();
    let of_piece = |piecing: &&Piecing| piecing.of.piece == finished.piece.name;
    let lies = |piecing: &&Piecing| {
        let mut placed = plan.placed.iter();
        placed.any(|placed| placed.of() == piecing.of)
    };
    for piecing in plan.piecings.iter().filter(of_piece).filter(lies) {
        for (a, b) in &piecing.lines {
            let line = in_half(finished, Line::new(*a, *b));
            let same = |seam: &&mut AddedSeam| {
                seam.kind == piecing.kind
                    && is_same(seam.line, line)
                    && seam.allowance == piecing.allowance
            };
            match all.iter_mut().find(same) {
                Some(seam) if seam.copies.contains(&piecing.of) => {}
                Some(seam) => seam.copies.push(piecing.of.clone()),
                None => all.push(AddedSeam {
                    copies: vec![piecing.of.clone()],
                    line,
                    kind: piecing.kind,
                    allowance: piecing.allowance,
                }),
            }
        }
    }
    all
}

/// On the half that is drawn.
fn in_half(finished: &FinishedPiece, line: Line) -> Line {
    let Some(fold) = finished.fold else {
        return line;
    };
    let along = fold.p1 - fold.p0;
    let side = |p: Point| along.cross(p - fold.p0);
    if side(line.midpoint()) * side(finished.label_at) < -JOINING.0 {
        let over = mirror(fold.p0, along);
        Line::new(over * line.p0, over * line.p1)
    } else {
        line
    }
}

fn is_same(a: Line, b: Line) -> bool {
    let near = |p: Point, q: Point| (p - q).hypot() <= JOINING.0;
    (near(a.p0, b.p0) && near(a.p1, b.p1)) || (near(a.p0, b.p1) && near(a.p1, b.p0))
}

impl AddedSeam {
    /// "seam added: back, 6 mm allowance each side".
    pub fn words(&self, unit: LengthUnit) -> String {
        let copies: Vec<String> = self.copies.iter().map(words::copy).collect();
        format!(
            "seam added: {}, {} allowance each side",
            copies.join(" and "),
            unit.show_chosen(self.allowance)
        )
    }
}
