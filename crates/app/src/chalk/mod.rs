//! Hand work on the table: the tools, the one in hand, and how pointer and keys reach it.
//!
//! [`tool`] says what a tool is; every tool is one small file in [`tools`]. A tool sees a [`hand::Hand`] and pushes
//! commands; it cannot change anything itself. Nothing here decides how a garment is altered: that is
//! `petitoile_core::alteration`.

pub mod across;
pub mod ask;
pub mod brush;
pub mod clipboard;
pub mod draft;
mod gestures;
pub mod hand;
pub mod job;
pub mod kept;
pub(crate) mod keys;
mod look;
pub mod made;
pub mod marked;
pub mod mate;
pub mod mouth;
pub mod near;
pub mod new_piece;
pub mod on_edge;
pub mod picture_under;
pub mod pinned;
pub mod placed;
pub mod points;
pub mod several;
pub mod sides;
pub mod snap;
pub mod spot;
pub mod tool;
pub mod tools;
pub mod trial;
pub mod typed;
pub mod which_seam;

use egui::{
    Key, Modifiers, PointerButton, Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo,
};
use kurbo::Point;
use petitoile_core::garment::Garment;
use petitoile_core::snapping::{Scene, Snapping};

use crate::canvas::view::View;
use crate::command::Command;
use crate::session::Session;
use crate::theme::Palette;
use crate::wording;
use brush::Brush;
use hand::{At, Hand};
use keys::{Asked, Crosshair};
use picture_under::PictureUnder;
use tool::{Gesture, Tool};

/// How near the pointer must be to an edge or a snapping place, screen points.
const REACH: f64 = 10.0;
/// The same for the crosshair, which is placed by whole steps.
const CROSSHAIR_REACH: f64 = 3.0;

/// The tools, and the one in hand.
pub struct Chalk {
    tools: Vec<Box<dyn Tool>>,
    in_hand: usize,
    pressed: Option<At>,
    typing: bool,
    /// What places snap to while a handle is dragged: as it was when the drag began.
    scene: Option<Scene>,
    crosshair: Option<Crosshair>,
    /// Where the pointer or the crosshair was in the last frame.
    last: Option<At>,
    /// What is drawn over.
    pub picture: Option<PictureUnder>,
}

/// What is done with a piece and the clipboard by a button.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clipboard {
    /// The chosen piece is copied.
    Copy,
    /// It is copied and taken out.
    Cut,
}

impl Default for Chalk {
    fn default() -> Self {
        Self {
            tools: tools::all(),
            in_hand: 0,
            pressed: None,
            typing: false,
            scene: None,
            crosshair: None,
            last: None,
            picture: None,
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
        self.scene = None;
        self.tools
            .get_mut(self.in_hand)
            .is_some_and(|tool| tool.cancel(commands))
    }

    /// Escape gives up what is half done before it lets go of a piece; a letter takes a tool in hand.
    pub fn keys(&mut self, ctx: &egui::Context, session: &Session, commands: &mut Vec<Command>) {
        self.typing = ctx.text_edit_focused();
        if self.typing {
            return;
        }
        let hand = hand_of(session, session.view, None, Modifiers::NONE);
        clipboard::keys(ctx, &hand, commands);
        let escape = ctx.input(|i| i.key_pressed(Key::Escape));
        if escape && (self.cancel(commands) || self.crosshair.take().is_some()) {
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
        }
        self.step_back(ctx);
        let asked = self.tools.iter().find_map(|tool| {
            let key = tool.key()?;
            ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key))
                .then(|| tool.name())
        });
        if let Some(name) = asked {
            self.take(name, commands);
        }
    }

    /// Copies or cuts the chosen piece.
    pub fn clipboard(
        &self,
        ctx: &egui::Context,
        session: &Session,
        what: Clipboard,
        commands: &mut Vec<Command>,
    ) {
        let hand = hand_of(session, session.view, None, Modifiers::NONE);
        match what {
            Clipboard::Copy => {
                clipboard::copy(ctx, &hand, commands);
            }
            Clipboard::Cut => clipboard::cut(ctx, &hand, commands),
        }
    }

    /// Undo takes half-done work back first, bit by bit.
    fn step_back(&mut self, ctx: &egui::Context) {
        let undo = ctx.input(|i| {
            i.key_pressed(Key::Z) && i.modifiers.command && !i.modifiers.shift && !i.modifiers.alt
        });
        let tool = self.tools.get_mut(self.in_hand);
        if undo && tool.is_some_and(|tool| tool.step_back()) {
            ctx.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::Z));
        }
    }

    /// The fields of the tool in hand, in the tray.
    pub fn fields(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let hand = hand_of(session, session.view, self.last.clone(), Modifiers::NONE);
        if let Some(tool) = self.tools.get_mut(self.in_hand) {
            tool.fields(ui, &hand, commands);
        }
    }

    /// Do arrow keys go to the tool in hand or to the crosshair, instead of the table?
    pub fn takes_arrows(&self, session: &Session) -> bool {
        session.garment().is_some()
    }

    /// The garment as it would be if what is half done were finished now.
    pub fn preview(&self) -> Option<&Garment> {
        self.tool().and_then(|tool| tool.preview())
    }

    /// What the next click does, for the tray and the status line.
    pub fn says(&self, session: &Session) -> String {
        let hand = hand_of(session, session.view, self.last.clone(), Modifiers::NONE);
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
        let held_keys = ui.input(|i| i.modifiers);
        let hand = hand_of(session, view, None, held_keys);
        let Some(tool) = self.tools.get_mut(self.in_hand) else {
            return Vec2::ZERO;
        };
        if !ui.input(|i| i.pointer.any_down() || i.pointer.any_released()) {
            self.scene = None;
        }
        let now = snap::scene(&hand, tool.snaps_to(&hand));
        let to = if tool.snaps() {
            session.settings.snapping
        } else {
            Snapping::OFF
        };
        let place =
            |scene: &Scene, p: Pos2| near::at(&hand, scene, view.table_from_screen(canvas, p), to);
        let hover = ui
            .ctx()
            .pointer_hover_pos()
            .filter(|p| canvas.contains(*p) && ui.ctx().layer_id_at(*p) == Some(ui.layer_id()));
        if ui.input(|i| i.pointer.delta() != Vec2::ZERO) {
            self.crosshair = None;
        }
        let mut gestures = gestures::on_area(&area, &mut self.pressed, |p| place(&now, p));
        let handles = tool.handles(&hand);
        let mut on_a_handle = false;
        for handle in &handles {
            let p = view.screen_from_table(canvas, handle.at);
            if !canvas.contains(p) {
                continue;
            }
            let held = self.scene.clone().unwrap_or_else(|| Scene {
                moving: now.moving.or(Some(handle.at)),
                ..now.clone()
            });
            let done = gestures::on_handle(ui, handle, p, |p| place(&held, p));
            if done.drag_started {
                self.scene = Some(held);
            }
            gestures.extend(done.gestures);
            on_a_handle |= done.has_focus;
        }
        let pointer = match self.crosshair {
            Some(crosshair) => Some(at_crosshair(&hand, &now, crosshair)),
            None => hover.map(|p| place(self.scene.as_ref().unwrap_or(&now), p)),
        };
        let hand = hand_of(session, view, pointer, held_keys);
        // The Enter that takes a typed number over, or chooses a handle, finishes nothing; a field keeps its own keys.
        let in_box = ui.memory(|m| m.top_modal_layer().is_some());
        let in_field = self.typing || in_box || ui.ctx().text_edit_focused();
        let took = gestures.iter().any(|g| matches!(g, Gesture::Take { .. }));
        let free = area.has_focus() || ui.memory(|m| m.focused().is_none()) || on_a_handle;
        let mut pan = Vec2::ZERO;
        if !in_field {
            if keys::typed(ui, tool.as_mut(), &hand, area.has_focus(), commands) {
                area.request_focus();
            }
            if free && !took {
                let asked = keys::asked(ui, hand.unit);
                let start = now.start.map_or(view.middle, |start| start.at);
                let mut crosshair = self.crosshair;
                for asked in asked {
                    gestures.extend(heard(
                        &hand,
                        &now,
                        tool.as_ref(),
                        &mut crosshair,
                        start,
                        asked,
                    ));
                }
                if crosshair != self.crosshair {
                    let at = crosshair.map(|crosshair| crosshair.at);
                    pan += back_on(canvas, &view, at);
                    self.crosshair = crosshair;
                }
            }
        }
        if let Some(picture) = &mut self.picture {
            // Only what the garment's own pieces leave free is free: not while they are still worked out.
            let settled = !session.is_working();
            let laid = settled.then(|| picture.lay_down(session.work.table.bounds()));
            commands.extend(laid.flatten().map(Command::ShowPart));
            let painter = ui.painter().with_clip_rect(canvas);
            let brush = crate::canvas::brush::Brush {
                painter: &painter,
                canvas,
                view,
                palette: Palette::showing(ui),
            };
            picture.listen(ui, &brush, hand.unit);
        }
        if area.has_focus() {
            gestures::keep_arrows(ui, &area, tool.is_typing());
        }
        for gesture in gestures {
            tool.gesture(&hand, gesture, commands);
        }
        name_area(&area, &hand, self.crosshair);
        let painter = ui.painter().with_clip_rect(canvas);
        let brush = Brush::new(&painter, canvas, view, Palette::showing(ui));
        if let Some(snapped) = hand.pointer.as_ref().and_then(|at| at.snapped.as_ref()) {
            look::snapped(&painter, &brush, snapped);
        }
        for handle in &handles {
            look::handle(&painter, &brush, handle);
        }
        pinned::paint(&hand, &brush);
        tool.paint(&hand, &brush);
        let start = tool.snaps_to(&hand).start.map(|start| start.at);
        if start != now.start.map(|start| start.at) {
            pan += back_on(canvas, &view, start);
        }
        if let Some(crosshair) = self.crosshair {
            look::crosshair(&painter, &brush, brush.screen(crosshair.at));
        }
        self.last = hand.pointer;
        let pans = area.dragged_by(PointerButton::Secondary)
            || area.dragged_by(PointerButton::Middle)
            || area.dragged() && ui.input(|i| i.key_down(Key::Space));
        if pans { pan + area.drag_delta() } else { pan }
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

/// What a tool hears when a key asks for something.
fn heard(
    hand: &Hand<'_>,
    scene: &Scene,
    tool: &dyn Tool,
    crosshair: &mut Option<Crosshair>,
    start: Point,
    asked: Asked,
) -> Option<Gesture> {
    match asked {
        Asked::Arrow(by) if tool.takes_arrows(hand) => return Some(Gesture::Nudge(by)),
        Asked::Arrow(by) => {
            let at = crosshair.map_or(start, |crosshair| crosshair.at) + by;
            *crosshair = Some(Crosshair { at, clicked: false });
        }
        Asked::Space | Asked::Finish => {
            let click = crosshair
                .as_mut()
                .filter(|crosshair| asked == Asked::Space || !crosshair.clicked);
            if let Some(crosshair) = click {
                crosshair.clicked = true;
                return Some(Gesture::Click(at_crosshair(hand, scene, *crosshair)));
            }
            return (asked == Asked::Finish).then_some(Gesture::Finish);
        }
        Asked::Delete => return Some(Gesture::Delete),
    }
    None
}

/// The place of the crosshair: it moves by exact steps, so it snaps to points only, and only when it is all but there.
fn at_crosshair(hand: &Hand<'_>, scene: &Scene, crosshair: Crosshair) -> At {
    let near_by = Hand {
        reach: hand.reach * CROSSHAIR_REACH / REACH,
        pointer: None,
        ..*hand
    };
    let points = Snapping {
        points: true,
        ..Snapping::OFF
    };
    let place = near::at(hand, scene, crosshair.at, Snapping::OFF);
    let near = near::at(&near_by, scene, crosshair.at, points);
    At {
        point: near.point,
        snapped: near.snapped,
        ..place
    }
}

/// How far the table is panned so that a place is seen: the crosshair, a point that was typed.
fn back_on(canvas: Rect, view: &View, at: Option<Point>) -> Vec2 {
    let Some(at) = at else {
        return Vec2::ZERO;
    };
    let p = view.screen_from_table(canvas, at);
    canvas.shrink(40.0).clamp(p) - p
}

/// What is read out of the table: where the crosshair is.
fn name_area(area: &Response, hand: &Hand<'_>, crosshair: Option<Crosshair>) {
    area.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::Canvas, true, "Chalk table");
        info.current_text_value = crosshair.map(|crosshair| {
            let show = |mm: f64| wording::length(petitoile_core::Mm(mm), hand.unit);
            let snapped = hand.pointer.as_ref().and_then(|at| at.snapped.as_ref());
            let what = snapped.map_or(String::new(), |snapped| format!(", {}", snapped.what));
            format!(
                "{} right, {} up{what}",
                show(crosshair.at.x),
                show(crosshair.at.y)
            )
        });
        info
    });
}
