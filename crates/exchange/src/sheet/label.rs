//! Setting the label of a piece: inside it as large as there is room for, else beside it with a leader line.

use petitoile_core::finish::FinishedPiece;
use petitoile_core::kurbo::{
    BezPath, Circle, Line as Stroke, ParamCurveArclen, Point, Rect, Shape, Vec2,
};

use super::room::Room;
use super::words::Label;
use crate::drawing::{Ink, Item, Layer};
use crate::font;

/// Sizes that are tried, largest first; the last is the smallest that is still read with ease.
///
/// Our own choice, seen on prints at true scale: 1.8 mm are capitals of 1.3 mm.
const SIZES: [f64; 8] = [4.0, 3.4, 2.8, 2.5, 2.2, 2.0, 1.9, 1.8];

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
    let room = Room::new(&piece.stitch, &obstacles, 0.9);
    let head = heading(label);
    // One matter to a line first; where that has no room, all of it as one running text.
    let running = [label.lines.join("; ")];
    let listed = |size: f64, most: f64| set(&head, &label.lines, size, most);
    let run_on = |size: f64, most: f64| set(&head, &running, size, most);
    let tries = [
        fit(&room, piece.label_at, &[1.0, 0.8, 0.65, 0.5], listed),
        fit(
            &room,
            piece.label_at,
            &[0.4, 0.33, 0.28, 0.24, 0.2, 0.17, 0.14, 0.12, 0.1],
            run_on,
        ),
    ];
    if let Some(items) = tries.into_iter().flatten().next() {
        return items;
    }
    let mut items = beside(label, piece);
    // The number alone tells which piece it is, wherever the cut-out label has gone.
    let short = [head.clone(), label.number.clone()];
    let inside = short.iter().find_map(|words| {
        let alone = |size: f64, most: f64| set(words, &[], size / HEADING, most);
        fit(&room, piece.label_at, &[1.0, 0.6], alone)
    });
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
fn fit(
    room: &Room,
    near: Point,
    shares: &[f64],
    setting: impl Fn(f64, f64) -> Block,
) -> Option<Vec<Item>> {
    for size in SIZES
        .into_iter()
        .filter(|size| *size <= 2.8 || room.narrow() >= 40.0 * size)
    {
        let mut blocks = Vec::new();
        let widest = setting(size, f64::INFINITY).width;
        for share in shares {
            let block = setting(size, widest * share);
            if *share < 1.0 && block.width > widest * share * 1.3 {
                break; // single words are wider than that
            }
            blocks.push(block);
        }
        // Upright in any width before turned in any width: nobody likes to turn the head.
        for turned in [false, true] {
            for block in &blocks {
                let (width, height) = if turned {
                    (block.height, block.width)
                } else {
                    (block.width, block.height)
                };
                if let Some(rect) = room.nearest(width, height, near) {
                    return Some(items_of(block, rect, turned));
                }
            }
        }
    }
    None
}

fn set(heading: &str, lines: &[String], size: f64, most: f64) -> Block {
    let mut all: Vec<(f64, String)> = Vec::new();
    all.extend(
        font::broken(heading, size * HEADING, most)
            .into_iter()
            .map(|line| (size * HEADING, line)),
    );
    for line in lines {
        all.extend(
            font::broken(line, size, most)
                .into_iter()
                .map(|line| (size, line)),
        );
    }
    let width = all
        .iter()
        .map(|(size, line)| font::width(line, *size))
        .fold(0.0, f64::max);
    let height = all.iter().map(|(size, _)| size * font::LINE_STEP).sum();
    Block {
        lines: all,
        width,
        height,
    }
}

/// The lines of a block in a rectangle, each in the middle; turned blocks are read from the right.
fn items_of(block: &Block, rect: Rect, turned: bool) -> Vec<Item> {
    let (right, down, turn) = if turned {
        (Vec2::new(0.0, 1.0), Vec2::new(1.0, 0.0), 90.0)
    } else {
        (Vec2::new(1.0, 0.0), Vec2::new(0.0, -1.0), 0.0)
    };
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
fn beside(label: &Label, piece: &FinishedPiece) -> Vec<Item> {
    let cut = piece.cut.bounding_box();
    let (gap, size) = (3.0, 2.0);
    let (block, corner, foot) = if cut.height() > cut.width() {
        let block = set(&heading(label), &label.lines, size, 34.0);
        let y = (piece.label_at.y - block.height / 2.0)
            .clamp(cut.y0, (cut.y1 - block.height).max(cut.y0));
        let corner = Point::new(cut.x1 + gap, y);
        let foot = Point::new(cut.x1 + gap - 1.0, y + block.height / 2.0);
        (block, corner, foot)
    } else {
        let running = [label.lines.join("; ")];
        let block = set(&heading(label), &running, size, cut.width().max(40.0));
        let x = (piece.label_at.x - block.width / 2.0)
            .clamp(cut.x0, (cut.x1 - block.width).max(cut.x0));
        let corner = Point::new(x, cut.y0 - gap - block.height);
        let foot = Point::new(x + block.width / 2.0, cut.y0 - gap + 0.5);
        (block, corner, foot)
    };
    let rect = Rect::from_origin_size(corner, (block.width, block.height));
    let end = leader_end(foot, piece);
    let mut leader = BezPath::new();
    leader.move_to(foot);
    leader.line_to(end);
    let mut items = items_of(&block, rect, false);
    items.push(Item::stroke(Layer::Text, leader, 0.12));
    items.push(Item::fill(
        Layer::Text,
        Circle::new(end, 0.4).to_path(0.001),
    ));
    items
}

/// A little inside the cut line, straight above or to the left of the label; else the middle of the piece.
fn leader_end(foot: Point, piece: &FinishedPiece) -> Point {
    let cut = piece.cut.bounding_box();
    let towards = if foot.x > cut.x1 {
        Vec2::new(-1.0, 0.0)
    } else {
        Vec2::new(0.0, 1.0)
    };
    let ray = Stroke::new(foot, foot + towards * (cut.width() + cut.height() + 10.0));
    let hits = piece
        .cut
        .segments()
        .flat_map(|part| part.intersect_line(ray))
        .map(|hit| hit.line_t * ray.arclen(0.1));
    let first = hits.fold(f64::INFINITY, f64::min);
    if first.is_finite() {
        foot + towards * (first + 2.5)
    } else {
        piece.label_at
    }
}
