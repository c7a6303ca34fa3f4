//! From what egui tells to what a tool hears: clicks and drags on the table, and on handles.

use egui::{EventFilter, PointerButton, Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};

use super::hand::At;
use super::tool::{Gesture, Handle};

/// Size of a handle's target, screen points.
const TARGET: f32 = 24.0;

/// What happened beside all handles.
///
/// Only what the pointer did: Enter and Space on the table are the crosshair's.
pub fn on_area(
    area: &Response,
    pressed: &mut Option<At>,
    place: impl Fn(Pos2) -> At,
) -> Vec<Gesture> {
    let mut gestures = Vec::new();
    let now = area.interact_pointer_pos().or(area.hover_pos()).map(&place);
    let Some(now) = now else {
        return gestures;
    };
    if area.drag_started_by(PointerButton::Primary) {
        let from = area.ctx.input(|i| i.pointer.press_origin()).map(&place);
        *pressed = from.or(Some(now.clone()));
        gestures.extend(pressed.clone().map(Gesture::Press));
    }
    if is_given_up(&area.ctx) {
        *pressed = None;
    } else if area.drag_stopped_by(PointerButton::Primary) {
        gestures.extend(pressed.take().map(|from| Gesture::Drop(from, now.clone())));
    } else if area.dragged_by(PointerButton::Primary) {
        gestures.extend(pressed.clone().map(|from| Gesture::Drag(from, now.clone())));
    } else if area.double_clicked_by(PointerButton::Primary) {
        gestures.push(Gesture::DoubleClick(now));
    } else if area.clicked_by(PointerButton::Primary) {
        gestures.push(Gesture::Click(now));
    } else {
        gestures.push(Gesture::Move(now));
    }
    gestures
}

/// Escape ends a drag, but what was dragged is not dropped.
fn is_given_up(ctx: &egui::Context) -> bool {
    ctx.input(|i| i.key_pressed(egui::Key::Escape))
}

/// What happened to one handle.
pub struct OnHandle {
    /// What the tool hears.
    pub gestures: Vec<Gesture>,
    /// Has it the keys?
    pub has_focus: bool,
    /// Did a drag of it begin?
    pub drag_started: bool,
}

/// Offers one handle as a labelled button, and tells what happened to it.
pub fn on_handle(ui: &Ui, handle: &Handle, p: Pos2, place: impl Fn(Pos2) -> At) -> OnHandle {
    let target = Rect::from_center_size(p, Vec2::splat(TARGET));
    let response = ui.interact(
        target,
        ui.scope_id().with(("chalk handle", &handle.id)),
        Sense::click_and_drag(),
    );
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, handle.chosen, &handle.label));
    let has_focus = response.has_focus();
    if has_focus {
        keep_arrows(ui, &response, false);
    }
    let now = response.interact_pointer_pos().map(place);
    let more = ui.input(|i| i.modifiers.shift);
    let mut gestures = Vec::new();
    if response.clicked() || response.drag_started() && !handle.chosen {
        gestures.push(Gesture::Take {
            handle: handle.id.clone(),
            more,
        });
    }
    match now.filter(|_| !is_given_up(ui.ctx())) {
        Some(now) if response.drag_stopped() => {
            gestures.push(Gesture::DropHandle(handle.id.clone(), now));
        }
        Some(now) if response.dragged() => {
            gestures.push(Gesture::DragHandle(handle.id.clone(), now));
        }
        _ => {}
    }
    let drag_started = response.drag_started();
    response.on_hover_text(&handle.label);
    OnHandle {
        gestures,
        has_focus,
        drag_started,
    }
}

/// While the table or a handle has the keys, arrows (and Tab, while a number is typed) go to the tool.
pub fn keep_arrows(ui: &Ui, response: &Response, tab: bool) {
    let filter = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        tab,
        ..EventFilter::default()
    };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
}
