//! Puts the table on the screen. No decisions: everything has been chosen before it comes here.

mod words;

use egui::epaint::{Mesh, PathShape, PathStroke, TextShape, Vertex};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2};
use petitoile_core::LengthUnit;

use super::rulers;
use super::shapes::{Fill, PieceShapes};
use super::shown::ShownPiece;
use super::view::View;
use crate::theme::{Palette, blend};

use words::words;

const STITCH_WIDTH: f32 = 1.2;
const CUT_WIDTH: f32 = 2.4;
const MARK_WIDTH: f32 = 1.0;
/// How dense paper is where something under it is to be seen.
const SHEER: f32 = 0.35;

/// From one piece's own millimetres to the screen.
#[derive(Debug, Clone, Copy)]
pub struct OnScreen {
    origin: Pos2,
    scale: f32,
}

/// How a piece is at the moment.
#[derive(Debug, Clone, Copy)]
pub struct State<'a> {
    pub chosen: bool,
    pub edge: Option<&'a str>,
    pub hovered: bool,
    pub focused: bool,
    /// Is what lies under it to be seen through it?
    pub sheer: bool,
}

impl OnScreen {
    pub fn new(view: &View, canvas: Rect, moved: kurbo::Vec2) -> Self {
        Self {
            origin: view.screen_from_table(canvas, moved.to_point()),
            scale: view.scale as f32,
        }
    }

    pub fn point(&self, [x, y]: [f32; 2]) -> Pos2 {
        Pos2::new(
            self.origin.x + x * self.scale,
            self.origin.y - y * self.scale,
        )
    }

    pub fn kurbo(&self, p: kurbo::Point) -> Pos2 {
        self.point([p.x as f32, p.y as f32])
    }

    pub fn rect(&self, r: kurbo::Rect) -> Rect {
        Rect::from_two_pos(
            self.kurbo(kurbo::Point::new(r.x0, r.y0)),
            self.kurbo(kurbo::Point::new(r.x1, r.y1)),
        )
    }

    fn points(&self, flat: &[[f32; 2]]) -> Vec<Pos2> {
        flat.iter().map(|p| self.point(*p)).collect()
    }

    fn mesh(&self, fill: &Fill, colour: Color32, by: Vec2) -> Shape {
        let vertices = fill
            .corners
            .iter()
            .map(|p| Vertex::untextured(self.point(*p) + by, colour))
            .collect();
        Shape::mesh(Mesh {
            indices: fill.triangles.clone(),
            vertices,
            ..Mesh::default()
        })
    }

    fn closed(&self, flat: &[[f32; 2]], stroke: impl Into<PathStroke>) -> Shape {
        PathShape::closed_line(self.points(flat), stroke).into()
    }
}

/// The bare table with its weave.
pub fn table(painter: &Painter, canvas: Rect, view: &View, unit: LengthUnit, palette: &Palette) {
    painter.rect_filled(canvas, 0.0, palette.table);
    let steps = rulers::steps(unit, view.scale, 56.0);
    let (from, to) = (
        view.table_from_screen(canvas, canvas.left_top()),
        view.table_from_screen(canvas, canvas.right_bottom()),
    );
    let stroke = Stroke::new(1.0, palette.weave);
    for (x, _) in rulers::marks(from.x, to.x, steps)
        .into_iter()
        .filter(|(_, numbered)| *numbered)
    {
        painter.vline(
            view.screen_from_table(canvas, kurbo::Point::new(x, 0.0)).x,
            canvas.y_range(),
            stroke,
        );
    }
    for (y, _) in rulers::marks(-from.y, -to.y, steps)
        .into_iter()
        .filter(|(_, numbered)| *numbered)
    {
        painter.hline(
            canvas.x_range(),
            view.screen_from_table(canvas, kurbo::Point::new(0.0, -y)).y,
            stroke,
        );
    }
}

/// Both rulers, and where the pointer is on them.
pub fn rulers(
    painter: &Painter,
    whole: Rect,
    canvas: Rect,
    view: &View,
    unit: LengthUnit,
    palette: &Palette,
    pointer: Option<Pos2>,
) {
    let steps = rulers::steps(unit, view.scale, 56.0);
    let (from, to) = (
        view.table_from_screen(canvas, canvas.left_top()),
        view.table_from_screen(canvas, canvas.right_bottom()),
    );
    let top = Rect::from_min_max(whole.min, Pos2::new(whole.max.x, canvas.min.y));
    let left = Rect::from_min_max(whole.min, Pos2::new(canvas.min.x, whole.max.y));
    let stroke = Stroke::new(1.0, palette.faded);
    let font = FontId::proportional(10.5);
    for strip in [top, left] {
        painter.rect_filled(strip, 0.0, palette.tray);
    }
    let across = painter.with_clip_rect(Rect::from_min_max(
        Pos2::new(canvas.min.x, whole.min.y),
        top.max,
    ));
    for (x, numbered) in rulers::marks(from.x, to.x, steps) {
        let at = view.screen_from_table(canvas, kurbo::Point::new(x, 0.0)).x;
        across.vline(
            at,
            (top.max.y - if numbered { 8.0 } else { 4.0 })..=top.max.y,
            stroke,
        );
        if numbered {
            across.text(
                Pos2::new(at + 3.0, top.min.y + 1.0),
                Align2::LEFT_TOP,
                rulers::number(x, steps),
                font.clone(),
                palette.faded,
            );
        }
    }
    let along = painter.with_clip_rect(Rect::from_min_max(
        Pos2::new(whole.min.x, canvas.min.y),
        left.max,
    ));
    for (y, numbered) in rulers::marks(-from.y, -to.y, steps) {
        let at = view.screen_from_table(canvas, kurbo::Point::new(0.0, -y)).y;
        along.hline(
            (left.max.x - if numbered { 8.0 } else { 4.0 })..=left.max.x,
            at,
            stroke,
        );
        if numbered {
            let galley =
                along.layout_no_wrap(rulers::number(y, steps), font.clone(), palette.faded);
            let middle = Pos2::new(left.min.x + 6.5, at + 4.0 + galley.size().x * 0.5);
            let text = TextShape::new(middle - galley.size() * 0.5, galley, palette.faded);
            along.add(
                text.with_angle_and_anchor(-std::f32::consts::FRAC_PI_2, Align2::CENTER_CENTER),
            );
        }
    }
    if let Some(p) = pointer.filter(|p| canvas.contains(*p)) {
        let here = Stroke::new(1.5, palette.cut);
        painter.vline(p.x, top.y_range(), here);
        painter.hline(left.x_range(), p.y, here);
    }
    painter.rect_filled(Rect::from_min_max(whole.min, canvas.min), 0.0, palette.tray);
    let unit = match unit {
        LengthUnit::Millimetre => "mm",
        LengthUnit::Centimetre => "cm",
        LengthUnit::Inch => "in",
    };
    painter.text(
        whole.min + Vec2::splat(rulers::WIDTH * 0.5),
        Align2::CENTER_CENTER,
        unit,
        FontId::proportional(10.0),
        palette.faded,
    );
}

/// One piece with everything on it.
pub fn piece(
    painter: &Painter,
    piece: &ShownPiece,
    shapes: &PieceShapes,
    at: &OnScreen,
    palette: &Palette,
    state: State<'_>,
) {
    painter.add(at.mesh(
        &shapes.cut_fill,
        Color32::from_black_alpha(26),
        Vec2::new(1.5, 2.5),
    ));
    if state.chosen || state.hovered || state.focused {
        let firm = state.chosen || state.focused;
        let colour = if firm {
            palette.chosen
        } else {
            blend(palette.table, palette.chosen, 0.45)
        };
        painter.add(at.closed(
            &shapes.cut,
            Stroke::new(CUT_WIDTH + if firm { 6.0 } else { 3.5 }, colour),
        ));
    }
    let dense = if state.sheer { SHEER } else { 1.0 };
    let band = palette.band.gamma_multiply(dense);
    let paper = palette.paper.gamma_multiply(dense);
    painter.add(at.mesh(&shapes.cut_fill, band, Vec2::ZERO));
    painter.add(at.mesh(&shapes.stitch_fill, paper, Vec2::ZERO));
    if !shapes.ghost.is_empty() {
        ghost(painter, shapes, at, palette);
    }
    lines(painter, piece, shapes, at, palette);
    if let Some(edge) = state.edge {
        let chosen = piece
            .edges
            .iter()
            .zip(&shapes.edges)
            .filter(|(e, _)| e.name == edge);
        for (_, line) in chosen {
            painter.line(at.points(line), Stroke::new(5.0, palette.chosen));
            painter.line(
                at.points(line),
                Stroke::new(STITCH_WIDTH + 0.6, palette.stitch),
            );
        }
    }
}

fn ghost(painter: &Painter, shapes: &PieceShapes, at: &OnScreen, palette: &Palette) {
    let mut points = at.points(&shapes.ghost);
    points.extend(points.first().copied());
    painter.add(at.closed(
        &shapes.ghost,
        Stroke::new(4.0, palette.chalk.gamma_multiply(0.35)),
    ));
    painter.extend(Shape::dashed_line(
        &points,
        Stroke::new(1.8, palette.chalk),
        7.0,
        3.0,
    ));
}

fn lines(
    painter: &Painter,
    piece: &ShownPiece,
    shapes: &PieceShapes,
    at: &OnScreen,
    palette: &Palette,
) {
    let mark = Stroke::new(MARK_WIDTH, palette.pencil);
    for line in &shapes.fold_lines {
        painter.extend(Shape::dashed_line(&at.points(line), mark, 6.0, 4.0));
    }
    for line in &shapes.sew_lines {
        painter.line(at.points(line), Stroke::new(STITCH_WIDTH, palette.stitch));
    }
    for line in &shapes.marks {
        painter.line(at.points(line), Stroke::new(1.4, palette.pencil));
    }
    for (stroke, _) in &piece.notches {
        painter.line_segment(
            [at.kurbo(stroke.p0), at.kurbo(stroke.p1)],
            Stroke::new(2.0, palette.pencil),
        );
    }
    arrow(
        painter,
        at.kurbo(piece.grain.p0),
        at.kurbo(piece.grain.p1),
        mark,
    );
    words(painter, piece, shapes, at, palette);
    painter.add(at.closed(&shapes.stitch, Stroke::new(STITCH_WIDTH, palette.stitch)));
    painter.add(at.closed(&shapes.cut, Stroke::new(CUT_WIDTH, palette.cut)));
    if let Some(fold) = piece.fold {
        let (a, b) = (at.kurbo(fold.p0), at.kurbo(fold.p1));
        painter.line_segment([a, b], Stroke::new(CUT_WIDTH + 1.0, palette.paper));
        painter.extend(Shape::dotted_line(&[a, b], palette.pencil, 6.0, 1.4));
        painter.line_segment([a, b], Stroke::new(0.8, palette.pencil));
    }
}

fn arrow(painter: &Painter, a: Pos2, b: Pos2, stroke: Stroke) {
    painter.line_segment([a, b], stroke);
    let way = (b - a).normalized();
    for (tip, way) in [(a, way), (b, -way)] {
        for side in [0.45, -0.45] {
            painter.line_segment(
                [tip, tip + egui::emath::Rot2::from_angle(side) * way * 7.0],
                stroke,
            );
        }
    }
}

/// A line of the legend: its words, its stroke, and dash and gap where it is not solid.
pub struct Sign<'a> {
    /// What it means.
    pub words: &'a str,
    /// How it is painted.
    pub stroke: Stroke,
    /// Dash and gap, screen points.
    pub dash: Option<(f32, f32)>,
}

/// What the lines of the pieces mean; `source` names what is painted behind them.
pub fn piece_legend(painter: &Painter, canvas: Rect, source: Option<&str>, palette: &Palette) {
    let solid = |words, width, colour| Sign {
        words,
        stroke: Stroke::new(width, colour),
        dash: None,
    };
    let mut signs = vec![
        solid("cut line", CUT_WIDTH, palette.cut),
        solid("stitch line", STITCH_WIDTH, palette.stitch),
    ];
    signs.extend(source.map(|words| Sign {
        dash: Some((6.0, 3.0)),
        ..solid(words, 2.0, palette.chalk)
    }));
    legend(painter, canvas, &signs, palette);
}

/// What lines mean, on a slip of paper along the lower edge of the table, where "show all" leaves room.
pub fn legend(painter: &Painter, canvas: Rect, signs: &[Sign<'_>], palette: &Palette) {
    let font = FontId::proportional(11.5);
    let galleys: Vec<_> = signs
        .iter()
        .map(|sign| {
            let words = sign.words.to_owned();
            painter.layout_no_wrap(words, font.clone(), palette.pencil)
        })
        .collect();
    let wide = galleys
        .iter()
        .map(|galley| galley.size().x + 42.0)
        .sum::<f32>()
        + 6.0;
    let rect = Rect::from_min_size(
        canvas.left_bottom() + Vec2::new(4.0, -22.0),
        Vec2::new(wide, 18.0),
    );
    painter.rect_filled(rect, 4.0, palette.paper.gamma_multiply(0.92));
    let (mut x, y) = (rect.min.x + 8.0, rect.center().y);
    for (sign, galley) in signs.iter().zip(galleys) {
        let line = [Pos2::new(x, y), Pos2::new(x + 22.0, y)];
        match sign.dash {
            None => {
                painter.line_segment(line, sign.stroke);
            }
            Some((dash, gap)) => {
                painter.extend(Shape::dashed_line(&line, sign.stroke, dash, gap));
            }
        }
        let size = galley.size();
        painter.galley(
            Pos2::new(x + 28.0, y - 0.5 * size.y),
            galley,
            palette.pencil,
        );
        x += size.x + 42.0;
    }
}

/// A handle in the middle of an edge.
pub fn handle(painter: &Painter, p: Pos2, chosen: bool, lit: bool, palette: &Palette) {
    let (radius, fill) = if chosen {
        (6.0, palette.chosen)
    } else if lit {
        (6.0, palette.paper)
    } else {
        (4.0, palette.paper)
    };
    painter.circle(p, radius, fill, Stroke::new(1.5, palette.stitch));
}

/// What to say on an empty table.
pub fn empty(
    painter: &Painter,
    canvas: Rect,
    trouble: Option<&str>,
    working: bool,
    palette: &Palette,
) {
    let words = match (trouble, working) {
        (Some(trouble), _) => trouble,
        (None, true) => "Fitting the pieces\u{2026}",
        (None, false) => "Start a garment or open a project (menu Project), or drop one here.",
    };
    let galley = painter.layout(
        words.to_owned(),
        FontId::proportional(16.0),
        palette.ink,
        canvas.width() * 0.7,
    );
    let rect = Rect::from_center_size(canvas.center(), galley.size() + Vec2::splat(32.0));
    painter.rect(
        rect,
        6.0,
        palette.tray,
        Stroke::new(1.0, palette.faded),
        StrokeKind::Inside,
    );
    painter.galley(rect.center() - galley.size() * 0.5, galley, palette.ink);
}
