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

/// Rows on one drawing.
const ROWS: usize = 50;

/// Where the cells of a row start, and how wide a row is, mm.
const CELLS: [f64; 7] = [0.0, 9.0, 27.0, 45.0, 60.0, 78.0, 100.0];
const WIDTH: f64 = 160.0;

/// What stands above them.
const HEAD: [&str; 7] = [
    "No.",
    "cloth from",
    "cloth to",
    "depth",
    "on the edge",
    "lies",
    "folds behind, on the cloth",
];

/// Tables of all pleats of an edge, as many as they need.
pub(super) fn tables(stretch: &Stretch<'_>, unit: LengthUnit) -> Vec<PieceDrawing> {
    let pleats = &stretch.folded.pleats;
    pleats
        .chunks(ROWS)
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
            unit.show_computed(stretch.folded.cloth),
            unit.show_computed(stretch.folded.finished),
            unit.show(unit.rule_step())
        ),
    ));
    items.extend(rows(pleats, unit));
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

fn rows(pleats: &[Pleat], unit: LengthUnit) -> Vec<Item> {
    let mut y = -2.4 * STEP;
    let mut items = row(y, HEAD.map(str::to_owned));
    let mut rule = BezPath::new();
    rule.move_to((0.0, y - 0.9));
    rule.line_to((WIDTH, y - 0.9));
    items.push(Item::stroke(Layer::Page, rule, 0.15));
    y -= 0.4;
    for pleat in pleats {
        y -= STEP;
        items.extend(row(
            y,
            [
                pleat.number.to_string(),
                unit.show_on_rule(pleat.from),
                unit.show_on_rule(pleat.to),
                unit.show_chosen(pleat.depth),
                unit.show_on_rule(pleat.at),
                way_words(pleat.lies).to_owned(),
                pleat.behind_words(unit),
            ],
        ));
    }
    items
}

fn row(y: f64, cells: [String; 7]) -> Vec<Item> {
    CELLS
        .iter()
        .zip(cells)
        .map(|(x, words)| text(*x, y, SIZE, words))
        .collect()
}

fn text(x: f64, y: f64, size: f64, words: impl Into<String>) -> Item {
    Item::text(Layer::Text, Point::new(x, y), size, words)
}
