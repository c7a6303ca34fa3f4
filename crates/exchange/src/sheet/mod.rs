//! Finished pieces to drawings, with labels: the seventh of nine steps from file to page.
//!
//! Each piece keeps its own coordinates. No page, no margin, no join: those are the business of [`crate::tiling`].

mod added;
mod folds;
pub(crate) mod gathers;
mod label;
mod lay;
mod lines;
mod making;
pub(crate) mod openings;
mod room;
mod symbols;
mod together;
pub(crate) mod words;

use petitoile_core::LengthUnit;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::kurbo::{BezPath, Shape};
use petitoile_core::piece::MarkKind;

use crate::drawing::{Drawing, Item, Layer, PieceDrawing, Sheet};

pub use folds::TEMPLATE_HEIGHT;
pub use lay::{lay_pages, lay_true_size};
pub use lines::lines;
pub use making::making_pages;
pub(crate) use room::strokes;
pub use together::one_drawing;

/// Width of a stitch line, mm.
pub const STITCH_STROKE: f64 = 0.25;

/// Width of a cut line, mm.
pub const CUT_STROKE: f64 = 0.5;

/// Width of marks, mm.
const MARK_STROKE: f64 = 0.25;

/// Draws every finished piece with its name, cut count, cloth, grain, fold, notches, body and allowance; after them a
/// template strip and a table for every pleated edge.
pub fn sheet(finished: &Finished, unit: LengthUnit) -> Sheet {
    let adapted = &finished.filled.adapted;
    let title = format!("{} for {}", adapted.garment.name, adapted.fitting.body.name);
    let mut pieces: Vec<PieceDrawing> = (1..)
        .zip(&finished.pieces)
        .map(|(number, piece)| draw(finished, number, piece, unit))
        .collect();
    pieces.extend(folds::drawings(finished, unit));
    Sheet { title, pieces }
}

fn draw(
    finished: &Finished,
    number: usize,
    piece: &FinishedPiece,
    unit: LengthUnit,
) -> PieceDrawing {
    let mut items = vec![
        Item::stroke(Layer::CutLines, piece.cut.clone(), CUT_STROKE),
        Item::stroke(Layer::StitchLines, piece.stitch.clone(), STITCH_STROKE),
    ];
    items.extend(inner_lines(finished, number - 1, piece));
    items.extend(folds::on_piece(finished, number - 1));
    items.extend(gathers::rows(finished, piece).into_iter().map(sewn_row));
    let grain = piece.fold.map_or(piece.grain, |fold| {
        symbols::clear_of_fold(piece.grain, fold, piece.label_at, &piece.stitch)
    });
    items.extend(symbols::grain_arrow(grain));
    if let Some(fold) = piece.fold {
        items.extend(symbols::fold_bracket(fold, piece.label_at, &piece.stitch));
    }
    items.extend(added::on_piece(finished, piece, unit));
    let words = words::label(finished, number, piece, unit);
    items.extend(label::place(&words, piece, &items));
    let drawing = Drawing {
        title: piece.piece.name.clone(),
        items,
    };
    let bounds = drawing.bounds().unwrap_or_else(|| piece.cut.bounding_box());
    PieceDrawing {
        name: piece.piece.name.clone(),
        bounds: bounds.inflate(0.5, 0.5),
        drawing,
    }
}

/// A line to sew inside the piece.
fn sewn_row(line: BezPath) -> Item {
    Item::dashed(Layer::StitchLines, line, STITCH_STROKE, &[1.2, 0.8])
}

/// Everything drawn inside the piece that is no symbol and no label.
fn inner_lines(finished: &Finished, at: usize, piece: &FinishedPiece) -> Vec<Item> {
    let mut items = Vec::new();
    if !piece.notches.is_empty() {
        let mut notches = BezPath::new();
        for notch in &piece.notches {
            notches.move_to(notch.p0);
            notches.line_to(notch.p1);
        }
        items.push(Item::stroke(Layer::Marks, notches, 0.35));
    }
    items.extend(
        piece
            .fold_lines
            .iter()
            .map(|line| Item::dashed(Layer::Marks, line.clone(), MARK_STROKE, &[3.0, 1.5])),
    );
    items.extend(piece.sew_lines.iter().cloned().map(sewn_row));
    items.extend(openings::dots(&piece.piece));
    for mark in &piece.piece.marks {
        items.extend(match &mark.kind {
            MarkKind::Dot(at) => symbols::dot(*at, &mark.name),
            MarkKind::Line(line) if folds::is_line_of_pleat(finished, at, &mark.kind) => {
                symbols::placement_line(line, "")
            }
            MarkKind::Line(line) => symbols::placement_line(line, &mark.name),
            MarkKind::Buttonhole(from, to) => symbols::buttonhole(*from, *to),
            MarkKind::Fold(line) => symbols::fold_line(line, &mark.name),
            MarkKind::Stitch(line) => symbols::stitching_line(line, &mark.name),
            MarkKind::Text(at) => symbols::words(*at, &mark.name),
            MarkKind::Channel { line, width } => symbols::channel(line, width.0, &mark.name),
            MarkKind::Eyelet { at, diameter } => symbols::eyelet(*at, diameter.0, &mark.name),
        });
    }
    items
}
