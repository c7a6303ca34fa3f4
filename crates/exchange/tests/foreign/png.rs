//! Pictures of our own drawings.

use petitoile_core::kurbo::{BezPath, Point, Rect, Shape};
use petitoile_exchange::drawing::{Drawing, Item, Layer};
use petitoile_exchange::png::{self, PngError};

fn square() -> Drawing {
    let path: BezPath = Rect::new(10.0, 20.0, 60.0, 70.0).to_path(0.1);
    Drawing {
        title: "square".to_owned(),
        items: vec![
            Item::fill(Layer::Page, path),
            Item::text(Layer::Text, Point::new(62.0, 40.0), 5.0, "Front"),
        ],
    }
}

fn chunk<'a>(png: &'a [u8], name: &[u8]) -> &'a [u8] {
    let at = png.windows(4).position(|here| here == name).unwrap();
    let length = u32::from_be_bytes(png[at - 4..at].try_into().unwrap()) as usize;
    &png[at + 4..at + 4 + length]
}

#[test]
fn a_square_of_50_mm_has_500_pixels_at_ten_to_the_mm() {
    let bytes = png::write(&square(), 10.0).unwrap();
    let picture = image::load_from_memory(&bytes).unwrap().into_rgb8();
    let [red, green, blue] = Layer::Page.colour();
    let grey = picture
        .pixels()
        .filter(|pixel| pixel.0 == [red, green, blue])
        .count();
    assert_eq!(grey, 500 * 500);
    assert_eq!(picture.get_pixel(0, 0).0, [255; 3]);
    // 5 mm of margin left of the square and above it.
    assert_eq!(picture.get_pixel(49, 60).0, [255; 3]);
    assert_eq!(picture.get_pixel(50, 60).0, [red, green, blue]);
    // The words are there: ink right of the square.
    assert!(
        (560..picture.width())
            .any(|x| (0..picture.height()).any(|y| picture.get_pixel(x, y).0[0] < 60))
    );
    let resolution = chunk(&bytes, b"pHYs");
    assert_eq!(resolution, [0, 0, 0x27, 0x10, 0, 0, 0x27, 0x10, 1]);
}

#[test]
fn the_resolution_of_a_printer_is_kept_to_a_pixel_a_metre() {
    let bytes = png::write(&square(), 300.0 / 25.4).unwrap();
    assert_eq!(chunk(&bytes, b"pHYs")[..4], 11811_u32.to_be_bytes());
    let picture = image::load_from_memory(&bytes).unwrap();
    let drawn = square().bounds().unwrap().width() + 10.0;
    assert!((f64::from(picture.width()) - drawn * 300.0 / 25.4).abs() <= 1.0);
}

#[test]
fn a_picture_beyond_all_measure_is_refused_with_its_size() {
    assert!(matches!(
        png::write(&square(), 1000.0),
        Err(PngError::TooLarge { width, .. }) if 60_000 < width
    ));
    for odd in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            png::write(&square(), odd),
            Err(PngError::NoResolution(_))
        ));
    }
    assert!(matches!(
        png::write(&square(), 1e300),
        Err(PngError::TooLarge { .. })
    ));
}
