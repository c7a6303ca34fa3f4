//! Clips and wedges against closed forms.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::f64::consts::{FRAC_PI_2, PI};

use kurbo::{CubicBez, Point};
use proptest::prelude::*;

use super::*;
use crate::Mm;
use crate::geometry::arc::arc;
use crate::geometry::curve::Line;

/// An arc walked clockwise (hollow) or counter-clockwise (round).
fn curve(radius: f64, angle: f64, hollow: bool) -> Line {
    let line = Line::from_cubics(&arc(Point::ZERO, radius, 0.0, angle)).unwrap();
    if hollow { line.reversed() } else { line }
}

#[test]
fn a_quarter_circle_of_20_mm_with_6_mm_turned_back_is_clipped_ten_times_by_1_885_mm() {
    let cuts = cuts_along(
        &curve(20.0, FRAC_PI_2, true),
        Mm(6.0),
        Bend::TurnedBack,
        Mm(2.0),
    );
    assert_eq!(cuts.len(), 1);
    let cuts = &cuts[0];
    assert_eq!((cuts.cut, cuts.places.len()), (CurveCut::Clip, 10));
    // 2 a s / r, where s is the spacing: closed form.
    let spacing = cuts.places[1].0 - cuts.places[0].0;
    assert!(
        (spacing - 20.0 * FRAC_PI_2 / 10.0).abs() < 1e-3,
        "{spacing}"
    );
    assert!((cuts.opens.0 - 2.0 * 6.0 * spacing / 20.0).abs() < 1e-3);
    assert!((cuts.radius.0 - 20.0).abs() < 0.1, "{:?}", cuts.radius);
    // The first lies half a spacing from the end of the edge.
    assert!((cuts.places[0].0 - spacing / 2.0).abs() < 1e-3);
}

#[test]
fn laid_over_an_allowance_opens_by_half_as_much_and_a_round_edge_is_notched_out() {
    let over = cuts_along(
        &curve(20.0, FRAC_PI_2, true),
        Mm(6.0),
        Bend::LaidOver,
        Mm(2.0),
    );
    let spacing = over[0].places[1].0 - over[0].places[0].0;
    assert_eq!(over[0].places.len(), 5);
    assert!(
        (over[0].opens.0 - 6.0 * spacing / 20.0).abs() < 1e-3,
        "s a / r"
    );
    let round = cuts_along(
        &curve(20.0, FRAC_PI_2, false),
        Mm(6.0),
        Bend::TurnedBack,
        Mm(2.0),
    );
    assert_eq!(
        (round[0].cut, round[0].places.len()),
        (CurveCut::NotchOut, 10)
    );
}

#[test]
fn the_tighter_a_curve_the_closer_its_clips() {
    let spacing = |radius: f64| {
        let cuts = cuts_along(&curve(radius, PI, true), Mm(5.0), Bend::TurnedBack, Mm(1.0));
        cuts[0].places[1].0 - cuts[0].places[0].0
    };
    assert!((spacing(160.0) / spacing(40.0) - 4.0).abs() < 1e-3);
}

#[test]
fn a_curve_too_tight_for_its_clips_has_its_allowance_trimmed_until_they_are_enough() {
    // Radius 5, half round, 6 mm turned back: 2 x 6 x 3.14 = 37.7 mm at 2 mm each would be 19 clips on 15.7 mm.
    let cuts = &cuts_along(&curve(5.0, PI, true), Mm(6.0), Bend::TurnedBack, Mm(2.0))[0];
    assert_eq!(
        cuts.places.len(),
        7,
        "no closer than 2 mm: 15.7 / 7 = 2.24, 15.7 / 8 = 1.96"
    );
    let trimmed = cuts.trim_to.unwrap().0;
    // 2 x trimmed x 3.14 is what 7 clips of 2 mm open.
    assert!((2.0 * trimmed * PI - 14.0).abs() < 1e-2, "{trimmed}");
    assert_eq!(cuts.opens, Mm(2.0));
}

#[test]
fn a_straight_edge_and_one_that_bends_a_little_are_left_alone() {
    let straight = Line::straight(Point::ZERO, Point::new(100.0, 0.0));
    assert!(cuts_along(&straight, Mm(6.0), Bend::TurnedBack, Mm(2.0)).is_empty());
    // 6 degrees: 2 x 6 x 0.105 = 1.26 mm to spread is over half of 2 mm; at 3 mm of allowance it is not.
    let little = curve(300.0, 0.105, true);
    assert_eq!(
        cuts_along(&little, Mm(6.0), Bend::TurnedBack, Mm(2.0))[0]
            .places
            .len(),
        1
    );
    assert!(cuts_along(&little, Mm(3.0), Bend::TurnedBack, Mm(2.0)).is_empty());
    assert!(cuts_along(&little, Mm(0.0), Bend::TurnedBack, Mm(2.0)).is_empty());
}

#[test]
fn an_edge_that_turns_both_ways_is_clipped_on_one_stretch_and_notched_out_on_the_other() {
    let both = Line::new(
        [(0.0, 0.0), (20.0, 30.0), (40.0, -30.0), (60.0, 0.0)]
            .map(Point::from)
            .to_vec(),
    )
    .unwrap();
    let cuts = cuts_along(&both, Mm(6.0), Bend::TurnedBack, Mm(2.0));
    let kinds: Vec<CurveCut> = cuts.iter().map(|c| c.cut).collect();
    assert_eq!(kinds, [CurveCut::Clip, CurveCut::NotchOut]);
    let (last, first) = (cuts[0].places.last().unwrap().0, cuts[1].places[0].0);
    assert!(last < both.length() / 2.0 && both.length() / 2.0 < first);
}

proptest! {
    #[test]
    fn clips_make_up_for_the_whole_turn_and_none_opens_too_wide(
        x in -40.0..40.0_f64, y in -40.0..40.0_f64, u in 10.0..90.0_f64, v in -40.0..40.0_f64,
        allowance in 2.0..16.0_f64, most in 0.5..3.0_f64,
    ) {
        let cubic = CubicBez::new((0.0, 0.0), (x.abs() + 5.0, y), (u - 5.0, v), (u, 0.0));
        let line = Line::from_cubics(&[cubic]).unwrap();
        let length = line.length();
        for cuts in cuts_along(&line, Mm(allowance), Bend::TurnedBack, Mm(most)) {
            prop_assert!(cuts.opens.0 <= most + 1e-9);
            // Fewer would open too wide, unless the allowance is trimmed so that they are enough.
            let whole = cuts.opens.0 * cuts.places.len() as f64;
            prop_assert!(cuts.trim_to.is_some() || cuts.places.len() == 1 || whole / (cuts.places.len() - 1) as f64 > most - 1e-9);
            let width = cuts.trim_to.map_or(allowance, |trimmed| trimmed.0);
            prop_assert!(width <= allowance + 1e-9);
            let apart = cuts.places.windows(2).map(|w| w[1].0 - w[0].0).fold(f64::INFINITY, f64::min);
            prop_assert!(apart >= CLOSEST_CUTS.0 - 1e-9);
            let inside = cuts.places.iter().all(|p| 0.0 <= p.0 && p.0 <= length + 1e-6);
            prop_assert!(inside && cuts.places.windows(2).all(|w| w[0].0 < w[1].0));
        }
    }
}
