//! Painting the figure: limbs from the back to the front, cloth over them, rings over all.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Ui, Vec2};
use petitoile_core::fit::Sits;
use petitoile_core::fit::figure::{Figure, Hoop, Look, Seen, Solid};

use super::marks::Mark;
use crate::canvas::shapes;
use crate::theme::{Palette, blend};
use crate::trays::faded;

/// Points on a ring.
const ROUND: u32 = 48;

/// The colour of how a girth sits.
pub fn colour(sits: Sits, palette: &Palette) -> Color32 {
    match sits {
        Sits::Tight { .. } => palette.tight,
        Sits::Loose { .. } | Sits::Hangs => palette.loose,
        Sits::Close { .. } | Sits::Well | Sits::Unjudged => palette.ink,
    }
}

/// What the colours mean.
pub fn legend(ui: &mut Ui) {
    let palette = Palette::showing(ui);
    ui.horizontal_wrapped(|ui| {
        for (colour, words) in [
            (palette.tight, "too tight"),
            (palette.ink, "well or not judged"),
            (palette.loose, "loose or hangs"),
        ] {
            let (rect, _) = ui.allocate_exact_size(Vec2::new(14.0, 10.0), egui::Sense::hover());
            ui.painter().rect_filled(rect, 2.0, colour);
            faded(ui, words);
        }
    });
}

/// Paints the figure and gives, for each mark, where its ring is furthest to the right.
pub fn figure(ui: &Ui, figure: &Figure, marks: &[Mark], look: Look, room: Rect) -> Vec<Pos2> {
    let palette = Palette::showing(ui);
    let painter = ui.painter().with_clip_rect(room);
    painter.rect_filled(room, 6.0, palette.field);
    let place = Place::of(figure, look, room);
    let mut limbs: Vec<&Solid> = figure.body.limbs.iter().collect();
    limbs.sort_by(|a, b| a.near(look).total_cmp(&b.near(look)));
    let skin = blend(palette.field, palette.chalk, 0.45);
    let edge = Stroke::new(1.0, blend(palette.chalk, palette.ink, 0.3));
    for limb in limbs {
        solid(&painter, limb, look, &place, skin, edge);
    }
    for ring in &figure.body.rings {
        half(
            &painter,
            &ring.hoop,
            look,
            &place,
            Stroke::new(0.8, edge.color),
            false,
        );
    }
    let mut cloth: Vec<&Solid> = figure.garment.cloth.iter().collect();
    cloth.sort_by(|a, b| a.near(look).total_cmp(&b.near(look)));
    let veil = palette.stitch.gamma_multiply(0.14);
    let line = Stroke::new(1.0, blend(palette.field, palette.ink, 0.55));
    for part in cloth {
        solid(&painter, part, look, &place, veil, line);
    }
    let rings = figure.garment.rings.iter().map(|r| (r.hoop, r.sits));
    let hems = figure.garment.hems.iter().map(|h| (h.hoop, Sits::Hangs));
    for (hoop, sits) in rings.chain(hems) {
        let colour = colour(sits, palette);
        half(
            &painter,
            &hoop,
            look,
            &place,
            Stroke::new(1.0, colour),
            true,
        );
        half(
            &painter,
            &hoop,
            look,
            &place,
            Stroke::new(thick(sits), colour),
            false,
        );
    }
    marks
        .iter()
        .map(|mark| {
            let points = mark.hoop.seen(look, ROUND);
            let furthest = points.iter().max_by(|a, b| a.x.total_cmp(&b.x));
            furthest.map_or(room.center(), |seen| place.on_screen(seen.x, seen.y))
        })
        .collect()
}

fn thick(sits: Sits) -> f32 {
    match sits {
        Sits::Tight { .. } => 3.0,
        _ => 1.8,
    }
}

/// Where the figure lies on the screen.
struct Place {
    middle: Pos2,
    floor: f32,
    scale: f64,
}

/// Room left round the figure, points.
const MARGIN: f32 = 12.0;

impl Place {
    /// As large as its room allows, whatever side it shows: turning it does not change its size.
    fn of(figure: &Figure, look: Look, room: Rect) -> Self {
        let solids = || figure.body.limbs.iter().chain(&figure.garment.cloth);
        let hoops = || solids().flat_map(|solid| &solid.hoops);
        let reach = hoops()
            .map(|hoop| {
                hoop.centre.x.abs().hypot(hoop.centre.z) + hoop.half_width.max(hoop.half_depth)
            })
            .fold(1.0, f64::max);
        let points = || {
            solids()
                .flat_map(|solid| solid.outline(look))
                .map(|(_, y)| y)
        };
        let (top, bottom) = (points().fold(1.0, f64::max), points().fold(0.0, f64::min));
        let inside = room.shrink(MARGIN);
        let scale = (f64::from(inside.width()) / (2.0 * reach))
            .min(f64::from(inside.height()) / (top - bottom).max(1.0));
        Self {
            middle: inside.center(),
            floor: inside.center().y + (0.5 * (top + bottom) * scale) as f32,
            scale,
        }
    }

    fn on_screen(&self, x: f64, y: f64) -> Pos2 {
        Pos2::new(
            self.middle.x + (x * self.scale) as f32,
            self.floor - (y * self.scale) as f32,
        )
    }
}

fn solid(painter: &Painter, solid: &Solid, look: Look, place: &Place, fill: Color32, line: Stroke) {
    let points: Vec<Pos2> = solid
        .outline(look)
        .into_iter()
        .map(|(x, y)| place.on_screen(x, y))
        .collect();
    let corners: Vec<[f32; 2]> = points.iter().map(|p| [p.x, p.y]).collect();
    let triangles = shapes::fill(&corners);
    let vertices = triangles
        .corners
        .iter()
        .map(|[x, y]| egui::epaint::Vertex::untextured(Pos2::new(*x, *y), fill))
        .collect();
    painter.add(Shape::mesh(egui::Mesh {
        indices: triangles.triangles,
        vertices,
        ..egui::Mesh::default()
    }));
    painter.add(Shape::closed_line(points, line));
}

/// The half of a ring that is turned to the eye, or the other one dashed.
fn half(painter: &Painter, hoop: &Hoop, look: Look, place: &Place, line: Stroke, behind: bool) {
    let middle = look.seen(hoop.centre).near;
    let points = hoop.seen(look, ROUND);
    let is_wanted = |seen: &Seen| (seen.near < middle) == behind;
    for pair in points.windows(2) {
        let [a, b] = pair else { continue };
        if !is_wanted(a) && !is_wanted(b) {
            continue;
        }
        let ends = [place.on_screen(a.x, a.y), place.on_screen(b.x, b.y)];
        if behind {
            painter.extend(Shape::dashed_line(&ends, line, 2.0, 2.0));
        } else {
            painter.line_segment(ends, line);
        }
    }
}
