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
            halve(
                place,
                (*from, first),
                (*to, last),
                tolerance,
                HALVINGS,
                &mut parts,
            );
        }
    }
    parts
}

fn halve(
    place: &impl Fn(f64) -> Place,
    a: (f64, Place),
    b: (f64, Place),
    tolerance: f64,
    left: u32,
    parts: &mut Vec<Part>,
) {
    let cubic = between(a, b);
    let at = |t: f64| a.0 + (b.0 - a.0) * t;
    let middle = place(at(0.5));
    let near = |t: f64, p: Point| (cubic.eval(t) - p).hypot() <= tolerance;
    if left == 0
        || (near(0.5, middle.at)
            && near(0.25, place(at(0.25)).at)
            && near(0.75, place(at(0.75)).at))
    {
        parts.push(Part {
            cubic,
            from: a.0,
            to: b.0,
        });
        return;
    }
    halve(place, a, (at(0.5), middle), tolerance, left - 1, parts);
    halve(place, (at(0.5), middle), b, tolerance, left - 1, parts);
}

/// The cubic with these ends and slopes.
fn between((x0, a): (f64, Place), (x1, b): (f64, Place)) -> CubicBez {
    let third = (x1 - x0) / 3.0;
    CubicBez::new(a.at, a.at + a.slope * third, b.at - b.slope * third, b.at)
}
