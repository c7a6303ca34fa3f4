//! The mouth of a dart on the table.

use kurbo::{Point, Vec2};

use super::hand::Hand;
use super::spot::dart_of;

/// Its two ends, on the table.
fn ends(hand: &Hand<'_>, piece: &str, dart: &str) -> Option<(Point, Point)> {
    let (body, dart) = dart_of(hand, piece, dart)?;
    let from = body.outline.edge(&dart.leg_in)?.line.start();
    let to = body.outline.edge(&dart.leg_out)?.line.end();
    Some((hand.on_table(piece, from), hand.on_table(piece, to)))
}

/// Its middle.
pub fn middle(hand: &Hand<'_>, piece: &str, dart: &str) -> Option<Point> {
    ends(hand, piece, dart).map(|(a, b)| a.midpoint(b))
}

/// The way over it, counter-clockwise.
pub fn along(hand: &Hand<'_>, piece: &str, dart: &str) -> Option<Vec2> {
    let (a, b) = ends(hand, piece, dart)?;
    let way = b - a;
    (way.hypot() > 0.0).then(|| way / way.hypot())
}

/// How wide it is, mm.
pub fn width(hand: &Hand<'_>, piece: &str, dart: &str) -> Option<f64> {
    ends(hand, piece, dart).map(|(a, b)| (b - a).hypot())
}
