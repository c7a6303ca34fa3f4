//! A little picture as strokes: wrong side shaded, worked edges heavy, names inside.

use petitoile_core::kurbo::{Affine, BezPath, Point, Size};
use petitoile_core::making_sheet::Picture;

use crate::drawing::{Item, Layer};
use crate::font;

/// Stroke of a cut line, mm.
const OUTLINE: f64 = 0.25;
/// Stroke of a worked edge, mm.
const WORKED: f64 = 0.7;
/// Stroke of the shade, mm.
const SHADE: f64 = 0.1;
/// Stroke of a notch, mm.
const NOTCH: f64 = 0.4;
/// Names of pieces: largest and smallest size, mm.
const NAME: (f64, f64) = (2.1, 1.5);

/// The picture scaled to fit a box, its upper left corner at the origin; with the size it takes.
pub(super) fn drawn(picture: &Picture, most: (f64, f64)) -> (Vec<Item>, Size) {
    let bounds = picture.bounds().inflate(0.5, 0.5);
    let scale = (most.0 / bounds.width()).min(most.1 / bounds.height());
    if !(scale > 0.0 && scale.is_finite()) {
        return (Vec::new(), Size::ZERO);
    }
    let to = Affine::scale(scale) * Affine::translate((-bounds.x0, -bounds.y1));
    let mut items = Vec::new();
    for piece in &picture.pieces {
        items.push(Item::stroke(Layer::Page, to * piece.shade.clone(), SHADE));
        items.push(Item::stroke(
            Layer::CutLines,
            to * piece.seen.clone(),
            OUTLINE,
        ));
    }
    for piece in &picture.pieces {
        for line in &piece.worked {
            items.push(Item::stroke(Layer::StitchLines, to * line.clone(), WORKED));
        }
        let mut notches = BezPath::new();
        for notch in &piece.notches {
            notches.move_to(to * notch.p0);
            notches.line_to(to * notch.p1);
        }
        items.push(Item::stroke(Layer::Marks, notches, NOTCH));
    }
    let taken = Size::new(bounds.width() * scale, bounds.height() * scale);
    items.extend(names(picture, to, taken, (most.0 - taken.width) / 2.0));
    items.retain(|item| match &item.ink {
        crate::drawing::Ink::Stroke { path, .. } => !path.elements().is_empty(),
        _ => true,
    });
    (items, taken)
}

/// Each piece's name where there is room for it; a name that would run over another stands one line lower, and is left out
/// where the picture ends. `beside` is the room left and right of the picture.
fn names(picture: &Picture, to: Affine, size_of: Size, beside: f64) -> Vec<Item> {
    use petitoile_core::kurbo::Shape;
    let mut taken: Vec<(Point, f64)> = Vec::new();
    let mut items = Vec::new();
    for piece in &picture.pieces {
        let room = (to * piece.cut.clone()).bounding_box().width();
        let wide = font::width(&piece.piece, NAME.0);
        let size = (NAME.0 * (room * 0.9 / wide.max(1e-9)).min(1.0)).max(NAME.1);
        let long = font::width(&piece.piece, size);
        let half = long / 2.0;
        let (low, high) = (half - beside, size_of.width + beside - half);
        if high < low {
            continue;
        }
        let mut at = to * piece.label_at;
        at.x = at.x.clamp(low, high);
        while taken.iter().any(|(other, other_long)| {
            (other.y - at.y).abs() < size
                && (other.x - at.x).abs() < f64::midpoint(long, *other_long)
        }) {
            at.y -= size * font::LINE_STEP;
        }
        if at.y - size < -size_of.height {
            continue;
        }
        taken.push((at, long));
        items.push(
            Item::text(
                Layer::Text,
                Point::new(at.x, at.y - size / 2.8),
                size,
                piece.piece.clone(),
            )
            .centred(),
        );
    }
    items
}
