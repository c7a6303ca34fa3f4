//! Photos of cloth: PNG or JPEG bytes in, pixels out, turned upright and no larger than a window can show.

use image::DynamicImage;
use image::metadata::Orientation;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// Longest side that is kept, pixels: every graphics card can show that, and an offcut of 400 mm has 5 pixels a mm.
pub const LONGEST: u32 = 2048;
/// Longest side that is read at all, pixels.
const MOST: u32 = 20_000;

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

/// The photo in the bytes of a file; turned as the camera was held.
///
/// # Errors
/// [`PhotoError`] when it is no PNG or JPEG, or broken.
pub fn read(bytes: &[u8]) -> Result<Photo, PhotoError> {
    let mut picture = if bytes.starts_with(b"\x89PNG") {
        image::load_from_memory_with_format(bytes, image::ImageFormat::Png)
            .map_err(|why| PhotoError::Unreadable(why.to_string()))?
    } else if bytes.starts_with(&[0xff, 0xd8]) {
        jpeg(bytes)?
    } else {
        return Err(PhotoError::OtherFormat);
    };
    let longest = picture.width().max(picture.height());
    if LONGEST < longest {
        picture = picture.thumbnail(LONGEST, LONGEST);
    }
    let rgba = picture.into_rgba8();
    Ok(Photo {
        width: rgba.width() as usize,
        height: rgba.height() as usize,
        rgba: rgba.into_raw(),
    })
}

fn jpeg(bytes: &[u8]) -> Result<DynamicImage, PhotoError> {
    let unreadable = |why: String| PhotoError::Unreadable(why);
    let options = DecoderOptions::default()
        .jpeg_set_out_colorspace(ColorSpace::RGB)
        .set_max_width(MOST as usize)
        .set_max_height(MOST as usize);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let pixels = decoder
        .decode()
        .map_err(|why| unreadable(why.to_string()))?;
    let info = decoder
        .info()
        .ok_or_else(|| unreadable("it says no size".to_owned()))?;
    let rgb = image::RgbImage::from_raw(u32::from(info.width), u32::from(info.height), pixels)
        .ok_or_else(|| unreadable("it is cut short".to_owned()))?;
    let mut picture = DynamicImage::ImageRgb8(rgb);
    let held = decoder
        .exif()
        .and_then(|exif| Orientation::from_exif_chunk(exif));
    if let Some(held) = held {
        picture.apply_orientation(held);
    }
    Ok(picture)
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
