//! What a making sheet is made of: blocks of lines and pictures that are never torn apart.

use petitoile_core::LengthUnit;
use petitoile_core::kurbo::{BezPath, Point, Rect, Shape};
use petitoile_core::making_order::By;
use petitoile_core::making_sheet::{MakingSheet, SheetStep};

use super::picture::drawn;
use super::{HEADING, SMALL, TEXT, TITLE};
use crate::drawing::{Item, Layer};
use crate::font;

/// Something that is set as a whole. Its upper left corner is the origin, y up.
#[derive(Debug, Clone, Default)]
pub(in crate::sheet) struct Block {
    /// Room it takes downwards, with the room below it.
    pub(in crate::sheet) height: f64,
    /// What it shows.
    pub(in crate::sheet) items: Vec<Item>,
}

/// Side of a box to tick, mm.
const BOX: f64 = 4.0;
/// Room a little picture takes at most, mm.
const PICTURE: (f64, f64) = (30.0, 26.0);
/// Up to this many pieces are shown beside the text.
const BESIDE: usize = 3;
/// Height of a picture below the text at most, mm.
const BELOW: f64 = 45.0;
/// Stroke of rules and boxes, mm.
const FINE: f64 = 0.25;
/// Room between blocks, mm.
const GAP: f64 = 1.6;

/// Lines of text from a height downwards; gives where the next line would begin.
pub(in crate::sheet) fn lines(
    items: &mut Vec<Item>,
    words: &str,
    size: f64,
    left: f64,
    width: f64,
    from: f64,
) -> f64 {
    let mut y = from;
    for line in font::broken(words, size, width) {
        y -= size * font::LINE_STEP;
        items.push(Item::text(
            Layer::Text,
            Point::new(left, y + size * font::DESCENT),
            size,
            line,
        ));
    }
    y
}

pub(in crate::sheet) fn rule(from: Point, to: Point) -> Item {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    Item::stroke(Layer::Page, path, FINE)
}

/// Title, progress and stitch length.
pub(super) fn title(title: &str, sheet: &MakingSheet, width: f64) -> Block {
    let mut items = Vec::new();
    let mut y = lines(&mut items, title, TITLE, 0.0, width, 0.0);
    let mut second = format!("{}; {}", sheet.fitting, sheet.progress_words());
    if let Some(lining) = sheet.lining {
        second.push_str("; lining: ");
        second.push_str(&lining.label().to_lowercase());
    }
    y = lines(&mut items, &second, TEXT, 0.0, width, y - 0.5);
    y -= 1.6;
    items.push(rule(Point::new(0.0, y), Point::new(width, y)));
    Block {
        height: -y + 3.0,
        items,
    }
}

pub(in crate::sheet) fn heading(words: &str, width: f64) -> Block {
    let mut items = Vec::new();
    let y = lines(&mut items, words, HEADING, 0.0, width, -1.0);
    Block {
        height: -y + 0.6,
        items,
    }
}

/// A line with a dash before it.
fn entry(words: &str, size: f64, width: f64) -> Block {
    const INDENT: f64 = 3.0;
    let mut items = vec![Item::text(
        Layer::Text,
        Point::new(0.0, -size * font::LINE_STEP + size * font::DESCENT),
        size,
        "\u{2013}",
    )];
    let y = lines(&mut items, words, size, INDENT, width - INDENT, 0.0);
    Block {
        height: -y + 0.5,
        items,
    }
}

/// A heading and its lines; nothing when there are none.
pub(in crate::sheet) fn list(name: &str, entries: &[String], width: f64) -> Vec<Block> {
    section(name, width, entries.iter().map(|e| entry(e, TEXT, width)))
}

fn section(name: &str, width: f64, blocks: impl Iterator<Item = Block>) -> Vec<Block> {
    let mut all: Vec<Block> = std::iter::once(heading(name, width))
        .chain(blocks)
        .collect();
    match all.last_mut() {
        Some(last) => last.height += 2.0 * GAP,
        None => return Vec::new(),
    }
    if all.len() == 1 { Vec::new() } else { all }
}

/// What is needed, each with a box to tick.
pub(super) fn materials(sheet: &MakingSheet, width: f64, unit: LengthUnit) -> Vec<Block> {
    let stitches = entry(&sheet.stitches.words(unit), TEXT, width);
    let each = sheet
        .materials
        .iter()
        .map(|material| entry(&material.words(unit), TEXT, width));
    section("What you need", width, each.chain([stitches]))
}

/// The cutting list as a table: piece, how many, size; a heading for every cloth.
pub(super) fn cutting(sheet: &MakingSheet, width: f64, unit: LengthUnit) -> Vec<Block> {
    let (count, size) = (width * 0.38, width * 0.72);
    let row = |cells: [&str; 3], text: f64| {
        let mut items = Vec::new();
        let mut low: f64 = 0.0;
        for (words, left, wide) in [
            (cells[0], 0.0, count - 2.0),
            (cells[1], count, size - count - 2.0),
            (cells[2], size, width - size),
        ] {
            low = low.min(lines(&mut items, words, text, left, wide, 0.0));
        }
        let y = low - 0.5;
        items.push(rule(Point::new(0.0, y), Point::new(width, y)));
        Block {
            height: -y + 0.4,
            items,
        }
    };
    let mut blocks = vec![row(["Piece", "Cut", "Along x across grain"], SMALL)];
    let mut cloth = String::new();
    for cut in &sheet.cutting {
        let words = cut.cloth_words();
        if words != cloth {
            let mut items = Vec::new();
            let y = lines(&mut items, &words, SMALL, 0.0, width, -0.6);
            blocks.push(Block {
                height: -y + 0.4,
                items,
            });
            cloth = words;
        }
        blocks.push(row(
            [&cut.piece, &cut.count_words(), &cut.size_words(unit)],
            TEXT,
        ));
    }
    if sheet.cutting.is_empty() {
        return Vec::new();
    }
    section("Cutting list", width, blocks.into_iter())
}

/// Where curves are clipped and notched out.
pub(super) fn curves(sheet: &MakingSheet, width: f64, unit: LengthUnit) -> Vec<Block> {
    let each = sheet
        .curves
        .iter()
        .map(|curve| entry(&curve.words(unit), SMALL, width));
    section("Curves", width, each)
}

/// Every step with its box and picture.
pub(super) fn steps(sheet: &MakingSheet, width: f64) -> Vec<Block> {
    section(
        "Steps",
        width,
        sheet.steps.iter().map(|one| step(one, width)),
    )
}

fn step(step: &SheetStep, width: f64) -> Block {
    let mut items = tick_box(step.done);
    let left = BOX + 2.0;
    let shown = step.picture.as_ref().filter(|p| !p.pieces.is_empty());
    // Many pieces need the whole width: below the text instead of beside it.
    let is_below = shown.is_some_and(|p| p.pieces.len() > BESIDE);
    let most = if is_below {
        (width - left, BELOW)
    } else {
        PICTURE
    };
    let picture = shown.map(|picture| drawn(picture, most));
    let aside = if picture.is_some() && !is_below {
        PICTURE.0 + 2.0
    } else {
        0.0
    };
    let text = width - left - aside;
    let sentence = format!("{}. {}", step.number, step.sentence);
    let mut y = lines(&mut items, &sentence, TEXT, left, text, 0.0);
    let by = match step.by {
        By::Hand => "By hand",
        By::Machine => "By machine",
    };
    let by = if step.by_why.is_empty() {
        format!("{by}.")
    } else {
        format!("{by}: {}", step.by_why)
    };
    let notes = step.notes.iter().chain(&step.cautions);
    for words in notes.chain(is_sewn(step).then_some(&by)) {
        y = lines(&mut items, words, SMALL, left, text, y - 0.3);
    }
    if let Some((drawing, size)) = picture {
        let down = if is_below { y - 1.5 } else { -0.5 };
        let at = Point::new(width - most.0 + (most.0 - size.width) / 2.0, down);
        let to = petitoile_core::kurbo::Affine::translate(at.to_vec2());
        items.extend(drawing.iter().map(|item| item.moved(to)));
        y = y.min(down - size.height - 0.5);
    }
    y = y.min(-BOX);
    let y = y - GAP / 2.0;
    items.push(rule(Point::new(0.0, y), Point::new(width, y)));
    Block {
        height: -y + GAP,
        items,
    }
}

/// Is a needle in hand at all?
fn is_sewn(step: &SheetStep) -> bool {
    !step.by_why.is_empty()
}

/// A box, ticked when the step is done.
fn tick_box(done: bool) -> Vec<Item> {
    let frame = Rect::new(0.2, -BOX - 0.2, BOX + 0.2, -0.2);
    let mut items = vec![Item::stroke(Layer::Marks, frame.to_path(0.1), 0.35)];
    if done {
        let mut tick = BezPath::new();
        tick.move_to((frame.x0 + 0.8, frame.y0 + 2.0));
        tick.line_to((frame.x0 + 1.7, frame.y0 + 0.9));
        tick.line_to((frame.x1 - 0.5, frame.y1 - 0.6));
        items.push(Item::stroke(Layer::Marks, tick, 0.6));
    }
    items
}
