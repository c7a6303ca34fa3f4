//! Pictures of a folded edge, drawn from its real places: the section seen from the edge, and the front.
//!
//! Right side of the cloth up in the section and towards you in the front view; the edge at the top. Outlines run
//! counter-clockwise, so the stretch starts at the right and runs on to the left.

use egui::{Color32, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo};
use petitoile_core::fullness::{FillLineKind, FoldedEdge, Fullness, Kind, Layout, Span};
use petitoile_core::{LengthUnit, Mm};

use crate::theme::{Palette, blend};
use crate::trays::faded;
use crate::wording;

/// Height of the front view, screen points.
const FRONT: f32 = 56.0;
/// A section is at most this high, screen points.
const SECTION: f32 = 120.0;
/// At most this many screen points to the millimetre.
const CLOSEST: f32 = 14.0;
/// Points along half a turn of the cloth.
const TURN: u32 = 6;
/// Length of one wave of gathers where nothing says how long the stitches are, mm.
const WAVE: f64 = 4.0;

/// What of the edge a section shows, and how large.
#[derive(Debug, Clone, Copy)]
struct Part {
    from: f64,
    to: f64,
    scale: f32,
}

/// Front view of the whole stretch and a section of some pleats of it, cloth thickness true.
pub fn folded(ui: &mut Ui, edge: &FoldedEdge, thickness: Mm, unit: LengthUnit) {
    let width = ui.available_width();
    front(ui, edge, width, unit);
    let part = close_up(edge, thickness, width - 20.0);
    section(ui, edge, (thickness, unit), part, width);
    let magnified = f64::from(part.scale) * 25.4 / 96.0;
    let shown = Mm(part.to - part.from);
    let of = if shown.0 < edge.finished.0 - 0.05 {
        format!("{} of the edge", wording::length(shown, unit))
    } else {
        "The whole edge".to_owned()
    };
    faded(
        ui,
        format!(
            "{of} from above, right side up, about {magnified:.1} times as large; cloth {} thick.",
            wording::length(thickness, unit)
        ),
    );
}

/// As much of the edge as shows a few pleats well, near enough to see the cloth's thickness where that can be.
fn close_up(edge: &FoldedEdge, thickness: Mm, room: f32) -> Part {
    const SEEN: f64 = 2.5;
    let pitch = match edge.pleats.len() {
        0 => WAVE * 2.0,
        many => edge.finished.0 / many as f64,
    };
    let near = f64::from(room) * thickness.0 / SEEN;
    let least = f64::from(room / CLOSEST);
    let wanted = (pitch * 5.0).min(near).max(pitch * 1.6);
    let wanted = wanted.clamp(least, edge.finished.0.max(least));
    let middle = edge
        .pleats
        .get(edge.pleats.len() / 2)
        .map_or(edge.finished.0 / 2.0, |p| p.at.0);
    let from = (middle - wanted / 2.0).clamp(0.0, (edge.finished.0 - wanted).max(0.0));
    Part {
        from,
        to: (from + wanted).min(edge.finished.0.max(from)),
        scale: (room / wanted as f32).min(CLOSEST),
    }
}

/// The right side with every fold.
fn front(ui: &mut Ui, edge: &FoldedEdge, width: f32, unit: LengthUnit) {
    let palette = Palette::showing(ui);
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, FRONT), Sense::hover());
    let words = format!(
        "Front view: {} folded from {}, {} pleats",
        unit.show(edge.finished),
        unit.show(edge.cloth),
        edge.pleats.len()
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &words));
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 4.0, palette.table);
    let cloth = rect.shrink2(Vec2::new(10.0, 8.0));
    painter.rect_filled(cloth, 0.0, palette.paper);
    let scale = cloth.width() / edge.finished.0.max(1e-6) as f32;
    let x = |mm: Mm| cloth.right() - mm.0 as f32 * scale;
    if edge.pleats.is_empty() {
        creases(&painter, cloth, edge, palette);
    }
    shades(&painter, cloth, edge, &x, palette);
    let fold = Stroke::new(1.4, palette.stitch);
    for (_, line) in edge.folds() {
        let at = x(line.on_edge);
        match line.kind {
            FillLineKind::Fold => painter.vline(at, cloth.y_range(), fold),
            FillLineKind::Stitch => {
                painter.vline(at, cloth.y_range(), Stroke::new(1.0, palette.cut))
            }
            FillLineKind::Under => hidden(&painter, at, cloth, palette),
            FillLineKind::Placement | FillLineKind::Gather => continue,
        };
    }
    painter.hline(cloth.x_range(), cloth.top(), Stroke::new(2.0, palette.cut));
}

/// A fold that lies behind.
fn hidden(painter: &Painter, x: f32, cloth: Rect, palette: &Palette) -> egui::layers::ShapeIdx {
    let ends = [Pos2::new(x, cloth.top()), Pos2::new(x, cloth.bottom())];
    let thin = Stroke::new(0.8, palette.chalk);
    painter.extend(Shape::dashed_line(&ends, thin, 3.0, 3.0));
    painter.add(Shape::Noop)
}

/// Where two and more layers lie, the cloth is darker.
fn shades(
    painter: &Painter,
    cloth: Rect,
    edge: &FoldedEdge,
    x: &impl Fn(Mm) -> f32,
    palette: &Palette,
) {
    for span in edge
        .spans
        .iter()
        .filter(|span| span.below.0 + span.below.1 > 0)
    {
        let (a, b) = (x(span.edge.0), x(span.edge.1));
        let lies = Rect::from_x_y_ranges(a.min(b)..=a.max(b), cloth.y_range());
        painter.rect_filled(
            lies.intersect(cloth),
            0.0,
            palette.chalk.gamma_multiply(0.22),
        );
    }
}

/// Fine creases of gathers, closer the fuller they are.
fn creases(painter: &Painter, cloth: Rect, edge: &FoldedEdge, palette: &Palette) {
    let fullness = (edge.mean_layers() - 1.0).clamp(0.0, 4.0) as f32;
    let count = (cloth.width() / 9.0 * fullness.min(2.5)).round() as u32;
    let thin = Stroke::new(0.8, blend(palette.paper, palette.stitch, 0.6));
    for i in 0..count {
        let share = (i as f32 + 0.5) / count as f32;
        // Long and short in turn, as gathers fall.
        let reach = match i % 4 {
            0 => 0.9,
            1 => 0.45,
            2 => 0.7,
            _ => 0.3,
        };
        let x = cloth.left() + share * cloth.width();
        painter.vline(x, cloth.top()..=cloth.top() + reach * cloth.height(), thin);
    }
}

fn section(
    ui: &mut Ui,
    edge: &FoldedEdge,
    (thickness, unit): (Mm, LengthUnit),
    part: Part,
    width: f32,
) {
    let palette = Palette::showing(ui);
    let line = run(edge, thickness.0);
    let (low, high) = line.iter().fold((0.0_f64, 0.0_f64), |(low, high), p| {
        (low.min(p.1), high.max(p.1))
    });
    let tall = ((high - low + thickness.0) as f32 * part.scale + 20.0).clamp(36.0, SECTION);
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, tall), Sense::hover());
    let (layers, at) = edge.thickest();
    let words = format!(
        "Section: up to {layers:.0} layers, {} from its start",
        unit.show(at)
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &words));
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, 4.0, palette.field);
    let top = rect.top() + 10.0 + (thickness.0 / 2.0 - low) as f32 * part.scale;
    let across = (part.to - part.from) as f32 * part.scale;
    let right = rect.center().x + across / 2.0;
    let on_screen = |(x, y): (f64, f64)| {
        Pos2::new(
            right - (x - part.from) as f32 * part.scale,
            top + y as f32 * part.scale,
        )
    };
    let points: Vec<Pos2> = line.iter().map(|p| on_screen(*p)).collect();
    cloth(&painter, points, thickness.0 as f32 * part.scale, palette);
}

/// A thread of cloth: its body, then a fine line so that layers are told apart.
fn cloth(painter: &Painter, points: Vec<Pos2>, thick: f32, palette: &Palette) {
    let body = Stroke::new(thick.max(1.6), blend(palette.chalk, palette.ink, 0.15));
    painter.add(Shape::line(points.clone(), body));
    if thick > 4.0 {
        painter.add(Shape::line(
            points,
            Stroke::new(thick - 2.0, blend(palette.chalk, palette.paper, 0.55)),
        ));
    }
}

/// The middle of the cloth from the start of the stretch to its end: (along the edge, behind the right side), mm.
fn run(edge: &FoldedEdge, thickness: f64) -> Vec<(f64, f64)> {
    match edge.fullness {
        Fullness::CartridgePleats { .. } => loops(edge),
        _ if edge.pleats.is_empty() => waves(edge),
        _ => layers(edge, thickness),
    }
}

/// Flat layers, joined by half turns.
fn layers(edge: &FoldedEdge, thickness: f64) -> Vec<(f64, f64)> {
    let mut line: Vec<(f64, f64)> = Vec::new();
    let mut onward = true;
    for span in &edge.spans {
        let points = lying(edge, span, thickness);
        if let (Some(last), Some(first)) = (line.last().copied(), points.first()) {
            turn(&mut line, last, *first, onward);
        }
        line.extend(points);
        onward = span.edge.1.0 >= span.edge.0.0;
    }
    line
}

/// A span as it lies: behind what covers its ends, level with the right side where nothing does.
fn lying(edge: &FoldedEdge, span: &Span, thickness: f64) -> Vec<(f64, f64)> {
    let deep = |below: u32| f64::from(below) * thickness;
    let ends = [
        (span.edge.0.0, deep(span.below.0)),
        (span.edge.1.0, deep(span.below.1)),
    ];
    let [(x0, h0), (x1, h1)] = ends;
    let length = (x1 - x0).abs();
    let way = (x1 - x0).signum();
    let (from, to) = (covered(edge, span, true), covered(edge, span, false));
    let ramp = (3.0 * thickness).min(length / 4.0);
    let bare = length - from - to - 2.0 * ramp;
    if span.pleat.is_some() || bare <= 0.0 {
        return ends.to_vec();
    }
    vec![
        (x0, h0),
        (x0 + way * from, h0),
        (x0 + way * (from + ramp), 0.0),
        (x1 - way * (to + ramp), 0.0),
        (x1 - way * to, h1),
        (x1, h1),
    ]
}

/// How far a span is covered from one of its ends on.
fn covered(edge: &FoldedEdge, span: &Span, at_start: bool) -> f64 {
    let (x, far, own) = if at_start {
        (span.edge.0.0, span.edge.1.0, span.below.0)
    } else {
        (span.edge.1.0, span.edge.0.0, span.below.1)
    };
    let way = (far - x).signum();
    let inside = x + way * 1e-6;
    let above = edge.spans.iter().filter(|other| {
        let (a, b) = (other.edge.0.0, other.edge.1.0);
        let nearer_start = (inside - a).abs() < (inside - b).abs();
        let below = if nearer_start {
            other.below.0
        } else {
            other.below.1
        };
        below < own && a.min(b) <= inside && inside <= a.max(b)
    });
    above
        .map(|other| {
            let end = if way > 0.0 {
                other.edge.0.0.max(other.edge.1.0)
            } else {
                other.edge.0.0.min(other.edge.1.0)
            };
            (end - x).abs()
        })
        .fold(0.0, f64::max)
        .min((far - x).abs())
}

/// Half a turn from one layer to another at the same place of the edge.
fn turn(line: &mut Vec<(f64, f64)>, from: (f64, f64), to: (f64, f64), onward: bool) {
    let radius = (to.1 - from.1).abs() / 2.0;
    if radius < 1e-9 {
        return;
    }
    let out = if onward { radius } else { -radius };
    for i in 1..TURN {
        let angle = std::f64::consts::PI * f64::from(i) / f64::from(TURN);
        line.push((
            from.0 + out * angle.sin(),
            from.1 + (to.1 - from.1) * (1.0 - angle.cos()) / 2.0,
        ));
    }
}

/// Loops that stand out to the right side: two sides and a round top each, as long as the cloth in them.
fn loops(edge: &FoldedEdge) -> Vec<(f64, f64)> {
    let count = edge.pleats.len().max(1) as f64;
    let (wide, long) = (edge.finished.0 / count, edge.cloth.0 / count);
    let radius = wide / 4.0;
    // A loop up and the turn back down: two half circles and two straight sides.
    let side = ((long - 2.0 * std::f64::consts::PI * radius) / 2.0).max(0.0);
    let mut line = Vec::new();
    for number in 0..edge.pleats.len() {
        let start = number as f64 * wide;
        let arc = |middle: f64, top: f64, way: f64, line: &mut Vec<(f64, f64)>| {
            for i in 0..=TURN {
                let angle = std::f64::consts::PI * f64::from(i) / f64::from(TURN);
                line.push((
                    middle - radius * angle.cos(),
                    top + way * radius * angle.sin(),
                ));
            }
        };
        arc(start + radius, 0.0, 1.0, &mut line);
        arc(start + 3.0 * radius, -side, -1.0, &mut line);
    }
    line
}

/// Waves with as much cloth in them as the gathers have.
fn waves(edge: &FoldedEdge) -> Vec<(f64, f64)> {
    const STEPS: u32 = 12;
    let count = (edge.finished.0 / WAVE).ceil().clamp(1.0, 400.0);
    let wave = edge.finished.0 / count;
    // Straight sides of that slope are as long as the cloth; drawn round.
    let ratio = edge.mean_layers().max(1.0);
    let height = wave / 4.0 * (ratio * ratio - 1.0).max(0.0).sqrt();
    (0..=(count as u32 * STEPS))
        .map(|i| {
            let x = f64::from(i) / f64::from(STEPS);
            (x * wave, -height * (std::f64::consts::TAU * x).sin())
        })
        .collect()
}

/// A small section of a kind, painted in a rectangle: two or three pleats from the same reckoning as the real ones.
pub fn sample(painter: &Painter, rect: Rect, kind: Kind, palette: &Palette) {
    let edge = FoldedEdge::new(example(kind), &Layout::default(), Mm(SAMPLE));
    let thickness = 1.7;
    let line = run(&edge, thickness);
    let (low, high) = line.iter().fold((0.0_f64, 0.0_f64), |(low, high), p| {
        (low.min(p.1), high.max(p.1))
    });
    let scale = (rect.width() / SAMPLE as f32).min(rect.height() / (high - low + thickness) as f32);
    let middle = (low + high) / 2.0;
    let points = line.iter().map(|(x, y)| {
        Pos2::new(
            rect.center().x + (SAMPLE / 2.0 - x) as f32 * scale,
            rect.center().y + (y - middle) as f32 * scale,
        )
    });
    let colour: Color32 = palette.ink;
    painter.add(Shape::line(points.collect(), Stroke::new(1.6, colour)));
}

/// Length of a sample, mm.
const SAMPLE: f64 = 40.0;

/// A fullness that shows well what a kind is.
fn example(kind: Kind) -> Fullness {
    let mm = Mm;
    match kind {
        Kind::Knife => Fullness::KnifePleats {
            count: 3,
            depth: mm(8.0),
        },
        Kind::Box | Kind::Inverted => Fullness::BoxPleats {
            count: 1,
            depth: mm(9.0),
            inverted: kind == Kind::Inverted,
        },
        Kind::DoubleBox | Kind::DoubleInverted => Fullness::DoubleBoxPleats {
            count: 1,
            depth: mm(8.0),
            inverted: kind == Kind::DoubleInverted,
        },
        Kind::Cartridge => Fullness::CartridgePleats {
            count: 5,
            ratio: 4.0,
        },
        Kind::PinTucks => Fullness::Tucks {
            count: 6,
            width: mm(2.5),
        },
        Kind::WideTucks => Fullness::Tucks {
            count: 3,
            width: mm(8.0),
        },
        Kind::Gathers => Fullness::Gathers { ratio: 2.2 },
        Kind::Shirring => Fullness::Shirring {
            ratio: 1.7,
            rows: 3,
            apart: mm(5.0),
        },
        Kind::Ease => Fullness::Ease { by: mm(3.0) },
    }
}
