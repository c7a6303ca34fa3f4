//! Where each piece lies on the table: side by side, in the maker's order. A pure function.
//!
//! The number of rows follows from the number of pieces alone, so that nothing jumps while a slider moves.

use kurbo::{Rect, Vec2};

/// Cloth left free between two pieces, as a share of the mean size of a piece.
const GAP: f64 = 0.12;

/// How far to move each piece so that they lie side by side in rows, hanging from the same line in each row.
pub fn side_by_side(pieces: &[Rect]) -> Vec<Vec2> {
    let count = pieces.len();
    if count == 0 {
        return Vec::new();
    }
    let mean = pieces
        .iter()
        .map(|r| r.width().max(r.height()))
        .sum::<f64>()
        / count as f64;
    let gap = mean * GAP + 4.0;
    let per_row = in_a_row(count);
    let mut moves = Vec::with_capacity(count);
    let mut top = 0.0;
    for row in pieces.chunks(per_row) {
        let mut left = 0.0;
        for r in row {
            moves.push(Vec2::new(left - r.x0, top - r.y1));
            left += r.width() + gap;
        }
        top -= row.iter().map(Rect::height).fold(0.0, f64::max) + gap;
    }
    moves
}

/// Pieces that lay somewhere stay there; new ones lie in a row to the right of all others, hanging from their top line.
///
/// A piece that has grown over its neighbour stays: the hand that drew it there sees it, and Show all sorts it.
pub fn as_before(pieces: &[Rect], lay: &[Option<Vec2>]) -> Vec<Vec2> {
    let there = pieces
        .iter()
        .zip(lay)
        .filter_map(|(r, by)| by.map(|by| *r + by))
        .reduce(|a, b| a.union(b));
    let Some(there) = there else {
        return side_by_side(pieces);
    };
    let gap = there.height() * GAP + 4.0;
    let mut left = there.x1 + gap;
    pieces
        .iter()
        .zip(lay)
        .map(|(r, by)| {
            by.unwrap_or_else(|| {
                let by = Vec2::new(left - r.x0, there.y1 - r.y1);
                left += r.width() + gap;
                by
            })
        })
        .collect()
}

/// How many pieces in a row: a little wider than high.
fn in_a_row(count: usize) -> usize {
    let rows = (1..=count)
        .find(|rows| rows * rows * 2 >= count)
        .unwrap_or(1);
    count.div_ceil(rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_pieces_lie_on_one_another() {
        for count in [1, 2, 5, 12, 50] {
            let pieces: Vec<Rect> = (0..count)
                .map(|i| {
                    Rect::new(
                        -7.0 * f64::from(i),
                        3.0,
                        20.0 + f64::from(i * 13 % 40),
                        30.0 + f64::from(i * 7 % 90),
                    )
                })
                .collect();
            let placed: Vec<Rect> = pieces
                .iter()
                .zip(side_by_side(&pieces))
                .map(|(r, by)| *r + by)
                .collect();
            for (i, a) in placed.iter().enumerate() {
                for b in placed.iter().skip(i + 1) {
                    let both = a.intersect(*b);
                    assert!(
                        both.width() <= 0.0 || both.height() <= 0.0,
                        "{count}: {a:?} on {b:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_piece_that_grows_moves_its_neighbours_but_changes_no_row() {
        let small: Vec<Rect> = (0..8).map(|_| Rect::new(0.0, 0.0, 30.0, 50.0)).collect();
        let mut large = small.clone();
        if let Some(first) = large.first_mut() {
            first.x1 = 60.0;
        }
        let rows = |pieces: &[Rect]| {
            side_by_side(pieces)
                .windows(2)
                .map(|w| matches!(w, [a, b] if a.x < b.x))
                .collect::<Vec<_>>()
        };
        assert_eq!(rows(&small), rows(&large));
    }
}
