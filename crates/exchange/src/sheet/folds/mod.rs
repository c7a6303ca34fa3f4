//! Pleats and gathers on paper: arrows and numbers on the piece, matching marks on it and on what it is sewn to, and
//! after the pieces a template strip and a table for every pleated edge.
//!
//! Lengths in mm. Every place comes from the core's [`FoldedEdge`]; nothing is worked out anew here.

mod matching;
mod numbers;
mod table;
mod template;

use petitoile_core::finish::Finished;
use petitoile_core::fullness::{FillLine, FillLineKind, FoldedEdge, FullnessOp, Kind, Rows, Way};
use petitoile_core::piece::{MarkKind, Piece};
use petitoile_core::{LengthUnit, Mm};

use crate::drawing::{Item, PieceDrawing};

pub use template::HEIGHT as TEMPLATE_HEIGHT;

/// A stretch of edge with its fullness, as it is cut and as it is sewn.
pub(super) struct Stretch<'a> {
    /// The piece as it is sewn.
    sewn: &'a Piece,
    /// The fullness, fractions of the sewn edge.
    op: &'a FullnessOp,
    /// Its folds.
    folded: FoldedEdge,
}

/// Every stretch with fullness of a garment, in order: number of its piece, number of the fullness on it.
fn stretches(finished: &Finished) -> impl Iterator<Item = (usize, usize, Stretch<'_>)> {
    let pieces = finished.filled.adapted.pieces.iter().enumerate();
    pieces.flat_map(|(at, sewn)| {
        let ops = sewn.fullness.iter().enumerate();
        ops.filter_map(move |(number, op)| Some((at, number, Stretch::of(sewn, op)?)))
    })
}

impl<'a> Stretch<'a> {
    fn of(sewn: &'a Piece, op: &'a FullnessOp) -> Option<Self> {
        let length = sewn.outline.edge(&op.edge)?.line.length() * (op.to - op.from);
        op.fullness.checked().ok()?;
        Some(Self {
            sewn,
            op,
            folded: op.folded(Mm(length)),
        })
    }

    /// "quarter, waist".
    fn place(&self) -> String {
        format!("{}, {}", self.sewn.name, self.op.edge)
    }

    /// "18 knife pleats, 40 mm deep, to the left".
    fn words(&self, unit: LengthUnit) -> String {
        let kind = self.op.fullness.kind();
        let mut words = self.op.fullness.words(unit);
        if kind == Kind::Knife {
            let first = self.folded.pleats.first().map(|pleat| pleat.lies);
            let alike = self.folded.pleats.iter().all(|p| Some(p.lies) == first);
            match first {
                Some(way) if alike => words.push_str(&format!(", {}", way_words(way))),
                _ => words.push_str(", turning at the centre"),
            }
        }
        words.push_str(&self.op.sewn_words(unit));
        words
    }
}

/// "fold 4 knife pleats, 8 mm deep, to the left, at waist", "gathers, 2 times, at waist: 2 rows of running stitch, ...":
/// what is folded or drawn in before the piece is sewn.
pub(super) fn told(finished: &Finished, name: &str, unit: LengthUnit) -> Vec<String> {
    let allowance = finished.filled.adapted.fitting.allowances.seam;
    stretches(finished)
        .filter(|(.., stretch)| stretch.sewn.name == name)
        .map(|(.., stretch)| {
            let is_folded = stretch.op.fullness.depth().is_some();
            let verb = if is_folded { "fold " } else { "" };
            let rows = Rows::of(stretch.op, &stretch.folded, allowance).words(unit);
            let rows = rows.map_or_else(String::new, |rows| format!(": {rows}"));
            format!(
                "{verb}{}, at {}{rows}",
                stretch.words(unit),
                stretch.op.edge
            )
        })
        .collect()
}

/// Which way a pleat lies, in words that need no picture.
fn way_words(way: Way) -> &'static str {
    match way {
        Way::Left => "to the left",
        Way::Right => "to the right",
        Way::Apart => "apart",
        Way::Together => "together",
        Way::Out => "standing out",
    }
}

/// Arrows, numbers and matching marks on the piece at this place of the garment.
pub(super) fn on_piece(finished: &Finished, at: usize) -> Vec<Item> {
    let mut items = numbers::on_lines(lines_of(finished, at));
    items.extend(matching::on_piece(finished, at));
    items
}

/// Is this mark drawn as a line of a pleat, with its arrow, and needs no words of its own?
pub(super) fn is_line_of_pleat(finished: &Finished, at: usize, mark: &MarkKind) -> bool {
    let MarkKind::Line(line) = mark else {
        return false;
    };
    let placed = |l: &&FillLine| l.kind == FillLineKind::Placement;
    lines_of(finished, at)
        .iter()
        .filter(placed)
        .any(|l| &l.line == line)
}

fn lines_of(finished: &Finished, at: usize) -> &[FillLine] {
    finished.filled.lines.get(at).map_or(&[], Vec::as_slice)
}

/// What is printed after the pieces: a template strip and a table for every edge that is folded one by one.
pub(super) fn drawings(finished: &Finished, unit: LengthUnit) -> Vec<PieceDrawing> {
    stretches(finished)
        .filter(|(.., stretch)| !stretch.folded.pleats.is_empty())
        .filter(|(_, number, stretch)| {
            // The folds of a strip that is sewn on at both edges are printed once.
            let mut before = stretch.sewn.fullness.iter().take(*number);
            !before.any(|other| other.is_across_from(stretch.op))
        })
        .flat_map(|(.., stretch)| {
            let mut both = vec![template::strip(&stretch, unit)];
            both.extend(table::tables(&stretch, unit));
            both
        })
        .collect()
}
