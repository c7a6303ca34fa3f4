//! Cubics through a line that is known only by its points and directions.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

/// A place on a line with its derivative after the parameter.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub at: Point,
    pub slope: Vec2,
}

/// A cubic that replaces the stretch of the old line between two of its fractions.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub cubic: CubicBez,
    pub from: f64,
    pub to: f64,
}

/// The most halvings between two knots.
const HALVINGS: u32 = 7;

/// How far inside a knot the direction is taken, as a share of the parameter: lines may bend at a knot.
pub(super) const INSIDE: f64 = 1e-9;

/// Cubics through `place(x)` for x from one knot to the next, halved until each quarter point lies within
/// `tolerance`. Between straight ends it gives the straight cubic.
pub(super) fn fit(place: &impl Fn(f64) -> Place, knots: &[f64], tolerance: f64) -> Vec<Part> {
    let mut parts = Vec::new();
    for pair in knots.windows(2) {
        if let [from, to] = pair {
            let first = Place {
                at: place(*from).at,
                slope: place(from + INSIDE).slope,
            };
            let last = Place {
                at: place(*to).at,
                slope: place(to - INSIDE).slope,
            };
            let middle = place((from + to) / 2.0);
            let stretch = Stretch {
                from: (*from, first),
                middle,
                to: (*to, last),
            };
            stretch.halve(place, tolerance, HALVINGS, &mut parts);
        }
    }
    parts
}

/// A stretch between two knots or halves of one, its middle known.
struct Stretch {
    from: (f64, Place),
    middle: Place,
    to: (f64, Place),
}

impl Stretch {
    fn at(&self, share: f64) -> f64 {
        self.from.0 + (self.to.0 - self.from.0) * share
    }

    fn halve(
        self,
        place: &impl Fn(f64) -> Place,
        tolerance: f64,
        left: u32,
        parts: &mut Vec<Part>,
    ) {
        let cubic = between(self.from, self.to);
        let near = |t: f64, p: Point| (cubic.eval(t) - p).hypot() <= tolerance;
        // The quarters are the middles of the halves.
        let quarters = (left > 0).then(|| [0.25, 0.75].map(|share| place(self.at(share))));
        match quarters {
            Some([a, b])
                if !(near(0.5, self.middle.at) && near(0.25, a.at) && near(0.75, b.at)) =>
            {
                let middle = (self.at(0.5), self.middle);
                let halves = [(self.from, a, middle), (middle, b, self.to)];
                for (from, middle, to) in halves {
                    Self { from, middle, to }.halve(place, tolerance, left - 1, parts);
                }
            }
            _ => parts.push(Part {
                cubic,
                from: self.from.0,
                to: self.to.0,
            }),
        }
    }
}

/// The cubic with these ends and slopes.
fn between((x0, a): (f64, Place), (x1, b): (f64, Place)) -> CubicBez {
    let third = (x1 - x0) / 3.0;
    CubicBez::new(a.at, a.at + a.slope * third, b.at - b.slope * third, b.at)
}
