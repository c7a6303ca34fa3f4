//! Photos and scans of cloth and paper: PNG or JPEG bytes in, outlines in mm out.
//!
//! [`read`] makes a photo as small as a window can show it. To trace, the way runs forward only: [`read_full`] keeps every
//! pixel, [`straighten`] finds how the picture lies against the table (mm, y up), [`trace`](trace()) finds outlines and says how
//! exact they are. Pixels are counted from the upper left corner of the picture, y down; the middle of the first pixel is
//! at 0.5, 0.5. Light is added up in linear light (sRGB, IEC 61966-2-1), since lenses blur light and not its coded values.
//!
//! Never here: paths, clocks, threads, the window, chance.

mod contour;
mod corners;
mod fit;
mod ground;
mod homography;
mod laid_flat;
mod level;
mod picture;
mod ring;
mod sheet;
mod snap;
mod spline;
pub mod straighten;
mod trace;
mod traced;

pub use homography::Homography;
pub use laid_flat::{LaidFlat, laid_flat};
pub use picture::{Density, Picture, read_full};
pub use sheet::find_sheet;
pub use straighten::{KnownRectangle, StraightenError, Straightened};
pub use trace::{Ground, TraceError, Wanted, trace};
pub use traced::{Exactness, Traced, TracedHole, Trust, as_offcut, as_outline};

use crate::bring_in::{BringInError, Limits, Watch};

/// Longest side that is kept, pixels: every graphics card can show that, and an offcut of 400 mm has 5 pixels a mm.
pub const LONGEST: u32 = 2048;

/// A photo as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Width, pixels.
    pub width: usize,
    /// Height, pixels.
    pub height: usize,
    /// Red, green, blue, opacity for each pixel, row by row from the top.
    pub rgba: Vec<u8>,
}

/// Why a photo could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PhotoError {
    /// Neither PNG nor JPEG.
    #[error("this is neither a PNG nor a JPEG picture")]
    OtherFormat,
    /// Broken, or larger than can be shown.
    #[error("the picture cannot be read: {0}")]
    Unreadable(String),
}

/// The photo in the bytes of a file; turned as the camera was held, what was clear on white.
///
/// # Errors
/// [`PhotoError`] when it is no PNG or JPEG, broken, or beyond the usual [`Limits`].
pub fn read(bytes: &[u8]) -> Result<Photo, PhotoError> {
    let full =
        read_full(bytes, "", &Limits::default(), &Watch::default()).map_err(|why| match why {
            BringInError::UnknownKind { .. } | BringInError::Empty { .. } => {
                PhotoError::OtherFormat
            }
            BringInError::Broken { why, .. } => PhotoError::Unreadable(why),
            BringInError::Limit { limit, of, .. } => {
                PhotoError::Unreadable(format!("it has more than {limit} {of}"))
            }
            other => PhotoError::Unreadable(other.to_string()),
        })?;
    let short = || PhotoError::Unreadable("it is cut short".to_owned());
    let (width, height) = (full.width as u32, full.height as u32);
    let rgb = image::RgbImage::from_raw(width, height, full.rgb).ok_or_else(short)?;
    let mut picture = image::DynamicImage::ImageRgb8(rgb);
    if LONGEST < width.max(height) {
        picture = picture.thumbnail(LONGEST, LONGEST);
    }
    let rgba = picture.into_rgba8();
    Ok(Photo {
        width: rgba.width() as usize,
        height: rgba.height() as usize,
        rgba: rgba.into_raw(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    fn png(width: u32, height: u32) -> Vec<u8> {
        let picture = image::RgbImage::from_fn(width, height, |x, _| {
            image::Rgb(if x == 0 { [255, 0, 0] } else { [0, 0, 255] })
        });
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture
            .write_to(&mut bytes, image::ImageFormat::Png)
            .unwrap();
        bytes.into_inner()
    }

    #[test]
    fn a_png_is_read_pixel_by_pixel() {
        let photo = read(&png(3, 2)).unwrap();
        assert_eq!((photo.width, photo.height), (3, 2));
        assert_eq!(photo.rgba[..8], [255, 0, 0, 255, 0, 0, 255, 255]);
    }

    #[test]
    fn a_large_photo_is_made_as_small_as_can_be_shown() {
        let photo = read(&png(4096, 1024)).unwrap();
        assert_eq!((photo.width, photo.height), (2048, 512));
    }

    #[test]
    fn what_is_no_picture_or_broken_is_told() {
        assert_eq!(read(b"hello"), Err(PhotoError::OtherFormat));
        let cut = &png(30, 20)[..40];
        assert!(matches!(read(cut), Err(PhotoError::Unreadable(_))));
        let broken = [0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2];
        assert!(matches!(read(&broken), Err(PhotoError::Unreadable(_))));
    }
}
