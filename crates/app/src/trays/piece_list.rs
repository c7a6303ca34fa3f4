//! The list of pieces beside the table: each with its shape, how many to cut, and the worst that was found on it.

use egui::{Color32, Pos2, Rect, Role, ScrollArea, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo};
use petitoile_core::finding::{Gravity, Place};
use petitoile_core::piece::Piece;

use crate::canvas::shapes::{PieceShapes, Shapes};
use crate::command::{Chosen, Command};
use crate::session::Session;
use crate::theme::Palette;
use crate::wording;

/// Side of the small picture of a piece, screen points.
const PICTURE: f32 = 38.0;

/// The list of pieces. Keeps the small pictures.
#[derive(Default)]
pub struct PieceList {
    shapes: Shapes,
}

impl PieceList {
    /// Lists the pieces; a click chooses one, a double click goes there.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        super::heading(ui, "Pieces");
        let Some(worked) = session.work.done.as_ref() else {
            super::faded(ui, "none yet");
            return;
        };
        let pieces = &worked.adapted.pieces;
        super::faded(
            ui,
            format!(
                "{}, {} to cut",
                wording::count(pieces.len(), "piece", "pieces"),
                worked.adapted.made.copy_count()
            ),
        );
        let table = &session.work.table;
        let shapes = self.shapes.of(table, 0.25);
        let picture = |name: &str| {
            let at = table.pieces.iter().position(|shown| shown.name == name)?;
            shapes.get(at)
        };
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            for piece in pieces {
                let chosen = session.chosen.piece.as_deref() == Some(piece.name.as_str());
                let worst = session
                    .findings()
                    .iter()
                    .filter(|f| f.place.piece.as_deref() == Some(&piece.name))
                    .map(|f| f.gravity)
                    .max();
                let response = row(
                    ui,
                    piece,
                    picture(&piece.name).map(|shapes| &**shapes),
                    chosen,
                    worst,
                );
                if response.clicked() {
                    commands.push(Command::Choose(if chosen {
                        Chosen::default()
                    } else {
                        Chosen::piece(&piece.name)
                    }));
                }
                if response.double_clicked() {
                    commands.push(Command::ShowPlace(Place::piece(&piece.name)));
                }
            }
        });
    }
}

fn row(
    ui: &mut Ui,
    piece: &Piece,
    picture: Option<&PieceShapes>,
    chosen: bool,
    worst: Option<Gravity>,
) -> egui::Response {
    let palette = Palette::showing(ui);
    let words = words(ui, piece, chosen, ui.available_width() - PICTURE - 38.0);
    let size = Vec2::new(
        ui.available_width(),
        (words.size().y + 8.0).max(PICTURE + 6.0),
    );
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| {
        WidgetInfo::selected(
            Role::ListItem,
            true,
            chosen,
            format!("Piece {}", piece.name),
        )
    });
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let painter = ui.painter();
    if chosen || response.hovered() || response.has_focus() {
        let look = ui.style().interact_selectable(&response, chosen);
        painter.rect_filled(rect, look.corner_radius, look.weak_bg_fill);
    }
    let room = Rect::from_center_size(
        Pos2::new(rect.min.x + 5.0 + 0.5 * PICTURE, rect.center().y),
        Vec2::splat(PICTURE),
    );
    if let Some(shapes) = picture {
        paint(painter, shapes, room, palette);
    }
    let corner = Pos2::new(room.max.x + 9.0, rect.center().y - 0.5 * words.size().y);
    painter.galley(corner, words, palette.ink);
    if let Some(gravity) = worst.filter(|gravity| *gravity > Gravity::Note) {
        let at = rect.right_center() - Vec2::new(12.0, 0.0);
        super::findings::mark(painter, at, gravity, palette);
    }
    response
}

fn words(ui: &Ui, piece: &Piece, chosen: bool, wide: f32) -> std::sync::Arc<egui::Galley> {
    let palette = Palette::showing(ui);
    let mut job = egui::text::LayoutJob::default();
    let format = |size: f32, color: Color32| egui::TextFormat {
        font_id: egui::FontId::proportional(size),
        color,
        ..egui::TextFormat::default()
    };
    job.append(&piece.name, 0.0, format(14.0, palette.ink));
    let second = if chosen { palette.ink } else { palette.faded };
    job.append(
        &format!("\n{}", wording::to_cut(piece)),
        0.0,
        format(12.0, second),
    );
    job.wrap.max_width = wide.max(20.0);
    ui.painter().layout_job(job)
}

/// The piece as large as the room allows: paper with its cut line.
fn paint(painter: &egui::Painter, shapes: &PieceShapes, room: Rect, palette: &Palette) {
    let corner = |pick: fn(f32, f32) -> f32, start: f32| {
        shapes
            .cut
            .iter()
            .fold([start; 2], |c, p| [pick(c[0], p[0]), pick(c[1], p[1])])
    };
    let (low, high) = (corner(f32::min, f32::MAX), corner(f32::max, f32::MIN));
    let (wide, tall) = (high[0] - low[0], high[1] - low[1]);
    if wide.max(tall) <= 0.0 {
        return;
    }
    let scale = room.width() / wide.max(tall);
    let at = |[x, y]: [f32; 2]| {
        room.center()
            + Vec2::new(
                (x - 0.5 * (low[0] + high[0])) * scale,
                (0.5 * (low[1] + high[1]) - y) * scale,
            )
    };
    let vertices = shapes
        .cut_fill
        .corners
        .iter()
        .map(|p| egui::epaint::Vertex::untextured(at(*p), palette.paper))
        .collect();
    painter.add(Shape::mesh(egui::Mesh {
        indices: shapes.cut_fill.triangles.clone(),
        vertices,
        ..egui::Mesh::default()
    }));
    painter.add(Shape::closed_line(
        shapes.cut.iter().map(|p| at(*p)).collect(),
        Stroke::new(1.2, palette.cut),
    ));
}
