//! The cloth table under pointer and keys: pan and zoom, choose, drag, turn, draw. Pushes commands; changes nothing.

use egui::{Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use petitoile_core::lay_plan::PartRef;
use petitoile_core::{LengthUnit, Mm};

use super::laid::{Laid, OnTable};
use super::paint::{self, Brush};
use super::seen::Seen;
use super::{ClothTray, Leaf};
use crate::canvas::view::{Aim, View};
use crate::canvas::{self, LEGEND, TARGET, rulers};
use crate::command::{Chosen, Command};
use crate::session::{Session, What};
use crate::theme::Palette;

mod acts;
mod parts;
mod points;

pub use acts::Act;
pub use points::with_corner;

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
        let drag_pans =
            self.hand.is_none() && self.point.is_none() && self.pans(&area, &laid, canvas, now);
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
        self.show_photo(ui, &brush, &frame);
        self.show_cloths(ui, &frame, &brush);
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
            ui.ctx()
                .request_repaint_after(std::time::Duration::from_millis(120));
        }
    }

    /// Where the view is to go: what was asked for; and everything again, while nobody has moved it and things have grown, or a
    /// search lays them anew. What is laid by hand never makes the table jump under it.
    fn aimed(&mut self, session: &Session, laid: &Laid, canvas: Rect) -> Option<View> {
        let bounds = self.bounds(laid);
        let untouched = self.all_for.is_some_and(|(size, view, seen)| {
            let holds = |now: kurbo::Rect| seen.union(now) == seen;
            let searched = session.laying.busy_with() == Some(What::Plan) && bounds != Some(seen);
            let same = size == canvas.size() && bounds.is_some_and(holds) && !searched;
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
        let of = self
            .photo
            .photo
            .as_ref()
            .and_then(|photo| photo.of.as_deref());
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

    fn show_photo(&self, ui: &Ui, brush: &Brush<'_>, frame: &Frame<'_>) {
        let Some(photo) = &self.photo.photo else {
            return;
        };
        let corner = self.photo_corner(frame.laid);
        photo.paint(brush, corner);
        let size = photo.size_mm();
        let around = kurbo::Rect::from_origin_size(corner.to_point(), (size.x, size.y));
        let id = ui.scope_id().with("photo");
        let response = ui.interact(brush.rect(around), id, Sense::hover());
        response.widget_info(|| {
            WidgetInfo::labeled(
                Role::Image,
                true,
                format!("Photo on the table: {}", photo.name),
            )
        });
    }

    fn show_cloths(&mut self, ui: &Ui, frame: &Frame<'_>, brush: &Brush<'_>) {
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
            let response = ui.interact(target, ui.scope_id().with(("cloth", name)), Sense::click());
            response.widget_info(|| {
                WidgetInfo::selected(Role::Button, true, chosen, format!("Offcut {words}"))
            });
            canvas::keep_arrows(ui, &response);
            if response.clicked() {
                self.choose_offcut(name);
            }
            response.on_hover_text(words);
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
            if area.clicked()
                && let Some(p) = area.interact_pointer_pos()
            {
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
}

/// "Blue rest, 300 x 200 mm".
fn cloth_words(cloth: &OnTable, unit: LengthUnit) -> String {
    let size = paint::size_words(cloth.offcut.bounds(), unit);
    format!("{}, {size}", cloth.offcut.name)
}

/// What tells a part from all others on the screen.
fn part_key(part: &PartRef) -> (&'static str, String) {
    ("part", format!("{part:?}"))
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
