//! Where a spread piece is folded, stitched or gathered.

use kurbo::Point;

use crate::fullness::{FillLine, FillLineKind, FoldedEdge, FullnessOp, Pleat, Rows};
use crate::geometry::curve::Line;
use crate::tolerance::MEASURING;
use crate::units::Mm;

use super::spread::Spread;

/// Steps of a gathering row.
const ROW_STEPS: u32 = 24;

/// How far down its ray an arrow is drawn.
const ARROW_DOWN: f64 = 0.25;

/// Every line that a fullness needs: folds of its folded edge, rows of what is drawn in.
pub(super) fn fill_lines(
    folded: &FoldedEdge,
    op: &FullnessOp,
    number: usize,
    spread: &Spread,
    allowance: Mm,
) -> Vec<FillLine> {
    let rows = Rows::of(op, folded, allowance);
    let stitch = rows.stitch;
    let row = |distance: Mm| {
        Some(FillLine {
            kind: FillLineKind::Gather,
            line: gather_row(spread, -distance.0)?,
            op: number,
            pleat: 0,
            on_cloth: Mm(0.0),
            on_edge: Mm(0.0),
            arrow: None,
            stitch,
        })
    };
    let mut lines: Vec<FillLine> = rows.inside.into_iter().filter_map(row).collect();
    if stitch.is_some() {
        return lines;
    }
    let cloth = folded.cloth.0;
    let down = |(edge, foot): (Point, Point)| edge.lerp(foot, ARROW_DOWN);
    for pleat in &folded.pleats {
        for fold in &pleat.folds {
            let is_there = |line: &FillLine| {
                line.kind == FillLineKind::Placement
                    && (line.on_cloth - fold.on_cloth).0.abs() < MEASURING.0
            };
            // Box pleats that touch share their placement line.
            if fold.kind == FillLineKind::Placement && lines.iter().rev().take(24).any(is_there) {
                continue;
            }
            let (edge, foot) = spread.ray(fold.on_cloth.0 / cloth);
            lines.push(FillLine {
                kind: fold.kind,
                line: Line::straight(edge, foot),
                op: number,
                pleat: pleat.number,
                on_cloth: fold.on_cloth,
                on_edge: fold.on_edge,
                arrow: fold
                    .to
                    .map(|to| (down((edge, foot)), down(spread.ray(to.0 / cloth)))),
                stitch: None,
            });
        }
        if let Some(deep) = op.sewn_down() {
            lines.extend(sewn_down(pleat, deep, number, &|at| {
                spread.ray(at.0 / cloth)
            }));
        }
    }
    lines
}

/// Half of the short bar where the stitches of a pleat end, mm (own choice); never more than a third of its depth.
const BAR: f64 = 1.0;

/// Stitches that hold one pleat shut: along each fold and along the line that it is laid on, so far down, with a bar
/// where they end. Where the piece is not so deep they run through it.
fn sewn_down(
    pleat: &Pleat,
    deep: Mm,
    number: usize,
    ray: &impl Fn(Mm) -> (Point, Point),
) -> Vec<FillLine> {
    let seen = pleat.folds.iter().filter(|f| f.kind == FillLineKind::Fold);
    let pairs = seen.filter_map(|fold| Some((fold.on_edge, [fold.on_cloth, fold.to?])));
    let mut at: Vec<(Mm, Mm)> = pairs
        .flat_map(|(on_edge, both)| both.map(|on_cloth| (on_cloth, on_edge)))
        .collect();
    at.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    at.dedup_by(|a, b| (a.0 - b.0).0.abs() < MEASURING.0);
    let line = |(on_cloth, on_edge): (Mm, Mm), line: Line| FillLine {
        kind: FillLineKind::Stitch,
        line,
        op: number,
        pleat: pleat.number,
        on_cloth,
        on_edge,
        arrow: None,
        stitch: None,
    };
    let mut lines = Vec::new();
    for place in at {
        let (edge, foot) = ray(place.0);
        let way = foot - edge;
        let long = way.hypot().max(f64::MIN_POSITIVE);
        let end = edge + way * (deep.0 / long).min(1.0);
        lines.push(line(place, Line::straight(edge, end)));
        if deep.0 < long {
            let bar = way.turn_90() * (BAR.min(pleat.depth.0 / 3.0) / long);
            lines.push(line(place, Line::straight(end - bar, end + bar)));
        }
    }
    lines
}

fn gather_row(spread: &Spread, outside: f64) -> Option<Line> {
    let on_edge: Vec<Point> = (0..=ROW_STEPS)
        .map(|i| spread.ray(f64::from(i) / f64::from(ROW_STEPS)).0)
        .collect();
    let ends = (on_edge.first()?, on_edge.last()?);
    let before = std::iter::once(ends.0).chain(&on_edge);
    let after = on_edge.iter().skip(1).chain([ends.1]);
    let row: Vec<Point> = on_edge
        .iter()
        .zip(before.zip(after))
        .map(|(p, (a, b))| {
            let along = *b - *a;
            *p - along.turn_90() * (outside / along.hypot().max(f64::MIN_POSITIVE))
        })
        .collect();
    Line::through_corners(&row)
}
