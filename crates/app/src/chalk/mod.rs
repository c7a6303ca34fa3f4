//! Hand work on the table: the tools, the one in hand, and how pointer and keys reach it.
//!
//! [`tool`] says what a tool is; every tool is one small file in [`tools`]. A tool sees a [`hand::Hand`] and pushes
//! commands; it cannot change anything itself. Nothing here decides how a garment is altered: that is
//! `petitoile_core::alteration`.

pub mod ask;
pub mod brush;
pub mod hand;
pub mod kept;
pub mod marked;
pub mod mate;
pub mod near;
pub mod on_edge;
pub mod snap;
pub mod tool;
pub mod tools;
pub mod which_seam;

use egui::{
    EventFilter, Key, Modifiers, PointerButton, Pos2, Rect, Response, Role, Sense, Ui, Vec2,
    WidgetInfo,
};

use petitoile_core::garment::Garment;

use crate::canvas::view::View;
use crate::command::Command;
use crate::session::Session;
use crate::theme::Palette;
use brush::Brush;
use hand::{At, Hand};
use tool::{Gesture, Handle, HandleLook, Tool};

/// How near the pointer must be to an edge or a snapping place, screen points.
const REACH: f64 = 10.0;
/// Size of a handle's target, screen points.
const TARGET: f32 = 22.0;

/// The tools, and the one in hand.
pub struct Chalk {
    tools: Vec<Box<dyn Tool>>,
    in_hand: usize,
    pressed: Option<At>,
    typing: bool,
}

impl Default for Chalk {
    fn default() -> Self {
        Self {
            tools: tools::all(),
            in_hand: 0,
            pressed: None,
            typing: false,
        }
    }
}

impl Chalk {
    /// Every tool.
    pub fn tools(&self) -> impl Iterator<Item = &dyn Tool> {
        self.tools.iter().map(|tool| tool.as_ref())
    }

    /// The tool in hand.
    pub fn tool(&self) -> Option<&dyn Tool> {
        self.tools.get(self.in_hand).map(|tool| tool.as_ref())
    }

    /// Takes the tool of this name in hand; what the last one had half done is given up.
    pub fn take(&mut self, name: &str, commands: &mut Vec<Command>) {
        let Some(next) = self.tools.iter().position(|tool| tool.name() == name) else {
            return;
        };
        if next != self.in_hand {
            self.cancel(commands);
            self.in_hand = next;
        }
    }

    /// Gives up what is half done. `false` when nothing was.
    pub fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        self.pressed = None;
        self.tools
            .get_mut(self.in_hand)
            .is_some_and(|tool| tool.cancel(commands))
    }

    /// Escape gives up what is half done before it lets go of a piece; a letter takes a tool in hand.
    pub fn keys(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        self.typing = ctx.text_edit_focused();
        if self.typing {
            return;
        }
        let escape = ctx.input(|i| i.key_pressed(Key::Escape));
        if escape && self.cancel(commands) {
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
        }
        let asked = self.tools.iter().find_map(|tool| {
            let key = tool.key()?;
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key))
                .then(|| tool.name())
        });
        if let Some(name) = asked {
            self.take(name, commands);
        }
    }

    /// The fields of the tool in hand, in the tray.
    pub fn fields(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let hand = hand_of(session, session.view, None, Modifiers::NONE);
        if let Some(tool) = self.tools.get_mut(self.in_hand) {
            tool.fields(ui, &hand, commands);
        }
    }

    /// Do arrow keys move what the tool in hand has chosen, instead of the table?
    pub fn takes_arrows(&self, session: &Session) -> bool {
        let hand = hand_of(session, session.view, None, Modifiers::NONE);
        self.tool()
            .is_some_and(|tool| tool.handles(&hand).iter().any(|handle| handle.chosen))
    }

    /// The garment as it would be if what is half done were finished now.
    pub fn preview(&self) -> Option<&Garment> {
        self.tool().and_then(|tool| tool.preview())
    }

    /// What the next click does, for the tray and the status line.
    pub fn says(&self, session: &Session) -> String {
        let hand = hand_of(session, session.view, None, Modifiers::NONE);
        self.tool().map_or(String::new(), |tool| tool.says(&hand))
    }

    /// Lets the tool in hand work on the table. Gives how far the table is to be panned.
    pub fn on_table(
        &mut self,
        ui: &Ui,
        canvas: Rect,
        view: View,
        session: &Session,
        commands: &mut Vec<Command>,
    ) -> Vec2 {
        let area = ui.interact(canvas, ui.scope_id().with("chalk"), Sense::click_and_drag());
        area.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Chalk table"));
        let keys = ui.input(|i| i.modifiers);
        let hover = ui
            .ctx()
            .pointer_hover_pos()
            .filter(|p| canvas.contains(*p) && ui.ctx().layer_id_at(*p) == Some(ui.layer_id()));
        let mut hand = hand_of(session, view, None, keys);
        hand.pointer = hover.map(|p| near::at(&hand, view.table_from_screen(canvas, p)));
        let Some(tool) = self.tools.get_mut(self.in_hand) else {
            return Vec2::ZERO;
        };
        let place = |p: Pos2| near::at(&hand, view.table_from_screen(canvas, p));
        let mut gestures = on_area(&area, &mut self.pressed, place);
        let handles = tool.handles(&hand);
        let mut on_a_handle = false;
        for handle in &handles {
            let p = view.screen_from_table(canvas, handle.at);
            if canvas.contains(p) {
                let (done, has_focus) = on_handle(ui, handle, p, place);
                gestures.extend(done);
                on_a_handle |= has_focus;
            }
        }
        // The Enter that takes a typed number over, or chooses a handle, finishes nothing; a field keeps its own keys.
        let typing = self.typing || ui.ctx().text_edit_focused();
        let took = gestures.iter().any(|g| matches!(g, Gesture::Take { .. }));
        let free = area.has_focus() || ui.memory(|m| m.focused().is_none()) || on_a_handle;
        if free && !typing && !took {
            gestures.extend(from_keys(ui, session));
        }
        for gesture in gestures {
            tool.gesture(&hand, gesture, commands);
        }
        let painter = ui.painter().with_clip_rect(canvas);
        let brush = Brush::new(&painter, canvas, view, Palette::showing(ui));
        if let Some(snapped) = hand.pointer.as_ref().and_then(|at| at.snapped.as_ref()) {
            brush.words(snapped.at, &snapped.what);
        }
        for handle in &handles {
            paint_handle(&painter, &brush, handle);
        }
        tool.paint(&hand, &brush);
        let pans = area.dragged_by(PointerButton::Secondary)
            || area.dragged_by(PointerButton::Middle)
            || area.dragged() && ui.input(|i| i.key_down(Key::Space));
        if pans { area.drag_delta() } else { Vec2::ZERO }
    }
}

fn hand_of(session: &Session, view: View, pointer: Option<At>, keys: Modifiers) -> Hand<'_> {
    Hand {
        session,
        garment: session.on_table(),
        table: &session.work.table,
        unit: session.shown().unit,
        pointer,
        keys,
        reach: REACH / view.scale,
    }
}

/// What happened beside all handles.
fn on_area(area: &Response, pressed: &mut Option<At>, place: impl Fn(Pos2) -> At) -> Vec<Gesture> {
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
    if area.drag_stopped_by(PointerButton::Primary) {
        gestures.extend(pressed.take().map(|from| Gesture::Drop(from, now.clone())));
    } else if area.dragged_by(PointerButton::Primary) {
        gestures.extend(pressed.clone().map(|from| Gesture::Drag(from, now.clone())));
    } else if area.double_clicked() {
        gestures.push(Gesture::DoubleClick(now));
    } else if area.clicked() {
        gestures.push(Gesture::Click(now));
    } else {
        gestures.push(Gesture::Move(now));
    }
    gestures
}

/// What happened to one handle, and whether it has the keys.
fn on_handle(
    ui: &Ui,
    handle: &Handle,
    p: Pos2,
    place: impl Fn(Pos2) -> At,
) -> (Vec<Gesture>, bool) {
    let target = Rect::from_center_size(p, Vec2::splat(TARGET));
    let response = ui.interact(
        target,
        ui.scope_id().with(("chalk handle", &handle.id)),
        Sense::click_and_drag(),
    );
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, handle.chosen, &handle.label));
    if response.has_focus() {
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
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
    match now {
        Some(now) if response.drag_stopped() => {
            gestures.push(Gesture::DropHandle(handle.id.clone(), now));
        }
        Some(now) if response.dragged() => {
            gestures.push(Gesture::DragHandle(handle.id.clone(), now));
        }
        _ => {}
    }
    let has_focus = response.has_focus();
    response.on_hover_text(&handle.label);
    (gestures, has_focus)
}

/// Enter, Delete and arrows. Arrows move by 1 mm (or the inch equivalent), with Shift by 10, with Alt by a tenth.
fn from_keys(ui: &Ui, session: &Session) -> Vec<Gesture> {
    let mut gestures = Vec::new();
    ui.input_mut(|i| {
        if i.consume_key(Modifiers::NONE, Key::Enter) {
            gestures.push(Gesture::Finish);
        }
        if i.consume_key(Modifiers::NONE, Key::Delete)
            || i.consume_key(Modifiers::NONE, Key::Backspace)
        {
            gestures.push(Gesture::Delete);
        }
        for (modifiers, by) in near::nudges(session.shown().unit) {
            for (key, way) in [
                (Key::ArrowLeft, (-1.0, 0.0)),
                (Key::ArrowRight, (1.0, 0.0)),
                (Key::ArrowUp, (0.0, 1.0)),
                (Key::ArrowDown, (0.0, -1.0)),
            ] {
                if i.consume_key(modifiers, key) {
                    gestures.push(Gesture::Nudge(kurbo::Vec2::from(way) * by.0));
                }
            }
        }
    });
    gestures
}

fn paint_handle(painter: &egui::Painter, brush: &Brush<'_>, handle: &Handle) {
    let (p, palette) = (brush.screen(handle.at), brush.palette());
    let fill = if handle.chosen {
        palette.chosen
    } else {
        palette.paper
    };
    let stroke = egui::Stroke::new(1.5, palette.pencil);
    match handle.look {
        HandleLook::Corner => {
            let square = Rect::from_center_size(p, Vec2::splat(11.0));
            painter.rect(square, 1.0, fill, stroke, egui::StrokeKind::Middle);
        }
        HandleLook::Point => {
            painter.circle(p, 5.5, fill, stroke);
        }
        HandleLook::Steering => {
            painter.circle(p, 4.0, fill, egui::Stroke::new(1.0, palette.pencil));
        }
        HandleLook::Edge | HandleLook::Mark => {
            let half = 6.0;
            let diamond = vec![
                p + egui::vec2(0.0, -half),
                p + egui::vec2(half, 0.0),
                p + egui::vec2(0.0, half),
                p + egui::vec2(-half, 0.0),
            ];
            painter.add(egui::Shape::convex_polygon(diamond, fill, stroke));
        }
    }
}
