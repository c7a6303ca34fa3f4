//! How large this screen is: a ruler is held to a bar once, then the table can be shown in its true size.

use egui::{Rect, Sense, Stroke, Ui, WidgetInfo};
use petitoile_core::{LengthUnit, Mm, units};

use super::{Boxes, buttons, title};
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::session::Session;
use crate::theme::Palette;

/// Points of the window on 100 mm of a screen of 96 points to the inch: what is taken until a ruler was held to it.
pub const USUAL_POINTS: f32 = 96.0 / 25.4 * 100.0;
/// Screens from a wall display to a small telephone.
const LEAST: f32 = 120.0;
const MOST: f32 = 1600.0;
/// Height of the bar, screen points.
const TALL: f32 = 46.0;

/// Shows the box; gives whether it is to be closed.
pub fn ui(boxes: &mut Boxes, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) -> bool {
    let unit = session.shown().unit;
    let (wanted, words) = match unit {
        LengthUnit::Inch => (Mm::from_inches(4.0), "4 in"),
        LengthUnit::Millimetre => (Mm(100.0), "100 mm"),
        LengthUnit::Centimetre => (Mm(100.0), "10 cm"),
    };
    title(ui, "True size");
    ui.label(format!(
        "Hold a ruler to the bar and drag its end until it is {words} long. Once is enough."
    ));
    let share = (wanted.0 / 100.0) as f32;
    let width = boxes.points * share;
    egui::ScrollArea::horizontal().show(ui, |ui| {
        let size = egui::vec2(width + 40.0, TALL + 8.0);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
        response
            .widget_info(|| WidgetInfo::slider(true, f64::from(boxes.points), "Bar on the screen"));
        let bar = Rect::from_min_size(rect.min, egui::vec2(width, TALL));
        paint(ui, bar, words);
        if response.dragged() {
            boxes.points = (boxes.points + response.drag_delta().x / share).clamp(LEAST, MOST);
        }
        if response.has_focus() {
            let step = ui.input(|i| {
                i.num_presses(egui::Key::ArrowRight) as f32
                    - i.num_presses(egui::Key::ArrowLeft) as f32
            });
            boxes.points = (boxes.points + step).clamp(LEAST, MOST);
        }
    });
    ui.horizontal(|ui| {
        ui.label("Or type what the ruler reads");
        let field = length_field(ui, "The ruler reads", Some(wanted), words, unit, 84.0);
        if let Typed::Length(read) = field.typed
            && read.0 > units::MM_PER_INCH / 8.0
        {
            let points = boxes.points * (wanted.0 / read.0) as f32;
            boxes.points = points.clamp(LEAST, MOST);
        }
    });
    let (clicked, close) = buttons(ui, "It fits", true);
    if clicked {
        // The window may be shown larger: kept is what it would be at its plain size.
        commands.push(Command::Screen(boxes.points * session.settings.scale));
        commands.push(Command::TrueSize);
    }
    close
}

/// The bar, with a mark at both ends and a grip at the right one.
fn paint(ui: &Ui, bar: Rect, words: &str) {
    let palette = Palette::showing(ui);
    let painter = ui.painter();
    painter.rect_filled(bar, 0.0, palette.paper);
    let stroke = Stroke::new(1.5, palette.pencil);
    for x in [bar.left(), bar.right()] {
        painter.vline(x, bar.y_range(), stroke);
    }
    painter.hline(bar.x_range(), bar.center().y, stroke);
    let font = egui::FontId::proportional(13.0);
    let middle = egui::Align2::CENTER_BOTTOM;
    painter.text(bar.center(), middle, words, font, palette.pencil);
    painter.circle(
        egui::pos2(bar.right(), bar.center().y),
        9.0,
        palette.chosen,
        stroke,
    );
}
