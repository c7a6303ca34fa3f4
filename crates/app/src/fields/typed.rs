//! A field for anything that is typed: kept while it has the keys, read when it is left or Enter is pressed.

use egui::{Key, TextEdit, Ui};

use super::length::select_all;
use crate::theme::Palette;

/// How a field looks.
#[derive(Debug, Clone, Copy)]
pub struct Style {
    /// Width, screen points.
    pub width: f32,
    /// Is what it shows computed, not given?
    pub computed: bool,
}

/// Shows `shown`; gives the text that was typed over it, once it is left or Enter is pressed. Escape takes it back.
/// What `reads` refuses is red while it is typed.
pub fn typed_field(
    ui: &mut Ui,
    name: &str,
    shown: &str,
    style: Style,
    reads: impl Fn(&str) -> bool,
) -> Option<String> {
    let id = ui.make_persistent_id(("typed", name));
    let had_focus = ui.memory(|m| m.has_focus(id));
    let mut text = if had_focus {
        ui.data(|d| d.get_temp::<String>(id))
            .unwrap_or_else(|| shown.to_owned())
    } else {
        shown.to_owned()
    };
    let palette = Palette::showing(ui);
    let trouble = had_focus && text != shown && !text.trim().is_empty() && !reads(&text);
    let mut edit = TextEdit::singleline(&mut text)
        .id(id)
        .desired_width(style.width)
        .min_size(egui::vec2(style.width, 0.0))
        .align(egui::Align2::RIGHT_CENTER);
    if trouble {
        edit = edit.text_color(palette.unusable);
    } else if style.computed && !had_focus {
        edit = edit
            .text_color(palette.faded)
            .background_color(palette.tray);
    }
    let response = ui.add(edit).accessible_name(name);
    if response.gained_focus() {
        select_all(ui, id, text.chars().count());
    }
    if response.lost_focus() {
        ui.data_mut(|d| d.remove::<String>(id));
        let escaped = ui.input(|i| i.key_pressed(Key::Escape));
        return (!escaped && text != shown).then_some(text);
    }
    if response.has_focus() {
        ui.data_mut(|d| d.insert_temp(id, text));
    }
    None
}

/// What a hand on a mover does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moved {
    /// It has moved by so many steps since it took hold.
    By(f64),
    /// It let go.
    LetGo,
    /// An arrow key: one step.
    Step(f64),
}

/// A handle beside a field: dragging it, or the arrow keys, moves the value.
pub fn mover(ui: &mut Ui, name: &str) -> Option<Moved> {
    let size = egui::vec2(26.0, 28.0);
    let (rect, response) = ui.allocate_exact_size(size, egui::Sense::click_and_drag());
    let label = format!("Move {}", name.to_lowercase());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Slider, true, &label));
    let palette = Palette::showing(ui);
    let busy = response.hovered() || response.dragged() || response.has_focus();
    let colour = if busy { palette.ink } else { palette.faded };
    let (middle, stroke) = (rect.center(), egui::Stroke::new(1.5, colour));
    for way in [-1.0, 1.0] {
        let tip = middle + egui::vec2(way * 9.0, 0.0);
        let back = |y: f32| tip - egui::vec2(way * 5.0, y);
        ui.painter().line_segment([tip, back(5.0)], stroke);
        ui.painter().line_segment([tip, back(-5.0)], stroke);
    }
    ui.painter()
        .vline(middle.x, middle.y - 6.0..=middle.y + 6.0, stroke);
    let response = response
        .on_hover_cursor(egui::CursorIcon::ResizeHorizontal)
        .on_hover_text("Drag sideways, or press an arrow key");
    if response.drag_stopped() {
        return Some(Moved::LetGo);
    }
    if response.dragged() {
        let steps = f64::from((response.total_drag_delta().unwrap_or_default().x / 5.0).round());
        return Some(Moved::By(steps));
    }
    if response.has_focus() {
        let keys = egui::EventFilter {
            horizontal_arrows: true,
            ..egui::EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, keys));
        for (key, step) in [(Key::ArrowLeft, -1.0), (Key::ArrowRight, 1.0)] {
            if ui.input_mut(|i| i.consume_key(egui::Modifiers::NONE, key)) {
                return Some(Moved::Step(step));
            }
        }
    }
    None
}
