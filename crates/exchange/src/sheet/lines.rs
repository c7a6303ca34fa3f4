//! Lines of figures on a sheet of their own: what is reckoned without a piece, such as tiers and bias strips.

use petitoile_core::kurbo::Point;

use crate::drawing::{Drawing, Item, Layer, PieceDrawing, Sheet};
use crate::font;

/// Size of the words, mm.
const SIZE: f64 = 3.2;

/// A line is broken where it would be longer, mm: it stands on a narrow page too.
const LONGEST: f64 = 160.0;

/// A sheet with a heading and these lines below each other.
pub fn lines(title: &str, lines: &[String]) -> Sheet {
    let mut y = 0.0;
    let mut items = vec![text(y, SIZE * 1.4, title.to_owned())];
    for line in lines {
        y -= 0.6 * SIZE;
        for words in font::broken(line, SIZE, LONGEST) {
            y -= SIZE * font::LINE_STEP;
            items.push(text(y, SIZE, words));
        }
    }
    let drawing = Drawing {
        title: title.to_owned(),
        items,
    };
    let bounds = drawing.bounds().unwrap_or_default().inflate(1.0, 1.0);
    Sheet {
        title: title.to_owned(),
        pieces: vec![PieceDrawing {
            name: title.to_owned(),
            bounds,
            drawing,
        }],
    }
}

fn text(y: f64, size: f64, words: String) -> Item {
    Item::text(Layer::Text, Point::new(0.0, y), size, words)
}
