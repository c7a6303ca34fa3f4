//! The table while something is brought in: pages that are dragged together, lines and pieces to choose from, a picture to
//! point at.

use egui::{Pos2, Rect, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use kurbo::Point;
use petitoile_core::LengthUnit;
use petitoile_exchange::bring_in::recognise::Thing;

use super::paint;
use super::pieces_leaf::thing_words;
use super::work::Worked;
use super::{BringIn, Leaf, Mark};
use crate::canvas::brush::Brush;
use crate::canvas::view::View;
use crate::canvas::{self, LEGEND, TARGET, rulers};
use crate::chalk::keys;
use crate::session::Session;
use crate::theme::Palette;
use crate::wording;

/// How near a line must be to be meant, screen points.
const REACH: f64 = 8.0;

impl BringIn {
    /// Shows the table.
    pub fn table(&mut self, ui: &mut Ui, session: &Session) {
        let palette = Palette::showing(ui);
        let whole = ui.available_rect_before_wrap();
        // A pixel has no length yet: a picture has no rulers.
        let canvas = if self.leaf == Leaf::Picture {
            whole
        } else {
            rulers::canvas(whole)
        };
        let id = ui.scope_id().with("bring in table");
        let area = ui.interact(canvas, id, Sense::click_and_drag());
        ui.advance_cursor_after_rect(whole);
        area.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Table of what is brought in"));
        let (view, is_there) = self.view(canvas);
        let page = self.page_under(&area, canvas, view);
        let view = canvas::listen(ui, &area, canvas, view, true, page.is_none());
        // Before there is anything to see, nothing was looked at.
        self.view = is_there.then_some(view);
        let painter = ui.painter().with_clip_rect(canvas);
        let unit = session.project().unit;
        canvas::paint::table(&painter, canvas, &view, unit, palette);
        let brush = Brush {
            painter: &painter,
            canvas,
            view,
            palette,
        };
        if self.leaf == Leaf::Picture {
            self.show_picture(ui, &area, &brush, unit);
        } else if let Some(worked) = self.worked.clone() {
            self.show_sheet(ui, &area, &brush, &worked, page, unit);
        }
        if self.leaf == Leaf::Picture {
            return;
        }
        let pointer = ui.ctx().pointer_hover_pos();
        canvas::paint::rulers(ui.painter(), whole, canvas, &view, unit, palette, pointer);
    }

    /// How it is looked at: everything, until it is moved; and is there anything to be seen?
    fn view(&self, canvas: Rect) -> (View, bool) {
        let all = match (&self.picture, &self.worked) {
            (Some(picture), _) if self.leaf == Leaf::Picture => Some(picture.bounds()),
            (_, Some(worked)) => Some(paint::bounds(worked)),
            _ => None,
        };
        match (self.view, all) {
            (Some(view), Some(_)) => (view, true),
            (None, Some(all)) => (View::fitting_above(all, canvas.size(), LEGEND), true),
            (_, None) => (View::default(), false),
        }
    }

    fn show_picture(&mut self, ui: &Ui, area: &Response, brush: &Brush<'_>, unit: LengthUnit) {
        let Some(picture) = &mut self.picture else {
            return;
        };
        picture.paint(brush);
        for (i, point) in picture.points().into_iter().enumerate() {
            let at = brush.at(point);
            let target = Rect::from_center_size(at, Vec2::splat(TARGET));
            let handle = ui.interact(
                target,
                ui.scope_id().with(("corner", i)),
                Sense::click_and_drag(),
            );
            let label = format!("Point {} in the picture", i + 1);
            handle.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
            canvas::keep_arrows(ui, &handle);
            if let Some(p) = handle.interact_pointer_pos().filter(|_| handle.dragged()) {
                picture.drag(i, brush.view.table_from_screen(brush.canvas, p));
            }
            if handle.has_focus() {
                let by = nudged(ui, unit);
                if by != kurbo::Vec2::ZERO {
                    picture.drag(i, point + by);
                }
            }
            paint::handle(brush, at, handle.dragged() || handle.has_focus());
            handle.on_hover_text(label);
        }
        if area.clicked()
            && let Some(p) = area.interact_pointer_pos()
        {
            picture.click(ui.ctx(), brush.view.table_from_screen(brush.canvas, p));
        }
    }

    /// The page under the pointer when a drag began, on the leaf of pages.
    fn page_under(&self, area: &Response, canvas: Rect, view: View) -> Option<usize> {
        if self.leaf != Leaf::Pages {
            return None;
        }
        let from = area.ctx.input(|i| i.pointer.press_origin())?;
        let p = view.table_from_screen(canvas, from);
        let (worked, source) = (self.worked.as_ref()?, self.source.as_ref()?);
        let sheets = source.drawing.sheets.iter().enumerate();
        sheets
            .filter(|(i, sheet)| {
                let area = worked.places.area(*i, sheet);
                area.is_some_and(|area| area.contains(p))
            })
            .map(|(i, _)| i)
            .next_back()
    }

    fn show_sheet(
        &mut self,
        ui: &Ui,
        area: &Response,
        brush: &Brush<'_>,
        worked: &Worked,
        page: Option<usize>,
        unit: LengthUnit,
    ) {
        let on_pages = self.leaf == Leaf::Pages;
        let dragged = page.filter(|_| area.dragged() || area.drag_stopped());
        if let (true, Some(source)) = (on_pages, &self.source) {
            let moved = dragged.map(|page| (page, area.total_drag_delta().unwrap_or_default()));
            paint::pages(brush, worked, &source.drawing, self.chosen, moved);
        }
        let chosen = self.chosen;
        paint::sheet(brush, worked, chosen, !on_pages);
        if let Some(place) = self.place.filter(|_| !on_pages) {
            paint::ring(brush, place);
        }
        if on_pages {
            self.listen_pages(ui, brush, worked, unit);
            if let Some(page) = dragged {
                self.drop_page(ui, area, brush, worked, page);
            }
            return;
        }
        for piece in &worked.recognised.pieces {
            let mark = Mark::Piece(piece.id);
            let is_chosen = chosen == Some(mark);
            let rect = brush.rect(piece.at);
            let target = Rect::from_center_size(rect.center(), Vec2::splat(TARGET));
            let label = format!("{}, {}", piece.piece.name, wording::to_cut(&piece.piece));
            let id = ui.scope_id().with(("brought piece", piece.id.0));
            let response = ui.interact(target, id, Sense::click());
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, &label));
            canvas::keep_arrows(ui, &response);
            if response.clicked() {
                self.chosen = (!is_chosen).then_some(mark);
            }
            response.on_hover_text(label);
        }
        if area.clicked()
            && let Some(p) = area.interact_pointer_pos()
        {
            self.chosen = thing_at(worked, brush, p).map(Mark::Thing);
        }
        if let Some(p) = area.hover_pos().filter(|_| !area.dragged())
            && let Some(thing) = thing_at(worked, brush, p)
        {
            area.clone().on_hover_text(thing_words(worked, thing));
        }
        if area.double_clicked() {
            self.view = None;
        }
    }

    fn listen_pages(&mut self, ui: &Ui, brush: &Brush<'_>, worked: &Worked, unit: LengthUnit) {
        let Some(source) = self.source.clone() else {
            return;
        };
        for (i, sheet) in source.drawing.sheets.iter().enumerate() {
            let Some(around) = worked.places.area(i, sheet) else {
                continue;
            };
            let mark = Mark::Page(i);
            let is_chosen = self.chosen == Some(mark);
            let corner = brush.rect(around).left_top() + Vec2::splat(14.0);
            let target = Rect::from_center_size(corner, Vec2::splat(TARGET));
            let response = ui.interact(target, ui.scope_id().with(("page", i)), Sense::click());
            let label = format!("Page {}, {}", i + 1, sheet.name);
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, &label));
            canvas::keep_arrows(ui, &response);
            if response.clicked() {
                self.chosen = (!is_chosen).then_some(mark);
            }
            if response.has_focus() {
                let by = nudged(ui, unit);
                if by != kurbo::Vec2::ZERO
                    && let Some(place) = worked.places.pages.get(i)
                {
                    let places = worked.places.with(i, place.at + by);
                    self.choose(ui.ctx(), |choices| choices.places = Some(places));
                }
            }
            response.on_hover_text(label);
        }
    }

    /// Lays a page down where it was dragged: drawn to where its lines go on.
    fn drop_page(
        &mut self,
        ui: &Ui,
        area: &Response,
        brush: &Brush<'_>,
        worked: &Worked,
        page: usize,
    ) {
        if !area.drag_stopped() {
            return;
        }
        let by = area.total_drag_delta().unwrap_or_default();
        let scale = brush.view.scale;
        let by = kurbo::Vec2::new(f64::from(by.x) / scale, -f64::from(by.y) / scale);
        let Some(place) = worked.places.pages.get(page) else {
            return;
        };
        let at = place.at + by;
        let matches = self
            .source
            .as_ref()
            .and_then(|source| source.matches.as_ref());
        let at = matches.map_or(at, |matches| matches.snapped(page, at, &worked.places));
        let places = worked.places.with(page, at);
        self.chosen = Some(Mark::Page(page));
        self.choose(ui.ctx(), |choices| choices.places = Some(places));
    }
}

/// How far the arrow keys move what has them.
fn nudged(ui: &Ui, unit: LengthUnit) -> kurbo::Vec2 {
    keys::arrows(ui, unit).fold(kurbo::Vec2::ZERO, |all, by| all + by)
}

/// The line, text or point under the pointer: the nearest.
fn thing_at(worked: &Worked, brush: &Brush<'_>, p: Pos2) -> Option<Thing> {
    let reach = REACH / brush.view.scale;
    let at = brush.view.table_from_screen(brush.canvas, p);
    let near = |a: Point, b: Point| {
        let d = b - a;
        let t = if d.hypot2() > 0.0 {
            ((at - a).dot(d) / d.hypot2()).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (a + d * t - at).hypot()
    };
    let place = |[x, y]: [f32; 2]| Point::new(f64::from(x), f64::from(y));
    let lines = worked.flat.iter().enumerate().map(|(i, strokes)| {
        let far = strokes
            .iter()
            .flat_map(|stroke| stroke.windows(2))
            .filter_map(|w| match w {
                [a, b] => Some(near(place(*a), place(*b))),
                _ => None,
            })
            .fold(f64::INFINITY, f64::min);
        (Thing::Line(i), far)
    });
    let sheet = worked.sheet();
    let texts = sheet.texts.iter().enumerate().map(|(i, text)| {
        let angle = text.turn.to_radians();
        let along = kurbo::Vec2::new(angle.cos(), angle.sin());
        let long = 0.5 * text.size * text.words.chars().count() as f64;
        (Thing::Text(i), near(text.at, text.at + along * long))
    });
    let points = sheet.points.iter().enumerate();
    let points = points.map(|(i, point)| (Thing::Point(i), (point.at - at).hypot()));
    lines
        .chain(texts)
        .chain(points)
        .filter(|(_, far)| *far <= reach)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(thing, _)| thing)
}
