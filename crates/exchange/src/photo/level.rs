//! Light: coded samples as linear light, looked up between the pixels.

use petitoile_core::kurbo::Point;

use super::picture::Picture;

/// Red, green, blue.
pub(super) type Colour = [f32; 3];

/// A picture as light falls: its coded samples (sRGB, IEC 61966-2-1) as linear light, 0 to 255.
pub(super) struct Light<'a> {
    picture: &'a Picture,
    linear: [f32; 256],
}

impl<'a> Light<'a> {
    /// The light of a picture.
    pub fn of(picture: &'a Picture) -> Self {
        let mut linear = [0.0; 256];
        for (coded, light) in linear.iter_mut().enumerate() {
            *light = decode(coded as f64 / 255.0) as f32 * 255.0;
        }
        Self { picture, linear }
    }

    fn pixel(&self, x: i64, y: i64) -> Colour {
        let of = |sample: u8| {
            self.linear
                .get(usize::from(sample))
                .copied()
                .unwrap_or_default()
        };
        self.picture.pixel(x, y).map(of)
    }

    /// The light at a point, straight between the four nearest pixels.
    pub fn at(&self, p: Point) -> Colour {
        let (x, y) = (p.x - 0.5, p.y - 0.5);
        let (left, top) = (x.floor(), y.floor());
        let (right, down) = ((x - left) as f32, (y - top) as f32);
        let (left, top) = (left as i64, top as i64);
        let upper = mix(self.pixel(left, top), self.pixel(left + 1, top), right);
        let lower = mix(
            self.pixel(left, top + 1),
            self.pixel(left + 1, top + 1),
            right,
        );
        mix(upper, lower, down)
    }
}

fn decode(coded: f64) -> f64 {
    if coded <= 0.04045 {
        coded / 12.92
    } else {
        ((coded + 0.055) / 1.055).powf(2.4)
    }
}

/// Coded light as linear light, both 0 to 255.
pub(super) fn linear(coded: Colour) -> Colour {
    coded.map(|sample| decode(f64::from(sample) / 255.0) as f32 * 255.0)
}

/// Linear light, 0 to 255, as it is coded.
pub(super) fn coded(light: Colour) -> Colour {
    light.map(|light| {
        let light = (light / 255.0).clamp(0.0, 1.0);
        255.0
            * if light <= 0.003_130_8 {
                12.92 * light
            } else {
                1.055 * light.powf(1.0 / 2.4) - 0.055
            }
    })
}

fn mix(a: Colour, b: Colour, share: f32) -> Colour {
    add(a, scale(sub(b, a), share))
}

pub(super) fn add([a, b, c]: Colour, [x, y, z]: Colour) -> Colour {
    [a + x, b + y, c + z]
}

pub(super) fn sub([a, b, c]: Colour, [x, y, z]: Colour) -> Colour {
    [a - x, b - y, c - z]
}

pub(super) fn scale(colour: Colour, by: f32) -> Colour {
    colour.map(|sample| sample * by)
}

pub(super) fn dot([a, b, c]: Colour, [x, y, z]: Colour) -> f32 {
    a * x + b * y + c * z
}

/// How far two colours are apart: a step of ten in every sample is ten.
pub(super) fn apart(a: Colour, b: Colour) -> f32 {
    let by = sub(a, b);
    (dot(by, by) / 3.0).sqrt()
}

/// The middle one; 0 of none.
pub(super) fn median(values: &mut [f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    let (_, value, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    *value
}
