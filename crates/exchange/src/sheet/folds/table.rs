//! The table of every pleat, with places as they are marked with a rule.

use petitoile_core::LengthUnit;
use petitoile_core::fullness::Pleat;
use petitoile_core::kurbo::{BezPath, Point};

use super::{Stretch, way_words};
use crate::drawing::{Drawing, Item, Layer, PieceDrawing};

/// Size of the words, mm.
const SIZE: f64 = 2.4;

/// From row to row, mm.
const STEP: f64 = 3.6;

/// Rows in a column of rows.
const ROWS: usize = 40;

/// Columns of rows side by side on one drawing.
const BLOCKS: usize = 2;

/// Where the cells of a row start, and how wide a row is, mm.
const CELLS: [f64; 5] = [0.0, 10.0, 27.0, 44.0, 61.0];
const WIDTH: f64 = 86.0;

/// Tables of all pleats of an edge, as many as they need.
pub(super) fn tables(stretch: &Stretch<'_>, unit: LengthUnit) -> Vec<PieceDrawing> {
    let pleats = &stretch.folded.pleats;
    pleats
        .chunks(ROWS * BLOCKS)
        .map(|some| one(stretch, some, pleats.len(), unit))
        .collect()
}

fn one(stretch: &Stretch<'_>, pleats: &[Pleat], of: usize, unit: LengthUnit) -> PieceDrawing {
    let (first, last) = (
        pleats.first().map_or(0, |p| p.number),
        pleats.last().map_or(0, |p| p.number),
    );
    let name = if pleats.len() == of {
        format!("pleats of {}", stretch.place())
    } else {
        format!("pleats {first} to {last} of {}", stretch.place())
    };
    let title = format!("{}: {}", stretch.place(), stretch.words(unit));
    let mut items = vec![text(0.0, 0.0, SIZE * 1.2, title)];
    items.push(text(
        0.0,
        -STEP,
        SIZE * 0.9,
        format!(
            "cloth {}, folded {}; places from the right end, right side up, to the nearest {}",
            unit.show_chosen(stretch.folded.cloth),
            unit.show_chosen(stretch.folded.finished),
            unit.show(unit.rule_step())
        ),
    ));
    for (block, rows) in pleats.chunks(ROWS).enumerate() {
        items.extend(column(block as f64 * WIDTH, rows, unit));
    }
    let drawing = Drawing {
        title: name.clone(),
        items,
    };
    let bounds = drawing.bounds().unwrap_or_default().inflate(1.0, 1.0);
    PieceDrawing {
        name,
        bounds,
        drawing,
    }
}

fn column(left: f64, pleats: &[Pleat], unit: LengthUnit) -> Vec<Item> {
    let mut y = -2.4 * STEP;
    let head = ["No.", "cloth from", "to", "lies at", "lies"];
    let mut items = row(left, y, head.map(str::to_owned));
    let mut rule = BezPath::new();
    rule.move_to((left, y - 0.9));
    rule.line_to((left + WIDTH - 6.0, y - 0.9));
    items.push(Item::stroke(Layer::Page, rule, 0.15));
    y -= 0.4;
    for pleat in pleats {
        y -= STEP;
        items.extend(row(
            left,
            y,
            [
                pleat.number.to_string(),
                unit.show_on_rule(pleat.from),
                unit.show_on_rule(pleat.to),
                unit.show_on_rule(pleat.at),
                way_words(pleat.lies).to_owned(),
            ],
        ));
    }
    items
}

fn row(left: f64, y: f64, cells: [String; 5]) -> Vec<Item> {
    CELLS
        .iter()
        .zip(cells)
        .map(|(x, words)| text(left + x, y, SIZE, words))
        .collect()
}

fn text(x: f64, y: f64, size: f64, words: impl Into<String>) -> Item {
    Item::text(Layer::Text, Point::new(x, y), size, words)
}
