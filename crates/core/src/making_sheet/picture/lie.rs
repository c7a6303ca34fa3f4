//! How the pieces of a little picture lie: beside each other, or edge on edge; what is hidden, and the shade of the wrong side.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use super::Pictured;
use crate::geometry::polygon::Polygon;

/// Room between pieces, as a share of the largest (*own*).
const GAP: f64 = 0.12;
/// Sides of a seam that differ by more than this are not laid edge on edge (*own*).
const ALIKE: f64 = 0.12;
/// Slanted lines across the largest side of a piece (*own*).
const SHADES: f64 = 14.0;
/// Steps along a line whose hidden parts are left out, for its whole length (*own*).
const PARTS: f64 = 240.0;

/// Lays pieces beside each other: rows about twice as wide as high, bottom edges level.
pub(super) fn beside(pieces: &mut [Pictured]) {
    let sizes: Vec<Rect> = pieces.iter().map(|p| p.cut.bounding_box()).collect();
    let largest = sizes
        .iter()
        .map(|r| r.width().max(r.height()))
        .fold(0.0, f64::max);
    let gap = largest * GAP;
    let area: f64 = sizes
        .iter()
        .map(|r| (r.width() + gap) * (r.height() + gap))
        .sum();
    let widest = sizes.iter().map(|r| r.width()).fold(0.0, f64::max);
    let most = (area * 2.0).sqrt().max(widest);
    let (mut x, mut top, mut height) = (0.0, 0.0, 0.0_f64);
    for (piece, bounds) in pieces.iter_mut().zip(&sizes) {
        if x > 0.0 && x + bounds.width() > most + gap {
            (x, top, height) = (0.0, top - height - gap, 0.0);
        }
        let to = Affine::translate((x - bounds.x0, top - bounds.y1));
        let taken = std::mem::replace(piece, empty(piece));
        *piece = taken.moved(to);
        x += bounds.width() + gap;
        height = height.max(bounds.height());
    }
}

fn empty(like: &Pictured) -> Pictured {
    Pictured {
        piece: String::new(),
        copy: like.copy,
        up: like.up,
        cut: BezPath::new(),
        seen: BezPath::new(),
        shade: BezPath::new(),
        worked: Vec::new(),
        edges: Vec::new(),
        notches: Vec::new(),
        label_at: Point::ZERO,
    }
}

/// Moves `above` so that its seam lies on that of `below`, both from start to end. `None` when the seams differ too much in
/// length, or the cloth would not come to lie where it must: on the other piece, for a lapped seam beyond it.
pub(super) fn edge_on_edge(
    below: &Pictured,
    on: (Point, Point),
    above: &Pictured,
    from: (Point, Point),
    is_lapped: bool,
) -> Option<Pictured> {
    let (along, own) = (on.1 - on.0, from.1 - from.0);
    let (length, other) = (along.hypot2().sqrt(), own.hypot2().sqrt());
    if !(length > 0.0 && (other / length - 1.0).abs() < ALIKE) {
        return None;
    }
    let turn = libm::atan2(own.cross(along), own.dot(along));
    let to = Affine::translate(on.0.midpoint(on.1).to_vec2())
        * turned_by(turn)
        * Affine::translate(-from.0.midpoint(from.1).to_vec2());
    let laid = above.clone().moved(to);
    let together = below.lies(on.0, along) * laid.lies(on.0, along) > 0.0;
    (together != is_lapped).then_some(laid)
}

/// A piece without the part of its cut line that lies under another.
pub(super) fn hidden_under(mut below: Pictured, above: &Pictured) -> Pictured {
    let lid = polygon(&above.cut);
    let mut seen = BezPath::new();
    let mut pen = false;
    let bounds = below.cut.bounding_box();
    // Lines that run along each other are both seen, whichever way the last digit falls.
    let touch = flat_to(bounds);
    let most = ((bounds.width() + bounds.height()) * 2.0 / PARTS).max(1e-3);
    for (a, b) in polygon(&below.cut).sides() {
        let parts = ((b - a).hypot2().sqrt() / most).ceil().max(1.0) as usize;
        for i in 0..parts {
            let at = |i: usize| a.lerp(b, i as f64 / parts as f64);
            let (p, q) = (at(i), at(i + 1));
            let middle = p.midpoint(q);
            let hidden = lid.winding(middle) != 0 && !touches(&lid, middle, touch);
            if hidden {
                pen = false;
                continue;
            }
            if !pen {
                seen.move_to(p);
                pen = true;
            }
            seen.line_to(q);
        }
    }
    below.seen = seen;
    below
}

/// Does a point lie on the outline, this near?
fn touches(lid: &Polygon, point: Point, near: f64) -> bool {
    lid.sides().any(|(a, b)| {
        let nearest = kurbo::ParamCurveNearest::nearest(&kurbo::Line::new(a, b), point, 1e-6);
        nearest.distance_sq < near * near
    })
}

/// How near to its curves the straight sides of a pictured line are.
fn flat_to(bounds: Rect) -> f64 {
    ((bounds.width() + bounds.height()) / 800.0).max(0.01)
}

fn polygon(path: &BezPath) -> Polygon {
    let tolerance = flat_to(path.bounding_box());
    let mut corners = Vec::new();
    kurbo::flatten(path, tolerance, |el| {
        if let Some(p) = el.end_point() {
            corners.push(p);
        }
    });
    Polygon::new(corners)
}

/// Slanted lines inside a closed line.
pub(super) fn shade(cut: &BezPath) -> BezPath {
    let slant = turned_by(-std::f64::consts::FRAC_PI_4);
    let turned = slant * cut.clone();
    let outline = polygon(&turned);
    let bounds = cut.bounding_box();
    let apart = bounds.width().max(bounds.height()) / SHADES;
    let mut lines = BezPath::new();
    if !(apart > 0.0 && apart.is_finite()) {
        return lines;
    }
    let (low, high) = (turned.bounding_box().y0, turned.bounding_box().y1);
    let mut y = low + apart / 2.0;
    while y < high {
        let mut meets: Vec<f64> = outline
            .sides()
            .filter(|(a, b)| (a.y <= y) != (b.y <= y))
            .map(|(a, b)| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
            .collect();
        meets.sort_by(f64::total_cmp);
        for pair in meets.chunks_exact(2) {
            if let [from, to] = pair {
                lines.move_to((*from, y));
                lines.line_to((*to, y));
            }
        }
        y += apart;
    }
    slant.inverse() * lines
}

/// A turn counter-clockwise, radians; the same bits on every machine.
pub(in crate::making_sheet) fn turned_by(angle: f64) -> Affine {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
}
