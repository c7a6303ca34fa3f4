//! Corners of the chosen offcut, and what is being drawn.

use egui::{Key, Modifiers, Rect, Role, Sense, Ui, Vec2, WidgetInfo};
use kurbo::Point;
use petitoile_core::{LengthUnit, Mm};

use super::super::paint::{self, Brush};
use super::super::{ClothTray, Leaf, pen};
use super::{FINE, Frame, STEP};
use crate::canvas::{self, TARGET};
use crate::command::Command;

impl ClothTray {
    /// Corners of the chosen offcut, to be dragged or moved by keys.
    pub(super) fn show_points(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        if self.leaf != Leaf::Offcuts || self.drawing.is_some() {
            return;
        }
        let Some(cloth) = self
            .offcut
            .as_deref()
            .and_then(|name| frame.laid.cloth(name))
            .cloned()
        else {
            return;
        };
        let offcut = &cloth.offcut;
        let unit = frame.seen.unit();
        for (i, p) in offcut.outline.iter().enumerate() {
            let moving = self.point.filter(|(at, _)| *at == i);
            let at = moving.map_or(*p, |(_, to)| to) + cloth.moved;
            let screen = brush.at(at);
            if !frame.canvas.contains(screen) {
                continue;
            }
            let id = ui.scope_id().with(("corner", &offcut.name, i));
            let target = Rect::from_center_size(screen, Vec2::splat(TARGET * 0.75));
            let response = ui.interact(target, id, Sense::click_and_drag());
            let label = format!(
                "Corner {} of {}: {}",
                i + 1,
                offcut.name,
                place_words(*p, unit)
            );
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
            canvas::keep_arrows(ui, &response);
            let busy = response.hovered() || response.has_focus() || response.dragged();
            if moving.is_some() {
                let mut outline = offcut.outline.clone();
                if let Some(corner) = outline.get_mut(i) {
                    *corner = at - cloth.moved;
                }
                let on_table: Vec<Point> = outline.iter().map(|p| *p + cloth.moved).collect();
                paint::drawn(brush, &on_table, None, true);
            }
            paint::handle(brush, screen, busy);
            if response.dragged()
                && let Some(p) = response.interact_pointer_pos()
            {
                let to = frame.view.table_from_screen(frame.canvas, p) - cloth.moved;
                self.point = Some((i, to));
            }
            if response.drag_stopped()
                && let Some((i, to)) = self.point.take()
            {
                commands.push(with_corner(offcut, i, Some(to)));
            }
            if response.has_focus() {
                if let Some(by) = arrow(ui) {
                    commands.push(with_corner(offcut, i, Some(*p + by)));
                }
                if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Delete)) {
                    commands.push(with_corner(offcut, i, None));
                }
            }
            response.on_hover_text(label);
        }
    }

    pub(super) fn show_drawing(&self, ui: &Ui, frame: &Frame<'_>, brush: &Brush<'_>) {
        let Some(drawing) = &self.drawing else { return };
        let moved = self.frame_of(frame.laid);
        let points: Vec<Point> = drawing.points.iter().map(|p| *p + moved).collect();
        let full = drawing.pen.is_stretch() && points.len() > 1;
        let next = ui
            .ctx()
            .pointer_hover_pos()
            .filter(|p| frame.canvas.contains(*p) && !full && !points.is_empty())
            .map(|p| frame.view.table_from_screen(frame.canvas, p));
        paint::drawn(brush, &points, next, drawing.pen.closes());
    }
}

/// An offcut with a corner moved or taken out, as a command; or why not.
pub fn with_corner(
    offcut: &petitoile_core::cloth::Offcut,
    corner: usize,
    to: Option<Point>,
) -> Command {
    let mut outline = offcut.outline.clone();
    match (outline.get_mut(corner), to) {
        (Some(p), Some(to)) => *p = to,
        (Some(_), None) => {
            outline.remove(corner);
        }
        (None, _) => {}
    }
    match offcut.with_outline(&outline) {
        Ok(next) => pen::put(next),
        Err(why) => Command::Say(format!("{}: {why}", offcut.name)),
    }
}

/// An arrow key as a step, mm.
fn arrow(ui: &Ui) -> Option<kurbo::Vec2> {
    [
        (Key::ArrowLeft, kurbo::Vec2::new(-1.0, 0.0)),
        (Key::ArrowRight, kurbo::Vec2::new(1.0, 0.0)),
        (Key::ArrowUp, kurbo::Vec2::new(0.0, 1.0)),
        (Key::ArrowDown, kurbo::Vec2::new(0.0, -1.0)),
    ]
    .into_iter()
    .find_map(|(key, way)| {
        let fine = ui.input_mut(|i| i.consume_key(Modifiers::SHIFT, key));
        (fine || ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)))
            .then(|| way * if fine { FINE } else { STEP })
    })
}

/// "120 mm; 80 mm".
pub fn place_words(p: Point, unit: LengthUnit) -> String {
    format!("{}; {}", unit.show(Mm(p.x)), unit.show(Mm(p.y)))
}
