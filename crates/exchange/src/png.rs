//! A drawing as a PNG picture in a true resolution: drawn from our own SVG by resvg, with our own font, on white.

use std::fmt::Write;

use image::ImageEncoder;
use resvg::tiny_skia::{Color, Pixmap, Transform};

use crate::drawing::Drawing;
use crate::svg;

/// Pixels of a picture at most: 16,384 by 16,384 is what other programs still open.
pub const MOST_PIXELS: u64 = 268_435_456;

/// Longest side, pixels.
pub const LONGEST_SIDE: u32 = 32_000;

/// Why a picture could not be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PngError {
    /// Too many pixels.
    #[error(
        "the picture would have {width} by {height} pixels; up to {side} a side and {most} in all are made: take fewer pixels per mm"
    )]
    TooLarge {
        /// Pixels across.
        width: u64,
        /// Pixels down.
        height: u64,
        /// Longest side that is made.
        side: u32,
        /// Pixels in all that are made.
        most: u64,
    },
    /// The resolution is none.
    #[error("a picture needs more than 0 pixels per mm, not {0}")]
    NoResolution(f64),
    /// The drawing could not be painted.
    #[error("the drawing cannot be painted: {0}")]
    Unpainted(String),
}

/// Paints a drawing with so many pixels per mm. The file carries that resolution, rounded to pixels per metre.
///
/// The picture is a pixel larger where the drawing ends within one.
///
/// # Errors
/// [`PngError`]: too many pixels, no resolution.
///
/// # Example
/// ```
/// # use petitoile_exchange::{drawing::Drawing, png};
/// assert!(png::write(&Drawing::default(), 8.0)?.starts_with(b"\x89PNG"));
/// # Ok::<(), png::PngError>(())
/// ```
pub fn write(drawing: &Drawing, pixels_per_mm: f64) -> Result<Vec<u8>, PngError> {
    if !(pixels_per_mm.is_finite() && 0.0 < pixels_per_mm) {
        return Err(PngError::NoResolution(pixels_per_mm));
    }
    let words = svg::write(drawing);
    let tree = svg::read::tree(&words).map_err(PngError::Unpainted)?;
    // One px of the tree is 1/96 inch.
    let scale = pixels_per_mm * svg::read::PX;
    let side = |length: f32| (f64::from(length) * scale).ceil().max(1.0) as u64;
    let (width, height) = (side(tree.size().width()), side(tree.size().height()));
    let longest = u64::from(LONGEST_SIDE);
    if longest < width || longest < height || MOST_PIXELS < width * height {
        return Err(PngError::TooLarge {
            width,
            height,
            side: LONGEST_SIDE,
            most: MOST_PIXELS,
        });
    }
    // Neither side is larger than the longest.
    let (width, height) = (width as u32, height as u32);
    let unpainted = || PngError::Unpainted("there is no memory for it".to_owned());
    let mut picture = Pixmap::new(width, height).ok_or_else(unpainted)?;
    picture.fill(Color::WHITE);
    let shown = scale as f32;
    resvg::render(
        &tree,
        Transform::from_scale(shown, shown),
        &mut picture.as_mut(),
    );
    let mut rgb = Vec::with_capacity(3 * width as usize * height as usize);
    for pixel in picture.data().chunks_exact(4) {
        // On white every pixel is opaque.
        rgb.extend(pixel.iter().take(3));
    }
    let mut out = Vec::new();
    image::codecs::png::PngEncoder::new(&mut out)
        .write_image(&rgb, width, height, image::ExtendedColorType::Rgb8)
        .map_err(|why| {
            let mut words = String::new();
            let _ = write!(words, "{why}");
            PngError::Unpainted(words)
        })?;
    Ok(with_resolution(&out, pixels_per_mm))
}

/// The same PNG with its resolution behind the first chunk (`pHYs`, PNG specification 11.3.4.3).
fn with_resolution(png: &[u8], pixels_per_mm: f64) -> Vec<u8> {
    // Eight bytes of signature, then IHDR: length, name, 13 bytes, checksum.
    let (head, rest) = png.split_at_checked(8 + 12 + 13).unwrap_or((png, &[]));
    let per_metre = (pixels_per_mm * 1000.0)
        .round()
        .clamp(1.0, f64::from(u32::MAX)) as u32;
    let mut chunk = b"pHYs".to_vec();
    chunk.extend(per_metre.to_be_bytes());
    chunk.extend(per_metre.to_be_bytes());
    chunk.push(1); // per metre
    let mut out = head.to_vec();
    out.extend(9_u32.to_be_bytes());
    out.extend(&chunk);
    out.extend(checksum(&chunk).to_be_bytes());
    out.extend(rest);
    out
}

/// CRC-32 of a chunk (PNG specification, annex D).
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
            if crc & 1 == 1 {
                0xedb8_8320 ^ (crc >> 1)
            } else {
                crc >> 1
            }
        })
    })
}
