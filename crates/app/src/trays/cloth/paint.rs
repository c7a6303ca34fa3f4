//! Puts cloth and pieces on the screen. No decisions: everything has been chosen before it comes here.

use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2};
use kurbo::Point;
use petitoile_core::LengthUnit;

use super::laid::{Lines, OnTable};
use super::woven::{self, Woven};
use crate::canvas;
pub use crate::canvas::brush::Brush;
use crate::canvas::paint::Sign;
use crate::theme::blend;

/// One offcut: cloth, threads, holes and blemishes, its name and directions.
pub fn cloth(brush: &Brush<'_>, woven: &mut Woven, cloth: &OnTable, chosen: bool, words: &str) {
    let palette = brush.palette;
    let outline: Vec<Point> = cloth
        .left
        .outline
        .iter()
        .map(|p| *p + cloth.moved)
        .collect();
    if chosen {
        brush.closed(&outline, Stroke::new(6.0, palette.chosen));
    }
    let mut ready_usable = Vec::new();
    if let Some(ready) = woven.of(&cloth.left, brush.view.scale) {
        ready_usable.clone_from(&ready.usable);
        brush.mesh(&ready.fill, cloth.moved, palette.cloth);
        for (threads, width) in [(&ready.warp, 1.1), (&ready.weft, 0.6)] {
            let stroke = Stroke::new(width, palette.thread);
            for (a, b) in threads {
                let ends = [brush.at(*a + cloth.moved), brush.at(*b + cloth.moved)];
                brush.painter.line_segment(ends, stroke);
            }
        }
    }
    for blemish in &cloth.left.blemishes {
        let place: Vec<Point> = blemish.outline.iter().map(|p| *p + cloth.moved).collect();
        if blemish.is_hole {
            brush.fill(&place, palette.table);
            brush.closed(&place, Stroke::new(1.4, palette.pencil));
        } else {
            let tint = blend(palette.cloth, palette.care, 0.45);
            brush.fill(&place, tint);
            let mut ends = brush.all(&place);
            ends.extend(ends.first().copied());
            brush.dashed(&ends, Stroke::new(1.4, palette.pencil), 4.0, 3.0);
        }
    }
    for usable in &ready_usable {
        let mut ends: Vec<Pos2> = usable.iter().map(|p| brush.at(*p + cloth.moved)).collect();
        ends.extend(ends.first().copied());
        brush.dashed(&ends, Stroke::new(1.0, palette.pencil), 2.0, 5.0);
    }
    brush.closed(&outline, Stroke::new(1.6, palette.pencil));
    caption(brush, cloth, words);
}

/// An offcut over the photo it was traced in: its lines only.
pub fn drawn_cloth(brush: &Brush<'_>, cloth: &OnTable, words: &str) {
    let palette = brush.palette;
    let outlines = std::iter::once(&cloth.left.outline)
        .chain(cloth.left.blemishes.iter().map(|blemish| &blemish.outline));
    for outline in outlines {
        let on_table: Vec<Point> = outline.iter().map(|p| *p + cloth.moved).collect();
        brush.closed(&on_table, Stroke::new(4.0, palette.paper));
        brush.closed(&on_table, Stroke::new(2.0, palette.stitch));
    }
    caption(brush, cloth, words);
}

/// Name above the upper left corner, and which way the warp runs.
fn caption(brush: &Brush<'_>, cloth: &OnTable, words: &str) {
    let palette = brush.palette;
    let rect = brush.rect(cloth.bounds);
    let font = FontId::proportional(12.5);
    let text = brush
        .painter
        .layout_no_wrap(words.to_owned(), font, palette.ink);
    let room = rect.width() - 30.0;
    let galley = if text.size().x <= room {
        text
    } else {
        let short = cloth.offcut.name.clone();
        brush.painter.layout(
            short,
            FontId::proportional(12.5),
            palette.ink,
            room.max(50.0),
        )
    };
    let corner = Pos2::new(rect.left() + 28.0, rect.top() - galley.size().y - 4.0);
    brush.painter.galley(corner, galley, palette.ink);
    let middle = Pos2::new(rect.left() + 12.0, rect.top() - 14.0);
    let warp = woven::warp(cloth.offcut.grain.0);
    let way = Vec2::new(warp.x as f32, -warp.y as f32) * 10.0;
    let stroke = Stroke::new(1.6, palette.ink);
    arrow(
        brush.painter,
        middle - way,
        middle + way,
        !cloth.offcut.nap,
        stroke,
    );
    if cloth.offcut.nap {
        // A cloth with a nap has one way only; a dot at its foot says so by shape.
        brush.painter.circle_filled(middle - way, 2.6, palette.ink);
    }
}

/// An arrow, with a head at both ends or at the second only.
fn arrow(painter: &Painter, a: Pos2, b: Pos2, both: bool, stroke: Stroke) {
    painter.line_segment([a, b], stroke);
    let way = (b - a).normalized();
    let heads = [(b, -way), (a, way)];
    for (tip, way) in heads.into_iter().take(if both { 2 } else { 1 }) {
        for side in [0.5, -0.5] {
            let back = egui::emath::Rot2::from_angle(side) * way * 6.0;
            painter.line_segment([tip, tip + back], stroke);
        }
    }
}

/// How a part is at the moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct State {
    /// Chosen, or with the keys.
    pub chosen: bool,
    /// Under the pointer.
    pub hovered: bool,
    /// Something is wrong with where it lies.
    pub wrong: bool,
    /// It is cut: its cloth is gone.
    pub cut: bool,
    /// It is pinned.
    pub pinned: bool,
    /// It is in the hand.
    pub held: bool,
    /// Its place is left empty while it is in the hand.
    pub away: bool,
}

/// One part.
pub fn part(brush: &Brush<'_>, lines: &Lines, name: &str, state: State) {
    let palette = brush.palette;
    if state.away {
        let mut ends = brush.all(&lines.outline);
        ends.extend(ends.first().copied());
        brush.dashed(&ends, Stroke::new(1.2, palette.pencil), 3.0, 4.0);
        return;
    }
    if state.cut {
        gone(brush, lines, name, state);
        return;
    }
    if state.chosen || state.hovered {
        let colour = if state.chosen {
            palette.chosen
        } else {
            blend(palette.cloth, palette.chosen, 0.5)
        };
        brush.closed(
            &lines.outline,
            Stroke::new(if state.chosen { 8.0 } else { 5.0 }, colour),
        );
    }
    let paper = if state.wrong {
        blend(palette.paper, palette.cut, 0.3)
    } else {
        palette.paper
    };
    let paper = if state.held {
        paper.gamma_multiply(0.86)
    } else {
        paper
    };
    brush.fill(&lines.outline, paper);
    let mark = Stroke::new(1.0, palette.pencil);
    if let Some((a, b)) = lines.grain {
        arrow(brush.painter, brush.at(a), brush.at(b), true, mark);
    }
    for (a, b) in &lines.joins {
        let ends = [brush.at(*a), brush.at(*b)];
        brush.dashed(&ends, Stroke::new(1.8, palette.stitch), 8.0, 3.0);
    }
    if let Some((a, b)) = lines.fold {
        let ends = [brush.at(a), brush.at(b)];
        brush
            .painter
            .extend(Shape::dotted_line(&ends, palette.pencil, 6.0, 1.4));
        along(brush, ends, "fold here");
    }
    let edge = if state.wrong {
        Stroke::new(3.6, palette.cut)
    } else {
        Stroke::new(2.0, palette.cut)
    };
    brush.closed(&lines.outline, edge);
    words(brush, lines, name, palette.pencil, paper);
    if state.pinned {
        pin(brush, lines);
    }
}

/// What is cut: the bare table shows through.
fn gone(brush: &Brush<'_>, lines: &Lines, name: &str, state: State) {
    let palette = brush.palette;
    brush.fill(&lines.outline, palette.table);
    let stroke = if state.chosen {
        Stroke::new(4.0, palette.chosen)
    } else {
        Stroke::new(1.6, palette.pencil)
    };
    brush.closed(&lines.outline, stroke);
    words(
        brush,
        lines,
        &format!("{name}, cut"),
        palette.faded,
        palette.table,
    );
}

/// A pin with its head.
fn pin(brush: &Brush<'_>, lines: &Lines) {
    let at = brush.at(lines.middle) + Vec2::new(0.0, -16.0);
    let stroke = Stroke::new(1.6, brush.palette.pencil);
    brush
        .painter
        .line_segment([at, at + Vec2::new(5.0, 9.0)], stroke);
    brush.painter.circle(
        at,
        4.0,
        brush.palette.chosen,
        Stroke::new(1.2, brush.palette.pencil),
    );
}

/// A name where it has room: level, else along an upright piece, else small, else not at all.
fn words(brush: &Brush<'_>, lines: &Lines, name: &str, colour: Color32, paper: Color32) {
    let rect = brush.rect(lines.bounds);
    let middle = brush.at(lines.middle);
    for size in [13.0, 10.5] {
        let galley =
            brush
                .painter
                .layout_no_wrap(name.to_owned(), FontId::proportional(size), colour);
        let need = galley.size() + Vec2::new(8.0, 4.0);
        if need.x <= rect.width() * 0.85 && need.y <= rect.height() {
            let place = Rect::from_center_size(middle, galley.size());
            let place = place.translate(Vec2::new(
                (rect.left() + 3.0 - place.left()).max(0.0)
                    + (rect.right() - 3.0 - place.right()).min(0.0),
                0.0,
            ));
            brush.painter.rect_filled(place.expand(1.0), 2.0, paper);
            brush.painter.galley(place.min, galley, colour);
            return;
        }
        if need.x <= rect.height() * 0.85 && need.y <= rect.width() {
            let half = galley.size() * 0.5;
            let corner = middle + Vec2::new(-half.y, half.x);
            let place = Rect::from_center_size(middle, Vec2::new(half.y * 2.0, half.x * 2.0));
            let inwards = (rect.top() + 3.0 - place.top()).max(0.0)
                + (rect.bottom() - 3.0 - place.bottom()).min(0.0);
            let corner = corner + Vec2::new(0.0, inwards);
            let place = place.translate(Vec2::new(0.0, inwards));
            brush.painter.rect_filled(place.expand(1.0), 2.0, paper);
            brush.painter.add(
                egui::epaint::TextShape::new(corner, galley, colour)
                    .with_angle(-std::f32::consts::FRAC_PI_2),
            );
            return;
        }
    }
}

/// Height of a name on a piece, with room around it.
const NAME: f32 = 24.0;

/// Small words beside a line, clear of a name across its middle, where it is long enough.
fn along(brush: &Brush<'_>, [a, b]: [Pos2; 2], words: &str) {
    let colour = brush.palette.pencil;
    let galley = brush
        .painter
        .layout_no_wrap(words.to_owned(), FontId::proportional(10.0), colour);
    let way = b - a;
    // Half the line less half the name across its middle.
    let room = way.length() * 0.5 - NAME * 0.5;
    if room < galley.size().x + 6.0 {
        return;
    }
    // Read from below or from the right.
    let way = if way.x < -0.01 || way.x.abs() <= 0.01 && way.y > 0.0 {
        -way
    } else {
        way
    };
    let (unit, angle) = (way.normalized(), way.angle());
    let up = Vec2::new(unit.y, -unit.x);
    let from = a.lerp(b, 0.5) + unit * (NAME + room) * 0.5;
    let corner = from - unit * galley.size().x * 0.5 + up * (galley.size().y + 1.0);
    brush
        .painter
        .add(egui::epaint::TextShape::new(corner, galley, colour).with_angle(angle));
}

/// Words beside what is held: what it hits.
pub fn told(brush: &Brush<'_>, lines: &Lines, words: &str, wrong: bool) {
    let palette = brush.palette;
    let rect = brush.rect(lines.bounds);
    let colour = if wrong { palette.unusable } else { palette.ink };
    let galley = brush
        .painter
        .layout(words.to_owned(), FontId::proportional(13.0), colour, 300.0);
    let mut at =
        Rect::from_min_size(Pos2::new(rect.left(), rect.bottom() + 8.0), galley.size()).expand(5.0);
    // Kept on the canvas.
    at = at.translate(Vec2::new(
        (brush.canvas.right() - 4.0 - at.right()).min(0.0),
        (brush.canvas.bottom() - 4.0 - at.bottom()).min(0.0),
    ));
    at = at.translate(Vec2::new(
        (brush.canvas.left() + 4.0 - at.left()).max(0.0),
        0.0,
    ));
    brush.painter.rect(
        at,
        4.0,
        palette.tray,
        Stroke::new(1.0, colour),
        egui::StrokeKind::Inside,
    );
    brush
        .painter
        .galley(at.min + Vec2::splat(5.0), galley, colour);
}

/// A round handle.
pub fn handle(brush: &Brush<'_>, p: Pos2, busy: bool) {
    let palette = brush.palette;
    let fill = if busy { palette.chosen } else { palette.paper };
    brush.painter.circle(
        p,
        if busy { 7.0 } else { 5.5 },
        fill,
        Stroke::new(1.6, palette.pencil),
    );
}

/// A line that is being drawn, and its points.
pub fn drawn(brush: &Brush<'_>, points: &[Point], next: Option<Point>, closes: bool) {
    let palette = brush.palette;
    let mut line = brush.all(points);
    let stroke = Stroke::new(2.0, palette.stitch);
    if closes && line.len() > 2 {
        let ends = [line.last().copied(), line.first().copied()];
        if let [Some(a), Some(b)] = ends {
            brush.dashed(&[a, b], Stroke::new(1.2, palette.stitch), 4.0, 4.0);
        }
    }
    line.extend(next.map(|p| brush.at(p)));
    brush.painter.add(Shape::line(line.clone(), stroke));
    for p in line {
        brush.painter.circle_filled(p, 3.0, palette.stitch);
    }
}

/// What the signs on the cloth mean.
pub fn legend(brush: &Brush<'_>) {
    let palette = brush.palette;
    let sign = |words, width, colour, dash| Sign {
        words,
        stroke: Stroke::new(width, colour),
        dash,
    };
    let signs = [
        sign("cut line", 2.0, palette.cut, None),
        sign("seam added", 1.8, palette.stitch, Some((8.0, 3.0))),
        sign("fold here", 1.4, palette.pencil, Some((1.5, 3.0))),
    ];
    canvas::paint::legend(brush.painter, brush.canvas, &signs, palette);
}

/// "300 x 200 mm".
pub fn size_words(bounds: kurbo::Rect, unit: LengthUnit) -> String {
    use petitoile_core::Mm;
    format!(
        "{} x {}",
        unit.show_bare(Mm(bounds.width())),
        unit.show(Mm(bounds.height()))
    )
}
