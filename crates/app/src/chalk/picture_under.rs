//! A picture of a paper piece or a garment, straightened and true to scale, under the pieces: to draw over by hand.
//!
//! It is of the sitting only: what is drawn over it is kept, the picture itself is not. Never here: how a picture is
//! straightened (exchange).

use egui::{
    Color32, Context, Mesh, Pos2, Role, Sense, Shape, TextureHandle, TextureOptions, Ui, Vec2,
    WidgetInfo,
};
use kurbo::{Affine, Point, Rect};
use petitoile_core::LengthUnit;
use petitoile_exchange::photo::LaidFlat;

use super::keys;
use crate::canvas::brush::Brush;
use crate::canvas::paint::handle;
use crate::canvas::{TARGET, keep_arrows};
use crate::command::Command;
use crate::fields::{Asked, angle_field, one_of};
use crate::trays::faded;

/// How far it lies from the pieces that are there already, mm.
const BESIDE: f64 = 20.0;

/// How strongly it shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Strength {
    /// Not at all.
    Hidden,
    /// Pale, so that lines stand out.
    Pale,
    /// As it is.
    #[default]
    Full,
}

/// A picture under the pieces.
pub struct PictureUnder {
    name: String,
    texture: TextureHandle,
    /// Width and height, mm.
    size: kurbo::Vec2,
    middle: Point,
    /// Does it wait until the pieces lie, to be laid beside them?
    waits: bool,
    /// By how much it is turned to the left, degrees.
    turn: f64,
    strength: Strength,
}

impl PictureUnder {
    /// A picture that is laid down as soon as the pieces lie.
    pub fn new(ctx: &Context, flat: &LaidFlat) -> Self {
        let image = egui::ColorImage::from_rgba_unmultiplied([flat.width, flat.height], &flat.rgba);
        let size = kurbo::Vec2::new(flat.width as f64, flat.height as f64) * flat.mm_per_pixel;
        Self {
            name: flat.name.clone(),
            texture: ctx.load_texture("picture under", image, TextureOptions::LINEAR),
            size,
            middle: Point::ZERO,
            waits: true,
            turn: 0.0,
            strength: Strength::default(),
        }
    }

    /// Lays it down, if that has not happened yet: to the right of what lies on the table. Gives what it covers then.
    pub fn lay_down(&mut self, there: Option<Rect>) -> Option<Rect> {
        if !std::mem::take(&mut self.waits) {
            return None;
        }
        let corner = there.map_or(Point::ZERO, |there| Point::new(there.x1 + BESIDE, there.y0));
        self.middle = corner + 0.5 * self.size;
        Some(self.area())
    }

    /// From the picture, its middle at zero, to the table.
    fn placed(&self) -> Affine {
        Affine::translate(self.middle.to_vec2()) * Affine::rotate(self.turn.to_radians())
    }

    /// Its corners on the table: upper left, upper right, lower right, lower left.
    fn corners(&self) -> [Point; 4] {
        let half = 0.5 * self.size;
        [(-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)]
            .map(|(x, y)| self.placed() * Point::new(x * half.x, y * half.y))
    }

    /// What it covers of the table, mm.
    pub fn area(&self) -> Rect {
        let [first, rest @ ..] = self.corners();
        rest.iter()
            .fold(Rect::from_points(first, first), |all, p| all.union_pt(*p))
    }

    /// Is it to be seen?
    pub fn is_shown(&self) -> bool {
        self.strength != Strength::Hidden && !self.waits
    }

    /// Paints it.
    pub fn paint(&self, brush: &Brush<'_>) {
        let tint = match self.strength {
            Strength::Hidden => return,
            Strength::Pale => Color32::from_white_alpha(110),
            Strength::Full => Color32::WHITE,
        };
        let uv = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let mut mesh = Mesh::with_texture(self.texture.id());
        for (corner, (u, v)) in self.corners().into_iter().zip(uv) {
            mesh.vertices.push(egui::epaint::Vertex {
                pos: brush.at(corner),
                uv: Pos2::new(u, v),
                color: tint,
            });
        }
        mesh.add_triangle(0, 1, 2);
        mesh.add_triangle(0, 2, 3);
        brush.painter.add(Shape::mesh(mesh));
    }

    /// The corner that moves it: by dragging, or with the arrow keys.
    pub fn listen(&mut self, ui: &Ui, brush: &Brush<'_>, unit: LengthUnit) {
        if !self.is_shown() {
            return;
        }
        let [corner, ..] = self.corners();
        let at = brush.at(corner);
        if !brush.canvas.contains(at) {
            return;
        }
        let target = egui::Rect::from_center_size(at, Vec2::splat(TARGET));
        let id = ui.scope_id().with("picture under, corner");
        let response = ui.interact(target, id, Sense::click_and_drag());
        let label = format!("Picture {}: drag to move it", self.name);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
        keep_arrows(ui, &response);
        if response.dragged() {
            let by = response.drag_delta() / brush.view.scale as f32;
            self.middle += kurbo::Vec2::new(f64::from(by.x), -f64::from(by.y));
        }
        if response.clicked() {
            response.request_focus();
        }
        if response.has_focus() {
            for by in keys::arrows(ui, unit) {
                self.middle += by;
            }
        }
        let lit = response.dragged() || response.hovered();
        let painter = brush.painter;
        handle(painter, at, response.has_focus(), lit, brush.palette);
        response.on_hover_text(label);
    }

    /// Its choices, in the tray. `true` when it is put away.
    fn fields(&mut self, ui: &mut Ui) -> bool {
        ui.label(format!("Picture {} under the pieces", self.name));
        ui.horizontal_wrapped(|ui| {
            let all = [Strength::Full, Strength::Pale, Strength::Hidden];
            let words = |strength| match strength {
                Strength::Full => "full",
                Strength::Pale => "pale",
                Strength::Hidden => "hidden",
            };
            if let Some(next) = one_of(ui, "Picture", self.strength, &all, words) {
                self.strength = next;
            }
        });
        ui.horizontal(|ui| {
            ui.label("Turned by");
            if let Asked::Done(turn) = angle_field(ui, "Turn of the picture", Some(self.turn)) {
                self.turn = turn;
            }
        });
        faded(
            ui,
            "Drag its upper left corner to move it. The tool Line draws over it; only what you draw is kept.",
        );
        ui.button("Put the picture away").clicked()
    }
}

/// The picture under the pieces, or the way to one.
pub fn fields(picture: &mut Option<PictureUnder>, ui: &mut Ui, commands: &mut Vec<Command>) {
    let Some(there) = picture else {
        let tip = "A paper piece or a garment beside a sheet of paper, from any side: it is straightened and laid true to scale";
        let ask = ui.button("Draw over a picture\u{2026}").on_hover_text(tip);
        if ask.clicked() {
            commands.push(Command::BringIn);
        }
        return;
    };
    if there.fields(ui) {
        *picture = None;
    }
}
