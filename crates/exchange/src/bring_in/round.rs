//! Arcs as cubics.

use petitoile_core::kurbo::{Affine, Point, Vec2};

/// Angle of one cubic at most: off by 4e-7 of the radius.
const PART: f64 = std::f64::consts::PI / 6.0;

/// An arc of an ellipse as cubics from its start on: each by its two handles and its end.
///
/// `to` places the unit circle; angles in radians on it, at most two rounds. Never off by more than a millionth of the
/// radius, however large or small that is.
pub(crate) fn arc(to: Affine, from: f64, sweep: f64) -> Vec<[Point; 3]> {
    let parts = (sweep.abs() / PART).ceil().clamp(1.0, 24.0);
    let step = sweep / parts;
    let reach = 4.0 / 3.0 * libm::tan(step / 4.0);
    let at = |i: f64| Vec2::from_angle(from + step * i);
    let mut out = Vec::new();
    let mut i = 0.0;
    while i < parts {
        let (a, b) = (at(i), at(i + 1.0));
        let handles = [a + a.turn_90() * reach, b - b.turn_90() * reach, b];
        out.push(handles.map(|v| to * v.to_point()));
        i += 1.0;
    }
    out
}
