//! Rings and limbs: what the figure is built of, and how a limb looks from a side.

use std::f64::consts::{PI, TAU};

use super::ellipse;
use super::look::{InSpace, Look, Seen};
use crate::units::Mm;

/// A part of the figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limb {
    /// Head, wig and all.
    Head,
    /// Neck to crotch, and skirts.
    Trunk,
    /// The wearer's right arm.
    RightArm,
    /// The wearer's left arm.
    LeftArm,
    /// The wearer's right leg.
    RightLeg,
    /// The wearer's left leg.
    LeftLeg,
}

impl Limb {
    /// Its name: "trunk", "left arm".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Trunk => "trunk",
            Self::RightArm => "right arm",
            Self::LeftArm => "left arm",
            Self::RightLeg => "right leg",
            Self::LeftLeg => "left leg",
        }
    }
}

/// A closed loop round a limb: an ellipse square to the limb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hoop {
    /// Its middle.
    pub centre: InSpace,
    /// Half its width, mm.
    pub half_width: f64,
    /// Half its depth (front to back), mm.
    pub half_depth: f64,
    /// How far it is tipped towards the wearer's left, radians: 0 lies level, arms hang a little away from the trunk.
    pub lean: f64,
}

impl Hoop {
    /// Its girth.
    pub fn girth(&self) -> Mm {
        Mm(ellipse::girth(self.half_width, self.half_depth))
    }

    /// The same shape and place with another girth; as it is where it has none itself.
    #[must_use]
    pub fn of_girth(self, girth: Mm) -> Self {
        let own = self.girth().0;
        if own <= 0.0 || !girth.0.is_finite() {
            return self;
        }
        let times = girth.0.max(0.0) / own;
        Self {
            half_width: times * self.half_width,
            half_depth: times * self.half_depth,
            ..self
        }
    }

    fn across(&self) -> InSpace {
        InSpace::new(libm::cos(self.lean), libm::sin(self.lean), 0.0)
    }

    /// The point of it at an angle: 0 at the wearer's left, a quarter turn on at the front.
    pub fn at(&self, angle: f64) -> InSpace {
        self.centre
            .plus(self.half_width * libm::cos(angle), self.across())
            .plus(
                self.half_depth * libm::sin(angle),
                InSpace::new(0.0, 0.0, 1.0),
            )
    }

    /// The whole loop in the picture: `steps` points, the first again at the end; each with how near it is.
    pub fn seen(&self, look: Look, steps: u32) -> Vec<Seen> {
        (0..=steps)
            .map(|i| look.seen(self.at(TAU * f64::from(i) / f64::from(steps.max(1)))))
            .collect()
    }

    /// The angle of the point that lies furthest in a direction of the picture.
    fn furthest(&self, look: Look, (x, y): (f64, f64)) -> f64 {
        let origin = look.seen(InSpace::default());
        let towards = |way: InSpace| {
            let seen = look.seen(way);
            (seen.x - origin.x) * x + (seen.y - origin.y) * y
        };
        libm::atan2(
            self.half_depth * towards(InSpace::new(0.0, 0.0, 1.0)),
            self.half_width * towards(self.across()),
        )
    }
}

/// A limb or a garment on it: hoops from one end to the other, close enough to be joined by straight lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Which limb.
    pub limb: Limb,
    /// From the top down.
    pub hoops: Vec<Hoop>,
}

/// Points on half a hoop that closes the end of an outline.
const END_STEPS: u32 = 8;

impl Solid {
    /// Its outline in the picture, once round: down one side, round the end, up the other.
    pub fn outline(&self, look: Look) -> Vec<(f64, f64)> {
        let (Some(first), Some(last)) = (self.hoops.first(), self.hoops.last()) else {
            return Vec::new();
        };
        let middles: Vec<Seen> = self.hoops.iter().map(|h| look.seen(h.centre)).collect();
        let (mut right, mut left) = (Vec::new(), Vec::new());
        let mut square = (1.0, 0.0);
        let mut ends = [0.0, 0.0];
        for (i, hoop) in self.hoops.iter().enumerate() {
            let above = middles.get(i.saturating_sub(1));
            let below = middles.get(i + 1).or_else(|| middles.get(i));
            if let (Some(a), Some(b)) = (above, below) {
                let (dx, dy) = (b.x - a.x, b.y - a.y);
                let long = libm::hypot(dx, dy);
                if long > 1e-9 {
                    // To the right of the way down, in the picture.
                    square = (-dy / long, dx / long);
                }
            }
            let angle = hoop.furthest(look, square);
            right.push(at(hoop, look, angle));
            left.push(at(hoop, look, angle + PI));
            if i == 0 {
                ends[0] = angle;
            }
            ends[1] = angle;
        }
        let way = |from: &Hoop, to: &Hoop| {
            let (a, b) = (look.seen(from.centre), look.seen(to.centre));
            (b.x - a.x, b.y - a.y)
        };
        let mut outline = right;
        outline.extend(end(last, look, ends[1], way(first, last)));
        outline.extend(left.into_iter().rev());
        outline.extend(end(first, look, ends[0] + PI, way(last, first)));
        outline
    }

    /// How near its middle is, for what hides what.
    pub fn near(&self, look: Look) -> f64 {
        let sum: f64 = self.hoops.iter().map(|h| look.seen(h.centre).near).sum();
        sum / (self.hoops.len().max(1) as f64)
    }
}

fn at(hoop: &Hoop, look: Look, angle: f64) -> (f64, f64) {
    let seen = look.seen(hoop.at(angle));
    (seen.x, seen.y)
}

/// The half of a hoop that starts at an angle and bulges outwards.
fn end(hoop: &Hoop, look: Look, from: f64, outwards: (f64, f64)) -> Vec<(f64, f64)> {
    let middle = look.seen(hoop.centre);
    let bulge = |sign: f64| {
        let (x, y) = at(hoop, look, from + sign * 0.5 * PI);
        (x - middle.x) * outwards.0 + (y - middle.y) * outwards.1
    };
    let sign = if bulge(1.0) >= bulge(-1.0) { 1.0 } else { -1.0 };
    (1..END_STEPS)
        .map(|i| {
            let angle = from + sign * PI * f64::from(i) / f64::from(END_STEPS);
            at(hoop, look, angle)
        })
        .collect()
}

/// Hoops between given ones, so that the limb runs smoothly: monotone cubics, which never bulge beyond their ends.
///
/// # Source
/// Fritsch and Carlson 1980, the published rule of monotone cubics (from memory).
pub fn smooth(limb: Limb, given: &[Hoop], between: u32) -> Solid {
    let read: [fn(&Hoop) -> f64; 6] = [
        |h| h.centre.x,
        |h| h.centre.y,
        |h| h.centre.z,
        |h| h.half_width,
        |h| h.half_depth,
        |h| h.lean,
    ];
    let mut along = vec![0.0];
    let mut at = 0.0;
    for pair in given.windows(2) {
        if let [a, b] = pair {
            let (dx, dy, dz) = (
                b.centre.x - a.centre.x,
                b.centre.y - a.centre.y,
                b.centre.z - a.centre.z,
            );
            at += libm::sqrt(dx * dx + dy * dy + dz * dz).max(1e-6);
            along.push(at);
        }
    }
    let tracks: Vec<Track> = read
        .iter()
        .map(|read| Track::new(&along, given.iter().map(read).collect()))
        .collect();
    let mut hoops = Vec::new();
    for (i, own) in given.iter().enumerate() {
        hoops.push(*own);
        if i + 1 < given.len() {
            hoops.extend((1..=between).map(|k| {
                let t = f64::from(k) / f64::from(between + 1);
                let value = |n: usize| tracks.get(n).map_or(0.0, |track| track.at(i, t));
                Hoop {
                    centre: InSpace::new(value(0), value(1), value(2)),
                    half_width: value(3),
                    half_depth: value(4),
                    lean: value(5),
                }
            }));
        }
    }
    Solid { limb, hoops }
}

/// One value along a limb.
struct Track {
    along: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Track {
    fn new(along: &[f64], values: Vec<f64>) -> Self {
        let chord = |i: usize| -> Option<f64> {
            let (a, b) = (along.get(i)?, along.get(i + 1)?);
            let (v, w) = (values.get(i)?, values.get(i + 1)?);
            Some((w - v) / (b - a))
        };
        let slopes = (0..values.len())
            .map(|i| {
                let before = i.checked_sub(1).and_then(chord);
                match (before, chord(i)) {
                    // Between two chords of one sign their harmonic mean, else level: no bulge.
                    (Some(a), Some(b)) if a * b > 0.0 => 2.0 * a * b / (a + b),
                    (Some(_), Some(_)) => 0.0,
                    (Some(one), None) | (None, Some(one)) => one,
                    (None, None) => 0.0,
                }
            })
            .collect();
        Self {
            along: along.to_vec(),
            values,
            slopes,
        }
    }

    fn at(&self, i: usize, t: f64) -> f64 {
        let get = |list: &[f64], i: usize| list.get(i).copied().unwrap_or_default();
        let (v, w) = (get(&self.values, i), get(&self.values, i + 1));
        let span = get(&self.along, i + 1) - get(&self.along, i);
        let (m, n) = (span * get(&self.slopes, i), span * get(&self.slopes, i + 1));
        let (t2, t3) = (t * t, t * t * t);
        v * (2.0 * t3 - 3.0 * t2 + 1.0)
            + m * (t3 - 2.0 * t2 + t)
            + w * (3.0 * t2 - 2.0 * t3)
            + n * (t3 - t2)
    }
}
