//! All pieces side by side in one drawing.

use petitoile_core::kurbo::{Affine, Point, Rect};

use crate::drawing::{Drawing, Sheet};
use crate::paper;

/// Room between pieces, mm.
const GAP: f64 = 8.0;

/// All pieces of a sheet side by side in one drawing, for a one-sheet print or an SVG file, under a test square.
///
/// The drawing lies right of and above the origin. Pieces keep their turn and never overlap.
pub fn one_drawing(sheet: &Sheet) -> Drawing {
    let mut items = Vec::new();
    for (piece, corner) in sheet.pieces.iter().zip(shelves(sheet)) {
        let move_by = Affine::translate(corner - piece.bounds.origin());
        items.extend(piece.drawing.items.iter().map(|item| item.moved(move_by)));
    }
    let drawn = items
        .iter()
        .map(|item| item.bounds())
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    let header = paper::header(&sheet.title, None, drawn.width().max(180.0));
    let move_by = Affine::translate((GAP, drawn.y1 + GAP + header.size.height));
    items.extend(header.items.iter().map(|item| item.moved(move_by)));
    Drawing {
        title: sheet.title.clone(),
        items,
    }
}

/// The lower left corner of every piece: highest first, row above row, about as wide as high in the end.
fn shelves(sheet: &Sheet) -> Vec<Point> {
    let sizes: Vec<(f64, f64)> = sheet
        .pieces
        .iter()
        .map(|p| (p.bounds.width() + GAP, p.bounds.height() + GAP))
        .collect();
    let area: f64 = sizes.iter().map(|(w, h)| w * h).sum();
    let widest = sizes.iter().map(|s| s.0).fold(0.0, f64::max);
    let most = (area * 1.25).sqrt().max(widest);
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    let height = |i: usize| sizes.get(i).map_or(0.0, |s| s.1);
    order.sort_by(|a, b| height(*b).total_cmp(&height(*a)));
    let mut corners = vec![Point::ZERO; sizes.len()];
    let (mut x, mut y, mut shelf) = (0.0, 0.0, 0.0_f64);
    for i in order {
        let (w, h) = sizes.get(i).copied().unwrap_or_default();
        if x > 0.0 && x + w > most {
            (x, y, shelf) = (0.0, y + shelf, 0.0);
        }
        if let Some(corner) = corners.get_mut(i) {
            *corner = Point::new(GAP + x, GAP + y);
        }
        x += w;
        shelf = shelf.max(h);
    }
    corners
}
