#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::adapt::adapt_garment;
use crate::body::{Body, BodyKind, Measured};
use crate::drafts::DraftMeasures;
use crate::drafts::wardrobe::half_circle_sunday_skirt;
use crate::fit::along_body;
use crate::fitting::Fitting;
use crate::fullness::fill;
use crate::measure::{Level, Measure};
use crate::redraft::CASES;
use crate::units::{Degrees, Mm};

fn kinds() -> impl Strategy<Value = BodyKind> {
    prop_oneof![
        Just(BodyKind::Woman),
        Just(BodyKind::Man),
        Just(BodyKind::Child),
        Just(BodyKind::Doll)
    ]
}

/// Any figures at all, sensible or not: a sheet half filled in, and wrong.
fn bodies() -> impl Strategy<Value = Body> {
    let figures = prop::collection::vec(prop::option::of(1.0_f64..2000.0), Measure::ALL.len());
    (kinds(), figures).prop_map(|(kind, figures)| {
        let start = Body::new("any", kind);
        Measure::ALL
            .into_iter()
            .zip(figures)
            .fold(start, |body, (measure, figure)| match figure {
                Some(mm) => body.with(measure, Measured::own_tape(Mm(mm))),
                None => body,
            })
    })
}

proptest! {
    #[test]
    fn every_ring_has_the_girth_of_its_measure_on_any_body(body in bodies()) {
        let figure = body_figure(&body);
        prop_assert!(figure.rings.len() >= 15);
        for ring in &figure.rings {
            let wanted = body.mm(ring.measure).0;
            let got = ring.hoop.girth().0;
            prop_assert!((got - wanted).abs() < 1e-6 * wanted, "{:?}: {got} for {wanted}", ring.measure);
            // The polygon through its points in space is as long: the ring drawn is the ring reckoned.
            let points: Vec<InSpace> = (0..720)
                .map(|i| ring.hoop.at(std::f64::consts::TAU * f64::from(i) / 720.0))
                .collect();
            let around: f64 = points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| {
                ((a.x - b.x).powi(2) + (a.y - b.y).powi(2) + (a.z - b.z).powi(2)).sqrt()
            }).sum();
            prop_assert!((around - wanted).abs() < 2e-4 * wanted, "{:?}: {around} for {wanted}", ring.measure);
        }
    }

    #[test]
    fn any_body_has_an_outline_from_any_side(body in bodies(), turn in -400.0_f64..400.0) {
        let figure = body_figure(&body);
        let look = Look { turn: Degrees(turn), tilt: Degrees(9.0) };
        for limb in &figure.limbs {
            let outline = limb.outline(look);
            prop_assert!(outline.len() > 20);
            prop_assert!(outline.iter().all(|(x, y)| x.is_finite() && y.is_finite()));
        }
    }

    /// What goes to the left in front goes to the right behind.
    #[test]
    fn the_back_mirrors_the_front(x in -200.0_f64..200.0, y in 0.0_f64..800.0) {
        let (front, back) = (Look::FRONT.seen(InSpace::new(x, y, 0.0)), Look::BACK.seen(InSpace::new(x, y, 0.0)));
        prop_assert!((front.x + back.x).abs() < 1e-9 && (front.y - back.y).abs() < 1e-9);
    }
}

/// A woman of the survey means: the brow ring stands above the chin, the legs under the hips, the arms outside.
#[test]
fn the_limbs_of_a_woman_are_where_they_belong() {
    let figure = body_figure(&Body::new("woman", BodyKind::Woman));
    let ring = |measure| figure.ring(measure).unwrap().hoop;
    let order = [
        Measure::HeadGirth,
        Measure::NeckGirth,
        Measure::NeckBaseGirth,
        Measure::BustGirth,
        Measure::UnderbustGirth,
        Measure::WaistGirth,
        Measure::HipGirth,
        Measure::ThighGirth,
        Measure::KneeGirth,
        Measure::CalfGirth,
        Measure::AnkleGirth,
    ];
    for pair in order.windows(2) {
        assert!(
            ring(pair[0]).centre.y > ring(pair[1]).centre.y,
            "{:?} above {:?}",
            pair[0],
            pair[1]
        );
    }
    assert!(ring(Measure::ThighGirth).centre.x < ring(Measure::HipGirth).half_width);
    assert!(ring(Measure::WristGirth).centre.x > ring(Measure::WaistGirth).half_width);
    assert_eq!(figure.rings_of(Measure::WristGirth).count(), 2);
}

#[test]
fn a_given_width_shapes_the_bust_and_an_impossible_one_does_not() {
    let body = |across: f64| {
        Body::new("doll", BodyKind::Doll)
            .with(Measure::BustGirth, Measured::own_tape(Mm(280.0)))
            .with(Measure::AcrossBack, Measured::own_tape(Mm(across)))
    };
    let bust = |across| {
        body_figure(&body(across))
            .ring(Measure::BustGirth)
            .unwrap()
            .clone()
    };
    let given = bust(100.0);
    assert_eq!(given.shaped_by, ShapedBy::Width(Measure::AcrossBack));
    assert_eq!(given.hoop.half_width, 50.0);
    assert!((given.hoop.girth().0 - 280.0).abs() < 1e-9);
    for impossible in [150.0, 40.0] {
        let bust = bust(impossible);
        assert!(matches!(bust.shaped_by, ShapedBy::Proportion(_)));
        assert!((bust.hoop.girth().0 - 280.0).abs() < 1e-9);
    }
}

/// Every published draft on its own body: rings carry the girths of the table, wherever a tape goes round.
#[test]
fn the_rings_of_a_garment_have_the_girths_of_its_ease_table() {
    for case in CASES {
        let garment = Arc::new((case.garment)(&DraftMeasures::ADULT_92).unwrap());
        let fitting = Arc::new(Fitting::new("own", "own", garment.made_for.clone()));
        let adapted = Arc::new(adapt_garment(&garment, &fitting).unwrap());
        let figure = figure(&fill(&adapted).outcome, &Underneath::default());
        for row in figure
            .table
            .rows
            .iter()
            .filter(|row| row.is_girth && row.share == 1.0)
        {
            let rings: Vec<&GarmentRing> = figure
                .garment
                .rings
                .iter()
                .filter(|ring| ring.name == row.name)
                .collect();
            assert!(
                !rings.is_empty() || figure.body.ring(row.measure).is_none(),
                "{}",
                row.name
            );
            for ring in rings {
                assert!(
                    (ring.hoop.girth().0 - row.here.garment.0).abs() < 1e-6,
                    "{}",
                    row.name
                );
            }
        }
        for limb in along_body(&figure) {
            for pair in limb.points.windows(2) {
                assert!(pair[0].height >= pair[1].height);
            }
            for point in &limb.points {
                if let (Some(body), Some(dressed)) = (point.body, point.dressed) {
                    assert_eq!(body, dressed, "nothing is worn underneath");
                }
            }
        }
    }
}

/// Closed form: a skirt cut as half a circle stands as a cone whose hem is as much wider than the waist as half its
/// length is long, all round: it drops by its length times the root of three quarters.
#[test]
fn a_half_circle_skirt_stands_as_its_cone() {
    let woman = Arc::new(Body::new("woman", BodyKind::Woman));
    let garment = Arc::new(half_circle_sunday_skirt(&woman).unwrap());
    let fitting = Arc::new(Fitting::new("own", "own", woman.clone()));
    let adapted = Arc::new(adapt_garment(&garment, &fitting).unwrap());
    let figure = figure(&fill(&adapted).outcome, &Underneath::default());
    let [hem] = figure.garment.hems.as_slice() else {
        panic!("{:?}", figure.garment.hems);
    };
    let taken = |name: &str| {
        let row = figure.table.rows.iter().find(|row| row.name == name);
        row.unwrap().here.garment.0
    };
    let (waist, length) = (taken("waist"), taken("centre front"));
    assert!((hem.girth.0 - (waist + std::f64::consts::PI * length)).abs() < 0.5);
    assert!(hem.in_folds.0 < 1e-6, "{hem:?}");
    let waistline = figure.body.height_of(Level::Waist).unwrap().0;
    let drop = waistline - hem.above_floor.0;
    assert!(
        (drop - 0.75_f64.sqrt() * length).abs() < 0.5,
        "{drop} of {length}"
    );
    assert!((hem.hoop.girth().0 - hem.girth.0).abs() < 1e-6);
}

/// A skirt with twice the cloth at the same length cannot stand out so far: what is too much falls in folds, and ring
/// and folds together are the hem.
#[test]
fn cloth_that_cannot_stand_out_falls_in_folds() {
    let woman = Arc::new(Body::new("woman", BodyKind::Woman));
    let garment = half_circle_sunday_skirt(&woman).unwrap();
    let mut doubled = garment.clone();
    for piece in &mut doubled.pieces {
        let mut more = (**piece).clone();
        let copies = more.copies.clone();
        more.copies.extend(copies);
        *piece = Arc::new(more);
    }
    let hem_of = |garment: crate::garment::Garment| {
        let garment = Arc::new(garment);
        let fitting = Arc::new(Fitting::new("own", "own", woman.clone()));
        let drawn = Arc::new(crate::adapt::as_drawn(&garment, &fitting).unwrap());
        figure(&fill(&drawn).outcome, &Underneath::default())
            .garment
            .hems[0]
            .clone()
    };
    let (one, two) = (hem_of(garment), hem_of(doubled));
    assert!((two.girth.0 - 2.0 * one.girth.0).abs() < 1e-6);
    assert!(two.in_folds.0 > 0.0);
    assert!((two.hoop.girth().0 + two.in_folds.0 - two.girth.0).abs() < 1e-6);
}
