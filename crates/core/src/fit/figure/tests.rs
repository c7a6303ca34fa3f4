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

/// A width of waist or hip straight across is the width of its ring; the bust's comes before those across front and back.
#[test]
fn a_width_on_the_sheet_shapes_bust_waist_and_hip() {
    let widths = [
        (Measure::BustGirth, 280.0, Measure::BustWidth, 96.0),
        (Measure::WaistGirth, 275.0, Measure::WaistWidth, 98.0),
        (Measure::HipGirth, 300.0, Measure::HipWidth, 110.0),
    ];
    let mut body =
        Body::new("doll", BodyKind::Doll).with(Measure::AcrossBack, Measured::own_tape(Mm(100.0)));
    for (girth, round, width, across) in widths {
        body = body
            .with(girth, Measured::own_tape(Mm(round)))
            .with(width, Measured::own_tape(Mm(across)));
    }
    let figure = body_figure(&body);
    for (girth, round, width, across) in widths {
        let ring = figure.ring(girth).unwrap();
        assert_eq!(ring.shaped_by, ShapedBy::Width(width));
        assert_eq!(ring.hoop.half_width, across / 2.0);
        assert!((ring.hoop.girth().0 - round).abs() < 1e-9);
    }
}

/// A ruffle of 40 mm gathered two to one below the hem of a skirt: 40 mm lower, twice the hem; a second tier below it the same
/// again.
#[test]
fn ruffles_below_a_skirt_lengthen_it_and_make_its_hem_wider() {
    use crate::check::samples::{adapted, finished_with, garment, seam, stretch, strip};
    use crate::edge::{Finish, OutlinePoint};
    use crate::piece::{BodyLine, Follow, FollowRule, Piece, Placement};
    use crate::seams::Relation;
    let hem = Finish::Hem {
        width: None,
        turns: 1,
    };
    let ruffle = |name: &str, width: f64| Piece {
        placement: Placement::Follows(Follow {
            length: FollowRule::Detail,
            depth: FollowRule::Detail,
        }),
        ..finished_with(strip(name, width, 40.0), "hem", hem)
    };
    let hem_of = |tiers: usize| {
        let mut skirt = strip("Skirt", 400.0, 120.0);
        skirt.body_lines = vec![BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("waist", 1.0),
            to: OutlinePoint::new("waist", 0.0),
        }];
        let mut pieces = vec![if tiers == 0 {
            finished_with(skirt, "hem", hem)
        } else {
            skirt
        }];
        let mut seams = Vec::new();
        let names = ["Skirt", "First", "Second"];
        for tier in 1..=tiers {
            pieces.push(ruffle(names[tier], 400.0 * 2.0_f64.powi(tier as i32)));
            seams.push(seam(
                names[tier],
                vec![stretch(names[tier], "waist", 0.0, 1.0)],
                vec![stretch(names[tier - 1], "hem", 0.0, 1.0)],
                Relation::Ratio(2.0),
            ));
        }
        let worn = Arc::new(adapted(
            garment(pieces, seams),
            Body::new("doll", BodyKind::Doll),
        ));
        let figure = figure(&fill(&worn).outcome, &Underneath::default());
        let [hem] = figure.garment.hems.as_slice() else {
            panic!("{:?}", figure.garment.hems);
        };
        hem.clone()
    };
    let (plain, one, two) = (hem_of(0), hem_of(1), hem_of(2));
    assert!((one.girth.0 - 2.0 * plain.girth.0).abs() < 1e-6, "{one:?}");
    assert!((two.girth.0 - 4.0 * plain.girth.0).abs() < 1e-6, "{two:?}");
    assert!((one.from.1.0 - plain.from.1.0 - 40.0).abs() < 1e-6);
    assert!((two.from.1.0 - one.from.1.0 - 40.0).abs() < 1e-6);
    assert!(two.above_floor < one.above_floor && one.above_floor < plain.above_floor);
    assert_eq!(two.place, crate::finding::Place::edge("Second", "hem"));
}

/// A coat that laps 30 mm at the bust, as its tape line says, laps as much at the hip, where no tape line runs.
#[test]
fn what_laps_over_at_the_closure_is_taken_off_a_ring_of_body_lines() {
    use crate::check::samples::{adapted, garment, strip};
    use crate::edge::OutlinePoint;
    use crate::piece::BodyLine;
    use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
    let ring = |overlap: f64| {
        let mut coat = strip("Coat", 400.0, 200.0);
        coat.body_lines = vec![BodyLine {
            level: Level::Hip,
            from: OutlinePoint::new("left", 0.5),
            to: OutlinePoint::new("right", 0.5),
        }];
        let mut worn = adapted(
            garment(vec![coat], Vec::new()),
            Body::new("doll", BodyKind::Doll),
        );
        worn.tape_lines = vec![TapeLine {
            name: "bust".to_owned(),
            measure: Measure::BustGirth,
            kind: TapeKind::Girth,
            share: 1.0,
            hold: Hold::Fitted,
            overlap: Mm(overlap),
            lacing_gap: Mm(0.0),
            parts: vec![TapePart {
                piece: "Coat".to_owned(),
                path: TapePath::Along {
                    edge: "waist".to_owned(),
                    from: 0.0,
                    to: 1.0,
                },
            }],
        }];
        let figure = figure(&fill(&Arc::new(worn)).outcome, &Underneath::default());
        let found = figure
            .garment
            .rings
            .iter()
            .find(|r| r.measure == Measure::HipGirth);
        found.unwrap().clone()
    };
    assert_eq!((ring(0.0).garment, ring(0.0).overlap), (Mm(400.0), Mm(0.0)));
    assert_eq!(
        (ring(30.0).garment, ring(30.0).overlap),
        (Mm(370.0), Mm(30.0))
    );
    assert!((ring(30.0).hoop.girth().0 - 370.0).abs() < 1e-9);
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
