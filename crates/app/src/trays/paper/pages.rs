//! The pages, painted small; the chosen one large.

use egui::{Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo};
use petitoile_exchange::drawing::{Drawing, Ink, Item, Layer};
use petitoile_exchange::tiling::Pages;

use crate::canvas::shapes;
use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// Which page is shown large.
#[derive(Default)]
pub struct Preview {
    large: usize,
}

impl Preview {
    /// Shows every page small, and one of them large.
    pub fn ui(&mut self, ui: &mut Ui, pages: &Pages) {
        let count = pages.pages.len();
        let (width, height) = pages.size;
        if count == 0 || width <= 0.0 || height <= 0.0 {
            faded(ui, "No pages: there is nothing to print.");
            return;
        }
        self.large = self.large.min(count - 1);
        faded(
            ui,
            format!(
                "{}, {width:.0} x {height:.0} mm each",
                wording::count(count, "page", "pages")
            ),
        );
        let aspect = (height / width) as f32;
        let small = small_width(ui.available_width(), count);
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = Vec2::splat(6.0);
            for (i, page) in pages.pages.iter().enumerate() {
                let (rect, response) =
                    ui.allocate_exact_size(Vec2::new(small, small * aspect), Sense::click());
                let chosen = i == self.large;
                response.widget_info(|| {
                    WidgetInfo::selected(
                        Role::Button,
                        true,
                        chosen,
                        format!("Page {} of {count}", i + 1),
                    )
                });
                paint(ui, rect, page, pages.size, chosen);
                if response.has_focus() || response.hovered() {
                    ui.painter().rect_stroke(
                        rect.expand(1.5),
                        2.0,
                        ui.visuals().widgets.hovered.bg_stroke,
                        StrokeKind::Outside,
                    );
                }
                if response.clicked() {
                    self.large = i;
                }
            }
        });
        if let Some(page) = pages.pages.get(self.large) {
            ui.add_space(4.0);
            let wide = ui.available_width().min(420.0 / aspect);
            let (rect, response) =
                ui.allocate_exact_size(Vec2::new(wide, wide * aspect), Sense::hover());
            response.widget_info(|| {
                WidgetInfo::labeled(Role::Image, true, format!("Page {} large", self.large + 1))
            });
            paint(ui, rect, page, pages.size, false);
        }
    }
}

/// Width of a small page: large targets when there are few.
fn small_width(room: f32, count: usize) -> f32 {
    let in_row = match count {
        0..=4 => 4.0,
        5..=12 => 5.0,
        _ => 7.0,
    };
    ((room - 6.0 * (in_row - 1.0)) / in_row).max(28.0)
}

fn paint(ui: &Ui, rect: Rect, page: &Drawing, size: (f64, f64), chosen: bool) {
    if !ui.is_rect_visible(rect) {
        return;
    }
    let palette = Palette::showing(ui);
    let painter = ui
        .painter()
        .with_clip_rect(rect.expand(3.0).intersect(ui.clip_rect()));
    let edge = if chosen {
        Stroke::new(2.5, palette.chosen)
    } else {
        Stroke::new(1.0, palette.faded)
    };
    painter.rect(rect, 1.0, palette.paper, edge, StrokeKind::Outside);
    let scale = rect.width() / size.0 as f32;
    let at = |[x, y]: [f32; 2]| Pos2::new(rect.min.x + x * scale, rect.max.y - y * scale);
    for item in &page.items {
        ink(&painter, item, scale, &at, palette);
    }
}

fn ink(
    painter: &egui::Painter,
    item: &Item,
    scale: f32,
    at: &impl Fn([f32; 2]) -> Pos2,
    palette: &Palette,
) {
    let colour = match item.layer {
        Layer::StitchLines => palette.stitch,
        Layer::CutLines => palette.cut,
        Layer::Marks | Layer::Text => palette.pencil,
        Layer::Page => palette.chalk,
    };
    let clipped;
    let painter = match item.clip {
        Some(r) => {
            let (a, b) = (
                at([r.x0 as f32, r.y1 as f32]),
                at([r.x1 as f32, r.y0 as f32]),
            );
            clipped =
                painter.with_clip_rect(Rect::from_min_max(a, b).intersect(painter.clip_rect()));
            &clipped
        }
        None => painter,
    };
    match &item.ink {
        Ink::Stroke { path, width, .. } => {
            let stroke = Stroke::new((*width as f32 * scale).max(0.6), colour);
            for line in shapes::strokes(path, f64::from(0.3 / scale)) {
                painter.add(Shape::line(line.iter().map(|p| at(*p)).collect(), stroke));
            }
        }
        Ink::Fill(path) => {
            let fill = shapes::fill(&shapes::flat(path, f64::from(0.3 / scale)));
            let vertices = fill
                .corners
                .iter()
                .map(|p| egui::epaint::Vertex::untextured(at(*p), colour))
                .collect();
            painter.add(Shape::mesh(egui::Mesh {
                indices: fill.triangles,
                vertices,
                ..egui::Mesh::default()
            }));
        }
        Ink::Text {
            at: place,
            size,
            turn,
            centred,
            words,
        } => {
            let points = *size as f32 * scale;
            if points < 4.0 {
                return; // too small to read: the line would only be grey
            }
            let galley =
                painter.layout_no_wrap(words.clone(), egui::FontId::proportional(points), colour);
            let base = at([place.x as f32, place.y as f32]);
            let turned = egui::emath::Rot2::from_angle(-turn.to_radians() as f32);
            let left = if *centred { galley.size().x * 0.5 } else { 0.0 };
            let corner = base + turned * Vec2::new(-left, -0.8 * galley.size().y);
            painter.add(
                egui::epaint::TextShape::new(corner, galley, colour)
                    .with_angle(-turn.to_radians() as f32),
            );
        }
    }
}
