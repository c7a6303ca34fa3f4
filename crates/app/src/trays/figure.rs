//! A picture of a body with the tape where a measure is taken.

use egui::{Color32, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo};
use petitoile_core::measure::{FIGURE, Measure, TapeMark, View};

use crate::canvas::shapes;
use crate::theme::{Palette, blend};

/// Paints the figure with the tape at one measure.
pub fn figure(ui: &mut Ui, measure: Measure, size: Vec2) {
    let palette = Palette::showing(ui);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let place = measure.tape_place();
    let side = match place.view {
        View::Front => "front",
        View::Back => "back",
    };
    response.widget_info(|| {
        WidgetInfo::labeled(
            Role::Image,
            true,
            format!("Figure, {side}: tape at {}", measure.label()),
        )
    });
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 6.0, palette.field);
    let at = on_screen(rect.shrink2(Vec2::new(6.0, 8.0)));
    let tall_at = |[x, y]: [f32; 2]| at([x / TALL, y / TALL]);
    let outline = outline();
    let fill = shapes::fill(&outline);
    let body = blend(palette.field, palette.chalk, 0.45);
    painter.add(mesh(&fill, body, tall_at));
    let line = Stroke::new(1.2, blend(palette.chalk, palette.ink, 0.3));
    painter.add(Shape::closed_line(
        outline.iter().map(|p| tall_at(*p)).collect(),
        line,
    ));
    tape(&painter, place.mark, at, palette);
    painter.text(
        rect.left_top() + Vec2::new(7.0, 5.0),
        egui::Align2::LEFT_TOP,
        side,
        egui::FontId::proportional(11.0),
        palette.faded,
    );
}

/// Units to the height of the figure: the tessellator wants coordinates well above its smallest step.
const TALL: f32 = 1000.0;

/// Both halves of the figure, once round.
fn outline() -> Vec<[f32; 2]> {
    let right = FIGURE
        .iter()
        .map(|(x, y)| [*x as f32 * TALL, *y as f32 * TALL]);
    let left = FIGURE
        .iter()
        .rev()
        .map(|(x, y)| [-*x as f32 * TALL, *y as f32 * TALL]);
    let mut points: Vec<[f32; 2]> = right.chain(left).collect();
    points.dedup();
    points
}

fn on_screen(rect: Rect) -> impl Fn([f32; 2]) -> Pos2 + Copy {
    let scale = rect.height();
    move |[x, y]: [f32; 2]| Pos2::new(rect.center().x + x * scale, rect.max.y - y * scale)
}

fn mesh(fill: &shapes::Fill, colour: Color32, at: impl Fn([f32; 2]) -> Pos2) -> Shape {
    let vertices = fill
        .corners
        .iter()
        .map(|p| egui::epaint::Vertex::untextured(at(*p), colour))
        .collect();
    Shape::mesh(egui::Mesh {
        indices: fill.triangles.clone(),
        vertices,
        ..egui::Mesh::default()
    })
}

fn tape(painter: &egui::Painter, mark: TapeMark, at: impl Fn([f32; 2]) -> Pos2, palette: &Palette) {
    let thread = Stroke::new(2.6, palette.cut);
    match mark {
        TapeMark::Ring { x, y, half_width } => {
            let ring = |from: f32, to: f32| -> Vec<Pos2> {
                (0..=24)
                    .map(|i| {
                        let a = from + (to - from) * i as f32 / 24.0;
                        let w = half_width as f32;
                        at([x as f32 + w * a.cos(), y as f32 + 0.16 * w * a.sin()])
                    })
                    .collect()
            };
            let (near, far) = (
                ring(std::f32::consts::PI, std::f32::consts::TAU),
                ring(0.0, std::f32::consts::PI),
            );
            painter.extend(Shape::dashed_line(
                &far,
                Stroke::new(1.2, palette.cut),
                3.0,
                3.0,
            ));
            painter.line(near, thread);
        }
        TapeMark::Line { from, to } => {
            let (a, b) = (
                at([from.0 as f32, from.1 as f32]),
                at([to.0 as f32, to.1 as f32]),
            );
            painter.line_segment([a, b], thread);
            for end in [a, b] {
                painter.circle_filled(end, 3.5, palette.cut);
            }
        }
    }
}
