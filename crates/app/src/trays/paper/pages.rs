//! The pages, painted small; the chosen one large.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::{Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo};
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::drawing::{Drawing, Ink, Item, Layer};
use petitoile_exchange::tiling::Pages;

use crate::canvas::shapes;
use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// Which page is shown large, and the lines of every page ready to paint.
#[derive(Default)]
pub struct Preview {
    large: usize,
    ready: Ready,
}

/// Lines of pages, worked out once for each set of pages: coarse for small pictures, fine for the large one.
#[derive(Default)]
struct Ready {
    of: Option<Arc<Pages>>,
    lines: BTreeMap<(usize, bool), Arc<[Line]>>,
}

/// One item of a page in points: strokes with their width, or a filled area. Words need no work.
enum Line {
    Stroke(Vec<shapes::Flat>, f32),
    Fill(shapes::Fill),
    Words,
}

impl Ready {
    /// How far a line on a page may be from its curve, mm: coarse and fine.
    const TOLERANCE: [f64; 2] = [0.5, 0.1];

    fn page(&mut self, pages: &Arc<Pages>, number: usize, fine: bool) -> Arc<[Line]> {
        if !self.of.as_ref().is_some_and(|old| Arc::ptr_eq(old, pages)) {
            self.of = Some(pages.clone());
            self.lines.clear();
        }
        let [coarse, close] = Self::TOLERANCE;
        let tolerance = if fine { close } else { coarse };
        let work_out = || {
            let items = pages.pages.get(number).map(|page| page.items.as_slice());
            items
                .unwrap_or_default()
                .iter()
                .map(|item| Line::of(&item.ink, tolerance))
                .collect()
        };
        self.lines
            .entry((number, fine))
            .or_insert_with(work_out)
            .clone()
    }
}

impl Line {
    fn of(ink: &Ink, tolerance: f64) -> Self {
        match ink {
            Ink::Stroke { path, width, .. } => {
                Self::Stroke(shapes::strokes(path, tolerance), *width as f32)
            }
            Ink::Fill(path) => Self::Fill(shapes::fill(&shapes::flat(path, tolerance))),
            Ink::Text { .. } => Self::Words,
        }
    }
}

impl Preview {
    /// Shows every page small, and one of them large.
    pub fn ui(&mut self, ui: &mut Ui, pages: &Arc<Pages>, unit: LengthUnit) {
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
                "{}, {} x {} each",
                wording::count(count, "page", "pages"),
                unit.show_bare(Mm(width)),
                unit.show(Mm(height))
            ),
        );
        let aspect = (height / width) as f32;
        let small = small_width(ui.available_width(), count);
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = Vec2::splat(6.0);
            for i in 0..count {
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
                self.paint(ui, rect, pages, i, chosen);
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
        if self.large < count {
            ui.add_space(4.0);
            let wide = ui.available_width().min(420.0 / aspect);
            let (rect, response) =
                ui.allocate_exact_size(Vec2::new(wide, wide * aspect), Sense::hover());
            response.widget_info(|| {
                WidgetInfo::labeled(Role::Image, true, format!("Page {} large", self.large + 1))
            });
            self.paint(ui, rect, pages, self.large, false);
        }
    }

    fn paint(&mut self, ui: &Ui, rect: Rect, pages: &Arc<Pages>, number: usize, chosen: bool) {
        let Some(page) = pages.pages.get(number).filter(|_| ui.is_rect_visible(rect)) else {
            return;
        };
        let scale = rect.width() / pages.size.0 as f32;
        let lines = self.ready.page(pages, number, scale > 0.8);
        paint(ui, rect, page, &lines, scale, chosen);
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

fn paint(ui: &Ui, rect: Rect, page: &Drawing, lines: &[Line], scale: f32, chosen: bool) {
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
    let at = |[x, y]: [f32; 2]| Pos2::new(rect.min.x + x * scale, rect.max.y - y * scale);
    for (item, line) in page.items.iter().zip(lines) {
        ink(&painter, item, line, scale, &at, palette);
    }
}

fn ink(
    painter: &egui::Painter,
    item: &Item,
    line: &Line,
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
    match line {
        Line::Stroke(lines, width) => {
            let stroke = Stroke::new((width * scale).max(0.6), colour);
            for line in lines {
                painter.add(Shape::line(line.iter().map(|p| at(*p)).collect(), stroke));
            }
        }
        Line::Fill(fill) => {
            let vertices = fill
                .corners
                .iter()
                .map(|p| egui::epaint::Vertex::untextured(at(*p), colour))
                .collect();
            painter.add(Shape::mesh(egui::Mesh {
                indices: fill.triangles.clone(),
                vertices,
                ..egui::Mesh::default()
            }));
        }
        Line::Words => words(painter, &item.ink, scale, colour, at),
    }
}

fn words(
    painter: &egui::Painter,
    ink: &Ink,
    scale: f32,
    colour: egui::Color32,
    at: &impl Fn([f32; 2]) -> Pos2,
) {
    let Ink::Text {
        at: place,
        size,
        turn,
        centred,
        words,
    } = ink
    else {
        return;
    };
    let points = *size as f32 * scale;
    if points < 4.0 {
        return; // too small to read: the line would only be grey
    }
    let galley = painter.layout_no_wrap(words.clone(), egui::FontId::proportional(points), colour);
    let base = at([place.x as f32, place.y as f32]);
    let turned = egui::emath::Rot2::from_angle(-turn.to_radians() as f32);
    let left = if *centred { galley.size().x * 0.5 } else { 0.0 };
    let corner = base + turned * Vec2::new(-left, -0.8 * galley.size().y);
    painter.add(
        egui::epaint::TextShape::new(corner, galley, colour).with_angle(-turn.to_radians() as f32),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_a_page_are_worked_out_once_for_each_set_of_pages() {
        let mut page = Drawing::default();
        let path = kurbo::BezPath::from_svg("M0 0 L10 0 L10 10 Z").unwrap_or_default();
        page.items.push(Item {
            layer: Layer::CutLines,
            ink: Ink::Fill(path),
            clip: None,
        });
        let set = || {
            Arc::new(Pages {
                size: (210.0, 297.0),
                pages: vec![page.clone()],
                ..Pages::default()
            })
        };
        let (first, second) = (set(), set());
        let mut ready = Ready::default();
        let before = ready.page(&first, 0, false);
        assert!(Arc::ptr_eq(&before, &ready.page(&first, 0, false)));
        assert!(!Arc::ptr_eq(&before, &ready.page(&first, 0, true)));
        assert!(!Arc::ptr_eq(&before, &ready.page(&second, 0, false)));
        assert_eq!(before.len(), 1);
    }
}
