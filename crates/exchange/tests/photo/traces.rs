//! Outlines traced in drawn photographs, against the outlines they were drawn from.

use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use petitoile_core::LengthUnit;
use petitoile_core::kurbo::{Point, Shape};
use petitoile_exchange::bring_in::Watch;
use petitoile_exchange::photo::straighten::{Bottom, by_rectangle, by_two_points};
use petitoile_exchange::photo::{
    KnownRectangle, TraceError, Traced, Trust, Wanted, as_offcut, as_outline, trace,
};

use super::camera::Camera;
use super::scene::{Scene, circle, off_by, offcut, rectangle, straight};

const TABLE: [f64; 3] = [150.0, 143.0, 132.0];
const PAPER: [f64; 3] = [238.0, 238.0, 234.0];
const DARK: [f64; 3] = [44.0, 48.0, 70.0];
const MID: [f64; 3] = [112.0, 100.0, 98.0];
const PALE: [f64; 3] = [158.0, 150.0, 139.0];

/// A sheet of A4 at the origin and an offcut with a hole beside it, seen aslant, 4 to 4.6 pixels a mm.
fn scene(cloth: [f64; 3], shadow: Option<(f64, f64)>) -> Scene {
    Scene {
        camera: Camera {
            over: Point::new(168.0, 148.0),
            away: 1100.0,
            tilt: 9.0,
            roll: 2.0,
            focal: 4.7 * 1100.0,
            size: (1720, 1560),
        },
        table: TABLE,
        things: vec![
            (rectangle((0.0, 0.0), (210.0, 297.0)), PAPER),
            (offcut((228.0, 70.0)), cloth),
            (circle((262.0, 130.0), 9.0), TABLE),
        ],
        shadow,
        blur: 0.9,
        noise: 3.0,
        seed: 4,
    }
}

fn trace_scene(scene: &Scene) -> Result<Vec<Traced>, TraceError> {
    let picture = scene.photograph();
    let corners = [(0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)];
    let off = [(2.1, -2.0), (-1.5, 2.5), (2.9, 0.4), (-2.0, -2.2)];
    let mut clicks = corners.map(|corner| scene.camera.px(Point::from(corner)));
    for (click, off) in clicks.iter_mut().zip(off) {
        *click += off;
    }
    let straight =
        by_rectangle(&picture, clicks, &KnownRectangle::a4(), Bottom::AsItLooks).unwrap();
    assert!(straight.px_per_mm > 3.9, "{}", straight.px_per_mm);
    let at = scene.camera.px(Point::new(290.0, 100.0));
    trace(
        &picture,
        &straight,
        &Wanted::at(at, &straight),
        &Watch::default(),
    )
}

/// Traces, asserts how far off it is and that the piece says so itself: its own figure bounds the true one, and is no
/// more than so much too careful.
fn check(scene: &Scene, mean: f64) -> Traced {
    let traced = trace_scene(scene).unwrap().remove(0);
    let (own_mean, own_worst) = off_by(&traced.outline, &offcut((228.0, 70.0)));
    assert_eq!(traced.holes.len(), 1);
    let hole = off_by(&traced.holes[0].outline, &circle((262.0, 130.0), 9.0));
    let said = traced.exactness;
    let figures = format!(
        "mean {own_mean:.3} worst {own_worst:.3}, hole {:.3} {:.3}, said {said:?}, {} curves",
        hole.0,
        hole.1,
        traced.outline.segments().count(),
    );
    assert!(own_mean < mean && hole.0 < mean, "{figures}");
    assert!(own_mean < said.mean.0 && hole.0 < said.mean.0, "{figures}");
    assert!(own_worst < said.worst.0 && said.mean.0 < 0.1, "{figures}");
    assert!(traced.outline.segments().count() <= 36, "{figures}");
    traced
}

#[test]
fn a_dark_offcut_is_traced_within_a_twentieth_of_a_millimetre() {
    let traced = check(&scene(DARK, None), 0.05);
    assert_eq!(traced.trust, Trust::Good);
    let corners = [
        (4.0, 0.0),
        (92.0, 8.0),
        (98.0, 60.0),
        (58.0, 148.0),
        (40.0, 128.0),
        (0.0, 140.0),
    ];
    assert_eq!(traced.corners.len(), corners.len());
    for (x, y) in corners {
        let truth = Point::new(228.0 + x, 70.0 + y);
        let nearest = traced
            .corners
            .iter()
            .map(|c| (*c - truth).hypot())
            .fold(f64::MAX, f64::min);
        assert!(nearest < 0.12, "{nearest:.3} from {truth:?}");
    }
    let words = traced.words(LengthUnit::Millimetre);
    assert!(words[0].starts_with("exact within 0."), "{words:?}");

    let outline = as_outline(&traced).unwrap();
    assert_eq!(outline.edges().len(), 6);
    assert!(traced.outline.area() > 0.0, "counter-clockwise");
    let cloth = as_offcut(&traced, "rest", "linen").unwrap();
    let truth = offcut((0.0, 0.0)).area() - std::f64::consts::PI * 81.0;
    assert!(
        (cloth.area() - truth).abs() < 12.0,
        "{} for {truth}",
        cloth.area()
    );
    assert!(cloth.blemishes.len() == 1 && cloth.blemishes[0].is_hole);
}

#[test]
fn a_mid_toned_offcut_under_a_soft_shadow_is_traced_within_a_tenth() {
    let traced = check(&scene(MID, Some((0.62, 160.0))), 0.1);
    assert_eq!(traced.trust, Trust::Good);
    assert_eq!(traced.corners.len(), 6);
}

#[test]
fn pale_cloth_is_not_to_be_trusted() {
    match trace_scene(&scene(PALE, Some((0.62, 160.0)))) {
        Ok(traced) => {
            assert_eq!(traced[0].trust, Trust::TooLittleContrast);
            let words = traced[0].words(LengthUnit::Inch);
            assert!(words[0].contains("cannot be trusted"), "{words:?}");
        }
        Err(why) => assert!(why.to_string().contains("too little contrast"), "{why}"),
    }
    // What is as pale as its table is not there.
    let unseen = trace_scene(&scene([151.0, 143.0, 132.0], None)).unwrap_err();
    assert!(
        unseen.to_string().contains("too little contrast"),
        "{unseen}"
    );
}

/// Three things seen from straight above at 4 pixels a mm, no sheet.
fn pieces() -> Scene {
    let [red, blue] = [[150.0, 50.0, 50.0], [60.0, 80.0, 140.0]];
    Scene {
        camera: Camera::above(Point::new(100.0, 75.0), 4.0, (800, 600)),
        table: TABLE,
        things: vec![
            (
                straight(&[(20.0, 20.0), (80.0, 25.0), (70.0, 110.0), (25.0, 100.0)]),
                red,
            ),
            (circle((140.0, 50.0), 28.0), blue),
            // A pin.
            (rectangle((110.0, 110.0), (6.0, 3.0)), red),
            // Runs out of the picture.
            (rectangle((170.0, 100.0), (80.0, 20.0)), blue),
        ],
        shadow: None,
        blur: 0.8,
        noise: 2.0,
        seed: 9,
    }
}

#[test]
fn several_pieces_are_traced_at_once_the_largest_first() {
    let scene = pieces();
    let picture = scene.photograph();
    let (from, to) = (Point::new(0.0, 600.0), Point::new(800.0, 600.0));
    let scale = by_two_points(&picture, from, to, petitoile_core::Mm(200.0)).unwrap();
    let done = AtomicU32::new(0);
    let watch = Watch {
        stop: None,
        done: Some(&done),
    };
    let traced = trace(&picture, &scale, &Wanted::all(&scale), &watch).unwrap();
    assert_eq!(done.load(Ordering::Relaxed), 1000);
    assert_eq!(traced.len(), 2);
    let leaf = straight(&[(20.0, 20.0), (80.0, 25.0), (70.0, 110.0), (25.0, 100.0)]);
    let (mean, worst) = off_by(&traced[0].outline, &leaf);
    assert!(mean < 0.02 && worst < 0.15, "{mean:.3} {worst:.3}");
    assert_eq!(
        (
            traced[0].corners.len(),
            traced[0].outline.segments().count()
        ),
        (4, 4)
    );
    let (mean, worst) = off_by(&traced[1].outline, &circle((140.0, 50.0), 28.0));
    assert!(mean < 0.02 && worst < 0.1, "{mean:.3} {worst:.3}");
    assert_eq!((traced[1].corners.len(), traced[1].edges.len()), (0, 1));

    // What runs out of the picture is traced when it is pointed at, and says so.
    let at = scene.camera.px(Point::new(185.0, 110.0));
    let cut = trace(&picture, &scale, &Wanted::at(at, &scale), &Watch::default()).unwrap();
    assert!(cut[0].at_rim && cut[0].trust >= Trust::Look);

    let stop = AtomicBool::new(true);
    let watch = Watch {
        stop: Some(&stop),
        done: None,
    };
    let stopped = trace(&picture, &scale, &Wanted::all(&scale), &watch);
    assert!(matches!(stopped, Err(TraceError::Stopped(_))));
}

#[test]
fn a_small_piece_is_traced_on_the_known_sheet_itself() {
    let leaf = straight(&[(30.0, 30.0), (75.0, 28.0), (60.0, 70.0)]);
    let scene = Scene {
        camera: Camera::above(Point::new(60.0, 43.0), 6.0, (840, 620)),
        table: [70.0, 60.0, 50.0],
        things: vec![
            (rectangle((0.0, 0.0), (120.0, 86.0)), PAPER),
            (leaf.clone(), MID),
        ],
        shadow: None,
        blur: 0.8,
        noise: 2.0,
        seed: 5,
    };
    let picture = scene.photograph();
    let corners = [(0.0, 0.0), (120.0, 0.0), (120.0, 86.0), (0.0, 86.0)];
    let clicks = corners.map(|mm| scene.camera.px(Point::from(mm)));
    let card = KnownRectangle::sheet("card", petitoile_core::Mm(120.0), petitoile_core::Mm(86.0));
    let flat = by_rectangle(&picture, clicks, &card, Bottom::Width).unwrap();
    let at = scene.camera.px(Point::new(55.0, 42.0));
    let traced = trace(&picture, &flat, &Wanted::at(at, &flat), &Watch::default()).unwrap();
    let (mean, worst) = off_by(&traced[0].outline, &leaf);
    assert!(mean < 0.03 && worst < 0.15, "{mean:.3} {worst:.3}");
}
