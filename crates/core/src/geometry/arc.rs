//! Circular arcs as cubics.

use std::f64::consts::FRAC_PI_6;

use kurbo::{CubicBez, Point, Vec2};

/// An arc about a centre from one angle to another (radians, counter-clockwise from the right), as cubics over at most
/// 30 degrees each: within 4e-7 of their radius.
///
/// # Source
/// Closed form: steering points 4/3 tan(angle / 4) of the radius away make the cubic touch the circle at its middle too.
pub fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<CubicBez> {
    let count = ((to - from).abs() / FRAC_PI_6).ceil().max(1.0);
    let step = (to - from) / count;
    let reach = 4.0 / 3.0 * libm::tan(step / 4.0) * radius;
    let on = |angle: f64| {
        let direction = Vec2::new(libm::cos(angle), libm::sin(angle));
        (
            centre + direction * radius,
            Vec2::new(-direction.y, direction.x) * reach,
        )
    };
    (0..count as u32)
        .map(|i| {
            let (start, leave) = on(from + f64::from(i) * step);
            let (end, arrive) = on(from + f64::from(i + 1) * step);
            CubicBez::new(start, start + leave, end - arrive, end)
        })
        .collect()
}
