//! A point by typed numbers: length and angle, or how far to the right and up.

use kurbo::{Affine, Point, Vec2};

use crate::snapping::Start;
use crate::units::{Degrees, Mm};

/// From which direction an angle is counted, counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AngleFrom {
    /// From level, to the right: 90 is straight up.
    #[default]
    Level,
    /// From the line before: 0 goes straight on, 90 turns square to the left.
    LineBefore,
}

/// What was typed about the next point; anything may be missing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measured {
    /// How far from the start.
    pub length: Option<Mm>,
    /// In which direction.
    pub angle: Option<Degrees>,
    /// From where the angle is counted.
    pub from: AngleFrom,
    /// How far to the right of the start.
    pub right: Option<Mm>,
    /// How far above the start.
    pub up: Option<Mm>,
}

impl Measured {
    /// The place these numbers give; what they leave open follows the hand. `None` when nothing was typed, or when
    /// length and angle have no start to count from.
    ///
    /// Right and up go before length and angle; one of them alone counts the other as 0. Without a start they count
    /// from the middle of the table.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Degrees, Mm, drawn::{AngleFrom, Measured}, kurbo::{Point, Vec2}, snapping::Start};
    /// let start = Start { at: Point::new(10.0, 0.0), before: Some(Vec2::new(1.0, 0.0)) };
    /// let square = Measured { length: Some(Mm(50.0)), angle: Some(Degrees(90.0)), from: AngleFrom::LineBefore, ..Measured::default() };
    /// let place = square.place(Some(start), Point::ORIGIN);
    /// assert!(place.is_some_and(|p| (p - Point::new(10.0, 50.0)).hypot() < 1e-9));
    /// ```
    pub fn place(&self, start: Option<Start>, hand: Point) -> Option<Point> {
        let from = start.map_or(Point::ORIGIN, |start| start.at);
        if self.right.is_some() || self.up.is_some() {
            let mm = |value: Option<Mm>| value.map_or(0.0, |mm| mm.0);
            return Some(from + Vec2::new(mm(self.right), mm(self.up)));
        }
        let start = start?;
        let to_hand = hand - start.at;
        let way = match self.angle {
            Some(angle) => self.direction(start, angle),
            None if to_hand.hypot() > 0.0 => to_hand / to_hand.hypot(),
            None => Vec2::new(1.0, 0.0),
        };
        match (self.length, self.angle) {
            (Some(length), _) => Some(start.at + way * length.0),
            (None, Some(_)) => Some(start.at + way * to_hand.dot(way).max(0.0)),
            (None, None) => None,
        }
    }

    fn direction(&self, start: Start, angle: Degrees) -> Vec2 {
        let turn = towards(angle);
        let base = match (self.from, start.before) {
            (AngleFrom::LineBefore, Some(before)) if before.hypot() > 0.0 => {
                before / before.hypot()
            }
            _ => Vec2::new(1.0, 0.0),
        };
        Vec2::new(
            base.x * turn.x - base.y * turn.y,
            base.x * turn.y + base.y * turn.x,
        )
    }
}

/// The direction at this angle from level, counter-clockwise; length 1.
pub fn towards(angle: Degrees) -> Vec2 {
    let radians = angle.0.to_radians();
    Vec2::new(libm::cos(radians), libm::sin(radians))
}

/// Length and direction of a line, the direction counted as said, between -180 and 180 degrees.
pub fn length_and_angle(start: Start, to: Point, from: AngleFrom) -> (Mm, Degrees) {
    let way = to - start.at;
    let base = match (from, start.before) {
        (AngleFrom::LineBefore, Some(before)) => libm::atan2(before.y, before.x),
        _ => 0.0,
    };
    let angle = (libm::atan2(way.y, way.x) - base).to_degrees();
    let turned = (angle + 180.0).rem_euclid(360.0) - 180.0;
    (Mm(way.hypot()), Degrees(turned))
}

/// The mirror image about the line through two points; leaves everything where it is when they are one.
pub fn mirrored_about(a: Point, b: Point) -> Affine {
    let way = b - a;
    if way.hypot() <= crate::tolerance::JOINING.0 {
        return Affine::IDENTITY;
    }
    Affine::reflect(a, way)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn start(before: Option<(f64, f64)>) -> Option<Start> {
        Some(Start {
            at: Point::new(20.0, 30.0),
            before: before.map(Vec2::from),
        })
    }

    fn check(typed: Measured, before: Option<(f64, f64)>, x: f64, y: f64) {
        let place = typed.place(start(before), Point::new(26.0, 38.0)).unwrap();
        assert!(
            (place - Point::new(x, y)).hypot() < 1e-9,
            "{typed:?}: {place:?}"
        );
    }

    #[test]
    fn a_length_alone_goes_towards_the_hand_and_an_angle_alone_as_far_as_the_hand() {
        let typed = Measured {
            length: Some(Mm(5.0)),
            ..Measured::default()
        };
        check(typed, None, 23.0, 34.0);
        let typed = Measured {
            angle: Some(Degrees(90.0)),
            ..Measured::default()
        };
        check(typed, None, 20.0, 38.0);
    }

    #[test]
    fn an_angle_counts_from_level_or_from_the_line_before() {
        let typed = |from, angle| Measured {
            length: Some(Mm(10.0)),
            angle: Some(Degrees(angle)),
            from,
            ..Measured::default()
        };
        check(
            typed(AngleFrom::Level, 180.0),
            Some((0.0, -4.0)),
            10.0,
            30.0,
        );
        check(
            typed(AngleFrom::LineBefore, 0.0),
            Some((0.0, -4.0)),
            20.0,
            20.0,
        );
        check(
            typed(AngleFrom::LineBefore, 90.0),
            Some((0.0, -4.0)),
            30.0,
            30.0,
        );
        check(
            typed(AngleFrom::LineBefore, -90.0),
            Some((0.0, -4.0)),
            10.0,
            30.0,
        );
        // Without a line before it counts from level.
        check(typed(AngleFrom::LineBefore, 90.0), None, 20.0, 40.0);
    }

    #[test]
    fn right_and_up_are_exact_and_go_before_length() {
        let typed = Measured {
            length: Some(Mm(3.0)),
            right: Some(Mm(-7.5)),
            ..Measured::default()
        };
        check(typed, None, 12.5, 30.0);
        let first = Measured {
            up: Some(Mm(4.0)),
            ..Measured::default()
        };
        assert_eq!(
            first.place(None, Point::new(9.0, 9.0)),
            Some(Point::new(0.0, 4.0))
        );
        assert_eq!(Measured::default().place(start(None), Point::ORIGIN), None);
    }

    #[test]
    fn what_was_typed_is_what_is_read_back() {
        for from in [AngleFrom::Level, AngleFrom::LineBefore] {
            for angle in [-179.0, -90.0, 0.0, 33.3, 90.0, 180.0] {
                let start = start(Some((2.0, 5.0))).unwrap();
                let typed = Measured {
                    length: Some(Mm(12.5)),
                    angle: Some(Degrees(angle)),
                    from,
                    ..Measured::default()
                };
                let place = typed.place(Some(start), Point::ORIGIN).unwrap();
                let (length, read) = length_and_angle(start, place, from);
                assert!((length.0 - 12.5).abs() < 1e-9);
                let off = (read.0 - angle).rem_euclid(360.0);
                assert!(off.min(360.0 - off) < 1e-9, "{angle} {read:?}");
            }
        }
    }
}
