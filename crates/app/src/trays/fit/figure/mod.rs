//! The measure figure: the body from its measures, with the garment's girth rings.
//!
//! It keeps from where the figure is looked at. What is drawn where comes from the core.

mod marks;
mod paint;

use egui::{EventFilter, Key, Modifiers, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use petitoile_core::Degrees;
use petitoile_core::fit::figure::{Figure, Look, WHAT_IT_IS};

use crate::command::Command;
use crate::session::Session;
use crate::trays::faded;

use marks::Mark;

/// The measure figure: the body from its measures, with the garment's girth rings.
pub struct FigureLeaf {
    look: Look,
}

impl Default for FigureLeaf {
    fn default() -> Self {
        Self { look: Look::FRONT }
    }
}

/// Degrees to a point of dragging.
const DRAG: f64 = 0.6;
/// Degrees to an arrow key.
const STEP: f64 = 15.0;
/// Room for the words beside the figure, points.
const WORDS: f32 = 150.0;
/// The figure is never lower than this, points.
const LOWEST: f32 = 260.0;

impl FigureLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let Some(worked) = session.work.done.as_ref() else {
            faded(ui, "Nothing worked out yet.");
            return;
        };
        let unit = session.shown().unit;
        self.buttons(ui);
        let figure = &worked.beyond.fit;
        let marks = marks::marks(figure, unit);
        paint::legend(ui);
        faded(ui, WHAT_IT_IS);
        let room = ui.available_size();
        let size = Vec2::new(room.x, room.y.max(LOWEST.max(marks::height(marks.len()))));
        egui::ScrollArea::vertical().show(ui, |ui| {
            self.figure(ui, figure, &marks, size - Vec2::new(10.0, 8.0), commands);
        });
    }

    fn buttons(&mut self, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            for (look, name) in [
                (Look::FRONT, "Front"),
                (Look::SIDE, "Side"),
                (Look::BACK, "Back"),
            ] {
                let now = self.look == look;
                let button = ui.add(egui::Button::selectable(now, name));
                let label = format!("Figure: {}", name.to_lowercase());
                button.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, now, &label));
                if button.clicked() {
                    self.look = look;
                }
            }
            faded(ui, "or drag it round");
        });
    }

    fn figure(
        &mut self,
        ui: &mut Ui,
        figure: &Figure,
        marks: &[Mark],
        size: Vec2,
        commands: &mut Vec<Command>,
    ) {
        let (rect, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
        let turn = self.look.turn.0.round();
        let label = format!(
            "Measure figure of {}, turned {turn:.0} degrees, {} rings",
            figure.table.body,
            marks.len()
        );
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &label));
        self.turned(ui, &response);
        let response = response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal);
        let (picture, words) = rect.split_left_right_at_x(rect.right() - WORDS);
        let painted = paint::figure(ui, figure, marks, self.look, picture);
        if response.has_focus() {
            let stroke = ui.visuals().widgets.hovered.bg_stroke;
            ui.painter()
                .rect_stroke(rect, 4.0, stroke, egui::StrokeKind::Inside);
        }
        for (mark, asked) in marks.iter().zip(marks::beside(ui, marks, &painted, words)) {
            if asked {
                commands.push(Command::ShowPlace(mark.place.clone()));
            }
        }
    }

    /// By dragging sideways, or the arrow keys when it has the focus.
    fn turned(&mut self, ui: &Ui, response: &Response) {
        if response.dragged() {
            let by = f64::from(response.drag_delta().x) * DRAG;
            self.look = self.look.turned(Degrees(-by));
        }
        if response.clicked() {
            response.request_focus();
        }
        if !response.has_focus() {
            return;
        }
        let filter = EventFilter {
            horizontal_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
        for (key, by) in [(Key::ArrowLeft, STEP), (Key::ArrowRight, -STEP)] {
            if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
                self.look = self.look.turned(Degrees(by));
            }
        }
    }
}
