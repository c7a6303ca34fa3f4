//! Setting the label of a piece: inside it as large as there is room for, else beside it with a leader line.

use petitoile_core::finish::FinishedPiece;
use petitoile_core::kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

use super::room::Room;
use super::words::Label;
use crate::drawing::{Ink, Item, Layer};
use crate::font;

/// Sizes that are tried, largest first; the last is the smallest that is still read with ease.
///
/// Our own choice, seen on prints at true scale: 1.8 mm are capitals of 1.3 mm.
const SIZES: [f64; 7] = [3.4, 3.0, 2.6, 2.3, 2.1, 1.9, 1.8];

/// The heading is this much larger than the rest.
const HEADING: f64 = 1.3;

/// Lines set under each other.
struct Block {
    lines: Vec<(f64, String)>,
    width: f64,
    height: f64,
}

/// Sets the label. `drawn` is what the piece already carries, kept clear of words.
pub(super) fn place(label: &Label, piece: &FinishedPiece, drawn: &[Item]) -> Vec<Item> {
    let obstacles: Vec<BezPath> = drawn.iter().skip(2).map(outline_of).collect();
    let room = Room::new(&piece.stitch, &obstacles, 1.0);
    let full = |size: f64, most: f64| set(&heading(label), &label.lines, size, most);
    if let Some(items) = fit(&room, piece.label_at, full) {
        return items;
    }
    let mut items = beside(&full(2.1, 48.0), piece);
    // The number alone tells which piece it is, wherever the cut-out label has gone.
    let short = [format!("{} {}", label.number, label.name), label.number.clone()];
    let inside = short.iter().find_map(|words| fit(&room, piece.label_at, |size, _| set(words, &[], size / HEADING, f64::INFINITY)));
    items.extend(inside.unwrap_or_default());
    items
}

fn heading(label: &Label) -> String {
    format!("{}  {}", label.number, label.name)
}

/// What an item covers, for keeping clear of it.
fn outline_of(item: &Item) -> BezPath {
    match &item.ink {
        Ink::Stroke { path, .. } | Ink::Fill(path) => path.clone(),
        Ink::Text { .. } => item.bounds().to_path(0.1),
    }
}

/// The largest setting that has room: for each size first wide, then narrower, upright before turned.
fn fit(room: &Room, near: Point, setting: impl Fn(f64, f64) -> Block) -> Option<Vec<Item>> {
    for size in SIZES {
        let widest = setting(size, f64::INFINITY).width;
        for share in [1.0, 0.8, 0.65, 0.5, 0.4, 0.3, 0.22, 0.16, 0.12] {
            let block = setting(size, widest * share);
            if share < 1.0 && block.width > widest * share * 1.3 {
                break; // single words are wider than that
            }
            for turned in [false, true] {
                let (width, height) = if turned { (block.height, block.width) } else { (block.width, block.height) };
                if let Some(rect) = room.nearest(width, height, near) {
                    return Some(items_of(&block, rect, turned));
                }
            }
        }
    }
    None
}

fn set(heading: &str, lines: &[String], size: f64, most: f64) -> Block {
    let mut all: Vec<(f64, String)> = Vec::new();
    all.extend(font::broken(heading, size * HEADING, most).into_iter().map(|line| (size * HEADING, line)));
    for line in lines {
        all.extend(font::broken(line, size, most).into_iter().map(|line| (size, line)));
    }
    let width = all.iter().map(|(size, line)| font::width(line, *size)).fold(0.0, f64::max);
    let height = all.iter().map(|(size, _)| size * font::LINE_STEP).sum();
    Block { lines: all, width, height }
}

/// The lines of a block in a rectangle, each in the middle; turned blocks are read from the right.
fn items_of(block: &Block, rect: Rect, turned: bool) -> Vec<Item> {
    let (right, down, turn) =
        if turned { (Vec2::new(0.0, 1.0), Vec2::new(1.0, 0.0), 90.0) } else { (Vec2::new(1.0, 0.0), Vec2::new(0.0, -1.0), 0.0) };
    let top = rect.center() - down * (block.height / 2.0);
    let mut depth = 0.0;
    let mut items = Vec::new();
    for (size, line) in &block.lines {
        depth += size * font::LINE_STEP;
        let at = top + down * (depth - size * 0.35) - right * (font::width(line, *size) / 2.0);
        items.push(Item::text(Layer::Text, at, *size, line.clone()).turned(turn));
    }
    items
}

/// The label to the right of a tall piece or below a wide one, with a line that leads to it.
fn beside(block: &Block, piece: &FinishedPiece) -> Vec<Item> {
    let cut = piece.cut.bounding_box();
    let gap = 4.0;
    let (corner, foot) = if cut.height() > cut.width() {
        let y = (piece.label_at.y - block.height / 2.0).clamp(cut.y0, (cut.y1 - block.height).max(cut.y0));
        (Point::new(cut.x1 + gap, y), Point::new(cut.x1 + gap - 1.0, y + block.height / 2.0))
    } else {
        let x = (piece.label_at.x - block.width / 2.0).clamp(cut.x0, (cut.x1 - block.width).max(cut.x0));
        (Point::new(x, cut.y0 - gap - block.height), Point::new(x + block.width / 2.0, cut.y0 - gap + 1.0))
    };
    let rect = Rect::from_origin_size(corner, (block.width, block.height));
    let mut leader = BezPath::new();
    leader.move_to(foot);
    leader.line_to(piece.label_at);
    let mut items = items_of(block, rect, false);
    items.push(Item::stroke(Layer::Text, leader, 0.15));
    items.push(Item::fill(Layer::Text, Circle::new(piece.label_at, 0.5).to_path(0.001)));
    items
}
