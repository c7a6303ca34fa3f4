//! Patches on the straight grain: a seam along the grain or square to it takes off a corner that finds no room.

use kurbo::{Line, Point, Vec2};

use super::strip::grain_direction;
use super::{Asked, LEAST};
use crate::geometry::closed::{area, off_stroke, split};
use crate::lay_plan::PiecingKind;
use crate::laying::PiecedWay;
use crate::laying::opened::mirror;
use crate::laying::parts::across;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// How deep patches are, as shares of the piece's depth in that direction. Own figures.
const DEPTHS: [f64; 2] = [0.12, 0.25];

/// A patch takes at most this share of the piece. Own figure.
pub(super) const LARGEST: f64 = 0.3;

/// Cloth that must show of a patch beyond the allowances on both its sides, mm. Own figure.
const SHOWS: f64 = 3.0;

/// What a seam through notches or marks costs more.
pub(super) const NEAR_MARKS: u32 = 1;

/// A corner cut off.
struct Patch {
    seam: Line,
    /// The farthest point of it.
    tip: Point,
    /// How far that is from the seam.
    depth: f64,
    /// Does the seam run close to a notch or mark?
    near_marks: bool,
}

/// Patches at every corner that sticks out along the grain or square to it, in several depths; on a piece that is alike on
/// both sides of its fold also both corners at once.
pub(super) fn ways(asked: &Asked<'_>) -> Vec<PiecedWay> {
    let grain = grain_direction(asked.whole.grain.0);
    let square = Vec2::new(-grain.y, grain.x);
    let mut ways: Vec<PiecedWay> = Vec::new();
    let mut seams: Vec<Line> = Vec::new();
    for out in [grain, -grain, square, -square] {
        for patch in patches(asked, out) {
            if seams.iter().any(|seam| same(*seam, patch.seam)) {
                continue;
            }
            seams.push(patch.seam);
            ways.extend(way(asked, &patch));
            ways.extend(twins(asked, &patch));
        }
    }
    ways
}

fn same(a: Line, b: Line) -> bool {
    let near = |p: Point, q: Point| (p - q).hypot() <= JOINING.0;
    (near(a.p0, b.p0) && near(a.p1, b.p1)) || (near(a.p0, b.p1) && near(a.p1, b.p0))
}

/// The corners that stick out in this direction, cut off in several depths.
fn patches(asked: &Asked<'_>, out: Vec2) -> Vec<Patch> {
    let outline = &asked.whole.outline;
    let at: Vec<f64> = outline.iter().map(|p| p.to_vec2().dot(out)).collect();
    let range = at.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |r, v| {
        (r.0.min(*v), r.1.max(*v))
    });
    let least = least_depth(asked.allowance());
    let mut depths = vec![least];
    depths.extend(
        DEPTHS
            .map(|share| share * (range.1 - range.0))
            .into_iter()
            .filter(|depth| *depth > 1.2 * least),
    );
    let tips = tips(&at);
    let tips = tips.iter().filter_map(|i| outline.get(*i));
    tips.flat_map(|tip| {
        depths
            .iter()
            .filter_map(|depth| cut_off(asked, *tip, out, *depth))
    })
    .collect()
}

/// A patch is at least so deep, its allowance left out.
pub(super) fn least_depth(allowance: Mm) -> f64 {
    (LEAST.0 - allowance.0).max(allowance.0 + SHOWS)
}

/// The corners that lie no lower than their neighbours: one for each stretch that is level.
fn tips(at: &[f64]) -> Vec<usize> {
    let n = at.len();
    let level = |i: usize| at.get(i % n.max(1)).copied().unwrap_or_default();
    (0..n)
        .filter(|i| {
            let before = level(i + n - 1);
            // Where a level stretch starts, look on to where it ends.
            let mut next = i + 1;
            while next < i + n && (level(next) - level(*i)).abs() <= JOINING.0 {
                next += 1;
            }
            before < level(*i) - JOINING.0 && level(next) < level(*i)
        })
        .collect()
}

/// The patch that ends `depth` below the tip.
fn cut_off(asked: &Asked<'_>, tip: Point, out: Vec2, depth: f64) -> Option<Patch> {
    let outline = &asked.whole.outline;
    let (from, to) = ends_below(outline, tip, out, depth)?;
    let along = Vec2::new(-out.y, out.x);
    let split = split(outline, from.midpoint(to), along)?;
    let length = (split.cut.1 - split.cut.0).hypot();
    // A tip on two legs is no corner.
    if (length - (to - from).hypot()).abs() > JOINING.0 {
        return None;
    }
    let holds_tip = |part: &[Point]| part.iter().any(|p| (*p - tip).hypot() <= JOINING.0);
    let patch = if holds_tip(&split.left) {
        &split.left
    } else {
        &split.right
    };
    let width = {
        let level = patch.iter().map(|p| p.to_vec2().dot(along));
        let range = level.fold((f64::INFINITY, f64::NEG_INFINITY), |r, v| {
            (r.0.min(v), r.1.max(v))
        });
        range.1 - range.0
    };
    let seam = Line::new(split.cut.0, split.cut.1);
    let is_small = area(patch) <= LARGEST * area(outline);
    let is_sewable = length >= LEAST.0 && width >= LEAST.0;
    if !is_small || !is_sewable || crosses_darts(asked, seam) {
        return None;
    }
    Some(Patch {
        seam,
        tip,
        depth,
        near_marks: is_near_marks(asked, seam),
    })
}

/// Where the outline, followed both ways from the tip, first comes this far below it.
fn ends_below(outline: &[Point], tip: Point, out: Vec2, depth: f64) -> Option<(Point, Point)> {
    let n = outline.len();
    let start = outline.iter().position(|p| *p == tip)?;
    let level = |p: Point| (tip - p).dot(out) - depth;
    let walk = |step: usize| {
        let mut before = tip;
        (1..n).find_map(|i| {
            let p = *outline.get((start + i * step) % n)?;
            let (a, b) = (level(before), level(p));
            let last = std::mem::replace(&mut before, p);
            (a < 0.0 && b >= 0.0).then(|| last.lerp(p, a / (a - b)))
        })
    };
    Some((walk(1)?, walk(n - 1)?))
}

/// Between two straight strokes; 0 where they cross.
pub(super) fn distance(a: (Point, Point), b: (Point, Point)) -> f64 {
    let (d, e) = (a.1 - a.0, b.1 - b.0);
    let apart = |p: Point, q: Point, line: Vec2, from: Point| {
        line.cross(p - from) * line.cross(q - from) > 0.0
    };
    if !apart(b.0, b.1, d, a.0) && !apart(a.0, a.1, e, b.0) && d.cross(e) != 0.0 {
        return 0.0;
    }
    [
        off_stroke(a.0, b.0, b.1),
        off_stroke(a.1, b.0, b.1),
        off_stroke(b.0, a.0, a.1),
        off_stroke(b.1, a.0, a.1),
    ]
    .into_iter()
    .fold(f64::INFINITY, f64::min)
}

/// These strokes, and those of the other half.
fn both_halves(asked: &Asked<'_>, strokes: Vec<(Point, Point)>) -> Vec<(Point, Point)> {
    let Some(fold) = asked.whole.fold else {
        return strokes;
    };
    let over = mirror(fold.p0, fold.p1 - fold.p0);
    let mirrored: Vec<_> = strokes
        .iter()
        .map(|(a, b)| (over * *a, over * *b))
        .collect();
    [strokes, mirrored].concat()
}

/// Darts, tucks and pleats, on both halves.
pub(super) fn darts(asked: &Asked<'_>) -> Vec<(Point, Point)> {
    let mut strokes = Vec::new();
    for line in &asked.finished.sew_lines {
        let mut before = None;
        kurbo::flatten(line, 0.5, |element| {
            if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = element {
                let is_start = matches!(element, kurbo::PathEl::MoveTo(_));
                if let Some(last) = before.filter(|_| !is_start) {
                    strokes.push((last, p));
                }
                before = Some(p);
            }
        });
    }
    both_halves(asked, strokes)
}

/// Does the seam come nearer to a dart, tuck or pleat than its allowance?
fn crosses_darts(asked: &Asked<'_>, seam: Line) -> bool {
    is_near(asked, seam, darts(asked))
}

/// Does the seam come nearer to a notch or mark than its allowance?
fn is_near_marks(asked: &Asked<'_>, seam: Line) -> bool {
    is_near(asked, seam, marks(asked))
}

fn is_near(asked: &Asked<'_>, seam: Line, strokes: Vec<(Point, Point)>) -> bool {
    let near = asked.allowance().0;
    let far = |stroke| distance((seam.p0, seam.p1), stroke);
    strokes.into_iter().any(|stroke| far(stroke) < near)
}

/// Notches and marks, on both halves.
pub(super) fn marks(asked: &Asked<'_>) -> Vec<(Point, Point)> {
    let notches = asked.finished.notches.iter().map(|n| (n.p0, n.p1));
    let marks = asked.finished.piece.marks.iter();
    let marks = marks.map(|mark| mark.kind.middle()).map(|at| (at, at));
    both_halves(asked, notches.chain(marks).collect())
}

fn way(asked: &Asked<'_>, patch: &Patch) -> Option<PiecedWay> {
    let cost = asked.seen().cost() + if patch.near_marks { NEAR_MARKS } else { 0 };
    // Of two corners alike, which: as drawn.
    let side = match asked.whole.fold {
        Some(fold) if is_apart(patch.seam, fold) => {
            let middle = fold.p0.midpoint(fold.p1);
            let across = across(fold);
            let is_level = across.x.abs() <= JOINING.0 * across.hypot();
            match (is_level, (patch.tip - middle).dot(across) < 0.0) {
                (false, true) => ", left",
                (false, false) => ", right",
                (true, true) => ", above",
                (true, false) => ", below",
            }
        }
        _ => "",
    };
    let why = format!(
        "a patch {}{side}{}",
        words(asked, patch),
        asked.seen().words()
    );
    asked.way(PiecingKind::Patch, &[patch.seam], cost, why)
}

/// Does a seam lie on one side of the fold?
fn is_apart(seam: Line, fold: Line) -> bool {
    let along = fold.p1 - fold.p0;
    let side = |p: Point| along.cross(p - fold.p0) / along.hypot();
    let (a, b) = (side(seam.p0), side(seam.p1));
    a.abs().min(b.abs()) > JOINING.0 && (a > 0.0) == (b > 0.0)
}

/// "9 mm deep at side and hem".
fn words(asked: &Asked<'_>, patch: &Patch) -> String {
    let edges = asked.edges_at(patch.tip).join(" and ");
    let at = if edges.is_empty() { "" } else { " at " };
    format!("{} deep{at}{edges}", asked.unit.show(Mm(patch.depth)))
}

/// The same patch on both sides of the fold.
fn twins(asked: &Asked<'_>, patch: &Patch) -> Option<PiecedWay> {
    let fold = asked.whole.fold?;
    let along = fold.p1 - fold.p0;
    // One pair, not two; a seam across the fold has no twin.
    if !is_apart(patch.seam, fold) || along.cross(patch.seam.p0 - fold.p0) < 0.0 {
        return None;
    }
    let over = mirror(fold.p0, along);
    let twin = Line::new(over * patch.seam.p0, over * patch.seam.p1);
    let cost = asked.seen().cost() + if patch.near_marks { NEAR_MARKS } else { 0 };
    let why = format!(
        "a patch on both sides, {}{}",
        words(asked, patch),
        asked.seen().words()
    );
    asked.way(PiecingKind::Patch, &[patch.seam, twin], 2 * cost, why)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn level_stretches_have_one_tip_each() {
        assert_eq!(tips(&[0.0, 1.0, 1.0, 0.0, -1.0, 3.0, -1.0]), [1, 5]);
        assert_eq!(tips(&[1.0, 1.0, 0.0, 0.0]), [0]);
        assert_eq!(tips(&[1.0, 0.0, 0.0, 1.0]), [3]);
        assert_eq!(tips(&[1.0, 1.0]), [] as [usize; 0]);
    }

    #[test]
    fn strokes_that_cross_are_not_apart() {
        let p = Point::new;
        let seam = (p(0.0, 0.0), p(10.0, 0.0));
        for (stroke, far) in [
            ((p(5.0, -1.0), p(5.0, 1.0)), 0.0),
            ((p(5.0, 2.0), p(5.0, 3.0)), 2.0),
            ((p(13.0, 4.0), p(13.0, 9.0)), 5.0),
            ((p(0.0, 1.0), p(10.0, 1.0)), 1.0),
            ((p(5.0, 2.0), p(5.0, 2.0)), 2.0),
        ] {
            assert!((distance(seam, stroke) - far).abs() < 1e-12, "{stroke:?}");
        }
    }
}
