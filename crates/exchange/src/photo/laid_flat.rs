//! A picture as it would look from straight above, to draw over by hand: true to scale, as large as a window can show.

use petitoile_core::kurbo::{Point, Rect};

use super::LONGEST;
use super::picture::Picture;
use super::straighten::Straightened;
use super::trace::TraceError;
use crate::bring_in::{Pace, Watch};

/// Steps along a side of the picture in which its area on the table is looked for.
const STEPS: usize = 16;
/// What is seen so many times smaller than the best place is left out: it lies near the horizon and would fill the table.
const SMALLEST: f64 = 8.0;
/// Where the picture shows nothing: clear.
const NOTHING: [u8; 4] = [0; 4];

/// A picture laid flat on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidFlat {
    /// Name of the file it came from.
    pub name: String,
    /// Width, pixels.
    pub width: usize,
    /// Height, pixels.
    pub height: usize,
    /// Red, green, blue, opacity for each pixel, row by row from the top; clear where the picture shows nothing.
    pub rgba: Vec<u8>,
    /// How many mm a pixel is, both ways.
    pub mm_per_pixel: f64,
    /// What it covers on the straightened table, mm, y up.
    pub area: Rect,
}

/// Lays a straightened picture flat: every pixel of the answer is the same number of mm wide and high.
///
/// Places near the horizon of a picture taken aslant are left out. `name` is the file's, for what is told.
///
/// # Errors
/// [`TraceError`]: stopped, too small, or so much aslant that nothing of it has a size.
pub fn laid_flat(
    picture: &Picture,
    straight: &Straightened,
    name: &str,
    watch: &Watch<'_>,
) -> Result<LaidFlat, TraceError> {
    let beyond = || TraceError::BeyondHorizon {
        file: name.to_owned(),
    };
    let (area, finest) = area_of(picture, straight).ok_or_else(beyond)?;
    let back = straight.mm_from_px.inverse().ok_or_else(beyond)?;
    let longest = area.width().max(area.height());
    if !(longest.is_finite() && longest > 0.0) {
        return Err(beyond());
    }
    // No finer than the picture itself, and no larger than can be shown.
    let mm_per_pixel = finest.max(longest / f64::from(LONGEST));
    let count = |mm: f64| ((mm / mm_per_pixel).ceil() as usize).clamp(1, LONGEST as usize);
    let (width, height) = (count(area.width()), count(area.height()));
    // Where several pixels fall into one, so many are looked at each way.
    let looks = ((mm_per_pixel / finest).round() as usize).clamp(1, 4);
    let pace = Pace::new(watch, name);
    let mut rgba = Vec::with_capacity(4 * width * height);
    for row in 0..height {
        pace.at(row as f64 / height as f64)?;
        for column in 0..width {
            let mut sum = [0_u32; 3];
            let mut seen = 0;
            for look in 0..looks * looks {
                let part = |k: usize| (k as f64 + 0.5) / looks as f64;
                let x = area.x0 + (column as f64 + part(look % looks)) * mm_per_pixel;
                let y = area.y1 - (row as f64 + part(look / looks)) * mm_per_pixel;
                let Some(px) = back.apply(Point::new(x, y)) else {
                    continue;
                };
                if picture.contains(px) {
                    let [r, g, b] = picture.pixel(px.x.floor() as i64, px.y.floor() as i64);
                    sum = [
                        sum[0] + u32::from(r),
                        sum[1] + u32::from(g),
                        sum[2] + u32::from(b),
                    ];
                    seen += 1;
                }
            }
            let [r, g, b] = sum.map(|sum| (sum / seen.max(1)) as u8);
            rgba.extend(if seen == 0 { NOTHING } else { [r, g, b, 255] });
        }
    }
    Ok(LaidFlat {
        name: name.to_owned(),
        width,
        height,
        rgba,
        mm_per_pixel,
        area,
    })
}

/// What a picture covers on the table, and how many mm a pixel is where it is seen best.
fn area_of(picture: &Picture, straight: &Straightened) -> Option<(Rect, f64)> {
    let (w, h) = (picture.width as f64, picture.height as f64);
    let share = |k: usize| k as f64 / STEPS as f64;
    let grid = (0..=STEPS).flat_map(|i| (0..=STEPS).map(move |j| (i, j)));
    let seen: Vec<(Point, f64)> = grid
        .filter_map(|(i, j)| {
            let px = Point::new(share(i) * w, share(j) * h);
            let (_, mm) = straight.mm_from_px.scale_near(px)?;
            Some((straight.mm_from_px.apply(px)?, mm))
        })
        .collect();
    let finest = seen.iter().map(|(_, mm)| *mm).fold(f64::MAX, f64::min);
    let near = seen.iter().filter(|(_, mm)| *mm <= finest * SMALLEST);
    let mut points = near.map(|(at, _)| *at);
    let first = points.next()?;
    let area = points.fold(Rect::from_points(first, first), |all, p| all.union_pt(p));
    (finest > 0.0 && finest < f64::MAX).then_some((area, finest))
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::expect_used,
    reason = "tests"
)]
mod tests {
    use super::*;
    use crate::bring_in::{BringInError, Limits};
    use crate::photo::straighten::{KnownRectangle, by_rectangle, by_two_points};
    use petitoile_core::Mm;
    use std::sync::atomic::AtomicBool;

    /// White, with a dark quadrangle in it.
    fn picture(corners: [Point; 4]) -> Picture {
        let inside = |p: Point| {
            (0..4).all(|i| {
                let (a, b) = (corners[i], corners[(i + 1) % 4]);
                (b - a).cross(p - a) >= 0.0
            })
        };
        let image = image::RgbImage::from_fn(600, 500, |x, y| {
            let p = Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5);
            image::Rgb(if inside(p) { [40; 3] } else { [220; 3] })
        });
        let mut bytes = std::io::Cursor::new(Vec::new());
        image.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        let (limits, watch) = (Limits::default(), Watch::default());
        crate::photo::read_full(&bytes.into_inner(), "cloth.png", &limits, &watch).unwrap()
    }

    fn at(flat: &LaidFlat, x: f64, y: f64) -> u8 {
        let column = ((x - flat.area.x0) / flat.mm_per_pixel) as usize;
        let row = ((flat.area.y1 - y) / flat.mm_per_pixel) as usize;
        flat.rgba[4 * (row * flat.width + column)]
    }

    #[test]
    fn a_sheet_seen_aslant_lies_square_and_true_to_scale() {
        let corners = [
            (150.0, 100.0),
            (420.0, 120.0),
            (480.0, 400.0),
            (110.0, 380.0),
        ];
        let corners = corners.map(Point::from);
        let picture = picture(corners);
        let sheet = KnownRectangle::sheet("the sheet", Mm(120.0), Mm(90.0));
        let straight = by_rectangle(&picture, corners, &sheet, Default::default()).unwrap();
        let flat = laid_flat(&picture, &straight, "cloth.png", &Watch::default()).unwrap();
        // The lower left corner of the sheet is the origin: dark just inside each side, light just outside.
        for (x, y) in [
            (1.5, 1.5),
            (118.5, 1.5),
            (118.5, 88.5),
            (1.5, 88.5),
            (60.0, 45.0),
        ] {
            assert_eq!(at(&flat, x, y), 40, "at {x}, {y}");
        }
        for (x, y) in [(-1.5, 45.0), (121.5, 45.0), (60.0, -1.5), (60.0, 91.5)] {
            assert_eq!(at(&flat, x, y), 220, "at {x}, {y}");
        }
    }

    #[test]
    fn it_is_no_finer_than_the_picture_and_no_larger_than_a_window_shows() {
        let picture =
            picture([(10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0)].map(Point::from));
        let (a, b) = (Point::new(100.0, 100.0), Point::new(300.0, 100.0));
        let straight = by_two_points(&picture, a, b, Mm(100.0)).unwrap();
        let flat = laid_flat(&picture, &straight, "cloth.png", &Watch::default()).unwrap();
        assert_eq!((flat.width, flat.height), (600, 500));
        assert!((flat.mm_per_pixel - 0.5).abs() < 1e-12);
        assert!((flat.area.width() - 300.0).abs() < 1e-9);
    }

    #[test]
    fn it_can_be_stopped() {
        let picture =
            picture([(10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0)].map(Point::from));
        let (a, b) = (Point::new(100.0, 100.0), Point::new(300.0, 100.0));
        let straight = by_two_points(&picture, a, b, Mm(100.0)).unwrap();
        let stop = AtomicBool::new(true);
        let watch = Watch {
            stop: Some(&stop),
            done: None,
        };
        let stopped = laid_flat(&picture, &straight, "cloth.png", &watch);
        let why = stopped.expect_err("it was to stop");
        assert!(
            matches!(why, TraceError::Stopped(BringInError::Stopped { .. })),
            "{why}"
        );
    }
}
