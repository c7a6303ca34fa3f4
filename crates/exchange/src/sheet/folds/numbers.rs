//! On the piece: an arrow from every fold to where it is laid, and the number of every pleat.

use petitoile_core::fullness::FillLine;
use petitoile_core::kurbo::Point;

use super::super::symbols;
use crate::drawing::{Item, Layer};
use crate::font;

/// Size of a number, mm.
const SIZE: f64 = 1.6;

/// Where pleats are too narrow for a number each, every so many bear one.
const EVERY: u32 = 5;

/// How far down its line a number stands, as a share of the line.
const DOWN: f64 = 0.08;

/// Arrows and numbers of the lines of one piece.
pub(super) fn on_lines(lines: &[FillLine]) -> Vec<Item> {
    let mut items: Vec<Item> = lines
        .iter()
        .filter_map(|line| line.arrow)
        .flat_map(|(from, to)| symbols::arrow(from, to))
        .collect();
    for (i, line) in lines.iter().enumerate() {
        let first = line.pleat > 0
            && i.checked_sub(1)
                .and_then(|before| lines.get(before))
                .is_none_or(|before| (before.op, before.pleat) != (line.op, line.pleat));
        let next = lines
            .get(i + 1)
            .filter(|next| (next.op, next.pleat) == (line.op, line.pleat));
        if let (true, Some(next)) = (first, next) {
            items.extend(number(line, next));
        }
    }
    items
}

/// The number of a pleat between its first two lines, turned along the edge.
fn number(first: &FillLine, second: &FillLine) -> Option<Item> {
    let (a, b) = (first.line.at(DOWN), second.line.at(DOWN));
    let words = first.pleat.to_string();
    let has_room = font::width("88", SIZE) + 0.4 <= (b - a).hypot();
    let is_told = has_room || first.pleat == 1 || first.pleat.is_multiple_of(EVERY);
    is_told.then(|| {
        let at: Point = a.midpoint(b);
        Item::text(Layer::Marks, at - (0.0, 0.36 * SIZE), SIZE, words).centred()
    })
}
