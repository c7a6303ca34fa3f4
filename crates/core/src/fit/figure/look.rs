//! Looking at the figure: a turn about the upright axis, a small tilt, and a parallel projection onto the picture.
//!
//! Space: x to the wearer's left, y up from the floor, z to the front, mm. Picture: x right, y up, mm.

use crate::units::Degrees;

/// A point or direction in space.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct InSpace {
    /// To the wearer's left: right in the picture from the front.
    pub x: f64,
    /// Up from the floor.
    pub y: f64,
    /// To the front.
    pub z: f64,
}

impl InSpace {
    /// A point.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// This, and so many times another.
    #[must_use]
    pub fn plus(self, times: f64, other: Self) -> Self {
        Self::new(
            self.x + times * other.x,
            self.y + times * other.y,
            self.z + times * other.z,
        )
    }
}

/// From where the figure is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// How far the figure is turned: 0 shows the front, 90 the wearer's left side, 180 the back.
    pub turn: Degrees,
    /// How far it is looked down upon: 0 is level with every ring.
    pub tilt: Degrees,
}

impl Look {
    /// Straight from the front.
    pub const FRONT: Self = Self {
        turn: Degrees(0.0),
        tilt: Degrees(TILT),
    };
    /// Straight from the wearer's left side.
    pub const SIDE: Self = Self {
        turn: Degrees(90.0),
        tilt: Degrees(TILT),
    };
    /// Straight from the back.
    pub const BACK: Self = Self {
        turn: Degrees(180.0),
        tilt: Degrees(TILT),
    };

    /// Turned on by so many degrees, kept between 0 and 360.
    #[must_use]
    pub fn turned(self, by: Degrees) -> Self {
        let turn = (self.turn.0 + by.0).rem_euclid(360.0);
        Self {
            turn: Degrees(if turn.is_finite() { turn } else { 0.0 }),
            ..self
        }
    }

    /// Where a point lies in the picture, and how near it is: more is nearer. Lengths keep; this is a parallel
    /// projection.
    pub fn seen(self, at: InSpace) -> Seen {
        let (sin_turn, cos_turn) = sin_cos(self.turn);
        let (sin_tilt, cos_tilt) = sin_cos(self.tilt);
        // Turned so that the wearer's left comes to the front.
        let across = at.x * cos_turn - at.z * sin_turn;
        let towards = at.x * sin_turn + at.z * cos_turn;
        Seen {
            x: across,
            y: at.y * cos_tilt - towards * sin_tilt,
            near: towards * cos_tilt + at.y * sin_tilt,
        }
    }
}

/// So that rings are seen as rings and not as lines.
const TILT: f64 = 9.0;

fn sin_cos(angle: Degrees) -> (f64, f64) {
    let radians = angle.0.to_radians();
    (libm::sin(radians), libm::cos(radians))
}

/// A point in the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Nearness to the eye, for what hides what.
    pub near: f64,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const LEVEL: Look = Look {
        turn: Degrees(0.0),
        tilt: Degrees(0.0),
    };

    #[test]
    fn the_front_shows_width_and_the_side_shows_depth() {
        let at = InSpace::new(3.0, 5.0, 2.0);
        let front = LEVEL.seen(at);
        assert_eq!((front.x, front.y, front.near), (3.0, 5.0, 2.0));
        let side = LEVEL.turned(Degrees(90.0)).seen(at);
        // From the wearer's left the front of the body looks to the left of the picture.
        assert!((side.x + 2.0).abs() < 1e-12 && (side.near - 3.0).abs() < 1e-12);
        let back = LEVEL.turned(Degrees(180.0)).seen(at);
        assert!((back.x + 3.0).abs() < 1e-12 && (back.near + 2.0).abs() < 1e-12);
    }

    proptest! {
        /// Turning and tilting are rotations: distances from the middle of the floor keep.
        #[test]
        fn looking_from_elsewhere_changes_no_distance(
            x in -500.0_f64..500.0, y in 0.0_f64..1800.0, z in -500.0_f64..500.0,
            turn in -720.0_f64..720.0, tilt in -80.0_f64..80.0
        ) {
            let look = Look { turn: Degrees(turn), tilt: Degrees(tilt) };
            let seen = look.seen(InSpace::new(x, y, z));
            let before = (x * x + y * y + z * z).sqrt();
            let after = (seen.x * seen.x + seen.y * seen.y + seen.near * seen.near).sqrt();
            prop_assert!((before - after).abs() < 1e-9 * before.max(1.0));
        }
    }
}
