//! Corners of a known rectangle: found, refined, refused.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_exchange::bring_in::Watch;
use petitoile_exchange::photo::straighten::{Bottom, by_rectangle, by_two_points};
use petitoile_exchange::photo::{
    KnownRectangle, Picture, StraightenError, Straightened, find_sheet,
};

use super::camera::Camera;
use super::scene::{Scene, rectangle};

const TABLE: [f64; 3] = [128.0, 108.0, 86.0];
const PAPER: [f64; 3] = [236.0, 236.0, 232.0];

/// A small sheet of 120 x 85 mm, seen aslant, with a dark rectangle beside it.
fn scene() -> Scene {
    Scene {
        camera: Camera {
            over: Point::new(60.0, 50.0),
            away: 420.0,
            tilt: 16.0,
            roll: -5.0,
            focal: 5.0 * 420.0,
            size: (900, 760),
        },
        table: TABLE,
        things: vec![
            (rectangle((0.0, 0.0), (120.0, 85.0)), PAPER),
            (rectangle((20.0, 92.0), (50.0, 20.0)), [50.0, 40.0, 60.0]),
        ],
        shadow: Some((0.7, 120.0)),
        blur: 0.8,
        noise: 3.0,
        seed: 11,
    }
}

fn sheet() -> KnownRectangle {
    KnownRectangle::sheet("card", Mm(85.0), Mm(120.0))
}

fn corners(camera: &Camera) -> [Point; 4] {
    [(0.0, 0.0), (120.0, 0.0), (120.0, 85.0), (0.0, 85.0)].map(|mm| camera.px(Point::from(mm)))
}

/// How far places on the table come out from where they are: mean and worst, mm; and what was said of it.
fn off(straight: &Straightened, camera: &Camera) -> (f64, f64) {
    let mut worst = 0.0_f64;
    for (x, y) in [
        (0.0, 0.0),
        (60.0, 40.0),
        (120.0, 85.0),
        (-15.0, 100.0),
        (130.0, -8.0),
    ] {
        let mm = Point::new(x, y);
        let px = camera.px(mm);
        let own = straight.mm_from_px.apply(px).unwrap();
        worst = worst.max((own - mm).hypot());
    }
    (
        worst,
        straight.error_at(camera.px(Point::new(-15.0, 100.0))),
    )
}

#[test]
fn clicks_three_pixels_off_are_moved_to_the_true_corners() {
    let scene = scene();
    let picture = scene.photograph();
    let true_corners = corners(&scene.camera);
    // Each 3 px off, in its own direction; pointed at the other way round from another corner.
    let mut clicks = true_corners;
    for (click, turn) in clicks.iter_mut().zip([0.4_f64, 2.2, 3.9, 5.5]) {
        *click += 3.0 * petitoile_core::kurbo::Vec2::from_angle(turn);
    }
    clicks.reverse();
    clicks.rotate_left(1);
    let straight = by_rectangle(&picture, clicks, &sheet(), Bottom::AsItLooks).unwrap();
    for (own, truth) in straight.corners_px.unwrap().iter().zip(true_corners) {
        assert!((*own - truth).hypot() < 0.12, "{own:?} for {truth:?}");
    }
    assert_eq!(straight.sides_seen, [true; 4]);
    let (worst, said) = off(&straight, &scene.camera);
    assert!(
        worst < 0.05 && worst < 2.0 * said && said < 0.1,
        "{worst:.3}, said {said:.3}"
    );
}

#[test]
fn corners_that_cannot_be_seen_stay_where_they_were_pointed_at_and_that_is_told() {
    let scene = scene();
    let blank = Picture {
        rgb: vec![128; 3 * 900 * 760],
        ..scene.photograph()
    };
    let clicks = corners(&scene.camera);
    let straight = by_rectangle(&blank, clicks, &sheet(), Bottom::AsItLooks).unwrap();
    assert_eq!(straight.corners_px, Some(clicks));
    assert_eq!(straight.sides_seen, [false; 4]);
    let words = straight.words(petitoile_core::LengthUnit::Millimetre);
    assert!(words[0].contains("stay where you pointed"), "{words:?}");
    let (worst, said) = off(&straight, &scene.camera);
    assert!(worst < 1e-9 && said > 0.3, "{worst} {said}");
}

#[test]
fn a_bright_sheet_is_found_on_its_own() {
    let scene = scene();
    let picture = scene.photograph();
    let found = find_sheet(&picture, &sheet(), &Watch::default())
        .unwrap()
        .unwrap();
    for (own, truth) in found.iter().zip(corners(&scene.camera)) {
        assert!((*own - truth).hypot() < 6.0, "{own:?} for {truth:?}");
    }
    let straight = by_rectangle(&picture, found, &sheet(), Bottom::AsItLooks).unwrap();
    assert!(off(&straight, &scene.camera).0 < 0.05);
    let none = Scene {
        things: Vec::new(),
        ..scene
    };
    let none = find_sheet(&none.photograph(), &sheet(), &Watch::default()).unwrap();
    assert_eq!(none, None);
}

#[test]
fn a_square_of_a_cutting_mat_is_found_by_the_middle_of_its_lines() {
    let camera = Camera::above(Point::new(50.0, 50.0), 5.0, (700, 700));
    let mat = [60.0, 105.0, 80.0];
    let line = |from: f64, size: f64, colour| (rectangle((from, from), (size, size)), colour);
    let scene = Scene {
        camera,
        table: mat,
        // A printed line 0.8 mm wide, its middle on a square of 100 mm.
        things: vec![
            line(-0.4, 100.8, [200.0, 205.0, 190.0]),
            line(0.4, 99.2, mat),
        ],
        shadow: None,
        blur: 0.8,
        noise: 2.0,
        seed: 2,
    };
    let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)];
    let clicks = corners.map(|mm| camera.px(Point::from(mm)) + (1.5, -2.0));
    let square = KnownRectangle::square_of_mat(Mm(100.0));
    let straight = by_rectangle(&scene.photograph(), clicks, &square, Bottom::AsItLooks).unwrap();
    for (own, mm) in straight.corners_px.unwrap().iter().zip(corners) {
        let truth = camera.px(Point::from(mm));
        assert!((*own - truth).hypot() < 0.25, "{own:?} for {truth:?}");
    }
}

#[test]
fn corners_that_are_none_are_refused_with_the_reason() {
    let picture = Picture {
        file: String::new(),
        width: 1000,
        height: 800,
        rgb: vec![90; 3 * 1000 * 800],
        density: None,
        words: Vec::new(),
    };
    let of = |corners: [(f64, f64); 4]| {
        let clicks = corners.map(Point::from);
        by_rectangle(&picture, clicks, &KnownRectangle::a4(), Bottom::AsItLooks).unwrap_err()
    };
    let crossed = of([
        (100.0, 700.0),
        (800.0, 100.0),
        (800.0, 700.0),
        (100.0, 100.0),
    ]);
    assert_eq!(crossed, StraightenError::Crossed);
    let line = of([
        (100.0, 700.0),
        (500.0, 702.0),
        (900.0, 700.0),
        (500.0, 100.0),
    ]);
    assert_eq!(line, StraightenError::InLine(2));
    let small = of([
        (100.0, 700.0),
        (120.0, 700.0),
        (120.0, 670.0),
        (100.0, 670.0),
    ]);
    assert_eq!(small, StraightenError::TooSmall(20.0));
    let inside = of([
        (100.0, 700.0),
        (900.0, 700.0),
        (500.0, 500.0),
        (480.0, 100.0),
    ]);
    assert_eq!(inside, StraightenError::Inside(3));
    let outside = of([
        (100.0, 700.0),
        (1001.0, 700.0),
        (900.0, 100.0),
        (100.0, 100.0),
    ]);
    assert_eq!(outside, StraightenError::Outside(2));
    let good = [
        (100.0, 700.0),
        (900.0, 700.0),
        (900.0, 100.0),
        (100.0, 100.0),
    ]
    .map(Point::from);
    let nothing = KnownRectangle::sheet("card", Mm(0.0), Mm(f64::NAN));
    let refused = by_rectangle(&picture, good, &nothing, Bottom::AsItLooks);
    assert_eq!(refused, Err(StraightenError::NoSize));
    let same = by_two_points(
        &picture,
        Point::new(5.0, 5.0),
        Point::new(6.0, 5.0),
        Mm(50.0),
    );
    assert_eq!(same, Err(StraightenError::TooSmall(1.0)));
}

#[test]
fn two_points_give_the_scale_of_a_scan_with_y_upward() {
    let picture = Picture {
        file: String::new(),
        width: 1000,
        height: 800,
        rgb: vec![90; 3 * 1000 * 800],
        density: None,
        words: Vec::new(),
    };
    let (from, to) = (Point::new(100.0, 700.0), Point::new(700.0, 700.0));
    let straight = by_two_points(&picture, from, to, Mm(150.0)).unwrap();
    let at = |x: f64, y: f64| straight.mm_from_px.apply(Point::new(x, y)).unwrap();
    assert!((at(0.0, 800.0) - Point::ZERO).hypot() < 1e-9);
    assert!((at(1000.0, 0.0) - Point::new(250.0, 200.0)).hypot() < 1e-9);
    assert!((straight.px_per_mm - 4.0).abs() < 1e-9);
    // One pixel an end: 1.41 pixels in 600 over the 320 mm of the diagonal.
    let said = straight.error_at(Point::new(1000.0, 0.0));
    assert!((0.6..0.9).contains(&said), "{said}");
}
