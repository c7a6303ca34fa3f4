#![allow(
    clippy::unwrap_used,
    clippy::approx_constant,
    reason = "tests; 0.318 is a cloth thickness"
)]

use proptest::prelude::*;

use super::*;
use crate::body::Measured;

fn close(one: Mm, other: f64, within: f64) -> bool {
    (one.0 - other).abs() <= within
}

/// Worked check of the drafting lesson (fact sheet D1, S15): bust ease 80.
#[test]
fn bust_ease_is_shared_as_in_the_lesson() {
    let shares = share_bust_ease(Mm(80.0));
    assert!(
        close(shares.back, 8.0, 1e-12)
            && close(shares.armscye, 32.0, 1e-12)
            && shares.front == Mm(0.0)
    );
    assert!(close(waist_ease_for(Mm(80.0)).0, 48.0, 1e-12));
    let hip = hip_ease_for(Mm(80.0));
    assert!(close(hip.0, 32.0, 1e-12) && close(hip.1, 48.0, 1e-12));
}

/// Fact sheet D2 (geometry): two layers of 0.318 mm round an 84 mm and an 861 mm waist.
#[test]
fn cloth_takes_up_twenty_times_more_on_a_doll() {
    let layers = cloth_term(&[Mm(0.318), Mm(0.318)], Mm(0.0));
    assert!(close(Mm(84.0) + layers, 88.0, 0.005));
    assert!(close(Mm(layers.0 / 84.0 * 100.0), 4.8, 0.05));
    assert!(close(Mm(layers.0 / 861.0 * 100.0), 0.46, 0.005));
    // The middle of the stack: one of the two layers lies inside it.
    assert!(close(
        Mm(84.0) + cloth_term(&[Mm(0.318)], Mm(0.0)),
        86.0,
        0.005
    ));
    let dressed = target_girth(
        EasePolicy::InProportion,
        Mm(861.0),
        Mm(861.0),
        Mm(84.0),
        None,
        layers,
    );
    assert!(close(dressed, 88.0, 0.005));
}

#[test]
fn each_policy_brings_ease_over_in_its_own_way() {
    let girth = |policy, row| target_girth(policy, Mm(800.0), Mm(880.0), Mm(100.0), row, Mm(1.0));
    let row = EaseRow {
        wearer: Wearer::Person(BodyKind::Woman),
        garment: "any",
        measure: Measure::WaistGirth,
        least: Mm(4.0),
        most: Mm(8.0),
        holds_cloth: false,
        source: "test",
    };
    assert!(close(girth(EasePolicy::InProportion, None), 111.0, 1e-12));
    assert!(close(girth(EasePolicy::Absolute, None), 181.0, 1e-12));
    assert!(close(
        girth(EasePolicy::FromTable, Some(&row)),
        107.0,
        1e-12
    ));
    assert!(close(girth(EasePolicy::FromTable, None), 111.0, 1e-12));
    // The row that holds one thin layer takes no more cloth than what is above it.
    let with_cloth = EaseRow {
        holds_cloth: true,
        ..row
    };
    assert!(close(
        girth(EasePolicy::FromTable, Some(&with_cloth)),
        107.0 - std::f64::consts::PI * 0.3,
        1e-12
    ));
    assert!(row.holds(Mm(4.0)) && row.holds(Mm(8.0)) && !row.holds(Mm(8.1)));
}

#[test]
fn a_source_without_a_girth_keeps_its_ease_in_mm() {
    assert_eq!(
        target_length(EasePolicy::InProportion, Mm(0.0), Mm(5.0), Mm(100.0), None),
        Mm(105.0)
    );
}

/// Fact sheet D1, rows read in the course text (S12): inches x 25.4, printed there rounded.
#[test]
fn handbook_rows_are_those_of_the_course_text() {
    let woman = Body::new("woman", BodyKind::Woman);
    let man = Body::new("man", BodyKind::Man);
    for (body, measure, least, most) in [
        (&woman, Measure::BustGirth, 1.5, 2.0),
        (&woman, Measure::WaistGirth, 0.75, 1.0),
        (&woman, Measure::HipGirth, 2.0, 2.75),
        (&man, Measure::BustGirth, 1.5, 2.5),
        (&man, Measure::HipGirth, 1.5, 2.0),
    ] {
        let row = handbook_range(measure, body).unwrap();
        assert!(
            close(row.least, least * 25.4, 0.06) && close(row.most, most * 25.4, 0.06),
            "{measure}"
        );
    }
    assert_eq!(handbook_rows(Measure::BustGirth, &woman).count(), 3);
    assert!(handbook_range(Measure::BustGirth, &Body::new("child", BodyKind::Child)).is_none());
}

#[test]
fn a_doll_takes_the_row_of_its_class_or_of_the_nearest() {
    let doll = |height, bust| {
        Body::new("doll", BodyKind::Doll)
            .with(Measure::Height, Measured::own_tape(Mm(height)))
            .with(Measure::BustGirth, Measured::own_tape(Mm(bust)))
    };
    let waist = |body: &Body| {
        handbook_range(Measure::WaistGirth, body).map(|row| (row.least.0, row.most.0))
    };
    assert_eq!(waist(&doll(290.0, 125.0)), Some((3.0, 5.0)));
    assert_eq!(waist(&doll(460.0, 290.0)), Some((8.0, 14.0)));
    assert_eq!(waist(&doll(140.0, 70.0)), Some((2.0, 4.0)));
    let mut named = doll(290.0, 125.0);
    named.key = "play-45".to_owned();
    assert_eq!(waist(&named), Some((8.0, 14.0)));
    assert!(handbook_range(Measure::NeckGirth, &named).is_none());
}

#[test]
fn every_row_of_the_table_is_a_range_with_a_source() {
    for row in &table::ROWS {
        assert!(0.0 < row.least.0 && row.least.0 <= row.most.0, "{row:?}");
        assert!(!row.source.is_empty());
        if let Wearer::DollClass(class) = row.wearer {
            assert!(
                table::CLASSES.iter().any(|known| known.key == class),
                "{class}"
            );
            assert!(
                row.source.contains("no source"),
                "a doll row must not claim a source"
            );
        }
    }
}

proptest! {
    #[test]
    fn the_same_body_gives_the_same_garment_back(body in 20.0_f64..1500.0, ease in -20.0_f64..300.0, cloth in 0.0_f64..10.0) {
        let garment = body + ease + cloth;
        for policy in [EasePolicy::InProportion, EasePolicy::Absolute] {
            let back = target_girth(policy, Mm(body), Mm(garment - cloth), Mm(body), None, Mm(cloth));
            prop_assert!((back.0 - garment).abs() < 1e-9);
        }
    }

    #[test]
    fn in_proportion_everything_grows_with_the_body(body in 20.0_f64..1500.0, ease in 0.0_f64..300.0, factor in 0.05_f64..3.0) {
        let target = target_girth(EasePolicy::InProportion, Mm(body), Mm(body + ease), Mm(body * factor), None, Mm(0.0));
        prop_assert!((target.0 - factor * (body + ease)).abs() < 1e-9);
    }
}
