//! A picture with all its pixels: read within the limits, upright, three colours.

use image::metadata::Orientation;
use image::{DynamicImage, RgbImage};
use petitoile_core::kurbo::Point;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use crate::bring_in::{BringInError, Limits, Watch};

/// No byte of deflate can stand for more bytes than this (258 for 2 bits; zlib's own documentation).
const MOST_PER_BYTE: u64 = 1032;
/// A block of 8 x 8 pixels takes one bit at least; four times that, to be on the safe side. From memory of ITU-T T.81.
const MOST_PIXELS_PER_BYTE: u64 = 8 * 64 * 4;

/// A picture with all its pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Name of its file, for messages.
    pub file: String,
    /// Width, pixels.
    pub width: usize,
    /// Height, pixels.
    pub height: usize,
    /// Red, green, blue for each pixel, row by row from the top; what was clear lies on white.
    pub rgb: Vec<u8>,
    /// How many pixels an inch the file claims: right for scans, without meaning for photographs.
    pub density: Option<Density>,
    /// What the maker should know about the file.
    pub words: Vec<String>,
}

/// How many pixels an inch a file claims.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Density {
    /// Across.
    pub across: f64,
    /// Down.
    pub down: f64,
}

impl Density {
    /// "the file says 300 dpi".
    pub fn words(&self) -> String {
        if (self.across - self.down).abs() < 0.5 {
            format!("the file says {:.0} dpi", self.across)
        } else {
            format!(
                "the file says {:.0} dpi across and {:.0} dpi down",
                self.across, self.down
            )
        }
    }

    fn new(across: f64, down: f64) -> Option<Self> {
        let is_seen = |dpi: f64| (10.0..=20_000.0).contains(&dpi);
        (is_seen(across) && is_seen(down)).then_some(Self { across, down })
    }
}

/// Reads a PNG or JPEG with all its pixels, turned as the camera was held.
///
/// `name` is used in messages only. While it is read it takes up to six bytes of memory a pixel; a progressive JPEG takes
/// nine, so it may have half as many pixels.
///
/// # Errors
/// [`BringInError`]: no picture, broken, stopped, or more pixels than [`Limits::pixels`].
pub fn read_full(
    bytes: &[u8],
    name: &str,
    limits: &Limits,
    watch: &Watch<'_>,
) -> Result<Picture, BringInError> {
    limits.admit(bytes, name)?;
    watch.at(0.0, name)?;
    let reader = Reader {
        bytes,
        name,
        limits,
        watch,
    };
    let picture = if bytes.starts_with(b"\x89PNG") {
        reader.png()
    } else if bytes.starts_with(&[0xff, 0xd8]) {
        reader.jpeg()
    } else {
        Err(BringInError::UnknownKind {
            file: name.to_owned(),
        })
    }?;
    watch.at(1.0, name)?;
    Ok(picture)
}

struct Reader<'a> {
    bytes: &'a [u8],
    name: &'a str,
    limits: &'a Limits,
    watch: &'a Watch<'a>,
}

impl Reader<'_> {
    fn broken(&self, why: &str) -> BringInError {
        BringInError::Broken {
            file: self.name.to_owned(),
            why: why.to_owned(),
        }
    }

    /// Refuses too many pixels, and more than the bytes can hold, before any of them is given memory.
    fn admit(&self, width: u64, height: u64, most: u64, of: &str) -> Result<(), BringInError> {
        let pixels = width.saturating_mul(height);
        if pixels == 0 {
            return Err(self.broken("it has no pixels"));
        }
        if most < pixels {
            return Err(self.limits.error(self.name, most, of));
        }
        Ok(())
    }

    fn png(&self) -> Result<Picture, BringInError> {
        let broken = |why: png::DecodingError| self.broken(&why.to_string());
        let mut decoder = png::Decoder::new(std::io::Cursor::new(self.bytes));
        decoder.set_transformations(png::Transformations::normalize_to_color8());
        let head = decoder.read_header_info().map_err(broken)?;
        let (width, height) = (head.width, head.height);
        let (wide, high) = (u64::from(width), u64::from(height));
        self.admit(wide, high, self.limits.pixels, "pixels")?;
        let bits = u64::from(head.bits_per_pixel() as u32);
        let raw = wide.saturating_mul(high).saturating_mul(bits) / 8;
        if (self.bytes.len() as u64).saturating_mul(MOST_PER_BYTE) < raw {
            return Err(self.broken("it is cut short"));
        }
        let mut reader = decoder.read_info().map_err(broken)?;
        let density = png_density(reader.info());
        let held = reader.info().exif_metadata.as_ref();
        let held = held.and_then(|exif| Orientation::from_exif_chunk(exif));
        let samples = reader.output_color_type().0.samples();
        let mut rgb = Vec::new();
        if reader.info().interlaced {
            let size = reader
                .output_buffer_size()
                .ok_or_else(|| self.broken("it has too many pixels"))?;
            let mut all = vec![0; size];
            reader.next_frame(&mut all).map_err(broken)?;
            onto_white(&all, samples, &mut rgb);
        } else {
            let mut row_number = 0_u32;
            while let Some(row) = reader.next_row().map_err(broken)? {
                onto_white(row.data(), samples, &mut rgb);
                row_number += 1;
                if row_number.is_multiple_of(64) {
                    let share = f64::from(row_number) / f64::from(height);
                    self.watch.at(share, self.name)?;
                }
            }
        }
        self.upright(rgb, (width, height), held, density)
    }

    fn jpeg(&self) -> Result<Picture, BringInError> {
        let head = jpeg_head(self.bytes).ok_or_else(|| self.broken("it says no size"))?;
        let (most, of) = if head.progressive {
            (self.limits.pixels / 2, "pixels in a progressive JPEG")
        } else {
            (self.limits.pixels, "pixels")
        };
        self.admit(head.width, head.height, most, of)?;
        let pixels = head.width * head.height;
        if (self.bytes.len() as u64).saturating_mul(MOST_PIXELS_PER_BYTE) < pixels {
            return Err(self.broken("it is cut short"));
        }
        let options = DecoderOptions::default()
            .jpeg_set_out_colorspace(ColorSpace::RGB)
            .set_max_width(head.width as usize)
            .set_max_height(head.height as usize);
        let mut decoder = JpegDecoder::new_with_options(ZCursor::new(self.bytes), options);
        let rgb = decoder
            .decode()
            .map_err(|why| self.broken(&why.to_string()))?;
        let info = decoder
            .info()
            .ok_or_else(|| self.broken("it says no size"))?;
        let held = decoder
            .exif()
            .and_then(|exif| Orientation::from_exif_chunk(exif));
        let size = (u32::from(info.width), u32::from(info.height));
        let mut picture = self.upright(rgb, size, held, head.density)?;
        // What follows the end mark (thumbnails, padding) is nobody's business; without any end mark rows are missing.
        if !self.bytes.windows(2).any(|pair| pair == [0xff, 0xd9]) {
            picture
                .words
                .push("the file is cut short; the lower part of the picture is missing".to_owned());
        }
        Ok(picture)
    }

    fn upright(
        &self,
        rgb: Vec<u8>,
        (width, height): (u32, u32),
        held: Option<Orientation>,
        density: Option<Density>,
    ) -> Result<Picture, BringInError> {
        let short = || self.broken("it is cut short");
        let mut rgb = RgbImage::from_raw(width, height, rgb).ok_or_else(short)?;
        let mut density = density;
        if let Some(held) = held.filter(|held| *held != Orientation::NoTransforms) {
            let mut picture = DynamicImage::ImageRgb8(rgb);
            picture.apply_orientation(held);
            if picture.width() != width {
                density = density.and_then(|d| Density::new(d.down, d.across));
            }
            rgb = picture.into_rgb8();
        }
        Ok(Picture {
            file: self.name.to_owned(),
            width: rgb.width() as usize,
            height: rgb.height() as usize,
            rgb: rgb.into_raw(),
            density,
            words: Vec::new(),
        })
    }
}

/// Adds a row of one (grey) to four (red, green, blue, opacity) samples a pixel.
fn onto_white(row: &[u8], samples: usize, rgb: &mut Vec<u8>) {
    let over = |sample: u8, opacity: u8| {
        let (sample, opacity) = (u32::from(sample), u32::from(opacity));
        ((sample * opacity + 255 * (255 - opacity) + 127) / 255) as u8
    };
    for pixel in row.chunks_exact(samples.max(1)) {
        match pixel {
            [grey] => rgb.extend([*grey; 3]),
            [grey, opacity] => rgb.extend([over(*grey, *opacity); 3]),
            [r, g, b] => rgb.extend([*r, *g, *b]),
            [r, g, b, opacity] => rgb.extend([*r, *g, *b].map(|sample| over(sample, *opacity))),
            _ => {}
        }
    }
}

/// The pHYs chunk, which counts pixels a metre.
fn png_density(info: &png::Info<'_>) -> Option<Density> {
    let dims = info.pixel_dims.as_ref()?;
    let dpi = |per_metre: u32| f64::from(per_metre) * 0.0254;
    (dims.unit == png::Unit::Meter)
        .then(|| Density::new(dpi(dims.xppu), dpi(dims.yppu)))
        .flatten()
}

/// What a JPEG says of itself before its pixels.
struct JpegHead {
    width: u64,
    height: u64,
    progressive: bool,
    density: Option<Density>,
}

/// Walks the segments of a JPEG up to its frame header (ITU-T T.81 annex B, JFIF 1.02).
fn jpeg_head(bytes: &[u8]) -> Option<JpegHead> {
    let mut density = None;
    let mut at = 2;
    loop {
        let [marker, rest @ ..] = bytes.get(at..)? else {
            return None;
        };
        if *marker != 0xff {
            at += 1;
            continue;
        }
        match rest {
            // Padding and marks that stand alone.
            [0xff | 0x01 | 0x00 | 0xd0..=0xd8, ..] => at += 1,
            [kind, high, low, body @ ..] => {
                if let (0xe0, [b'J', b'F', b'I', b'F', 0, _, _, unit, x1, x0, y1, y0, ..]) =
                    (*kind, body)
                {
                    density = jfif_density(*unit, [*x1, *x0], [*y1, *y0]);
                }
                let is_frame = (0xc0..=0xcf).contains(kind) && ![0xc4, 0xc8, 0xcc].contains(kind);
                if let (true, [_, h1, h0, w1, w0, ..]) = (is_frame, body) {
                    return Some(JpegHead {
                        width: u64::from(u16::from_be_bytes([*w1, *w0])),
                        height: u64::from(u16::from_be_bytes([*h1, *h0])),
                        progressive: [0xc2, 0xc6, 0xca, 0xce].contains(kind),
                        density,
                    });
                }
                at += 2 + usize::from(u16::from_be_bytes([*high, *low])).max(2);
            }
            _ => return None,
        }
    }
}

fn jfif_density(unit: u8, across: [u8; 2], down: [u8; 2]) -> Option<Density> {
    let inch = match unit {
        1 => 1.0,
        2 => 2.54,
        _ => return None,
    };
    let dpi = |count: [u8; 2]| f64::from(u16::from_be_bytes(count)) * inch;
    Density::new(dpi(across), dpi(down))
}

impl Picture {
    /// The three samples of a pixel; beyond the edge those of the nearest one.
    pub fn pixel(&self, x: i64, y: i64) -> [u8; 3] {
        let x = x.clamp(0, self.width.saturating_sub(1) as i64) as usize;
        let y = y.clamp(0, self.height.saturating_sub(1) as i64) as usize;
        let at = 3 * (y * self.width + x);
        match self.rgb.get(at..at + 3) {
            Some([r, g, b]) => [*r, *g, *b],
            _ => [0; 3],
        }
    }

    /// Does the point lie in the picture?
    pub fn contains(&self, p: Point) -> bool {
        (0.0..=self.width as f64).contains(&p.x) && (0.0..=self.height as f64).contains(&p.y)
    }
}
