//! The table: every piece with its lines, painted; pan, zoom, choose.
//!
//! [`shown`] says what lies there (plain values), [`places`] and [`view`] say where (pure functions), `paint` puts
//! it on the screen without deciding anything. This file listens to pointer and keys and pushes commands.

pub(crate) mod brush;
pub(crate) mod paint;
pub mod places;
pub mod rulers;
pub mod shapes;
pub mod shown;
pub mod view;

use egui::{EventFilter, Key, Modifiers, Pos2, Response, Role, Sense, Ui, Vec2, WidgetInfo};
use petitoile_core::finding::Place;

use crate::chalk::Chalk;
use crate::chalk::picture_under::PictureUnder;
use crate::command::{Chosen, Command};
use crate::session::{Session, Tray};
use crate::settings::Ghost;
use crate::theme::Palette;
use brush::Brush;
use shapes::{PieceShapes, Shapes};
use shown::ShownPiece;
use view::{Aim, View};

/// How near to an edge the pointer takes hold of it, screen points.
const REACH: f32 = 9.0;
/// How far an arrow key moves the table, screen points.
const ARROW: f32 = 60.0;
/// Height of the strip along the lower edge where the legend stands, screen points.
pub(crate) const LEGEND: f32 = 26.0;
/// Size of a handle's target, screen points.
pub(crate) const TARGET: f32 = 24.0;

/// The table. Keeps shapes that are ready to paint, and for which size everything was brought into view.
#[derive(Default)]
pub struct Canvas {
    shapes: Shapes,
    all_for: Option<(Vec2, View, kurbo::Rect)>,
}

impl Canvas {
    /// The view that an aim asks for; and while nobody has moved it since, the same again when the window changes
    /// size or the pieces have become larger or smaller. Not while a slider moves: the table would swim.
    fn aimed(
        &mut self,
        session: &Session,
        canvas: egui::Rect,
        bounds: Option<kurbo::Rect>,
    ) -> Option<View> {
        let untouched = self.all_for.is_some_and(|(size, view, seen)| {
            let same = size == canvas.size() && bounds.is_none_or(|now| now == seen);
            // Under the hand nothing jumps; another tray or another size of the window is no hand.
            let drawing = session.tray.is_of_hand_work() && size == canvas.size();
            view == session.view && !same && !drawing && !session.is_trying()
        });
        match session.aim {
            Some(Aim::Part(part)) => {
                self.all_for = None;
                Some(View::fitting(part, canvas.size()))
            }
            None if !untouched => None,
            Some(Aim::All) | None => {
                let seen = bounds?;
                let view = View::fitting_above(seen, canvas.size(), LEGEND);
                self.all_for = Some((canvas.size(), view, seen));
                Some(view)
            }
        }
    }

    /// Shows the table and pushes what the maker asks of it.
    ///
    /// With `chalk` the tool in hand gets the pointer instead of the pieces.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        chalk: Option<&mut Chalk>,
        commands: &mut Vec<Command>,
    ) {
        let chalking = chalk.is_some();
        let palette = Palette::showing(ui);
        let whole = ui.available_rect_before_wrap();
        let canvas = rulers::canvas(whole);
        let table = ui.interact(canvas, ui.scope_id().with("table"), Sense::click_and_drag());
        ui.advance_cursor_after_rect(whole);
        table.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Table"));
        let under = chalk.as_ref().and_then(|chalk| chalk.picture.as_ref());
        let under = under.filter(|picture| picture.is_shown());
        let areas = [session.work.table.bounds(), under.map(PictureUnder::area)];
        let bounds = areas.into_iter().flatten().reduce(|a, b| a.union(b));
        let is_there = session.work.done.is_some() || under.is_some();
        let aimed = self.aimed(session, canvas, bounds);
        let view = aimed.unwrap_or(session.view);
        let pans = chalk
            .as_ref()
            .is_none_or(|chalk| !chalk.takes_arrows(session));
        let next = listen(ui, &table, canvas, view, pans, true);
        let next = match bounds {
            Some(all) => next.not_too_far(all, canvas.size()),
            None => next,
        };
        if next != session.view || session.aim.is_some() && is_there {
            commands.push(Command::SetView(next));
        }
        if table.clicked() && session.chosen.piece.is_some() {
            commands.push(Command::Choose(Chosen::default()));
        }
        if table.double_clicked() {
            commands.push(Command::ShowAll);
        }
        let shapes = self.shapes.of(&session.work.table, next.scale);
        let painter = ui.painter().with_clip_rect(canvas);
        paint::table(&painter, canvas, &next, session.shown().unit, palette);
        if let Some(picture) = under {
            picture.paint(&Brush {
                painter: &painter,
                canvas,
                view: next,
                palette,
            });
        }
        let sheer = under.is_some();
        for (piece, shapes) in session.work.table.pieces.iter().zip(shapes) {
            let at = paint::OnScreen::new(&next, canvas, piece.moved);
            let rect = at.rect(piece.bounds);
            if !rect.intersects(canvas) {
                continue;
            }
            let chosen = session.chosen.piece.as_deref() == Some(piece.name.as_str());
            let response = listen_piece(ui, piece, at.rect(piece.own).intersect(canvas), chosen);
            if response.clicked() {
                commands.push(Command::Choose(clicked_on(&response, piece, shapes, &at)));
            }
            if response.double_clicked() {
                commands.push(Command::ShowPlace(Place::piece(&piece.name)));
            }
            let edge = session.chosen.edge.as_deref().filter(|_| chosen);
            paint::piece(
                &painter,
                piece,
                shapes,
                &at,
                palette,
                paint::State {
                    chosen,
                    edge,
                    hovered: response.hovered(),
                    focused: response.has_focus(),
                    sheer,
                },
            );
            listen_marks(ui, piece, &at, canvas);
            if chosen && !chalking {
                listen_edges(ui, &painter, piece, &at, canvas, edge, palette, commands);
            }
        }
        if let Some(chalk) = chalk {
            let pan = chalk.on_table(ui, canvas, next, session, commands);
            if pan != Vec2::ZERO {
                commands.push(Command::SetView(next.panned(pan)));
            }
        }
        paint::rulers(
            ui.painter(),
            whole,
            canvas,
            &next,
            session.shown().unit,
            palette,
            ui.ctx().pointer_hover_pos(),
        );
        if !session.work.table.pieces.is_empty()
            && canvas.width() > 400.0
            && canvas.height() > 220.0
        {
            paint::piece_legend(&painter, canvas, behind(session), palette);
        }
        if session.work.table.pieces.is_empty() && !chalking {
            paint::empty(
                &painter,
                canvas,
                session.work.trouble.as_deref(),
                session.is_working(),
                palette,
            );
        }
    }
}

/// What the chalk line behind the pieces shows; nothing where there is none.
fn behind(session: &Session) -> Option<&'static str> {
    let any = session.work.table.pieces.iter().any(|p| p.ghost.is_some());
    let ghost = match session.tray {
        Tray::Folds => Ghost::DrawnIn,
        _ => session.settings.ghost,
    };
    ghost.words().filter(|_| any)
}

/// Pan by dragging or, unless a tool nudges with them, by arrows; zoom by wheel or pinch.
pub(crate) fn listen(
    ui: &Ui,
    table: &Response,
    canvas: egui::Rect,
    view: View,
    arrows_pan: bool,
    drag_pans: bool,
) -> View {
    let mut view = view;
    if drag_pans && table.dragged() {
        view = view.panned(table.drag_delta());
    }
    let over = ui
        .ctx()
        .pointer_hover_pos()
        .filter(|p| canvas.contains(*p) && ui.ctx().layer_id_at(*p) == Some(ui.layer_id()));
    if let Some(pointer) = over {
        let (zoom, scroll) = ui.input(|i| (i.zoom_delta(), i.smooth_scroll_delta()));
        if zoom != 1.0 {
            view = view.zoomed_at(canvas, pointer, f64::from(zoom));
        } else if scroll.y != 0.0 {
            view = view.zoomed_at(canvas, pointer, (f64::from(scroll.y) / 240.0).exp());
        } else if scroll.x != 0.0 {
            view = view.panned(Vec2::new(scroll.x, 0.0));
        }
    }
    keep_arrows(ui, table);
    if arrows_pan && (table.has_focus() || ui.memory(|m| m.focused().is_none())) {
        view = arrows(ui, view);
    }
    view
}

/// While the table or a piece has the keys, arrows pan instead of going to another widget.
pub(crate) fn keep_arrows(ui: &Ui, response: &Response) {
    if response.has_focus() {
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    }
}

fn arrows(ui: &Ui, view: View) -> View {
    [
        (Key::ArrowLeft, Vec2::X),
        (Key::ArrowRight, -Vec2::X),
        (Key::ArrowUp, Vec2::Y),
        (Key::ArrowDown, -Vec2::Y),
    ]
    .into_iter()
    .filter(|(key, _)| ui.input_mut(|i| i.consume_key(Modifiers::NONE, *key)))
    .fold(view, |view, (_, way)| view.panned(way * ARROW))
}

/// A piece as a button with a name.
fn listen_piece(ui: &Ui, piece: &ShownPiece, rect: egui::Rect, chosen: bool) -> Response {
    let response = ui.interact(
        rect,
        ui.scope_id().with(("piece", &piece.name)),
        Sense::click(),
    );
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, chosen, &piece.label));
    keep_arrows(ui, &response);
    response
}

/// The edge under the pointer, else the whole piece; with the Enter key always the piece.
fn clicked_on(
    response: &Response,
    piece: &ShownPiece,
    shapes: &PieceShapes,
    at: &paint::OnScreen,
) -> Chosen {
    let Some(pointer) = response.interact_pointer_pos() else {
        return Chosen::piece(&piece.name);
    };
    let near = piece
        .edges
        .iter()
        .zip(&shapes.edges)
        .map(|(edge, line)| (edge, distance(line, at, pointer)));
    match near.min_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((edge, distance)) if distance <= REACH => Chosen::edge(&piece.name, &edge.name),
        _ => Chosen::piece(&piece.name),
    }
}

/// Distance of a screen point from a line of a piece, screen points.
fn distance(line: &[[f32; 2]], at: &paint::OnScreen, p: Pos2) -> f32 {
    line.windows(2)
        .filter_map(|w| match w {
            [a, b] => Some(to_stretch(at.point(*a), at.point(*b), p)),
            _ => None,
        })
        .fold(f32::INFINITY, f32::min)
}

fn to_stretch(a: Pos2, b: Pos2, p: Pos2) -> f32 {
    let d = b - a;
    let t = if d.length_sq() > 0.0 {
        ((p - a).dot(d) / d.length_sq()).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (a + d * t - p).length()
}

/// Notches by name, so that they are read out and can be found.
fn listen_marks(ui: &Ui, piece: &ShownPiece, at: &paint::OnScreen, canvas: egui::Rect) {
    for (i, (stroke, label)) in piece.notches.iter().enumerate() {
        let p = at.kurbo(stroke.midpoint());
        if canvas.contains(p) {
            let target = egui::Rect::from_center_size(p, Vec2::splat(10.0));
            let response = ui.interact(
                target,
                ui.scope_id().with(("notch", &piece.name, i)),
                Sense::hover(),
            );
            response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
            response.on_hover_text(label);
        }
    }
}

/// One handle in the middle of every edge of the chosen piece.
#[allow(
    clippy::too_many_arguments,
    reason = "one call, all of them different things"
)]
fn listen_edges(
    ui: &Ui,
    painter: &egui::Painter,
    piece: &ShownPiece,
    at: &paint::OnScreen,
    canvas: egui::Rect,
    chosen: Option<&str>,
    palette: &Palette,
    commands: &mut Vec<Command>,
) {
    for edge in &piece.edges {
        let p = at.kurbo(edge.middle);
        if !canvas.contains(p) {
            continue;
        }
        let is_chosen = chosen == Some(edge.name.as_str());
        let target = egui::Rect::from_center_size(p, Vec2::splat(TARGET));
        let response = ui.interact(
            target,
            ui.scope_id().with(("edge", &piece.name, &edge.name)),
            Sense::click(),
        );
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, &edge.label));
        keep_arrows(ui, &response);
        paint::handle(
            painter,
            p,
            is_chosen,
            response.hovered() || response.has_focus(),
            palette,
        );
        if response.clicked() {
            commands.push(Command::Choose(Chosen::edge(&piece.name, &edge.name)));
        }
        response.on_hover_text(&edge.label);
    }
}
