//! The cloth table under pointer and keys: pan and zoom, choose, drag, turn, draw. Pushes commands; changes nothing.

use egui::{Key, Modifiers, Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use kurbo::Point;
use petitoile_core::lay_plan::{LayChange, PartRef};
use petitoile_core::{LengthUnit, Mm};

use super::hand::{Ground, Lifted};
use super::laid::{Laid, OnTable, Part};
use super::paint::{self, Brush, State};
use super::pen;
use super::seen::Seen;
use super::{ClothTray, Leaf};
use crate::canvas::view::{Aim, View};
use crate::canvas::{self, LEGEND, TARGET, rulers};
use crate::command::{Chosen, Command};
use crate::session::Session;
use crate::theme::Palette;

/// How far a part is drawn to what is near it, screen points.
const SNAP: f64 = 9.0;
/// How far a part is pushed out of what it overlaps when it is set down, screen points.
const OUT: f64 = 24.0;
/// One press of an arrow key, and with Shift, mm.
const STEP: f64 = 1.0;
const FINE: f64 = 0.1;
/// One press of a turning key, degrees.
const TURN: f64 = 0.5;

/// What the table needs for one frame.
struct Frame<'a> {
    session: &'a Session,
    seen: &'a Seen,
    laid: &'a Laid,
    canvas: Rect,
    view: View,
}

impl ClothTray {
    /// Shows the table and pushes what the maker asks of it.
    pub fn table(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let palette = Palette::showing(ui);
        let whole = ui.available_rect_before_wrap();
        let canvas = rulers::canvas(whole);
        if let Some(why) = self.photo.collect(ui.ctx()) {
            commands.push(Command::Say(why));
        }
        let seen = Seen::of(session);
        let laid = self.kept.of(&seen);
        let area = ui.interact(
            canvas,
            ui.scope_id().with("cloth table"),
            Sense::click_and_drag(),
        );
        ui.advance_cursor_after_rect(whole);
        area.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Cloth table"));
        let aimed = self.aimed(session, &laid, canvas);
        let now = aimed.unwrap_or(session.view);
        let drag_pans = self.hand.is_none() && self.point.is_none() && self.pans(&area, &laid, canvas, now);
        let lifted = self.hand.is_some();
        let view = canvas::listen(ui, &area, canvas, now, !lifted, drag_pans);
        if view != session.view || session.aim.is_some() {
            commands.push(Command::SetView(view));
        }
        let painter = ui.painter().with_clip_rect(canvas);
        let brush = Brush {
            painter: &painter,
            canvas,
            view,
            palette,
        };
        canvas::paint::table(&painter, canvas, &view, seen.unit(), palette);
        let frame = Frame {
            session,
            seen: &seen,
            laid: &laid,
            canvas,
            view,
        };
        self.paint_photo(&brush, &frame);
        self.show_cloths(ui, &frame, &brush, commands);
        self.show_parts(ui, &frame, &brush, commands);
        self.show_points(ui, &frame, &brush, commands);
        self.listen_area(ui, &area, &frame, commands);
        self.show_hand(ui, &frame, &brush, commands);
        self.show_drawing(ui, &frame, &brush);
        if laid.cloths.is_empty() && self.photo.photo.is_none() {
            nothing_yet(&brush);
        } else if canvas.width() > 400.0 && canvas.height() > 220.0 {
            paint::legend(&brush);
        }
        canvas::paint::rulers(
            ui.painter(),
            whole,
            canvas,
            &view,
            seen.unit(),
            palette,
            ui.ctx().pointer_hover_pos(),
        );
        if seen.is_searching {
            ui.ctx().request_repaint_after(std::time::Duration::from_millis(120));
        }
    }

    /// Where the view is to go: what was asked for; and everything again, while nobody has moved it and things have grown.
    fn aimed(&mut self, session: &Session, laid: &Laid, canvas: Rect) -> Option<View> {
        let bounds = self.bounds(laid);
        let untouched = self.all_for.is_some_and(|(size, view, seen)| {
            let same = size == canvas.size() && bounds == Some(seen);
            let busy = self.hand.is_some() || self.drawing.is_some() || self.point.is_some();
            view == session.view && !same && !busy
        });
        match session.aim {
            Some(Aim::Part(part)) => {
                self.all_for = None;
                Some(View::fitting(part, canvas.size()))
            }
            None if !untouched => None,
            Some(Aim::All) | None => {
                let seen = bounds?;
                // Room above for the names of the offcuts.
                let roomy = kurbo::Rect {
                    y1: seen.y1 + seen.height() * 0.06,
                    ..seen
                };
                let view = View::fitting_above(roomy, canvas.size(), LEGEND);
                self.all_for = Some((canvas.size(), view, seen));
                Some(view)
            }
        }
    }

    /// Around everything, the photo too.
    fn bounds(&self, laid: &Laid) -> Option<kurbo::Rect> {
        let photo = self.photo.photo.as_ref().map(|photo| {
            let size = photo.size_mm();
            kurbo::Rect::from_origin_size(self.photo_corner(laid).to_point(), (size.x, size.y))
        });
        match (laid.bounds(), photo) {
            (Some(a), Some(b)) => Some(a.union(b)),
            (a, b) => a.or(b),
        }
    }

    /// Where the lower left corner of the photo lies: under its offcut, else to the right of everything.
    pub(super) fn photo_corner(&self, laid: &Laid) -> kurbo::Vec2 {
        let of = self.photo.photo.as_ref().and_then(|photo| photo.of.as_deref());
        match of.and_then(|name| laid.cloth(name)) {
            Some(cloth) => cloth.moved,
            None => laid.bounds().map_or(kurbo::Vec2::ZERO, |all| {
                kurbo::Vec2::new(all.x1 + all.width() * 0.08 + 10.0, all.y0)
            }),
        }
    }

    /// Does a drag that began here move the table?
    fn pans(&self, area: &Response, laid: &Laid, canvas: Rect, view: View) -> bool {
        let Some(from) = area.ctx.input(|i| i.pointer.press_origin()) else {
            return true;
        };
        let p = view.table_from_screen(canvas, from);
        area.dragged_by(egui::PointerButton::Middle)
            || area.dragged_by(egui::PointerButton::Secondary)
            || laid.part_at(p).is_none()
    }

    fn paint_photo(&self, brush: &Brush<'_>, frame: &Frame<'_>) {
        if let Some(photo) = &self.photo.photo {
            photo.paint(brush, self.photo_corner(frame.laid));
        }
    }

    fn show_cloths(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let unit = frame.seen.unit();
        let under = self.photo.photo.as_ref().and_then(|photo| photo.of.clone());
        for cloth in &frame.laid.cloths {
            let name = &cloth.offcut.name;
            let chosen = self.offcut.as_deref() == Some(name) && self.leaf == Leaf::Offcuts;
            let words = cloth_words(cloth, unit);
            if under.as_deref() == Some(name) {
                paint::drawn_cloth(brush, cloth, &words);
            } else {
                paint::cloth(brush, &mut self.woven, cloth, chosen, &words);
            }
            let corner = brush.rect(cloth.bounds).left_top() + Vec2::new(12.0, -14.0);
            let target = Rect::from_center_size(corner, Vec2::splat(TARGET));
            let response = ui.interact(
                target,
                ui.scope_id().with(("cloth", name)),
                Sense::click(),
            );
            response.widget_info(|| {
                WidgetInfo::selected(Role::Button, true, chosen, format!("Offcut {words}"))
            });
            canvas::keep_arrows(ui, &response);
            if response.clicked() {
                self.choose_offcut(name);
                commands.push(Command::Hush);
            }
            response.on_hover_text(words);
        }
    }

    fn show_parts(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let pointer = self.hovered(ui, frame);
        for part in &frame.laid.parts {
            let away = self.hand.as_ref().is_some_and(|hand| hand.part == part.part);
            let chosen = self.is_chosen(frame.session, part);
            let state = State {
                chosen,
                hovered: pointer.as_ref() == Some(&part.part),
                wrong: !part.faults.is_empty(),
                cut: part.is_cut(),
                pinned: part.is_pinned(),
                held: false,
                away,
            };
            if frame.canvas.intersects(brush.rect(part.lines.bounds)) {
                paint::part(brush, &part.lines, &part.name, state);
            }
            self.listen_part(ui, frame, brush, part, chosen, commands);
        }
    }

    /// The part under the pointer, while nothing else is being done.
    fn hovered(&self, ui: &Ui, frame: &Frame<'_>) -> Option<PartRef> {
        let p = ui
            .ctx()
            .pointer_hover_pos()
            .filter(|p| frame.canvas.contains(*p) && self.drawing.is_none())
            .filter(|p| ui.ctx().layer_id_at(*p) == Some(ui.layer_id()))?;
        let on = frame.view.table_from_screen(frame.canvas, p);
        Some(frame.laid.part_at(on)?.part.clone())
    }

    /// A part as a button with a name, as large as a finger at its middle; the rest of it is listened to by its outline.
    fn listen_part(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        part: &Part,
        chosen: bool,
        commands: &mut Vec<Command>,
    ) {
        let held = self.hand.as_ref().filter(|hand| hand.part == part.part);
        let middle = held.map_or(part.lines.middle, |hand| hand.lines.middle);
        let target = Rect::from_center_size(brush.at(middle), Vec2::splat(TARGET));
        let id = ui.scope_id().with(("part", &part.part));
        let response = ui.interact(target, id, Sense::click_and_drag());
        let label = match held {
            Some(hand) => format!("{}, in the hand", hand.words(frame.seen.unit())),
            None => part.label(),
        };
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, chosen, &label));
        canvas::keep_arrows(ui, &response);
        if response.gained_focus() && !chosen {
            self.choose_part(part, commands);
        }
        self.pointer_on(ui, &response, frame, Some(part), commands);
        if response.has_focus() {
            self.part_keys(ui, frame, part, commands);
        }
    }

    /// Clicks and drags that began on a part or on the table.
    fn pointer_on(
        &mut self,
        ui: &Ui,
        response: &Response,
        frame: &Frame<'_>,
        part: Option<&Part>,
        commands: &mut Vec<Command>,
    ) {
        let place = |p: Pos2| frame.view.table_from_screen(frame.canvas, p);
        let primary = response.dragged_by(egui::PointerButton::Primary);
        if let Some(part) = part {
            if response.clicked() {
                self.choose_part(part, commands);
                response.request_focus();
            }
            if response.drag_started_by(egui::PointerButton::Primary) && !frame.seen.is_searching {
                let from = ui.input(|i| i.pointer.press_origin());
                self.lift(frame, part, from.map(place), commands);
            }
        }
        let by_pointer = self.hand.as_ref().is_some_and(|hand| hand.by_pointer);
        if by_pointer && primary && let Some(p) = response.interact_pointer_pos() {
            // Held down, Shift lets it lie wherever it is put.
            let snaps = !ui.input(|i| i.modifiers.shift);
            let reach = snaps.then_some(SNAP / frame.view.scale);
            self.with_hand(frame, |hand, ground| hand.follow(ground, place(p), reach));
        }
        if by_pointer && response.drag_stopped() {
            self.set_down(frame, commands);
        }
    }

    /// Takes a part in the hand.
    fn lift(
        &mut self,
        frame: &Frame<'_>,
        part: &Part,
        pointer: Option<Point>,
        commands: &mut Vec<Command>,
    ) {
        if self.hand.as_ref().is_some_and(|hand| hand.part != part.part) {
            self.set_down(frame, commands);
        }
        match Lifted::new(part, pointer) {
            Ok(hand) => {
                self.hand = Some(hand);
                self.with_hand(frame, Lifted::look);
                if !self.is_chosen(frame.session, part) {
                    self.choose_part(part, commands);
                }
            }
            Err(why) => commands.push(Command::Say(why)),
        }
    }

    fn with_hand(&mut self, frame: &Frame<'_>, then: impl FnOnce(&mut Lifted, &Ground<'_>)) {
        let scene = frame.seen.scene();
        let fitting = frame.seen.fitting.as_ref();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        if let Some(hand) = &mut self.hand {
            then(hand, &ground);
        }
    }

    fn set_down(&mut self, frame: &Frame<'_>, commands: &mut Vec<Command>) {
        let scene = frame.seen.scene();
        let fitting = frame.seen.fitting.as_ref();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        if let Some(hand) = self.hand.take() {
            commands.extend(hand.set_down(&ground, OUT / frame.view.scale));
        }
    }

    /// Keys on a part that has them.
    fn part_keys(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        part: &Part,
        commands: &mut Vec<Command>,
    ) {
        if frame.seen.is_searching {
            return;
        }
        let pressed = |key: Key, with: Modifiers| ui.input_mut(|i| i.consume_key(with, key));
        let is_held = |tray: &Self| tray.hand.as_ref().is_some_and(|hand| hand.part == part.part);
        for (key, way) in [
            (Key::ArrowLeft, kurbo::Vec2::new(-1.0, 0.0)),
            (Key::ArrowRight, kurbo::Vec2::new(1.0, 0.0)),
            (Key::ArrowUp, kurbo::Vec2::new(0.0, 1.0)),
            (Key::ArrowDown, kurbo::Vec2::new(0.0, -1.0)),
        ] {
            let push = pressed(key, Modifiers::COMMAND);
            let fine = !push && pressed(key, Modifiers::SHIFT);
            if !push && !fine && !pressed(key, Modifiers::NONE) {
                continue;
            }
            if !is_held(self) {
                self.lift(frame, part, None, commands);
            }
            let by = way * if fine { FINE } else { STEP };
            self.with_hand(frame, |hand, ground| {
                if push {
                    hand.push(ground, way);
                } else {
                    hand.nudge(ground, by);
                }
            });
        }
        for (key, by) in [(Key::Comma, TURN), (Key::Period, -TURN)] {
            if pressed(key, Modifiers::NONE) {
                if !is_held(self) {
                    self.lift(frame, part, None, commands);
                }
                self.with_hand(frame, |hand, ground| hand.turn(ground, by));
            }
        }
        if pressed(Key::Enter, Modifiers::NONE) {
            if is_held(self) {
                self.set_down(frame, commands);
            } else if part.placed.is_none() {
                self.lift(frame, part, None, commands);
                let first = self.offcut.clone();
                self.with_hand(frame, |hand, ground| hand.bring(ground, first.as_deref()));
            }
        }
        for (key, act) in [
            (Key::U, Act::UpsideDown),
            (Key::F, Act::Flip),
            (Key::P, Act::Pin),
            (Key::Delete, Act::TakeUp),
        ] {
            if pressed(key, Modifiers::NONE) {
                self.act(frame, part, act, commands);
            }
        }
    }

    /// Does one thing with a part, by key or button.
    fn act(&mut self, frame: &Frame<'_>, part: &Part, act: Act, commands: &mut Vec<Command>) {
        let fitting = frame.seen.fitting.as_ref();
        let scene = frame.seen.scene();
        let ground = Ground {
            fitting: fitting.map_or("", |fitting| fitting.name.as_str()),
            laid: frame.laid,
            scene: &scene,
        };
        match act {
            Act::Pin if part.placed.is_some() => {
                let pin = LayChange::Pin(part.part.clone(), !part.is_pinned());
                commands.push(ground.change(pin));
            }
            Act::TakeUp if part.placed.is_some() => {
                self.hand = None;
                commands.push(ground.change(LayChange::TakeUp(part.part.clone())));
            }
            Act::UpsideDown | Act::Flip => {
                let was_held = self.hand.as_ref().is_some_and(|hand| hand.part == part.part);
                if !was_held {
                    self.lift(frame, part, None, commands);
                }
                let mut done = Ok(());
                self.with_hand(frame, |hand, ground| {
                    done = match act {
                        Act::Flip => hand.flip(ground),
                        _ => hand.upside_down(ground),
                    };
                });
                if let Err(why) = done {
                    commands.push(Command::Say(why));
                    if !was_held {
                        self.hand = None;
                    }
                }
            }
            Act::Pin | Act::TakeUp => commands.push(Command::Say(format!(
                "{} lies on no cloth yet",
                part.name
            ))),
        }
    }

    /// What is asked by a button of the tray.
    pub(super) fn asked(&mut self, session: &Session, act: Act, commands: &mut Vec<Command>) {
        let seen = Seen::of(session);
        let laid = self.kept.of(&seen);
        let frame = Frame {
            session,
            seen: &seen,
            laid: &laid,
            canvas: Rect::NOTHING,
            view: session.view,
        };
        let Some(part) = self.chosen_part(session, &laid).cloned() else {
            return;
        };
        self.act(&frame, &part, act, commands);
        // A button does it at once.
        if matches!(act, Act::UpsideDown | Act::Flip) {
            self.set_down(&frame, commands);
        }
    }

    /// Clicks on the table itself: pen, parts by their outlines, offcuts, nothing.
    fn listen_area(
        &mut self,
        ui: &Ui,
        area: &Response,
        frame: &Frame<'_>,
        commands: &mut Vec<Command>,
    ) {
        let place = |p: Pos2| frame.view.table_from_screen(frame.canvas, p);
        if self.drawing.is_some() {
            if area.clicked() && let Some(p) = area.interact_pointer_pos() {
                let pointing = Mm(2.0 / frame.view.scale);
                let point = self.in_frame(frame.laid, place(p));
                self.draw_point(frame.session, point, pointing, commands);
            }
            return;
        }
        let from = ui
            .input(|i| i.pointer.press_origin())
            .or_else(|| area.interact_pointer_pos());
        let under = from.and_then(|p| frame.laid.part_at(place(p)));
        let by_pointer = self.hand.as_ref().is_some_and(|hand| hand.by_pointer);
        if under.is_some() || by_pointer {
            self.pointer_on(ui, area, frame, under, commands);
        } else if area.clicked() {
            if self.hand.is_some() {
                self.set_down(frame, commands);
            }
            let cloth = from.and_then(|p| frame.laid.cloth_at(place(p)));
            match cloth {
                Some(cloth) => self.choose_offcut(&cloth.offcut.name.clone()),
                None if frame.session.chosen.piece.is_some() => {
                    self.part = None;
                    commands.push(Command::Choose(Chosen::default()));
                }
                None => {}
            }
        }
        if area.double_clicked() && under.is_none() {
            commands.push(Command::ShowAll);
        }
    }

    /// What is in the hand, over everything else; its turning handle.
    fn show_hand(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let focus_gone = self.hand.as_ref().is_some_and(|hand| {
            let id = ui.scope_id().with(("part", &hand.part));
            !hand.by_pointer && !self.turning && ui.memory(|m| m.focused().is_some_and(|f| f != id))
        });
        if focus_gone {
            self.set_down(frame, commands);
        }
        if let Some(hand) = &self.hand {
            let wrong = !hand.faults.is_empty();
            let state = State {
                chosen: true,
                wrong,
                held: true,
                ..State::default()
            };
            paint::part(brush, &hand.lines, &hand.name, state);
            let words = hand.words(frame.seen.unit());
            paint::told(brush, &hand.lines, &words, wrong);
        }
        if self.drawing.is_none() && !frame.seen.is_searching {
            self.turning_handle(ui, frame, brush, commands);
        }
    }

    /// A handle beyond the upper end of the grainline of the chosen part.
    fn turning_handle(
        &mut self,
        ui: &Ui,
        frame: &Frame<'_>,
        brush: &Brush<'_>,
        commands: &mut Vec<Command>,
    ) {
        let Some(part) = self.chosen_part(frame.session, frame.laid).cloned() else {
            return;
        };
        if part.is_cut() || part.placed.is_none() || part.shape.is_none() {
            return;
        }
        let held = self.hand.as_ref().filter(|hand| hand.part == part.part);
        let lines = held.map_or(&part.lines, |hand| &hand.lines);
        let Some((low, high)) = lines.grain else {
            return;
        };
        let (a, b) = (brush.at(low), brush.at(high));
        let way = (b - a).normalized();
        let far = 0.5 * (brush.rect(lines.bounds).size() * way.abs()).length() + 20.0;
        let p = brush.at(lines.bounds.center()) + way * far;
        if !frame.canvas.contains(p) {
            return;
        }
        let id = ui.scope_id().with("turn handle");
        let target = Rect::from_center_size(p, Vec2::splat(TARGET));
        let response = ui.interact(target, id, Sense::click_and_drag());
        let label = format!("Turn {}", part.name);
        response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, &label));
        canvas::keep_arrows(ui, &response);
        paint::handle(brush, p, response.hovered() || response.has_focus() || response.dragged());
        if response.drag_started() {
            self.turning = true;
            let place = ui.input(|i| i.pointer.press_origin());
            let place = place.map(|p| frame.view.table_from_screen(frame.canvas, p));
            self.lift(frame, &part, place, commands);
        }
        if response.dragged() && let Some(p) = response.interact_pointer_pos() {
            let to = frame.view.table_from_screen(frame.canvas, p);
            self.with_hand(frame, |hand, ground| hand.turn_to(ground, to));
        }
        if response.drag_stopped() {
            self.turning = false;
            self.set_down(frame, commands);
        }
        if response.has_focus() {
            for (key, by) in [(Key::ArrowLeft, TURN), (Key::ArrowRight, -TURN)] {
                if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
                    self.lift(frame, &part, None, commands);
                    self.with_hand(frame, |hand, ground| hand.turn(ground, by));
                    self.set_down(frame, commands);
                }
            }
        }
        response.on_hover_text("Drag round, or press the left and right arrow keys: within its grain tolerance");
    }

    /// Corners of the chosen offcut, to be dragged or moved by keys.
    fn show_points(
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
            let label = format!("Corner {} of {}: {}", i + 1, offcut.name, place_words(*p, unit));
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
            if response.dragged() && let Some(p) = response.interact_pointer_pos() {
                let to = frame.view.table_from_screen(frame.canvas, p) - cloth.moved;
                self.point = Some((i, to));
            }
            if response.drag_stopped() && let Some((i, to)) = self.point.take() {
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

    fn show_drawing(&self, ui: &Ui, frame: &Frame<'_>, brush: &Brush<'_>) {
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

/// What can be done with a part by a key or a button.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Half a turn.
    UpsideDown,
    /// Left to right.
    Flip,
    /// Pinned, or let go.
    Pin,
    /// Off the cloth.
    TakeUp,
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

/// "Blue rest, 300 x 200 mm".
fn cloth_words(cloth: &OnTable, unit: LengthUnit) -> String {
    let size = paint::size_words(cloth.offcut.bounds(), unit);
    format!("{}, {size}", cloth.offcut.name)
}

/// "120 mm; 80 mm".
pub fn place_words(p: Point, unit: LengthUnit) -> String {
    format!("{}; {}", unit.show(Mm(p.x)), unit.show(Mm(p.y)))
}

fn nothing_yet(brush: &Brush<'_>) {
    let lines = "No cloth on the table yet.\nAdd an offcut in the tray: type its size, draw it, or trace a photo.";
    brush.painter.text(
        brush.canvas.center_top() + Vec2::new(0.0, 40.0),
        egui::Align2::CENTER_TOP,
        lines,
        egui::FontId::proportional(15.0),
        brush.palette.ink,
    );
}
