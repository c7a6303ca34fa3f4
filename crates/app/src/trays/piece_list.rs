//! The list of pieces, left of the table.

use egui::{Role, ScrollArea, Ui, WidgetInfo};
use petitoile_core::finding::{Gravity, Place};

use crate::command::{Chosen, Command};
use crate::session::Session;
use crate::theme::Palette;
use crate::wording;

/// Lists the pieces; a click chooses one, a double click goes there.
pub fn piece_list(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    let palette = Palette::showing(ui);
    let Some(worked) = session.work.done.as_ref() else {
        super::heading(ui, "Pieces");
        super::faded(ui, "none yet");
        return;
    };
    super::heading(ui, "Pieces");
    let pieces = &worked.adapted.pieces;
    super::faded(
        ui,
        format!(
            "{}, {} to cut",
            wording::count(pieces.len(), "piece", "pieces"),
            worked.adapted.garment.copy_count()
        ),
    );
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for piece in pieces {
            let chosen = session.chosen.piece.as_deref() == Some(piece.name.as_str());
            let worst = session
                .findings()
                .iter()
                .filter(|f| f.place.piece.as_deref() == Some(&piece.name))
                .map(|f| f.gravity)
                .max();
            let response = row(ui, piece, chosen, worst, palette);
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

fn row(
    ui: &mut Ui,
    piece: &petitoile_core::piece::Piece,
    chosen: bool,
    worst: Option<Gravity>,
    palette: &Palette,
) -> egui::Response {
    let mut words = egui::text::LayoutJob::default();
    let format = |size: f32, color| egui::TextFormat {
        font_id: egui::FontId::proportional(size),
        color,
        ..Default::default()
    };
    words.append(&piece.name, 0.0, format(14.0, palette.ink));
    words.append(
        &format!("\n{}", wording::to_cut(piece)),
        0.0,
        format(12.0, if chosen { palette.ink } else { palette.faded }),
    );
    words.wrap.max_width = ui.available_width() - 30.0;
    let button =
        egui::Button::selectable(chosen, words).min_size(egui::vec2(ui.available_width(), 40.0));
    let response = ui.add(button);
    response.widget_info(|| {
        WidgetInfo::selected(
            Role::ListItem,
            true,
            chosen,
            format!("Piece {}", piece.name),
        )
    });
    let mark = match worst {
        Some(Gravity::Unusable) => Some(palette.unusable),
        Some(Gravity::Care) => Some(palette.care),
        _ => None,
    };
    if let Some(colour) = mark {
        ui.painter().circle_filled(
            response.rect.right_center() - egui::vec2(12.0, 0.0),
            4.5,
            colour,
        );
    }
    response
}
