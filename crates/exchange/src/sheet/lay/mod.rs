//! A lay plan on paper: every offcut to scale on a page of its own, with measures from its edges and the order of cutting; or all
//! at true size, to be tiled.
//!
//! Says nothing of its own: words and figures come from [`LaySheet`].

mod picture;

use petitoile_core::LengthUnit;
use petitoile_core::kurbo::{Affine, Point};
use petitoile_core::laying::{LaySheet, OffcutSheet};
use petitoile_core::paper::PaperSettings;

use super::making::blocks::{Block, heading, lines, list, rule};
use super::making::flow::Flow;
use super::making::{GUTTER, SMALL, TEXT, TITLE, TWO_COLUMNS};
use crate::drawing::{Drawing, PieceDrawing, Sheet};
use crate::tiling::Pages;
use picture::{Looks, offcut_at};

/// Scales that are used, 1 to so many.
const SCALES: [f64; 16] = [
    1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0, 100.0,
];

/// Share of a page that the picture of an offcut takes at most, upwards.
const HIGH: f64 = 0.62;

/// Room below a picture, mm.
const BELOW: f64 = 4.0;

/// Every offcut to scale, its order of cutting below it; at the end what does not lie, the seams added, and the tally. The printer
/// correction is left out: what counts are the figures.
pub fn lay_pages(sheet: &LaySheet, paper: &PaperSettings, unit: LengthUnit) -> Pages {
    let paper = paper.clamped();
    let (width, height) = paper.page();
    let margin = paper.margin.0;
    let inner = width - 2.0 * margin;
    let columns = if inner >= TWO_COLUMNS { 2 } else { 1 };
    let column = (inner - GUTTER * f64::from(columns - 1)) / f64::from(columns);
    let title = format!("Lay plan: {}", sheet.title);
    let mut flow = Flow::new(&title, (width, height), margin, columns, column);
    flow.put_across(&head(&title, sheet, inner));
    for offcut in &sheet.offcuts {
        let most = flow.room() * HIGH;
        flow.put_across(&pictured(offcut, inner, most, unit));
        let order: Vec<String> = offcut.parts.iter().map(|part| part.words(unit)).collect();
        flow.put_section(&list("Order of cutting", &order, column));
        flow.next_page();
    }
    for section in closing(sheet, column) {
        flow.put_section(&section);
    }
    flow.pages()
}

/// Every offcut at true size with what lies on it, to be tiled: laid under the cloth, or cut apart as the pattern.
pub fn lay_true_size(sheet: &LaySheet, unit: LengthUnit) -> Sheet {
    let pieces = sheet
        .offcuts
        .iter()
        .map(|offcut| {
            let items = offcut_at(offcut, 1.0, &Looks::TRUE_SIZE, unit);
            let drawing = Drawing {
                title: offcut.offcut.name.clone(),
                items,
            };
            let bounds = drawing.bounds().unwrap_or_default();
            PieceDrawing {
                name: offcut.offcut.name.clone(),
                bounds: bounds.inflate(0.5, 0.5),
                drawing,
            }
        })
        .collect();
    Sheet {
        title: format!("Lay plan: {}", sheet.title),
        pieces,
    }
}

fn head(title: &str, sheet: &LaySheet, width: f64) -> Block {
    let mut items = Vec::new();
    let mut y = lines(&mut items, title, TITLE, 0.0, width, 0.0);
    y = lines(&mut items, &sheet.tally_words, TEXT, 0.0, width, y - 0.5);
    for fault in &sheet.faults {
        let words = format!("Do not cut yet: {fault}.");
        y = lines(&mut items, &words, TEXT, 0.0, width, y - 0.5);
    }
    for caution in &sheet.cautions {
        y = lines(&mut items, caution, SMALL, 0.0, width, y - 0.5);
    }
    y -= 1.6;
    items.push(rule(Point::new(0.0, y), Point::new(width, y)));
    Block {
        height: -y + 2.0,
        items,
    }
}

/// The name of an offcut and its picture, as large as there is room for.
fn pictured(offcut: &OffcutSheet, width: f64, most: f64, unit: LengthUnit) -> Block {
    let fits = |scale: &f64| {
        let items = offcut_at(offcut, 1.0 / scale, &Looks::TO_SCALE, unit);
        let drawing = Drawing {
            title: String::new(),
            items,
        };
        let bounds = drawing.bounds()?;
        let fits = bounds.width() <= width && bounds.height() <= most;
        fits.then_some((*scale, bounds, drawing.items))
    };
    let name = offcut.words(unit);
    let Some((scale, bounds, items)) = SCALES.iter().find_map(fits) else {
        return heading(&name, width);
    };
    let words = format!("{name}; 1 : {}", trimmed(scale));
    let mut block = heading(&words, width);
    let to = Affine::translate((
        (width - bounds.width()) / 2.0 - bounds.x0,
        -block.height - bounds.y1,
    ));
    block.items.extend(items.iter().map(|item| item.moved(to)));
    block.height += bounds.height() + BELOW;
    block
}

/// "2", "1.5".
fn trimmed(scale: f64) -> String {
    let words = format!("{scale:.2}");
    words.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn closing(sheet: &LaySheet, width: f64) -> [Vec<Block>; 3] {
    [
        list("Does not lie", &sheet.not_laid, width),
        list("Seams added", &sheet.seams, width),
        list("Cutting list", &sheet.tally, width),
    ]
}
