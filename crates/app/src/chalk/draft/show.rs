//! How a line that is being drawn looks on the table.

use kurbo::{BezPath, Point};
use petitoile_core::Mm;
use petitoile_core::drawn::{self, Bend, DrawnPoint, length_and_angle};

use super::Draft;
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::wording;

/// Paints the line, the stretch to the next point with its length and angle, and what steers its curves.
///
/// With `mirrored` the first line is the fold and the other half shows as a chalk ghost.
pub fn paint(draft: &Draft, hand: &Hand<'_>, brush: &Brush<'_>, mirrored: bool) {
    let next = draft.next_place(hand).filter(|_| draft.pull.is_none());
    let mut points = draft.points.clone();
    points.extend(next.map(|at| DrawnPoint {
        bend: draft.next,
        ..DrawnPoint::corner(at)
    }));
    if let Some(line) = drawn::line(&points) {
        let path = line.to_path();
        if mirrored {
            ghost(&points, &path, brush);
        }
        brush.line(&path);
    }
    for (i, point) in draft.points.iter().enumerate() {
        for pull in [point.arrives, point.leaves].into_iter().flatten() {
            brush.guide(point.at, point.at + pull);
        }
        if i == 0 || i + 1 == draft.points.len() || point.bend == Bend::Through {
            brush.dot(point.at);
        }
    }
    if let Some(next) = next {
        brush.dot(next);
    }
    let typed = draft.numbers.words();
    let at = next.or(hand.pointer.as_ref().map(|at| at.pointer));
    if let Some((at, words)) = at.zip(typed.or_else(|| live(draft, hand, next))) {
        brush.words(at, &words);
    }
}

/// Length and angle of the stretch to the next point, or of the pull.
fn live(draft: &Draft, hand: &Hand<'_>, next: Option<Point>) -> Option<String> {
    let start = draft.start()?;
    let to = next.or_else(|| hand.pointer.as_ref().map(|at| at.point))?;
    let (length, angle) = length_and_angle(start, to, draft.numbers.from);
    (length.0 > 0.01).then(|| {
        let pull = if draft.pull.is_some() { "pull " } else { "" };
        format!(
            "{pull}{}, {:.1}\u{b0}",
            wording::length(length, hand.unit),
            angle.0
        )
    })
}

/// The other half behind the fold.
fn ghost(points: &[DrawnPoint], path: &BezPath, brush: &Brush<'_>) {
    let (Some(a), Some(b)) = (points.first(), points.get(1)) else {
        return;
    };
    let other = drawn::mirrored_about(a.at, b.at) * path.clone();
    brush.stroke(&other, egui::Stroke::new(2.0, brush.palette().chalk));
    let beyond = (b.at - a.at) * 4.0;
    brush.guide(a.at - beyond, b.at + beyond);
}

/// "point 4, 128 mm".
pub(super) fn so_far(draft: &Draft, hand: &Hand<'_>) -> String {
    let length = drawn::line(&draft.points).map_or(0.0, |line| line.length());
    format!(
        "{} so far, {} long",
        wording::count(draft.points.len(), "point", "points"),
        wording::length(Mm(length), hand.unit)
    )
}
