//! A line across a piece from one place on its outline to another, and numbers that are dragged square to it.

use kurbo::{BezPath, CubicBez, Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::edge::OutlinePoint;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::parallel::right_of;

use super::hand::Hand;
use super::spot::Spot;
use super::tool::{Handle, HandleLook};

/// The piece and the two ends of the line.
///
/// # Errors
/// What is missing.
pub fn ends(picked: &[Spot]) -> Result<(&str, OutlinePoint, OutlinePoint), String> {
    match picked {
        [Spot::Place(from), Spot::Place(to)] if from.piece == to.piece => {
            Ok((&from.piece, from.in_outline(), to.in_outline()))
        }
        [Spot::Place(_), Spot::Place(_)] => {
            Err("Both ends of the line must lie on one piece".to_owned())
        }
        _ => Err("Click both ends of the line on the outline".to_owned()),
    }
}

/// The two ends on the table.
fn on_table(hand: &Hand<'_>, picked: &[Spot]) -> Option<(Point, Point)> {
    let [Spot::Place(from), Spot::Place(to)] = picked else {
        return None;
    };
    Some((from.on_table(hand)?, to.on_table(hand)?))
}

/// The straight line between them, on the table.
pub fn line(hand: &Hand<'_>, picked: &[Spot]) -> Option<BezPath> {
    bent_line(hand, picked, Mm(0.0))
}

/// The line, bent to the right of its way by so much in its middle.
pub fn bent_line(hand: &Hand<'_>, picked: &[Spot], bend: Mm) -> Option<BezPath> {
    let (from, to) = on_table(hand, picked)?;
    let mut path = BezPath::new();
    let c = bow(from, to, bend);
    path.move_to(c.p0);
    path.curve_to(c.p1, c.p2, c.p3);
    Some(path)
}

/// The same in the coordinates of the piece; `None` where it is straight.
pub fn bent(hand: &Hand<'_>, picked: &[Spot], bend: Mm) -> Option<Line> {
    let (from, to) = on_table(hand, picked)?;
    let piece = picked.first()?.piece()?;
    let own = |p| hand.in_piece(piece, p);
    (bend.0 != 0.0)
        .then(|| Line::from_cubics(&[bow(own(from), own(to), bend)]))
        .flatten()
}

/// A cubic whose middle lies `bend` to the right of the chord: its control points lie 4/3 of that away.
fn bow(from: Point, to: Point, bend: Mm) -> CubicBez {
    let out = right(from, to).unwrap_or(Vec2::ZERO) * (bend.0 * 4.0 / 3.0);
    CubicBez::new(
        from,
        from.lerp(to, 1.0 / 3.0) + out,
        from.lerp(to, 2.0 / 3.0) + out,
        to,
    )
}

fn right(from: Point, to: Point) -> Option<Vec2> {
    let way = to - from;
    (way.hypot() > 0.0).then(|| right_of(way) / way.hypot())
}

/// The middle of the line on the table, and the way to its right.
pub fn middle(hand: &Hand<'_>, picked: &[Spot]) -> Option<(Point, Vec2)> {
    let (from, to) = on_table(hand, picked)?;
    Some((from.midpoint(to), right(from, to)?))
}

/// A handle that stands as far to the right of the line as the number says.
pub fn amount_handle(hand: &Hand<'_>, picked: &[Spot], by: Mm, label: &str) -> Option<Handle> {
    let (middle, right) = middle(hand, picked)?;
    Some(Handle {
        id: "amount".to_owned(),
        at: middle + right * by.0,
        label: label.to_owned(),
        look: HandleLook::Edge,
        chosen: true,
    })
}

/// How far to the right of the line a place of the table lies.
pub fn pulled(hand: &Hand<'_>, picked: &[Spot], to: Point) -> Option<Mm> {
    let (middle, right) = middle(hand, picked)?;
    Some(Mm((to - middle).dot(right)))
}
