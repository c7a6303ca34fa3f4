//! Colours of DXF: numbers 1 to 255, or red, green and blue in one number.

/// The colour of the layer.
pub(super) const BY_LAYER: i64 = 256;
/// The colour of the insertion.
pub(super) const BY_BLOCK: i64 = 0;

/// Red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Colour(pub [u8; 3]);

impl Colour {
    /// Of a number. 1 to 9 are named; 10 to 249 go round the colours in 24 steps of five lightnesses, each full and half
    /// as strong; 250 to 255 are greys. 7 is black here, for paper is white.
    pub(super) fn numbered(number: i64) -> Self {
        Self(match number {
            1 => [255, 0, 0],
            2 => [255, 255, 0],
            3 => [0, 255, 0],
            4 => [0, 255, 255],
            5 => [0, 0, 255],
            6 => [255, 0, 255],
            8 => [128, 128, 128],
            9 => [192, 192, 192],
            10..=249 => wheel(number),
            250..=255 => [u8::try_from(51 + (number - 250) * 40).unwrap_or(u8::MAX); 3],
            _ => [0, 0, 0],
        })
    }

    /// Of red, green and blue in one number.
    pub(super) fn true_colour(value: i64) -> Self {
        let part = |shift: u32| u8::try_from(value.checked_shr(shift).unwrap_or(0) & 0xff);
        Self([16, 8, 0].map(|shift| part(shift).unwrap_or(0)))
    }
}

fn wheel(number: i64) -> [u8; 3] {
    let (step, shade) = ((number - 10) / 10, (number % 10) / 2);
    let light = match shade {
        0 => 1.0,
        1 => 0.65,
        2 => 0.5,
        3 => 0.3,
        _ => 0.15,
    };
    let least = if number % 2 == 1 { 0.5 } else { 0.0 };
    let hue = step as f64 / 4.0; // sixths of the circle
    [5.0, 3.0, 1.0].map(|from: f64| {
        let k = (from + hue).rem_euclid(6.0);
        let strength = k.min(4.0 - k).clamp(0.0, 1.0);
        (255.0 * light * (1.0 - (1.0 - least) * strength)) as u8
    })
}
