//! Words on a piece: where they have room, and how they are put there.

use egui::{Color32, FontId, Painter, Pos2, Rect, Vec2};

use super::OnScreen;
use crate::canvas::shapes::PieceShapes;
use crate::canvas::shown::ShownPiece;
use crate::theme::Palette;

/// Name and count on bare paper where they fit inside the stitch line, else just below the piece.
pub(super) fn words(
    painter: &Painter,
    piece: &ShownPiece,
    shapes: &PieceShapes,
    at: &OnScreen,
    palette: &Palette,
) {
    let middle = at.kurbo(piece.label_at);
    let inside = at.points(&shapes.stitch);
    let on_it = shapes.sew_lines.iter().chain(&shapes.marks);
    let lines_on: Vec<Vec<Pos2>> = on_it.map(|line| at.points(line)).collect();
    let lines =
        |size: f32, colour: Color32, wide: f32| words_of(painter, piece, size, colour, wide);
    for (size, shares) in [(15.0, [1.0, 0.62]), (12.0, [1.0, 0.7])] {
        for share in shares {
            let free = lines(size, palette.pencil, f32::INFINITY);
            let galley = lines(size, palette.pencil, (free.size().x * share).max(1.0));
            let half = 0.5 * galley.size() + Vec2::new(5.0, 2.0);
            let sewn = lines_on.iter().map(|line| beside(line, middle, half.y));
            let free = sewn.fold(room(&inside, middle, half.y), f32::min);
            if half.x <= free {
                let rect = Rect::from_center_size(middle, galley.size());
                painter.rect_filled(rect.expand2(Vec2::new(3.0, 0.0)), 2.0, palette.paper);
                painter.galley(Pos2::new(middle.x, rect.min.y), galley, palette.pencil);
                return;
            }
        }
    }
    let own = at.rect(piece.own);
    // Too far away to read anything: the list beside the table names the pieces.
    if own.width() < 28.0 {
        return;
    }
    let name = painter.layout_no_wrap(piece.name.clone(), FontId::proportional(12.0), palette.ink);
    painter.galley(
        Pos2::new(own.center().x - 0.5 * name.size().x, own.bottom() + 3.0),
        name,
        palette.ink,
    );
}

/// Name and, smaller, how many to cut, centred about x = 0.
fn words_of(
    painter: &Painter,
    piece: &ShownPiece,
    size: f32,
    colour: Color32,
    wide: f32,
) -> std::sync::Arc<egui::Galley> {
    let mut job = egui::text::LayoutJob {
        halign: egui::Align::Center,
        ..egui::text::LayoutJob::default()
    };
    let format = |size: f32| egui::TextFormat {
        font_id: FontId::proportional(size),
        color: colour,
        ..egui::TextFormat::default()
    };
    job.append(&piece.name, 0.0, format(size));
    job.append(&format!("\n{}", piece.to_cut), 0.0, format(size * 0.8));
    job.wrap.max_width = wide;
    painter.layout_job(job)
}

/// How far it is from a point sideways to the next line of a closed outline, at the point and `half` above and below;
/// nothing when one of these lies outside.
fn room(outline: &[Pos2], p: Pos2, half: f32) -> f32 {
    [-half, 0.0, half]
        .into_iter()
        .map(|dy| sideways(outline, Pos2::new(p.x, p.y + dy)))
        .fold(f32::INFINITY, f32::min)
}

/// How far it is from a point sideways to a line, looking only between `half` above and below.
fn beside(line: &[Pos2], p: Pos2, half: f32) -> f32 {
    let within = |a: Pos2, b: Pos2| -> Option<f32> {
        let (high, low) = (p.y - half, p.y + half);
        if a.y.max(b.y) < high || low < a.y.min(b.y) {
            return None;
        }
        let at = |y: f32| {
            let rise = b.y - a.y;
            if rise.abs() < 1e-3 {
                return a.x;
            }
            a.x + (b.x - a.x) * (y - a.y) / rise
        };
        let (from, to) = (at(a.y.clamp(high, low)), at(b.y.clamp(high, low)));
        let (from, to) = if (b.y - a.y).abs() < 1e-3 {
            (a.x, b.x)
        } else {
            (from, to)
        };
        if (from - p.x) * (to - p.x) <= 0.0 {
            return Some(0.0);
        }
        Some((from - p.x).abs().min((to - p.x).abs()))
    };
    line.windows(2)
        .filter_map(|pair| match pair {
            [a, b] => within(*a, *b),
            _ => None,
        })
        .fold(f32::INFINITY, f32::min)
}

fn sideways(outline: &[Pos2], p: Pos2) -> f32 {
    let (mut left, mut right, mut crossed) = (f32::INFINITY, f32::INFINITY, 0);
    let next = outline.iter().cycle().skip(1);
    for (a, b) in outline.iter().zip(next) {
        if (a.y <= p.y) == (b.y <= p.y) {
            continue;
        }
        let x = a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
        if x < p.x {
            left = left.min(p.x - x);
            crossed += 1;
        } else {
            right = right.min(x - p.x);
        }
    }
    if crossed % 2 == 1 {
        left.min(right)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_have_the_room_of_the_narrowest_line_they_cross() {
        // A trapezium, 20 wide on top, 60 at the bottom, 40 tall.
        let outline =
            [(20.0, 0.0), (40.0, 0.0), (60.0, 40.0), (0.0, 40.0)].map(|(x, y)| Pos2::new(x, y));
        let middle = Pos2::new(30.0, 20.0);
        assert_eq!(sideways(&outline, middle), 20.0);
        assert_eq!(room(&outline, middle, 10.0), 15.0);
        assert_eq!(room(&outline, middle, 25.0), 0.0);
        assert_eq!(sideways(&outline, Pos2::new(70.0, 20.0)), 0.0);
        // A buttonhole level with the words, a dart tip below them, a tuck through them.
        let line = |a: (f32, f32), b: (f32, f32)| [Pos2::new(a.0, a.1), Pos2::new(b.0, b.1)];
        let beside = |line: [Pos2; 2]| beside(&line, middle, 10.0);
        assert_eq!(beside(line((42.0, 22.0), (50.0, 22.0))), 12.0);
        assert_eq!(beside(line((30.0, 31.0), (28.0, 40.0))), f32::INFINITY);
        assert_eq!(beside(line((0.0, 18.0), (60.0, 18.0))), 0.0);
    }
}
