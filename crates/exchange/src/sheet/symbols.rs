//! The symbols of the trade on a piece: grain arrow, fold bracket, dots, buttonholes.
//!
//! Forms: a double-ended arrow along the grain and a bent arrow towards the fold (handbook practice, fact sheet E1).

use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::parallel::parallel;
use petitoile_core::kurbo::{BezPath, Circle, CubicBez, Line as Stroke, Point, Shape, Vec2};

use super::{MARK_STROKE, sewn_row};
use crate::drawing::{Item, Layer};
use crate::font;

/// Size of small words beside marks, mm.
const SMALL: f64 = 1.8;

/// Size of words that are marked on a piece by hand, mm.
const WORDS: f64 = 3.0;

/// What stands along a fold.
const FOLD_WORDS: &str = "place on fold";

/// A filled head that points along `along` with its tip at `tip`.
fn arrow_head(tip: Point, along: Vec2, length: f64) -> Item {
    let (back, side) = (tip - along * length, along.turn_90() * (length * 0.3));
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(back + side);
    path.line_to(back - side);
    path.close_path();
    Item::fill(Layer::Marks, path)
}

/// A fine arrow from one place to another.
pub(super) fn arrow(from: Point, to: Point) -> Vec<Item> {
    let along = unit(to - from);
    let length = (to - from).hypot();
    if length <= 0.2 {
        return Vec::new();
    }
    let head = (length * 0.45).min(1.6);
    vec![
        Item::stroke(
            Layer::Marks,
            straight(&[from, to - along * head * 0.9]),
            MARK_STROKE * 0.8,
        ),
        arrow_head(to, along, head),
    ]
}

fn straight(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path
}

/// Unit vector; zero when there is none.
fn unit(v: Vec2) -> Vec2 {
    if v.hypot() > 0.0 {
        v / v.hypot()
    } else {
        Vec2::ZERO
    }
}

/// An arrow with two heads along the grain.
pub(super) fn grain_arrow(grain: Stroke) -> Vec<Item> {
    let along = unit(grain.p1 - grain.p0);
    let length = (grain.p1 - grain.p0).hypot();
    if length <= 0.0 {
        return Vec::new();
    }
    let head = (length / 5.0).min(3.0);
    let shaft = straight(&[grain.p0 + along * head * 0.9, grain.p1 - along * head * 0.9]);
    vec![
        Item::stroke(Layer::Marks, shaft, MARK_STROKE),
        arrow_head(grain.p1, along, head),
        arrow_head(grain.p0, -along, head),
    ]
}

/// Direction from the fold into the piece, and how far the bracket reaches.
fn reach(fold: Stroke, inside: Point, stitch: &BezPath) -> (Vec2, f64) {
    let left = unit(fold.p1 - fold.p0).turn_90();
    let inwards = if (inside - fold.p0).dot(left) < 0.0 {
        -left
    } else {
        left
    };
    let depth = (0.12 * across(stitch, fold.p0, inwards)).clamp(1.8, 5.0);
    (inwards, depth)
}

/// Size of the words beside a fold of this length, when there is room for them.
fn fold_words_size(length: f64) -> Option<f64> {
    let size = 2.2_f64.min(2.2 * length * 0.66 / font::width(FOLD_WORDS, 2.2));
    (size >= SMALL).then_some(size)
}

/// The grain arrow, drawn back where it would run into the bracket or the words at the fold.
pub(super) fn clear_of_fold(
    grain: Stroke,
    fold: Stroke,
    inside: Point,
    stitch: &BezPath,
) -> Stroke {
    let (inwards, depth) = reach(fold, inside, stitch);
    let words = fold_words_size((fold.p1 - fold.p0).hypot()).map_or(0.0, |size| 1.4 * size);
    let clear = depth + words + 1.0;
    let far = |p: Point| (p - fold.p0).dot(inwards);
    let back = |near: Point, other: Point| {
        let (a, b) = (far(near), far(other));
        // An arrow that would be left with next to nothing keeps its length.
        if a < clear && clear + 5.0 < b {
            near.lerp(other, (clear - a) / (b - a))
        } else {
            near
        }
    };
    Stroke::new(back(grain.p0, grain.p1), back(grain.p1, grain.p0))
}

/// A bracket along the fold whose two arms point at it, and its words where there is room for them.
pub(super) fn fold_bracket(fold: Stroke, inside: Point, stitch: &BezPath) -> Vec<Item> {
    let along = unit(fold.p1 - fold.p0);
    let length = (fold.p1 - fold.p0).hypot();
    if length <= 0.0 {
        return Vec::new();
    }
    let (inwards, depth) = reach(fold, inside, stitch);
    let (from, to) = (
        fold.p0 + along * length * 0.14,
        fold.p1 - along * length * 0.14,
    );
    let head = (depth * 0.5).min(2.4);
    let tip = 0.6; // the arrow ends short of the line, so that the line itself stays seen
    let arm =
        |foot: Point| straight(&[foot + inwards * (tip + head * 0.9), foot + inwards * depth]);
    let mut bracket = arm(from);
    bracket.line_to(to + inwards * depth);
    bracket.line_to(to + inwards * (tip + head * 0.9));
    let mut items = vec![
        Item::stroke(Layer::Marks, bracket, MARK_STROKE),
        arrow_head(from + inwards * tip, -inwards, head),
        arrow_head(to + inwards * tip, -inwards, head),
    ];
    if let Some(size) = fold_words_size(length) {
        let turn = readable(libm::atan2(along.y, along.x).to_degrees());
        let up = Vec2::from_angle(turn.to_radians()).turn_90();
        let clear = if up.dot(inwards) > 0.0 {
            font::DESCENT * size + 0.5
        } else {
            0.76 * size + 0.5
        };
        let at = from.midpoint(to) + inwards * (depth + clear);
        items.push(
            Item::text(Layer::Marks, at, size, FOLD_WORDS)
                .centred()
                .turned(turn),
        );
    }
    items
}

/// How far the piece reaches from a point in a direction.
fn across(path: &BezPath, from: Point, direction: Vec2) -> f64 {
    let bounds = path.bounding_box();
    let corners = [
        (bounds.x0, bounds.y0),
        (bounds.x1, bounds.y0),
        (bounds.x0, bounds.y1),
        (bounds.x1, bounds.y1),
    ];
    corners
        .into_iter()
        .map(|corner| (Point::from(corner) - from).dot(direction))
        .fold(0.0, f64::max)
}

/// The same direction, never upside down: above -90 up to 90 degrees.
fn readable(degrees: f64) -> f64 {
    let turned = degrees.rem_euclid(180.0);
    if turned > 90.0 + 1e-9 {
        turned - 180.0
    } else {
        turned
    }
}

/// A ring with a point in its middle, and its name.
pub(super) fn dot(at: Point, name: &str) -> Vec<Item> {
    let mut items = vec![
        Item::stroke(
            Layer::Marks,
            Circle::new(at, 0.9).to_path(0.001),
            MARK_STROKE,
        ),
        Item::fill(Layer::Marks, Circle::new(at, 0.25).to_path(0.001)),
    ];
    items.extend(name_beside(at, 0.9, name));
    items
}

/// A line to place something on, and its name beside its middle.
pub(super) fn placement_line(line: &Line, name: &str) -> Vec<Item> {
    let mut items = vec![Item::dashed(
        Layer::Marks,
        line.to_path(),
        MARK_STROKE,
        &[4.0, 1.0, 1.0, 1.0],
    )];
    items.extend(name_along(line, name, 0.0));
    items
}

/// A line along which the cloth is folded, and its name.
pub(super) fn fold_line(line: &Line, name: &str) -> Vec<Item> {
    let mut items = vec![Item::dashed(
        Layer::Marks,
        line.to_path(),
        MARK_STROKE,
        &[3.0, 1.5],
    )];
    items.extend(name_along(line, name, 0.0));
    items
}

/// A line that is sewn, and its name.
pub(super) fn stitching_line(line: &Line, name: &str) -> Vec<Item> {
    let mut items = vec![sewn_row(line.to_path())];
    items.extend(name_along(line, name, 0.0));
    items
}

/// The two rows of stitches of a channel, and its name between them.
pub(super) fn channel(line: &Line, width: f64, name: &str) -> Vec<Item> {
    let middle: Vec<CubicBez> = line.cubics().collect();
    let mut items: Vec<Item> = [width / 2.0, -width / 2.0]
        .into_iter()
        .filter_map(|side| Line::from_cubics(&parallel(&middle, side)))
        .map(|row| sewn_row(row.to_path()))
        .collect();
    items.extend(name_along(line, name, width / 2.0));
    items
}

/// A ring as wide as the hole, and its name.
pub(super) fn eyelet(at: Point, diameter: f64, name: &str) -> Vec<Item> {
    let radius = diameter / 2.0;
    let arm = radius + 0.6;
    let mut cross = straight(&[at - (arm, 0.0), at + (arm, 0.0)]);
    cross.move_to(at - (0.0, arm));
    cross.line_to(at + (0.0, arm));
    let mut items = vec![
        Item::stroke(
            Layer::Marks,
            Circle::new(at, radius).to_path(0.001),
            MARK_STROKE,
        ),
        Item::stroke(Layer::Marks, cross, MARK_STROKE / 2.0),
    ];
    items.extend(name_beside(at, radius.max(0.9), name));
    items
}

/// Words on the piece, their middle at `at`.
pub(super) fn words(at: Point, words: &str) -> Vec<Item> {
    vec![Item::text(Layer::Marks, at - (0.0, 0.35 * WORDS), WORDS, words).centred()]
}

/// A name above the middle of a line, `off` mm further away; left out where the line is too short for it.
fn name_along(line: &Line, name: &str, off: f64) -> Option<Item> {
    if name.is_empty() || font::width(name, SMALL) >= line.length() {
        return None;
    }
    let direction = line.direction(0.5);
    let turn = readable(libm::atan2(direction.y, direction.x).to_degrees());
    let up = Vec2::from_angle(turn.to_radians()).turn_90();
    Some(
        Item::text(Layer::Marks, line.at(0.5) + up * (off + 0.8), SMALL, name)
            .centred()
            .turned(turn),
    )
}

/// A name to the right of a round mark.
fn name_beside(at: Point, radius: f64, name: &str) -> Option<Item> {
    (!name.is_empty()).then(|| {
        Item::text(
            Layer::Marks,
            at + (radius + 0.6, -0.45 * SMALL),
            SMALL,
            name,
        )
    })
}

/// A line with a bar at either end.
pub(super) fn buttonhole(from: Point, to: Point) -> Vec<Item> {
    let bar = unit(to - from).turn_90() * 1.2;
    let mut path = straight(&[from, to]);
    for end in [from, to] {
        path.move_to(end + bar);
        path.line_to(end - bar);
    }
    vec![Item::stroke(Layer::Marks, path, MARK_STROKE)]
}
