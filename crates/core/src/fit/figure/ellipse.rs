//! Ellipses of an exact girth: the shape a ring is given, whatever the true section of the body is.
//!
//! Semi-axes and girths in mm.

use std::f64::consts::TAU;

/// Girth of an ellipse of these semi-axes, exact to rounding.
///
/// By the arithmetic-geometric mean, `2 pi (a^2 - sum 2^(n-1) c_n^2) / M(a, b)`.
///
/// # Source
/// Published closed form (Gauss, Legendre; DLMF 19.8.6, from memory); checked against a numeric integral and Ramanujan's
/// second approximation (computed).
pub fn girth(half_width: f64, half_depth: f64) -> f64 {
    let (long, short) = (half_width.max(half_depth), half_width.min(half_depth));
    if short <= 1e-9 * long {
        return 4.0 * long;
    }
    let (mut a, mut b, mut sum, mut weight) = (long, short, long * long, 0.5);
    let mut c2 = long * long - short * short;
    for _ in 0..40 {
        sum -= weight * c2;
        let c = 0.5 * (a - b);
        (a, b) = (0.5 * (a + b), libm::sqrt(a * b));
        c2 = c * c;
        weight *= 2.0;
        if c.abs() <= 1e-16 * a {
            break;
        }
    }
    TAU * sum / a
}

/// Semi-axes of the ellipse of a girth whose depth is so many times its width.
pub fn of_proportion(round: f64, depth_to_width: f64) -> (f64, f64) {
    let half_width = round / girth(1.0, depth_to_width);
    (half_width, depth_to_width * half_width)
}

/// Semi-depth of the ellipse of a girth and a semi-width; `None` where the girth is no larger than twice the width.
pub fn depth_for(round: f64, half_width: f64) -> Option<f64> {
    if round <= 4.0 * half_width {
        return None;
    }
    // Girth grows with depth and is at least four times the semi-depth.
    let (mut low, mut high) = (0.0, 0.25 * round);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if girth(half_width, middle) < round {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use proptest::prelude::*;

    use super::*;

    /// Independent of the closed form: the length of a polygon with corners on the ellipse, once with n and once with
    /// 2n corners, the error of which goes with 1 / n^2 (Richardson).
    fn by_polygon(a: f64, b: f64) -> f64 {
        let length = |n: u32| {
            let at = |i: u32| {
                let angle = TAU * f64::from(i) / f64::from(n);
                (a * angle.cos(), b * angle.sin())
            };
            (0..n)
                .map(|i| {
                    let (p, q) = (at(i), at(i + 1));
                    (q.0 - p.0).hypot(q.1 - p.1)
                })
                .sum::<f64>()
        };
        (4.0 * length(8192) - length(4096)) / 3.0
    }

    /// Ramanujan 1914, second approximation.
    fn by_ramanujan(a: f64, b: f64) -> f64 {
        let h = ((a - b) / (a + b)).powi(2);
        PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()))
    }

    #[test]
    fn a_circle_is_two_pi_and_a_flat_loop_four_half_widths() {
        assert!((girth(10.0, 10.0) - 20.0 * PI).abs() < 1e-12);
        assert_eq!(girth(10.0, 0.0), 40.0);
        assert!((girth(10.0, 1e-4) - 40.0).abs() < 1e-6);
        assert_eq!(girth(0.0, 0.0), 0.0);
    }

    #[test]
    fn the_girth_of_an_ellipse_is_that_of_a_polygon_and_of_ramanujan() {
        for (a, b) in [(50.0, 40.0), (50.0, 25.0), (20.0, 33.0), (5.0, 4.9)] {
            assert!((girth(a, b) - by_polygon(a, b)).abs() < 1e-8, "{a} {b}");
            assert!((girth(a, b) - by_ramanujan(a, b)).abs() < 1e-3, "{a} {b}");
        }
    }

    #[test]
    fn a_girth_of_twice_the_width_leaves_no_depth() {
        assert_eq!(depth_for(100.0, 25.0), None);
        assert!(depth_for(100.01, 25.0).is_some());
    }

    proptest! {
        #[test]
        fn the_ellipse_found_has_the_girth_that_was_asked_for(
            round in 1.0_f64..2000.0, proportion in 0.2_f64..3.0, share in 0.05_f64..0.245
        ) {
            let (a, b) = of_proportion(round, proportion);
            prop_assert!((girth(a, b) - round).abs() < 1e-9 * round);
            let half_width = share * round;
            let depth = depth_for(round, half_width).unwrap_or(f64::NAN);
            prop_assert!((girth(half_width, depth) - round).abs() < 1e-9 * round);
        }

        #[test]
        fn girth_grows_in_proportion(a in 1.0_f64..500.0, b in 1.0_f64..500.0, k in 0.1_f64..10.0) {
            prop_assert!((girth(k * a, k * b) - k * girth(a, b)).abs() < 1e-9 * k * (a + b));
        }
    }
}
