//! Closed forms and laws of pads.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

use std::f64::consts::{PI, TAU};

use proptest::prelude::*;

use super::*;
use crate::machine::Machine;

fn pad(p: f64, d: f64, share: f64, middle: PadMiddle) -> Pad {
    Pad {
        name: "roll".to_owned(),
        projection: Mm(p),
        below_waist: Mm(d),
        share,
        middle,
    }
}

/// Fact of the issue, computed: 25 mm at 30 mm below the waist lengthen a skirt by 9.05 mm.
#[test]
fn a_pad_of_25_mm_30_mm_below_the_waist_makes_the_skirt_9_05_mm_longer_at_its_middle_only() {
    let bustle = pad(25.0, 30.0, 0.5, PadMiddle::Back);
    assert!((bustle.longer_at(1.0).0 - 9.05).abs() < 0.005);
    assert!((bustle.longer_at(1.0).0 - ((625.0_f64 + 900.0).sqrt() - 30.0)).abs() < 1e-12);
    assert_eq!(bustle.longer_at(0.5).0, 0.0, "its end lies at the side");
    assert_eq!(bustle.longer_at(0.2).0, 0.0);
    let sides = pad(25.0, 30.0, 0.5, PadMiddle::Sides);
    assert!((sides.longer_at(0.5).0 - 9.05).abs() < 0.005);
    assert_eq!((sides.longer_at(0.0).0, sides.longer_at(1.0).0), (0.0, 0.0));
}

#[test]
fn a_roll_all_round_adds_2_pi_times_its_projection() {
    let roll = [pad(12.0, 20.0, 1.0, PadMiddle::Back)];
    for (girth, down, lift) in [(300.0, 20.0, 12.0), (300.0, 55.0, 12.0), (84.0, 10.0, 6.0)] {
        let got = girth_over(&roll, Mm(girth), Mm(down)).0;
        assert!((got - girth - TAU * lift).abs() < 1e-9, "{girth}: {got}");
    }
    assert_eq!(
        girth_over(&roll, Mm(300.0), Mm(0.0)),
        Mm(300.0),
        "at the waist nothing"
    );
}

/// The same tape by another way: the width of the lifted ring seen from every side, averaged (Cauchy).
fn by_support(pads: &[Pad], girth: f64) -> f64 {
    let radius = girth / TAU;
    let count = 3600;
    let points: Vec<(f64, f64)> = (0..count)
        .map(|i| {
            let angle = TAU * f64::from(i) / f64::from(count);
            let round = if angle > PI { TAU - angle } else { angle } / PI;
            let r = radius + pads.iter().map(|pad| pad.lift_at(round).0).sum::<f64>();
            (r * angle.cos(), r * angle.sin())
        })
        .collect();
    let looks = 720;
    let reach = |angle: f64| {
        let (s, c) = angle.sin_cos();
        points
            .iter()
            .map(|p| p.0 * c + p.1 * s)
            .fold(f64::MIN, f64::max)
    };
    (0..looks)
        .map(|i| reach(TAU * f64::from(i) / f64::from(looks)) * TAU / f64::from(looks))
        .sum()
}

#[test]
fn a_tape_over_a_pad_is_as_long_as_the_widths_seen_from_all_sides_say() {
    for (p, share, middle) in [
        (25.0, 0.5, PadMiddle::Back),
        (12.0, 0.3, PadMiddle::Front),
        (18.0, 0.6, PadMiddle::Sides),
        (6.0, 0.95, PadMiddle::Sides),
    ] {
        let pads = [pad(p, 20.0, share, middle)];
        let (got, other) = (
            girth_over(&pads, Mm(300.0), Mm(40.0)).0,
            by_support(&pads, 300.0),
        );
        assert!(
            (got - other).abs() < 0.02,
            "{p} {share} {middle:?}: {got} {other}"
        );
    }
}

#[test]
fn a_crescent_is_a_spindle_and_a_ring_a_tube() {
    let machine = Machine::default();
    let crescent = pad(12.0, 20.0, 0.5, PadMiddle::Back).pattern(Mm(300.0), Mm(0.3), &machine);
    assert!((crescent.length.0 - 150.0).abs() < 1e-12);
    assert!((crescent.volume_ml - PI / 6.0 * 150.0 * 144.0 / 1000.0).abs() < 1e-9);
    // Ramanujan's second formula for the way round an ellipse (from memory), good to 1e-4 here.
    let (a, b) = (75.0_f64, PI / 4.0 * 12.0);
    let h = ((a - b) / (a + b)).powi(2);
    let round = PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
    assert!(
        (crescent.seam.0 / round - 1.0).abs() < 1e-3,
        "{} {round}",
        crescent.seam.0
    );
    let sides = pad(12.0, 20.0, 0.5, PadMiddle::Sides).pattern(Mm(300.0), Mm(0.3), &machine);
    assert_eq!((sides.count, sides.length), (2, Mm(75.0)));
    assert!(
        (sides.volume_ml - crescent.volume_ml).abs() < 1e-9,
        "the same stuffing, shared"
    );
    let ring = pad(12.0, 20.0, 1.0, PadMiddle::Back).pattern(Mm(300.0), Mm(0.3), &machine);
    // Guldin: section times the way of its middle.
    let middle = TAU * (300.0 / TAU + 6.0);
    assert!((ring.volume_ml - PI * 36.0 * middle / 1000.0).abs() < 1e-9);
    // 4 mm under the foot, two layers of 0.3 mm: 3.4 mm of pressed wadding, 10.2 mm of loft.
    assert!((ring.quiltable.0 - 10.2).abs() < 1e-9);
}

fn any_pad() -> impl Strategy<Value = Pad> {
    let middle = prop_oneof![
        Just(PadMiddle::Back),
        Just(PadMiddle::Sides),
        Just(PadMiddle::Front)
    ];
    (0.0..40.0, 0.0..80.0, 0.0..=1.0, middle)
        .prop_map(|(p, d, share, middle)| pad(p, d, share, middle))
}

proptest! {
    #[test]
    fn a_pad_never_makes_a_girth_smaller_and_never_larger_than_one_all_round(
        a in any_pad(), girth in 60.0..1200.0, down in 0.0..200.0,
    ) {
        let got = girth_over(std::slice::from_ref(&a), Mm(girth), Mm(down)).0;
        prop_assert!(got >= girth - 1e-9);
        prop_assert!(got <= girth + TAU * a.projection.0 + 1e-6);
    }

    #[test]
    fn a_thicker_pad_or_one_more_pad_never_takes_less_cloth(
        a in any_pad(), b in any_pad(), more in 0.0..20.0, girth in 60.0..1200.0, down in 0.0..200.0, round in 0.0..=1.0,
    ) {
        let thicker = Pad { projection: Mm(a.projection.0 + more), ..a.clone() };
        let over = |pads: &[Pad]| girth_over(pads, Mm(girth), Mm(down)).0;
        let one = [a.clone()];
        prop_assert!(over(std::slice::from_ref(&thicker)) >= over(&one) - 1e-6);
        prop_assert!(over(&[a.clone(), b.clone()]) >= over(&one) - 1e-6);
        prop_assert!((over(&[a.clone(), b.clone()]) - over(&[b.clone(), a.clone()])).abs() < 1e-9);
        prop_assert!(thicker.longer_at(round).0 >= a.longer_at(round).0);
        prop_assert!(longer_over(&[a.clone(), b], round).0 >= a.longer_at(round).0);
        prop_assert!(a.longer_at(round).0 <= a.projection.0 + 1e-9);
    }

    #[test]
    fn without_pads_every_girth_stays(girth in 1.0..2000.0, down in -10.0..300.0) {
        prop_assert_eq!(girth_over(&[], Mm(girth), Mm(down)), Mm(girth));
    }
}
