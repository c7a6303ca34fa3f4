//! The painting of one page: lines, fills and texts, each inside the marks of its layer.

use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Str};
use petitoile_core::kurbo::{Affine, BezPath, PathEl, Point, Rect};

use super::font::{self, Subset};
use crate::drawing::{Drawing, Ink, Item, Layer};

/// The name of a layer inside a page.
pub(super) fn layer_tag(layer: Layer) -> Name<'static> {
    Name(match layer {
        Layer::StitchLines => b"Stitch",
        Layer::CutLines => b"Cut",
        Layer::Marks => b"Marks",
        Layer::Text => b"Text",
        Layer::Page => b"Page",
    })
}

/// The content of a page, uncompressed. `scale` is points in one mm.
pub(super) fn write(
    drawing: &Drawing,
    points_from_drawing: Affine,
    scale: f64,
    subset: &Subset,
) -> Vec<u8> {
    let mut content = Content::new();
    content
        .set_line_cap(LineCapStyle::ButtCap)
        .set_line_join(LineJoinStyle::MiterJoin);
    let mut open: Option<Layer> = None;
    for item in &drawing.items {
        if open != Some(item.layer) {
            if open.is_some() {
                content.end_marked_content();
            }
            content
                .begin_marked_content_with_properties(Name(b"OC"))
                .properties_named(layer_tag(item.layer));
            let [red, green, blue] = item.layer.colour().map(|part| f32::from(part) / 255.0);
            content
                .set_stroke_rgb(red, green, blue)
                .set_fill_rgb(red, green, blue);
            open = Some(item.layer);
        }
        paint(&mut content, item, points_from_drawing, scale, subset);
    }
    if open.is_some() {
        content.end_marked_content();
    }
    content.finish().to_vec()
}

fn paint(content: &mut Content, item: &Item, to: Affine, scale: f64, subset: &Subset) {
    if let Some(clip) = item.clip {
        let Rect { x0, y0, x1, y1 } = to.transform_rect_bbox(clip);
        content.save_state();
        content.rect(x0 as f32, y0 as f32, (x1 - x0) as f32, (y1 - y0) as f32);
        content.clip_nonzero().end_path();
    }
    match &item.ink {
        Ink::Stroke { path, width, dash } => {
            content.set_line_width((width * scale).max(0.0) as f32);
            content.set_dash_pattern(dash.iter().map(|part| (part * scale) as f32), 0.0);
            trace(content, path, to);
            content.stroke();
        }
        Ink::Fill(path) => {
            trace(content, path, to);
            content.fill_nonzero();
        }
        Ink::Text {
            at,
            size,
            turn,
            centred,
            words,
        } => {
            let left = if *centred {
                crate::font::width(words, *size) / 2.0
            } else {
                0.0
            };
            let (sin, cos) = (libm::sin(turn.to_radians()), libm::cos(turn.to_radians()));
            let start = to * Point::new(at.x - left * cos, at.y - left * sin);
            content.begin_text();
            content.set_font(font::NAME, (crate::font::em(*size) * scale) as f32);
            content.set_text_matrix([
                cos as f32,
                sin as f32,
                -sin as f32,
                cos as f32,
                start.x as f32,
                start.y as f32,
            ]);
            content.show(Str(&subset.glyphs(words)));
            content.end_text();
        }
    }
    if item.clip.is_some() {
        content.restore_state();
    }
}

/// Follows a path; a curve that is straight becomes a line.
fn trace(content: &mut Content, path: &BezPath, to: Affine) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                let q = to * p;
                content.move_to(q.x as f32, q.y as f32);
                (start, last) = (p, p);
            }
            PathEl::LineTo(p) => {
                let q = to * p;
                content.line_to(q.x as f32, q.y as f32);
                last = p;
            }
            PathEl::QuadTo(c, p) => {
                let (a, b) = (last.lerp(c, 2.0 / 3.0), p.lerp(c, 2.0 / 3.0));
                curve(content, to, [last, a, b, p]);
                last = p;
            }
            PathEl::CurveTo(a, b, p) => {
                curve(content, to, [last, a, b, p]);
                last = p;
            }
            PathEl::ClosePath => {
                content.close_path();
                last = start;
            }
        }
    }
}

fn curve(content: &mut Content, to: Affine, [p, a, b, q]: [Point; 4]) {
    let thirds = [(a, p.lerp(q, 1.0 / 3.0)), (b, p.lerp(q, 2.0 / 3.0))];
    let end = to * q;
    if thirds
        .iter()
        .all(|(control, third)| control.distance_squared(*third) < 1e-18)
    {
        content.line_to(end.x as f32, end.y as f32);
    } else {
        let (a, b) = (to * a, to * b);
        content.cubic_to(
            a.x as f32,
            a.y as f32,
            b.x as f32,
            b.y as f32,
            end.x as f32,
            end.y as f32,
        );
    }
}
