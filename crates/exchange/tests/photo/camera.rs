//! A camera over a table, by its rays: nothing of it comes from the code that is tested.

use petitoile_core::kurbo::Point;

/// A pinhole camera.
#[derive(Clone, Copy)]
pub struct Camera {
    /// Where it looks at, mm on the table.
    pub over: Point,
    /// How far from there, mm.
    pub away: f64,
    /// Tilted towards the upper end of the picture, degrees.
    pub tilt: f64,
    /// Turned about its own axis, degrees.
    pub roll: f64,
    /// Focal length, pixels.
    pub focal: f64,
    /// Size of the picture, pixels.
    pub size: (usize, usize),
}

impl Camera {
    /// Straight above, so many pixels a mm.
    pub fn above(over: Point, px_per_mm: f64, size: (usize, usize)) -> Self {
        Self {
            over,
            away: 800.0,
            tilt: 0.0,
            roll: 0.0,
            focal: 800.0 * px_per_mm,
            size,
        }
    }

    /// The pixel that a place on the table falls on.
    pub fn px(&self, mm: Point) -> Point {
        let (sin, cos) = self.tilt.to_radians().sin_cos();
        let forward = [0.0, sin, -cos];
        let (rs, rc) = self.roll.to_radians().sin_cos();
        let (flat, down) = ([1.0, 0.0, 0.0], [0.0, -cos, -sin]);
        let mix = |a: f64, b: f64| [0, 1, 2].map(|i| a * flat[i] + b * down[i]);
        let (right, low) = (mix(rc, rs), mix(-rs, rc));
        let eye = [
            self.over.x - self.away * forward[0],
            self.over.y - self.away * forward[1],
            -self.away * forward[2],
        ];
        let to = [mm.x - eye[0], mm.y - eye[1], -eye[2]];
        let dot = |a: [f64; 3]| a[0] * to[0] + a[1] * to[1] + a[2] * to[2];
        let depth = dot(forward);
        Point::new(
            self.size.0 as f64 / 2.0 + self.focal * dot(right) / depth,
            self.size.1 as f64 / 2.0 + self.focal * dot(low) / depth,
        )
    }
}
