//! How one plane seen by a camera lies against another: four corners say it all.

use petitoile_core::kurbo::Point;

/// A projective map of the plane, rows first; the last one is the denominator.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography {
    rows: [[f64; 3]; 3],
}

impl Homography {
    /// The map that changes nothing.
    pub const IDENTITY: Self = Self {
        rows: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    };

    /// A map that needs no perspective: `x' = a x + b y + c`, `y' = d x + e y + f`.
    pub fn affine([a, b, c]: [f64; 3], [d, e, f]: [f64; 3]) -> Self {
        Self {
            rows: [[a, b, c], [d, e, f], [0.0, 0.0, 1.0]],
        }
    }

    /// The map that brings four points, no three in a line, to four others.
    ///
    /// Both are reached from the unit square in closed form (Heckbert, Fundamentals of Texture Mapping and Image Warping,
    /// 1989, section 2.2.3; the formula from memory, proved by the tests).
    pub fn between(from: [Point; 4], to: [Point; 4]) -> Option<Self> {
        Some(Self::from_unit_square(to)?.after(&Self::from_unit_square(from)?.inverse()?))
    }

    /// From (0, 0), (1, 0), (1, 1), (0, 1).
    fn from_unit_square([p, q, r, s]: [Point; 4]) -> Option<Self> {
        let (side, other) = (q - r, s - r);
        let skew = (p - q) + (r - s);
        let den = side.cross(other);
        if den.abs() <= f64::EPSILON {
            return None;
        }
        let (g, h) = (skew.cross(other) / den, side.cross(skew) / den);
        Some(Self {
            rows: [
                [q.x - p.x + g * q.x, s.x - p.x + h * s.x, p.x],
                [q.y - p.y + g * q.y, s.y - p.y + h * s.y, p.y],
                [g, h, 1.0],
            ],
        })
    }

    /// Where a point comes to; `None` on or beyond the horizon.
    pub fn apply(&self, p: Point) -> Option<Point> {
        let [x, y, w] = self.rows.map(|[a, b, c]| a * p.x + b * p.y + c);
        let at = Point::new(x / w, y / w);
        (w > 0.0 && at.is_finite()).then_some(at)
    }

    /// This map after another.
    #[must_use]
    pub fn after(&self, first: &Self) -> Self {
        let [x, y, z] = first.rows;
        let row = |[a, b, c]: [f64; 3]| {
            let at = |u: f64, v: f64, w: f64| a * u + b * v + c * w;
            [
                at(x[0], y[0], z[0]),
                at(x[1], y[1], z[1]),
                at(x[2], y[2], z[2]),
            ]
        };
        Self {
            rows: self.rows.map(row),
        }
    }

    /// The way back.
    pub fn inverse(&self) -> Option<Self> {
        let [[a, b, c], [d, e, f], [g, h, i]] = self.rows;
        let det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
        if !(det.abs() > 0.0 && det.is_finite()) {
            return None;
        }
        let rows = [
            [e * i - f * h, c * h - b * i, b * f - c * e],
            [f * g - d * i, a * i - c * g, c * d - a * f],
            [d * h - e * g, b * g - a * h, a * e - b * d],
        ];
        Some(Self {
            rows: rows.map(|row| row.map(|value| value / det)),
        })
    }

    /// The smallest and the greatest length that a step of 1 has after the map, near a point.
    pub fn scale_near(&self, p: Point) -> Option<(f64, f64)> {
        let at = self.apply(p)?;
        let [[a, b, _], [d, e, _], [g, h, i]] = self.rows;
        let w = g * p.x + h * p.y + i;
        let [xx, xy] = [(a - at.x * g) / w, (b - at.x * h) / w];
        let [yx, yy] = [(d - at.y * g) / w, (e - at.y * h) / w];
        // Singular values of a 2 x 2 matrix.
        let sum = (xx * xx + xy * xy + yx * yx + yy * yy) / 2.0;
        let det = xx * yy - xy * yx;
        let root = (sum * sum - det * det).max(0.0).sqrt();
        let greatest = (sum + root).sqrt();
        (greatest > 0.0).then(|| (det.abs() / greatest, greatest))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn square(side: f64) -> [Point; 4] {
        [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(Point::from)
    }

    #[test]
    fn a_sheet_seen_from_straight_above_is_only_scaled_and_turned() {
        // A quarter turn and four times as large.
        let to = [(10.0, 20.0), (10.0, 420.0), (-390.0, 420.0), (-390.0, 20.0)].map(Point::from);
        let map = Homography::between(square(100.0), to).unwrap();
        let at = map.apply(Point::new(25.0, 50.0)).unwrap();
        assert!((at - Point::new(-190.0, 120.0)).hypot() < 1e-9, "{at:?}");
        let (least, most) = map.scale_near(Point::new(33.0, 71.0)).unwrap();
        assert!((least - 4.0).abs() < 1e-9 && (most - 4.0).abs() < 1e-9);
    }

    #[test]
    fn the_middle_of_a_sheet_seen_aslant_is_where_its_diagonals_cross() {
        let to = [(0.0, 0.0), (1000.0, 0.0), (800.0, 500.0), (200.0, 500.0)].map(Point::from);
        let map = Homography::between(square(200.0), to).unwrap();
        let middle = map.apply(Point::new(100.0, 100.0)).unwrap();
        // The diagonals y = 0.625 x and y = 0.625 (1000 - x).
        assert!((middle - Point::new(500.0, 312.5)).hypot() < 1e-9);
        let back = map.inverse().unwrap().apply(middle).unwrap();
        assert!((back - Point::new(100.0, 100.0)).hypot() < 1e-9);
    }

    #[test]
    fn beyond_the_horizon_is_nothing() {
        let to = [(0.0, 0.0), (1000.0, 0.0), (800.0, 500.0), (200.0, 500.0)].map(Point::from);
        let px_from_mm = Homography::between(square(200.0), to).unwrap();
        let mm_from_px = px_from_mm.inverse().unwrap();
        // The sides x = 0.4 y and x = 1000 - 0.4 y meet at y = 1250.
        assert!(mm_from_px.apply(Point::new(500.0, 1249.0)).is_some());
        assert!(mm_from_px.apply(Point::new(500.0, 1251.0)).is_none());
    }
}
