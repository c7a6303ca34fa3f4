//! A strip at true scale with every fold of an edge: laid along the cloth, it marks or folds the pleats.

use petitoile_core::LengthUnit;
use petitoile_core::fullness::{FillLineKind, Fold, Pleat};
use petitoile_core::kurbo::{BezPath, Point, Rect, Shape};

use super::super::{CUT_STROKE, MARK_STROKE, STITCH_STROKE, symbols};
use super::Stretch;
use crate::drawing::{Drawing, Item, Layer, PieceDrawing};
use crate::font;

/// Height of the strip, mm.
pub const HEIGHT: f64 = 24.0;

/// Size of the words below it, mm.
const WORDS: f64 = 2.6;

/// Size of the numbers in it, mm.
const NUMBER: f64 = 2.2;

/// Rows in which arrows of neighbours are set, so that they stay apart.
const ROWS: [f64; 3] = [11.0, 7.5, 4.0];

/// The strip of a folded edge: the drawn-in edge at the top, right side up, so it starts at the right end.
pub(super) fn strip(stretch: &Stretch<'_>, unit: LengthUnit) -> PieceDrawing {
    let cloth = stretch.folded.cloth.0;
    let border = Rect::new(0.0, 0.0, cloth, HEIGHT).to_path(0.1);
    let mut items = vec![Item::stroke(Layer::CutLines, border, CUT_STROKE)];
    for pleat in &stretch.folded.pleats {
        items.extend(
            pleat
                .folds
                .iter()
                .map(|fold| line(cloth - fold.on_cloth.0, fold)),
        );
        items.extend(arrows(pleat, cloth));
        items.extend(number(pleat, cloth));
    }
    items.extend(words(stretch, unit));
    let name = format!("pleat template: {}", stretch.place());
    let drawing = Drawing {
        title: name.clone(),
        items,
    };
    let bounds = drawing.bounds().unwrap_or_default().inflate(0.5, 0.5);
    PieceDrawing {
        name,
        bounds,
        drawing,
    }
}

/// One line across the strip: a fold that is seen solid, a hidden one dashed, where it is laid dash and dot.
fn line(x: f64, fold: &Fold) -> Item {
    let mut path = BezPath::new();
    path.move_to((x, 0.0));
    path.line_to((x, HEIGHT));
    match fold.kind {
        FillLineKind::Fold => Item::stroke(Layer::Marks, path, 0.35),
        FillLineKind::Under => Item::dashed(Layer::Marks, path, MARK_STROKE, &[3.0, 1.5]),
        FillLineKind::Placement => {
            Item::dashed(Layer::Marks, path, MARK_STROKE, &[4.0, 1.0, 1.0, 1.0])
        }
        FillLineKind::Stitch | FillLineKind::Gather => {
            Item::dashed(Layer::StitchLines, path, STITCH_STROKE, &[1.2, 0.8])
        }
    }
}

fn arrows(pleat: &Pleat, cloth: f64) -> Vec<Item> {
    let rows = ROWS.len() as u32;
    let row = (pleat.number % rows) as usize;
    let y = ROWS.get(row).copied().unwrap_or_default();
    pleat
        .folds
        .iter()
        .filter_map(|fold| Some((fold.on_cloth.0, fold.to?.0)))
        .flat_map(|(from, to)| {
            symbols::arrow(Point::new(cloth - from, y), Point::new(cloth - to, y))
        })
        .collect()
}

/// The number of a pleat between its first two lines; where numbers would touch, every fifth.
fn number(pleat: &Pleat, cloth: f64) -> Option<Item> {
    let (first, second) = (
        pleat.folds.first()?.on_cloth.0,
        pleat.folds.get(1)?.on_cloth.0,
    );
    let words = pleat.number.to_string();
    let has_room = font::width(&words, NUMBER) + 0.6 <= (second - first).abs();
    (has_room || pleat.number == 1 || pleat.number.is_multiple_of(5)).then(|| {
        let x = cloth - first.midpoint(second);
        Item::text(Layer::Text, Point::new(x, HEIGHT - 4.0), NUMBER, words).centred()
    })
}

/// What it is, how it is used, what its lines mean.
fn words(stretch: &Stretch<'_>, unit: LengthUnit) -> Vec<Item> {
    let folded = &stretch.folded;
    let lines = [
        format!(
            "Pleat template: {}. {}. Cloth {} folds to {}.",
            stretch.place(),
            stretch.words(unit),
            unit.show_computed(folded.cloth),
            unit.show_computed(folded.finished)
        ),
        "Right side up, the drawn-in edge at the top; count from the right end. Solid: fold. Dashed: fold behind. \
         Dash and dot: lay the fold here. Short dashes: stitch."
            .to_owned(),
        "Take care with the iron: hot metal burns fingers and melts vinyl, resin and many fibres. Test on a scrap, \
         off the doll; what iron and cloth say on their labels goes first."
            .to_owned(),
    ];
    let most = folded.cloth.0.clamp(120.0, 180.0);
    let mut y = 0.0;
    let mut items = Vec::new();
    for words in lines {
        for line in font::broken(&words, WORDS, most) {
            y -= WORDS * font::LINE_STEP;
            items.push(Item::text(
                Layer::Text,
                Point::new(0.0, y - 0.6),
                WORDS,
                line,
            ));
        }
    }
    items
}
