//! Pages joined: by figures, by what they share, by guess; dragged and snapped.

use super::*;
use petitoile_core::kurbo::{
    BezPath, CubicBez, Line as Straight, ParamCurveNearest, PathSeg, Vec2,
};
use petitoile_exchange::bring_in::Pace;
use petitoile_exchange::bring_in::sheets::{Joined, Matches, PagePlaces, PlacedBy, Rows, joined};

/// The outline that `make.py` spreads over pages, its lower left corner at 10, 10.
fn outline() -> BezPath {
    let mut path = BezPath::new();
    path.move_to((10.0, 10.0));
    path.line_to((460.0, 10.0));
    path.curve_to((440.0, 120.0), (430.0, 220.0), (455.0, 330.0));
    path.curve_to((380.0, 340.0), (360.0, 420.0), (390.0, 520.0));
    path.line_to((250.0, 560.0));
    path.curve_to((240.0, 500.0), (180.0, 470.0), (10.0, 480.0));
    path.close_path();
    path
}

/// The same as `make.py` cuts it: each curve as forty straight lines.
fn straightened() -> BezPath {
    let mut path = BezPath::new();
    path.move_to((10.0, 10.0));
    for segment in outline().segments() {
        match segment {
            PathSeg::Cubic(CubicBez { .. }) => {
                (1..=40).for_each(|i| path.line_to(segment.eval(f64::from(i) / 40.0)));
            }
            _ => path.line_to(segment.end()),
        }
    }
    path
}

/// How far points of one path lie from another, at most.
fn off(points_of: &BezPath, path: &BezPath) -> f64 {
    let segments: Vec<PathSeg> = path.segments().collect();
    let mut worst = 0.0_f64;
    for segment in points_of.segments() {
        for i in 0..=16 {
            let p = segment.eval(f64::from(i) / 16.0);
            let near = segments
                .iter()
                .map(|s| s.nearest(p, 1e-7).distance_sq.sqrt())
                .fold(f64::MAX, f64::min);
            worst = worst.max(near);
        }
    }
    worst
}

/// Checks that the sheet holds outline, square, dart and grain arrow once each, within a tolerance.
pub fn check(name: &str, joined: &Joined, truth: &BezPath, tolerance: f64) {
    // Some writers come back to the start without closing.
    let comes_back = |line: &&FoundLine| {
        let ends = line.path.segments().next().zip(line.path.segments().last());
        line.closed || ends.is_some_and(|(a, b)| a.start().distance(b.end()) < 1e-3)
    };
    let closed: Vec<&FoundLine> = joined.sheet.lines.iter().filter(comes_back).collect();
    let sizes: Vec<(Rect, Point, Point)> = joined
        .sheet
        .lines
        .iter()
        .map(|l| {
            let (first, last) = (
                l.path.segments().next().unwrap(),
                l.path.segments().last().unwrap(),
            );
            (l.path.bounding_box(), first.start(), last.end())
        })
        .collect();
    assert_eq!(
        closed.len(),
        2,
        "{name}: outline and square among {sizes:?}; {:?}",
        joined.left
    );
    let largest = closed
        .iter()
        .max_by(|a, b| a.path.area().abs().total_cmp(&b.path.area().abs()))
        .unwrap();
    let step = largest.path.bounding_box().origin() - truth.bounding_box().origin();
    let moved = petitoile_core::kurbo::Affine::translate(step) * truth.clone();
    let (there, back) = (off(&largest.path, &moved), off(&moved, &largest.path));
    assert!(
        there < tolerance && back < tolerance,
        "{name}: {there} and {back} mm off"
    );
    let open: Vec<&FoundLine> = joined
        .sheet
        .lines
        .iter()
        .filter(|line| !comes_back(line))
        .collect();
    assert_eq!(open.len(), 2, "{name}: dart and grain among {sizes:?}");
    let grain = Straight::new((300.0, 60.0), (300.0, 430.0));
    let grain = petitoile_core::kurbo::Affine::translate(step) * grain;
    let ends = |line: &&&FoundLine| {
        let (first, last) = (
            line.path.segments().next().unwrap().start(),
            line.path.segments().last().unwrap().end(),
        );
        first.distance(grain.p0).min(last.distance(grain.p0)) < tolerance
            && first.distance(grain.p1).min(last.distance(grain.p1)) < tolerance
    };
    assert_eq!(
        open.iter().filter(ends).count(),
        1,
        "{name}: the grain arrow from end to end"
    );
    assert!(
        joined.worst_gap < tolerance,
        "{name}: gap {}",
        joined.worst_gap
    );
}

/// File, columns, and what is shared of whole pages, across and up.
pub fn samples() -> Vec<(&'static str, usize, (f64, f64), BezPath)> {
    vec![
        ("tiled_reportlab.pdf", 3, (32.0, 32.0), outline()),
        (
            "tiled_cairo.pdf",
            3,
            (215.9 - 185.0, 279.4 - 245.0),
            outline(),
        ),
        ("cut_with_overlap.pdf", 3, (8.0, 8.0), straightened()),
        ("cut_edge_to_edge.pdf", 3, (0.0, 0.0), straightened()),
    ]
}

pub fn rows(columns: usize, overlap: (f64, f64)) -> Rows {
    Rows {
        columns,
        overlap,
        ..Rows::default()
    }
}

#[test]
fn pages_in_rows_with_their_overlap_become_one_sheet_within_a_hundredth_of_a_mm() {
    for (name, columns, overlap, truth) in samples() {
        let drawing = found(name);
        let places = PagePlaces::in_rows(&drawing, &rows(columns, overlap));
        check(
            name,
            &joined(&drawing, &places, 0.5, &Pace::default()).unwrap(),
            &truth,
            0.01,
        );
    }
}

#[test]
fn an_overlap_given_wrong_by_millimetres_is_put_right_by_the_lines() {
    for (name, columns, overlap, truth) in samples() {
        let drawing = found(name);
        let wrong = (overlap.0 + 2.5, overlap.1 - 1.5);
        let given = PagePlaces::in_rows(&drawing, &rows(columns, wrong));
        let places = Matches::of(&drawing, &Pace::default())
            .unwrap()
            .refined(&given);
        assert!(
            places
                .pages
                .iter()
                .skip(1)
                .all(|place| place.by == PlacedBy::Lines),
            "{name}: {places:#?}"
        );
        check(
            name,
            &joined(&drawing, &places, 0.5, &Pace::default()).unwrap(),
            &truth,
            0.02,
        );
    }
}

#[test]
fn without_a_word_from_the_maker_pages_that_share_lines_find_their_places() {
    for (name, columns, overlap, truth) in samples() {
        let drawing = found(name);
        let places = Matches::of(&drawing, &Pace::default())
            .unwrap()
            .proposed(&drawing, &Pace::default())
            .unwrap();
        let given = PagePlaces::in_rows(&drawing, &rows(columns, overlap));
        for (guess, truth) in places.pages.iter().zip(&given.pages) {
            assert!(
                guess.at.distance(truth.at) < 0.02,
                "{name}: {places:#?} {given:#?}"
            );
        }
        check(
            name,
            &joined(&drawing, &places, 0.5, &Pace::default()).unwrap(),
            &truth,
            0.02,
        );
    }
}

#[test]
fn a_page_let_go_near_its_place_snaps_to_where_its_lines_go_on() {
    for (name, columns, overlap, _) in samples() {
        let drawing = found(name);
        let places = PagePlaces::in_rows(&drawing, &rows(columns, overlap));
        let matches = Matches::of(&drawing, &Pace::default()).unwrap();
        let (page, truth) = (4, places.pages[4].at);
        for step in [Vec2::new(3.0, -2.0), Vec2::new(-4.0, 1.5), Vec2::ZERO] {
            let dragged = places.with(page, truth + step);
            let snapped = matches.snapped(page, truth + step, &dragged);
            assert!(
                snapped.distance(truth) < 0.02,
                "{name}: {snapped:?} for {truth:?}"
            );
        }
        let far = Point::new(3000.0, 3000.0);
        assert_eq!(
            matches.snapped(page, far, &places),
            far,
            "where nothing meets it stays"
        );
    }
}

#[test]
fn a_margin_that_is_cut_off_takes_its_words_with_it_and_says_so() {
    let drawing = found("tiled_reportlab.pdf");
    let trimmed = Rows {
        trim: 10.0,
        ..rows(3, (12.0, 12.0))
    };
    let places = PagePlaces::in_rows(&drawing, &trimmed);
    let joined = joined(&drawing, &places, 0.5, &Pace::default()).unwrap();
    check("trimmed", &joined, &outline(), 0.01);
    let mut words: Vec<&str> = joined
        .sheet
        .texts
        .iter()
        .map(|t| t.words.as_str())
        .collect();
    words.sort_unstable();
    assert_eq!(words, ["5 cm", "Skirt front, cut 1"]);
    assert!(
        joined
            .left
            .iter()
            .any(|left| left.what.contains("in the edge that is cut off"))
    );
    assert!(joined.doubles >= 8);
}

#[test]
fn lines_that_end_at_a_seam_and_go_on_nowhere_are_told() {
    let drawing = found("cut_edge_to_edge.pdf");
    let places = PagePlaces::in_rows(&drawing, &rows(3, (0.0, 0.0)));
    let wrong = places.with(4, places.pages[4].at + Vec2::new(6.0, 4.0));
    let joined = joined(&drawing, &wrong, 0.5, &Pace::default()).unwrap();
    assert!(
        joined
            .left
            .iter()
            .any(|left| left.what.contains("go on nowhere")),
        "{:?}",
        joined.left
    );
}

#[test]
fn nested_sizes_on_many_pages_are_whole_again_each_once() {
    use crate::nested::{Nested, areas, pages};
    let nested = Nested {
        columns: 4,
        rows: 3,
        sizes: 6,
        segments: 900,
    };
    for whole_lines in [true, false] {
        let drawing = bring_in(&pages(&nested, whole_lines), "nested.pdf").unwrap();
        let places = Matches::of(&drawing, &Pace::default())
            .unwrap()
            .proposed(&drawing, &Pace::default())
            .unwrap();
        for (place, area) in places.pages.iter().zip(areas(&nested)) {
            assert!(
                place.at.distance(area.origin()) < 0.02,
                "{place:?} for {area:?}"
            );
        }
        let joined = joined(&drawing, &places, 0.5, &Pace::default()).unwrap();
        assert_eq!(joined.sheet.lines.len(), nested.sizes, "{:?}", joined.left);
        assert!(joined.left.is_empty(), "{:?}", joined.left);
        let mut areas: Vec<f64> = joined
            .sheet
            .lines
            .iter()
            .map(|l| l.path.area().abs())
            .collect();
        areas.sort_by(f64::total_cmp);
        // The area within an ellipse whose radius waves by 5 %: closed form.
        for (size, area) in areas.iter().enumerate() {
            let share = 0.55 + 0.02 * size as f64;
            let (w, h) = (4.0 * 200.0 / 2.0 * share, 3.0 * 287.0 / 2.0 * share);
            let truth = std::f64::consts::PI * w * h * (1.0 + 0.05 * 0.05 / 2.0);
            assert!((area / truth - 1.0).abs() < 1e-4, "{area} for {truth}");
        }
    }
}

#[test]
fn thirty_pages_of_cut_lines_are_whole_lines_within_a_hundredth_of_a_mm() {
    use crate::nested::{Nested, areas, pages};
    let nested = Nested {
        columns: 6,
        rows: 5,
        sizes: 20,
        segments: 2800,
    };
    let drawing = bring_in(&pages(&nested, false), "nested.pdf").unwrap();
    let places = Matches::of(&drawing, &Pace::default())
        .unwrap()
        .proposed(&drawing, &Pace::default())
        .unwrap();
    let off = places
        .pages
        .iter()
        .zip(areas(&nested))
        .map(|(place, area)| place.at.distance(area.origin()))
        .fold(0.0, f64::max);
    let whole = joined(&drawing, &places, 0.5, &Pace::default()).unwrap();
    assert_eq!(whole.sheet.lines.len(), nested.sizes, "{:?}", whole.left);
    assert!(off < 0.01, "pages {off} mm off");
    // Where a line goes through the corners of four pages, one page may show so short a stub of it (under the tolerance)
    // that its neighbours are joined over it: a gap along the line, of up to a tenth here, that is bridged straight on.
    assert!(whole.worst_gap < 0.1, "{}", whole.worst_gap);
    // So no line is off: every corner and the middle of every stretch lie on the true curve, in closed form.
    let mut lines: Vec<_> = whole.sheet.lines.iter().collect();
    lines.sort_by(|a, b| a.path.area().abs().total_cmp(&b.path.area().abs()));
    let (w, h) = (6.0 * 200.0 / 2.0, 5.0 * 287.0 / 2.0);
    for (size, line) in lines.into_iter().enumerate() {
        let share = 0.55 + 0.02 * size as f64;
        let astray = |p: Point| {
            let (x, y) = ((p.x - w) / w, (p.y - h) / h);
            let turn = y.atan2(x);
            (x.hypot(y) - share * (1.0 + 0.05 * (5.0 * turn).sin())).abs() * w.max(h)
        };
        for segment in line.path.segments() {
            let worst = astray(segment.eval(0.5)).max(astray(segment.end()));
            assert!(
                worst < 0.01,
                "size {size}: {worst} mm at {:?}",
                segment.end()
            );
        }
    }
}

#[test]
fn joining_and_recognising_tell_how_far_they_are_and_stop_when_told() {
    use petitoile_exchange::bring_in::recognise::{Choices, recognise_at};
    use petitoile_exchange::bring_in::{BringInError, Watch};
    use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

    let drawing = found("tiled_reportlab.pdf");
    let (stop, done) = (AtomicBool::new(false), AtomicU32::new(0));
    let watch = Watch {
        stop: Some(&stop),
        done: Some(&done),
    };
    let pace = Pace::new(&watch, "tiled.pdf");
    let all_done = |at: u32| assert_eq!(done.swap(0, Ordering::Relaxed), at);
    let matches = Matches::of(&drawing, &pace.part(0.0, 0.2)).unwrap();
    all_done(200);
    let places = matches.proposed(&drawing, &pace.part(0.2, 0.4)).unwrap();
    all_done(400);
    let whole = joined(&drawing, &places, 0.5, &pace.part(0.4, 0.7)).unwrap();
    all_done(700);
    recognise_at(&whole.sheet, &Choices::default(), &pace.part(0.7, 1.0)).unwrap();
    all_done(1000);

    stop.store(true, Ordering::Relaxed);
    let stopped = |error: Option<BringInError>| {
        assert!(matches!(error, Some(BringInError::Stopped { file }) if file == "tiled.pdf"));
    };
    stopped(Matches::of(&drawing, &pace).err());
    stopped(matches.proposed(&drawing, &pace).err());
    stopped(matches.refined_at(&places, &pace).err());
    stopped(joined(&drawing, &places, 0.5, &pace).err());
    stopped(recognise_at(&whole.sheet, &Choices::default(), &pace).err());
}
