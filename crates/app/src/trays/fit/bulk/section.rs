//! The section of a stack, drawn from its real layers, true to scale where cloth is thick enough to be seen.

use egui::{Color32, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo};
use petitoile_core::LengthUnit;
use petitoile_core::bulk::{Heap, Layer, thick};
use petitoile_core::piece::Role as Cloth;

use crate::theme::{Palette, blend};

/// Least and greatest height of a picture, screen points.
const HEIGHT: (f32, f32) = (40.0, 150.0);
/// No layer is drawn thinner than this, screen points.
const THINNEST: f32 = 3.0;
/// Room left and right, where folds stand out.
const MARGIN: f32 = 16.0;
/// Points along a fold.
const TURN: u32 = 8;

/// A layer where it lies: left, right, bottom and top, screen points from the left and from the table upwards.
struct Slab {
    from: f32,
    to: f32,
    bottom: f32,
    top: f32,
}

/// The section of one moment.
pub fn picture(ui: &mut Ui, heap: &Heap, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let width = ui.available_width();
    let (low, high) = heap
        .layers
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), layer| {
            (low.min(layer.reach.0.0), high.max(layer.reach.1.0))
        });
    if high.is_nan() || low.is_nan() || high <= low {
        return;
    }
    let scale = (width - 2.0 * MARGIN) / (high - low) as f32;
    let slabs = slabs(&heap.layers, low, scale);
    let tall = slabs.iter().map(|s| s.top).fold(0.0, f32::max);
    // Thick stacks are drawn lower than true, thin ones as they are.
    let squeeze = ((HEIGHT.1 - 20.0) / tall.max(1.0)).min(1.0);
    let room = (tall * squeeze + 20.0).clamp(HEIGHT.0, HEIGHT.1);
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, room), Sense::hover());
    let words = words(heap, unit);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &words));
    response.on_hover_text(&words);
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 4.0, palette.field);
    let floor = rect.bottom() - 10.0;
    let left = rect.left() + MARGIN;
    let place = |x: f32, y: f32| Pos2::new(left + x, floor - y * squeeze);
    for turn in &heap.turns {
        let pair = (slabs.get(turn.between.0), slabs.get(turn.between.1));
        if let (Some(one), Some(other)) = pair {
            let x = (turn.at - low) as f32 * scale;
            let colour = heap
                .layers
                .get(turn.between.1)
                .map_or(palette.chalk, |layer| colour(layer, palette));
            fold(&painter, one, other, x, colour, squeeze, &place);
        }
    }
    for (layer, slab) in heap.layers.iter().zip(&slabs) {
        let lies = Rect::from_two_pos(place(slab.from, slab.bottom), place(slab.to, slab.top));
        painter.rect_filled(lies, 1.0, colour(layer, palette));
        let edge = if layer.counts {
            Stroke::new(1.2, palette.pencil)
        } else {
            Stroke::new(0.6, blend(palette.pencil, palette.field, 0.5))
        };
        painter.rect_stroke(lies, 1.0, edge, egui::StrokeKind::Inside);
    }
    needle(&painter, heap, low, scale, tall, palette, &place);
}

/// Every layer on whatever lies beneath it.
fn slabs(layers: &[Layer], low: f64, scale: f32) -> Vec<Slab> {
    let mut slabs: Vec<Slab> = Vec::new();
    for layer in layers {
        let (from, to) = (
            (layer.reach.0.0 - low) as f32 * scale,
            (layer.reach.1.0 - low) as f32 * scale,
        );
        let beneath = slabs
            .iter()
            .filter(|s| s.from < to - 0.01 && from + 0.01 < s.to);
        let bottom = beneath.map(|s| s.top).fold(0.0, f32::max);
        let high = (layer.thickness.0 as f32 * scale).max(THINNEST);
        slabs.push(Slab {
            from,
            to,
            bottom,
            top: bottom + high,
        });
    }
    slabs
}

/// Half a turn from the middle of one layer to that of another.
fn fold(
    painter: &Painter,
    one: &Slab,
    other: &Slab,
    x: f32,
    colour: Color32,
    squeeze: f32,
    place: &impl Fn(f32, f32) -> Pos2,
) {
    let middle = |s: &Slab| (s.bottom + s.top) / 2.0;
    let (low, high) = (
        middle(one).min(middle(other)),
        middle(one).max(middle(other)),
    );
    let thick = (one.top - one.bottom) * squeeze;
    let radius = ((high - low) / 2.0).min(MARGIN - 2.0);
    // It stands out on the side where its layers are not.
    let out = if (one.from + one.to) / 2.0 > x {
        -1.0
    } else {
        1.0
    };
    let points = (0..=TURN).map(|i| {
        let angle = std::f32::consts::PI * i as f32 / TURN as f32;
        place(
            x + out * radius * angle.sin(),
            low + (high - low) * (1.0 - angle.cos()) / 2.0,
        )
    });
    painter.add(Shape::line(
        points.collect(),
        Stroke::new(thick.max(2.0), colour),
    ));
}

/// Where most layers lie: a line through them.
fn needle(
    painter: &Painter,
    heap: &Heap,
    low: f64,
    scale: f32,
    tall: f32,
    palette: &Palette,
    place: &impl Fn(f32, f32) -> Pos2,
) {
    let counted = heap.layers.iter().filter(|layer| layer.counts);
    let (from, to) = counted.fold((f64::NEG_INFINITY, f64::INFINITY), |(from, to), layer| {
        (from.max(layer.reach.0.0), to.min(layer.reach.1.0))
    });
    if from < to {
        let x = (f64::midpoint(from, to) - low) as f32 * scale;
        let ends = [place(x, -6.0), place(x, tall + 6.0)];
        painter.extend(Shape::dashed_line(
            &ends,
            Stroke::new(1.5, palette.cut),
            4.0,
            3.0,
        ));
    }
}

fn colour(layer: &Layer, palette: &Palette) -> Color32 {
    match layer.role {
        Some(Cloth::Shell) => blend(palette.chalk, palette.paper, 0.35),
        Some(Cloth::Lining) => palette.band,
        Some(Cloth::Interlining) => blend(palette.chosen, palette.paper, 0.4),
        Some(Cloth::FlatLined) => blend(palette.band, palette.chalk, 0.5),
        None => palette.cut,
    }
}

/// How many layers, how thick, and which, top down.
fn words(heap: &Heap, unit: LengthUnit) -> String {
    let mut named: Vec<(&str, u32)> = Vec::new();
    for layer in heap.layers.iter().rev().filter(|layer| layer.counts) {
        match named.last_mut().filter(|(name, _)| *name == layer.words) {
            Some((_, times)) => *times += 1,
            None => named.push((&layer.words, 1)),
        }
    }
    let named: Vec<String> = named
        .into_iter()
        .map(|(name, times)| match times {
            1 => name.to_owned(),
            _ => format!("{times} times {name}"),
        })
        .collect();
    format!(
        "Section {}: {} layers, {}; from the top: {}",
        heap.moment.words(),
        heap.count,
        thick(heap.thickness, unit),
        named.join("; ")
    )
}
