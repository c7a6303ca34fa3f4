//! Where a spread piece is folded, stitched or gathered.

use kurbo::Point;

use crate::fullness::{FillLine, FillLineKind, Fullness};
use crate::geometry::curve::Line;
use crate::units::Mm;

use super::spread::Spread;

/// A line of a pleat, by its distance on the cloth from where the pleat starts, in depths.
const KNIFE: [(f64, FillLineKind); 3] = [
    (0.0, FillLineKind::Fold),
    (1.0, FillLineKind::Under),
    (2.0, FillLineKind::Placement),
];
const BOX: [(f64, FillLineKind); 4] = [
    (0.0, FillLineKind::Under),
    (1.0, FillLineKind::Fold),
    (3.0, FillLineKind::Fold),
    (4.0, FillLineKind::Under),
];
const INVERTED: [(f64, FillLineKind); 4] = [
    (0.0, FillLineKind::Fold),
    (1.0, FillLineKind::Under),
    (3.0, FillLineKind::Under),
    (4.0, FillLineKind::Fold),
];
const TUCK: [(f64, FillLineKind); 3] = [
    (0.0, FillLineKind::Stitch),
    (1.0, FillLineKind::Fold),
    (2.0, FillLineKind::Stitch),
];

/// Steps of a gathering row.
const ROW_STEPS: u32 = 24;

/// Every line that a fullness needs, over a finished length. Pleats sit in the middle of their share of the edge.
pub(super) fn fill_lines(
    fullness: Fullness,
    finished: Mm,
    spread: &Spread,
    allowance: Mm,
) -> Vec<FillLine> {
    let (count, depth, pattern): (u32, Mm, &[(f64, FillLineKind)]) = match fullness {
        Fullness::Gathers { .. } => return gather_rows(spread, allowance),
        Fullness::KnifePleats { count, depth } => (count, depth, &KNIFE),
        Fullness::BoxPleats {
            count,
            depth,
            inverted: false,
        } => (count, depth, &BOX),
        Fullness::BoxPleats {
            count,
            depth,
            inverted: true,
        } => (count, depth, &INVERTED),
        Fullness::Tucks { count, width } => (count, width, &TUCK),
    };
    let cloth = fullness.cloth_length(finished).0;
    let share = finished.0 / f64::from(count);
    let pitch = cloth / f64::from(count);
    let starts = (0..count).map(|i| f64::from(i) * pitch + share / 2.0);
    let places = starts.flat_map(|start| {
        pattern
            .iter()
            .map(move |(depths, kind)| (start + depths * depth.0, *kind))
    });
    places
        .map(|(at, kind)| {
            let (edge, foot) = spread.ray(at / cloth);
            FillLine {
                kind,
                line: Line::straight(edge, foot),
            }
        })
        .collect()
}

/// Two rows within the allowance, a third and two thirds of it outside the stitch line.
fn gather_rows(spread: &Spread, allowance: Mm) -> Vec<FillLine> {
    [1.0 / 3.0, 2.0 / 3.0]
        .into_iter()
        .filter_map(|share| gather_row(spread, share * allowance.0))
        .collect()
}

fn gather_row(spread: &Spread, outside: f64) -> Option<FillLine> {
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
    Some(FillLine {
        kind: FillLineKind::Gather,
        line: Line::through_corners(&row)?,
    })
}
