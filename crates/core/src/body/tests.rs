#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use proptest::prelude::*;

use super::*;
use crate::garment::Passing;
use crate::measure::Level;

const KINDS: [BodyKind; 4] = [
    BodyKind::Woman,
    BodyKind::Man,
    BodyKind::Child,
    BodyKind::Doll,
];

fn tape(value: f64) -> Measured {
    Measured::own_tape(Mm(value))
}

#[test]
fn a_given_figure_is_never_replaced() {
    let doll = Body::new("doll", BodyKind::Doll).with(Measure::WaistGirth, tape(84.0));
    assert_eq!(doll.measure(Measure::WaistGirth), tape(84.0));
}

#[test]
fn every_measure_follows_from_the_height_alone() {
    for kind in KINDS {
        let small = Body::new("small", kind).with(Measure::Height, tape(300.0));
        let large = Body::new("large", kind).with(Measure::Height, tape(600.0));
        for measure in Measure::ALL {
            let (one, other) = (small.measure(measure), large.measure(measure));
            assert!(
                (2.0 * one.value.0 - other.value.0).abs() < 1e-9,
                "{kind:?}, {measure}"
            );
            if measure != Measure::Height {
                assert_eq!(one.origin, Origin::Estimated);
                assert!(!one.source.is_empty());
            }
        }
    }
}

#[test]
fn a_body_without_any_figure_still_has_a_size_and_says_so() {
    for kind in KINDS {
        let body = Body::new("nothing", kind);
        for measure in Measure::ALL {
            let estimate = body.measure(measure);
            assert!(
                estimate.value.0 > 0.0 && estimate.value.0.is_finite(),
                "{kind:?}, {measure}"
            );
            assert!(
                estimate.source.contains("nothing is measured yet"),
                "{}",
                estimate.source
            );
        }
    }
}

#[test]
fn the_most_related_given_measure_is_used_first() {
    let doll = Body::new("doll", BodyKind::Doll)
        .with(Measure::Height, tape(457.0))
        .with(Measure::WaistToFloor, tape(245.0))
        .with(Measure::InsideLeg, tape(190.0))
        .with(Measure::UpperArmGirth, tape(105.0));
    assert!((doll.mm(Measure::BodyRise).0 - 55.0).abs() < 1e-9);
    assert!((doll.mm(Measure::ElbowGirth).0 - 0.95 * 105.0).abs() < 1e-4);
    assert_eq!(
        doll.measure(Measure::BodyRise).source,
        "Waist height less Inside leg length"
    );
}

#[test]
fn a_wig_adds_to_a_dolls_head_and_not_to_a_persons() {
    let with_head = |kind| {
        Body::new("body", kind)
            .with(Measure::HeadGirth, tape(200.0))
            .mm(Measure::HeadGirthWithWig)
            .0
    };
    assert!((with_head(BodyKind::Doll) - 212.0).abs() < 1e-4);
    assert!((with_head(BodyKind::Woman) - 200.0).abs() < 1e-9);
}

#[test]
fn an_estimate_tells_its_proportion() {
    let doll = Body::new("doll", BodyKind::Doll).with(Measure::BackWaistLength, tape(100.0));
    insta::assert_snapshot!(doll.measure(Measure::ArmscyeDepth).source, @"0.500 x Back waist length: mean of nine doll classes (common practice, no source) (back waist length less the underarm length, that half of the back waist length; proportion of our own, no source)");
}

/// ANSUR II means (fact sheet B): both from the height of the mean person.
#[test]
fn a_person_of_mean_height_gets_the_mean_figures() {
    let woman = Body::new("woman", BodyKind::Woman).with(Measure::Height, tape(1628.5));
    let man = Body::new("man", BodyKind::Man).with(Measure::Height, tape(1756.2));
    let published = [
        (Measure::BustGirth, 946.9, 1058.7),
        (Measure::HipGirth, 1021.2, 1019.5),
        (Measure::WristGirth, 154.8, 175.9),
        (Measure::BackWaistLength, 425.4, 477.6),
        (Measure::ArmLength, 543.6, 593.1),
    ];
    for (measure, women, men) in published {
        assert!((woman.mm(measure).0 - women).abs() < 1e-9, "{measure}");
        assert!((man.mm(measure).0 - men).abs() < 1e-9, "{measure}");
    }
}

#[test]
fn levels_lie_in_the_order_of_the_body() {
    for kind in KINDS {
        let body = Body::new("body", kind).with(Measure::Height, tape(400.0));
        let falls = |levels: &[Level]| {
            levels
                .windows(2)
                .all(|pair| body.height_of(pair[0]).0 > body.height_of(pair[1]).0)
        };
        assert!(falls(&[
            Level::Nape,
            Level::ShoulderPoint,
            Level::Across,
            Level::Bust,
            Level::Waist,
            Level::Hip,
            Level::Crotch,
            Level::Knee,
            Level::Ankle,
            Level::Floor,
        ]));
        assert!(falls(&[
            Level::CapTop,
            Level::Underarm,
            Level::Elbow,
            Level::Wrist
        ]));
        assert!(falls(&[Level::Crown, Level::Brow]));
    }
}

#[test]
fn levels_are_the_lengths_of_the_sheet() {
    let doll = Body::new("doll", BodyKind::Doll)
        .with(Measure::BackWaistLength, tape(57.0))
        .with(Measure::WaistToKnee, tape(92.0))
        .with(Measure::WaistToFloor, tape(178.0))
        .with(Measure::ArmLength, tape(92.0));
    assert!((doll.height_of(Level::Waist).0 + 57.0).abs() < 1e-9);
    assert!((doll.height_of(Level::Knee).0 + 149.0).abs() < 1e-9);
    assert!((doll.height_of(Level::Floor).0 + 235.0).abs() < 1e-9);
    assert!((doll.height_of(Level::Wrist).0 + 92.0).abs() < 1e-9);
    assert_eq!(doll.girth_at(Level::Waist), Some(Measure::WaistGirth));
    assert_eq!(doll.girth_at(Level::Across), None);
}

#[test]
fn a_soft_torso_is_pressed_through_a_smaller_opening() {
    let mut doll = Body::new("doll", BodyKind::Doll)
        .with(Measure::HipGirth, tape(305.0))
        .with(Measure::ShoulderWidth, tape(90.0));
    assert_eq!(doll.passing(Passing::Trunk), Mm(305.0));
    doll.torso = Torso::Soft { give: Mm(5.0) };
    assert_eq!(doll.passing(Passing::Trunk), Mm(300.0));
    let broad = doll.with(Measure::ShoulderWidth, tape(112.0));
    assert!((broad.passing(Passing::Trunk).0 - (2.82 * 112.0 - 5.0)).abs() < 1e-9);
}

/// ANSUR II means (fact sheet B): shoulder girth 1028.2 on women of 365.3 mm shoulder width, 1178.6 on men of 415.7.
#[test]
fn the_girth_round_the_shoulders_is_within_one_percent_of_the_survey() {
    for (width, girth) in [(365.3, 1028.2), (415.7, 1178.6)] {
        let person = Body::new("person", BodyKind::Woman).with(Measure::ShoulderWidth, tape(width));
        assert!((person.shoulder_girth().0 / girth - 1.0).abs() < 0.01);
    }
}

#[test]
fn figures_that_cannot_both_be_right_are_doubted() {
    let doll = Body::new("doll", BodyKind::Doll)
        .with(Measure::WristGirth, tape(38.0))
        .with(Measure::HandGirth, tape(27.0))
        .with(Measure::ArmLength, tape(92.0));
    let doubts: Vec<String> = doll
        .doubts()
        .iter()
        .map(|doubt| doubt.words(crate::units::LengthUnit::Millimetre))
        .collect();
    assert_eq!(
        doubts,
        ["Wrist girth (38 mm) cannot be more than hand girth (27 mm); measure both again."]
    );
    assert!(
        doll.with(Measure::HandGirth, tape(38.0))
            .doubts()
            .is_empty()
    );
}

proptest! {
    #[test]
    fn no_sheet_leaves_a_measure_missing_or_negative(
        kind in 0_usize..4,
        figures in prop::collection::btree_map(0_usize..40, prop_oneof![1.0_f64..2000.0, Just(0.0), Just(-3.0), Just(f64::NAN), Just(f64::INFINITY)], 0..40),
    ) {
        let mut body = Body::new("any", KINDS[kind]);
        for (measure, figure) in figures {
            body = body.with(Measure::ALL[measure], tape(figure));
        }
        for measure in Measure::ALL {
            let value = body.mm(measure).0;
            prop_assert!(value.is_finite() && value > 0.0, "{measure} {value}");
        }
        for level in Level::ALL {
            prop_assert!(body.height_of(level).0.is_finite());
        }
    }

    #[test]
    fn all_estimates_grow_with_the_body(kind in 0_usize..4, figures in prop::collection::btree_map(0_usize..40, 1.0_f64..2000.0, 1..40), factor in 0.05_f64..3.0) {
        let mut body = Body::new("any", KINDS[kind]);
        let mut scaled = body.clone();
        for (measure, figure) in figures {
            body = body.with(Measure::ALL[measure], tape(figure));
            scaled = scaled.with(Measure::ALL[measure], tape(figure * factor));
        }
        for measure in Measure::ALL {
            prop_assert!((body.mm(measure).0 * factor - scaled.mm(measure).0).abs() < 1e-9 * (1.0 + scaled.mm(measure).0));
        }
    }
}
