//! Photographs drawn with known truth: exact coverage, light added up in linear light, blur, soft shadow, sensor noise.

use petitoile_core::kurbo::{BezPath, PathEl, Point};
use petitoile_exchange::photo::Picture;

use super::camera::Camera;

/// What is to be seen. Colours are coded (sRGB).
pub struct Scene {
    pub camera: Camera,
    pub table: [f64; 3],
    /// Closed lines in mm, each in its colour, one over the other.
    pub things: Vec<(BezPath, [f64; 3])>,
    /// A soft shadow: how much light is left in it, and how wide its edge is, pixels.
    pub shadow: Option<(f64, f64)>,
    /// Standard deviation of the blur, pixels.
    pub blur: f64,
    /// Standard deviation of the noise, coded light.
    pub noise: f64,
    pub seed: u64,
}

/// A generator of chance with a seed (Knuth's MMIX constants, from memory).
pub struct Chance(pub u64);

impl Chance {
    pub fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / (1_u64 << 24) as f64
    }

    /// Nearly normal: three uniform numbers.
    pub fn normal(&mut self) -> f64 {
        2.0 * (self.uniform() + self.uniform() + self.uniform() - 1.5)
    }
}

/// A closed line as short straight ones.
pub fn polygon(path: &BezPath, tolerance: f64) -> Vec<Point> {
    let mut points = Vec::new();
    petitoile_core::kurbo::flatten(path, tolerance, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push(p);
        }
    });
    points
}

impl Scene {
    pub fn photograph(&self) -> Picture {
        let (width, height) = self.camera.size;
        let mut light: Vec<[f32; 3]> = vec![linear(self.table); width * height];
        for (path, colour) in &self.things {
            let corners: Vec<Point> = polygon(path, 0.002)
                .into_iter()
                .map(|p| self.camera.px(p))
                .collect();
            let covered = blurred(coverage(&corners, width, height), width, self.blur);
            let own = linear(*colour);
            for (pixel, share) in light.iter_mut().zip(&covered) {
                if *share > 0.0 {
                    for (sample, own) in pixel.iter_mut().zip(own) {
                        *sample += (own - *sample) * share;
                    }
                }
            }
        }
        let mut chance = Chance(self.seed);
        let mut rgb = Vec::with_capacity(3 * light.len());
        for (i, pixel) in light.iter().enumerate() {
            let (x, y) = ((i % width) as f64, (i / width) as f64);
            let shade = self.shadow.map_or(1.0, |(left, wide)| {
                // Aslant over the picture.
                let across = (x - 0.55 * width as f64) * 0.8 + (y - 0.5 * height as f64) * 0.6;
                let share = (across / wide + 0.5).clamp(0.0, 1.0);
                1.0 - (1.0 - left) * share * share * (3.0 - 2.0 * share)
            });
            for sample in pixel {
                let noise = if self.noise > 0.0 {
                    self.noise * chance.normal()
                } else {
                    0.0
                };
                let value = coded(f64::from(*sample) * shade) + noise;
                rgb.push(value.round().clamp(0.0, 255.0) as u8);
            }
        }
        Picture {
            file: "drawn.png".to_owned(),
            width,
            height,
            rgb,
            density: None,
            words: Vec::new(),
        }
    }
}

fn linear(colour: [f64; 3]) -> [f32; 3] {
    colour.map(|sample| {
        let s = sample / 255.0;
        let light = if s <= 0.04045 {
            s / 12.92
        } else {
            ((s + 0.055) / 1.055).powf(2.4)
        };
        light as f32
    })
}

/// Linear light as a coded sample, by a table of 4096 (exact within 0.2 of a level from black on, 0.02 in the middle).
fn coded(light: f64) -> f64 {
    thread_local! {
        static TABLE: Vec<f64> = (0..=4096).map(|i| {
            let light = f64::from(i) / 4096.0;
            let s = if light <= 0.0031308 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
            255.0 * s
        }).collect();
    }
    let at = (light * 4096.0).clamp(0.0, 4095.999);
    TABLE.with(|table| {
        let i = at as usize;
        table[i] + (table[i + 1] - table[i]) * (at - i as f64)
    })
}

/// How much of each pixel lies inside a closed line: exact along each of eight lines a pixel.
fn coverage(corners: &[Point], width: usize, height: usize) -> Vec<f32> {
    const LINES: usize = 8;
    let mut covered = vec![0.0_f32; width * height];
    let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); height * LINES];
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (low, high) = if a.y < b.y { (a, b) } else { (b, a) };
        let row = |y: f64| {
            (y * LINES as f64 - 0.5)
                .ceil()
                .clamp(0.0, (height * LINES) as f64) as usize
        };
        for (i, line) in crossings
            .iter_mut()
            .enumerate()
            .take(row(high.y))
            .skip(row(low.y))
        {
            let y = (i as f64 + 0.5) / LINES as f64;
            line.push(low.x + (y - low.y) / (high.y - low.y) * (high.x - low.x));
        }
    }
    for (i, line) in crossings.iter_mut().enumerate() {
        line.sort_by(f64::total_cmp);
        let row = &mut covered[i / LINES * width..][..width];
        for pair in line.chunks_exact(2) {
            let (from, to) = (
                pair[0].clamp(0.0, width as f64),
                pair[1].clamp(0.0, width as f64),
            );
            let last = (to.ceil() as usize).min(width);
            for (x, pixel) in row.iter_mut().enumerate().take(last).skip(from as usize) {
                let inside = to.min(x as f64 + 1.0) - from.max(x as f64);
                *pixel += (inside.max(0.0) / LINES as f64) as f32;
            }
        }
    }
    covered
}

fn blurred(covered: Vec<f32>, width: usize, sigma: f64) -> Vec<f32> {
    if sigma <= 0.0 {
        return covered;
    }
    let reach = (3.0 * sigma).ceil() as usize;
    let weights: Vec<f32> = (0..=reach)
        .map(|i| (-0.5 * (i as f64 / sigma).powi(2)).exp() as f32)
        .collect();
    let sum: f32 = weights[0] + 2.0 * weights[1..].iter().sum::<f32>();
    let pass = |from: &[f32], step: usize| -> Vec<f32> {
        let far = reach * step;
        (0..from.len())
            .map(|i| {
                // Where all is the same there is nothing to blur.
                if i < far || i + far >= from.len() {
                    return from[i];
                }
                if from[i - far] == from[i] && from[i + far] == from[i] && from[i - step] == from[i]
                {
                    return from[i];
                }
                let around = |j: usize| weights[j] * (from[i - j * step] + from[i + j * step]);
                (weights[0] * from[i] + (1..=reach).map(around).sum::<f32>()) / sum
            })
            .collect()
    };
    pass(&pass(&covered, 1), width)
}

/// A rectangle with its lower left corner at a point.
pub fn rectangle(at: (f64, f64), size: (f64, f64)) -> BezPath {
    let (x, y) = at;
    let (w, h) = size;
    straight(&[(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
}

/// Straight sides between corners.
pub fn straight(corners: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(corners[0]);
    for corner in &corners[1..] {
        path.line_to(*corner);
    }
    path.close_path();
    path
}

/// A circle.
pub fn circle(at: (f64, f64), radius: f64) -> BezPath {
    use petitoile_core::kurbo::Shape;
    petitoile_core::kurbo::Circle::new(at, radius).to_path(1e-4)
}

/// An offcut as one is left after cutting: straight sides, an armhole's bay, a rounded shoulder, six corners; 100 x 150 mm.
pub fn offcut(at: (f64, f64)) -> BezPath {
    let p = |x: f64, y: f64| Point::new(at.0 + x, at.1 + y);
    let mut path = BezPath::new();
    path.move_to(p(4.0, 0.0));
    path.line_to(p(92.0, 8.0));
    path.line_to(p(98.0, 60.0));
    path.curve_to(p(70.0, 62.0), p(64.0, 80.0), p(80.0, 104.0));
    path.curve_to(p(92.0, 122.0), p(84.0, 146.0), p(58.0, 148.0));
    path.line_to(p(40.0, 128.0));
    path.line_to(p(0.0, 140.0));
    path.close_path();
    path
}

/// Mean and greatest distance of a traced closed line from the true one, both ways, mm.
pub fn off_by(traced: &BezPath, truth: &BezPath) -> (f64, f64) {
    let (a, b) = (polygon(traced, 0.005), polygon(truth, 0.005));
    let (one, other) = (from_to(&a, &b), from_to(&b, &a));
    (one.0.max(other.0), one.1.max(other.1))
}

/// Distance of points half a mm apart on one closed line from another.
fn from_to(from: &[Point], to: &[Point]) -> (f64, f64) {
    let (mut sum, mut count, mut most) = (0.0, 0.0, 0.0_f64);
    for (a, b) in from.iter().zip(from.iter().cycle().skip(1)) {
        let steps = ((*b - *a).hypot() / 0.5).ceil().max(1.0);
        for i in 0..steps as usize {
            let p = a.lerp(*b, (i as f64 + 0.5) / steps);
            let near = distance(p, to);
            let share = (*b - *a).hypot() / steps;
            sum += near * share;
            count += share;
            most = most.max(near);
        }
    }
    (sum / count, most)
}

fn distance(p: Point, line: &[Point]) -> f64 {
    line.iter()
        .zip(line.iter().cycle().skip(1))
        .map(|(a, b)| {
            let along = *b - *a;
            let t = ((p - *a).dot(along) / along.hypot2().max(1e-30)).clamp(0.0, 1.0);
            (p - (*a + along * t)).hypot2()
        })
        .fold(f64::MAX, f64::min)
        .sqrt()
}
