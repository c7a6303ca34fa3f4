#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use kurbo::Point;
use proptest::prelude::*;

use super::*;
use crate::alteration::samples::{nth_dart, nth_piece};
use crate::check::samples::{adapted, doll, finished_with, garment, seam, stretch, strip};
use crate::edge::{Edge, EdgeRef, Finish};
use crate::fullness::Fullness;
use crate::geometry::crossing::self_crossings;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::Dart;
use crate::seams::{Relation, side_length};

/// A strip of 100 x 60 with a dart of 20 x 30 mm in the middle of its waist, sewn to a band of 80 mm.
fn darted() -> Garment {
    let corners = [
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 60.0),
        (60.0, 60.0),
        (50.0, 30.0),
        (40.0, 60.0),
        (0.0, 60.0),
    ]
    .map(Point::from);
    let names = ["hem", "right", "waist", "in", "out", "waist left", "left"];
    let edge = |i: usize| Edge::seam(names[i], Line::straight(corners[i], corners[(i + 1) % 7]));
    let front = Piece {
        outline: Outline::new((0..7).map(edge).collect()).unwrap(),
        darts: vec![Dart {
            name: "waist dart".to_owned(),
            leg_in: "in".to_owned(),
            leg_out: "out".to_owned(),
            pressed: DartPress::Before,
        }],
        ..strip("Front", 1.0, 1.0)
    };
    let waist = seam(
        "waist seam",
        vec![
            stretch("Front", "waist", 0.0, 1.0),
            stretch("Front", "waist left", 0.0, 1.0),
        ],
        vec![stretch("Band", "hem", 1.0, 0.0)],
        Relation::Equal,
    );
    garment(vec![front, strip("Band", 80.0, 20.0)], vec![waist])
}

fn done(garment: &Garment, change: &DartChange) -> Altered {
    let altered = change.applied(garment, "Front").unwrap();
    assert_eq!(altered.garment.check_references(), Ok(()));
    altered
}

fn said(garment: &Garment, change: &DartChange) -> String {
    change.applied(garment, "Front").unwrap_err().to_string()
}

fn pivot(to: (&str, f64), share: f64) -> DartChange {
    DartChange::Pivot {
        dart: "waist dart".to_owned(),
        to: OutlinePoint::new(to.0, to.1),
        share,
        name: "new dart".to_owned(),
    }
}

fn named(make: impl Fn(String) -> DartChange) -> DartChange {
    make("waist dart".to_owned())
}

fn length(piece: &Piece, edge: &str) -> f64 {
    piece.outline.edge(edge).unwrap().line.length()
}

/// The angles of all darts together, radians; every leg is as long as its mate.
fn angles(piece: &Piece) -> f64 {
    let angle = |dart: &Dart| {
        let legs = legs::Legs::equal(piece, &dart.name).unwrap();
        legs.closing().abs()
    };
    piece.darts.iter().map(angle).sum()
}

/// Lengths of the parts that old edges became.
fn kept(old: &Piece, altered: &Altered) -> f64 {
    let new = altered.garment.piece(&old.name).unwrap();
    let mut most: f64 = 0.0;
    for edge in old.outline.edges() {
        let own = EdgeRef::new(&old.name, &edge.name);
        if old
            .darts
            .iter()
            .any(|d| d.leg_in == edge.name || d.leg_out == edge.name)
        {
            continue;
        }
        let parts = altered.carried.range(&own, 0.0, 1.0);
        let now: f64 = parts
            .iter()
            .map(|part| length(new, &part.edge.edge) * (part.to - part.from).abs())
            .sum();
        most = most.max((now - edge.line.length()).abs());
    }
    most
}

fn touches_only(piece: &Piece) -> bool {
    let chain: Vec<_> = piece
        .outline
        .edges()
        .iter()
        .flat_map(|e| e.line.cubics())
        .collect();
    self_crossings(&chain).is_empty()
}

#[test]
fn a_waist_dart_turned_to_the_side_closes_the_waist_and_opens_the_side() {
    let before = darted();
    let altered = done(&before, &pivot(("right", 0.5), 1.0));
    let front = altered.garment.piece("Front").unwrap();
    assert_eq!(altered.notes, Vec::new());
    assert!((length(front, "right") - 30.0).abs() < 1e-9);
    assert!((length(front, "right 2") - 30.0).abs() < 1e-9);
    let old = 2.0 * libm::atan2(10.0, 30.0);
    assert!((angles(front) - old).abs() < 1e-12);
    assert_eq!(front.darts[0].name, "new dart");
    // a leg of 50 mm opens by 2 x 50 sin(half the angle)
    let mouth = legs::Legs::find(front, "new dart").unwrap().width();
    assert!((mouth - 100.0 * libm::sin(old / 2.0)).abs() < 1e-9);
    assert!((front.outline.area() - before.pieces[0].outline.area()).abs() < 1e-6);
    let waist = side_length(&altered.garment.seams[0].a, &altered.garment.pieces).unwrap();
    assert!((waist.0 - 80.0).abs() < 1e-9);
}

#[test]
fn a_part_of_a_dart_turned_away_leaves_the_rest_and_both_have_their_tip_at_one_point() {
    let before = darted();
    let altered = done(&before, &pivot(("hem", 0.5), 0.25));
    let front = altered.garment.piece("Front").unwrap();
    let of = |name: &str| legs::Legs::equal(front, name).unwrap().closing().abs();
    let old = 2.0 * libm::atan2(10.0, 30.0);
    assert!((of("new dart") - old * 0.25).abs() < 1e-12);
    assert!((of("waist dart") - old * 0.75).abs() < 1e-12);
    assert!(
        touches_only(front),
        "two tips at one point touch and do not cross"
    );
}

#[test]
fn a_dart_moved_along_the_waist_leaves_its_length_and_its_mate() {
    let before = darted();
    for along in [8.0, -8.0, 25.0] {
        let change = named(|dart| DartChange::Move {
            dart,
            along: Mm(along),
        });
        let altered = done(&before, &change);
        let front = altered.garment.piece("Front").unwrap();
        assert!((length(front, "waist") - 40.0 - along).abs() < 1e-9);
        assert!((length(front, "waist left") - 40.0 + along).abs() < 1e-9);
        let dart = legs::Legs::equal(front, "waist dart").unwrap();
        assert!((dart.tip - Point::new(50.0 - along, 30.0)).hypot() < 1e-9);
        assert!(kept(&before.pieces[0], &altered) < 1e-9);
        assert_eq!(altered.notes, Vec::new());
    }
}

#[test]
fn a_dart_divided_in_three_takes_up_as_much_and_stands_in_a_row() {
    let before = darted();
    let change = named(|dart| DartChange::Divide {
        dart,
        into: 3,
        apart: Mm(15.0),
    });
    let altered = done(&before, &change);
    let front = altered.garment.piece("Front").unwrap();
    assert_eq!(front.darts.len(), 3);
    for (number, x) in [65.0, 50.0, 35.0].into_iter().enumerate() {
        let dart = legs::Legs::equal(front, &front.darts[number].name).unwrap();
        assert!((dart.width() - 20.0 / 3.0).abs() < 1e-9);
        assert!(
            (dart.tip - Point::new(x, 30.0)).hypot() < 1e-9,
            "{:?}",
            dart.tip
        );
    }
    assert!(kept(&before.pieces[0], &altered) < 1e-9);
    let waist = &altered.garment.seams[0];
    let off = waist.difference(&altered.garment.pieces).unwrap();
    assert!(off.0.abs() < 1e-6, "{off:?} {:?}", waist.a);
}

#[test]
fn a_dart_cut_into_a_straight_edge_and_taken_out_again_leaves_the_edge() {
    let plain = garment(vec![strip("Front", 100.0, 60.0)], Vec::new());
    let cut = DartChange::Add {
        dart: "hem dart".to_owned(),
        at: OutlinePoint::new("hem", 0.4),
        width: Mm(12.0),
        tip: Point::new(40.0, 25.0),
    };
    let with = done(&plain, &cut);
    let front = with.garment.piece("Front").unwrap();
    let dart = legs::Legs::equal(front, "hem dart").unwrap();
    assert!((dart.width() - 12.0).abs() < 1e-9);
    assert!(
        (length(front, "hem") - 34.0).abs() < 1e-9 && (length(front, "hem 2") - 54.0).abs() < 1e-9
    );
    let out = DartChange::Remove {
        dart: "hem dart".to_owned(),
    };
    let again = done(&with.garment, &out);
    assert_eq!(again.garment.pieces[0].outline.edges().len(), 4);
    assert!((length(&again.garment.pieces[0], "hem") - 100.0).abs() < 1e-9);
    assert!(
        again.garment.pieces[0]
            .outline
            .edge("hem")
            .unwrap()
            .line
            .is_straight()
    );
    let leaning = DartChange::Add {
        dart: "hem dart".to_owned(),
        at: OutlinePoint::new("hem", 0.4),
        width: Mm(12.0),
        tip: Point::new(55.0, 25.0),
    };
    let with = done(&plain, &leaning);
    legs::Legs::equal(with.garment.piece("Front").unwrap(), "hem dart").unwrap();
}

#[test]
fn a_tip_moved_keeps_both_legs_equal() {
    let change = named(|dart| DartChange::MoveTip {
        dart,
        right: Mm(6.0),
        up: Mm(-9.0),
    });
    let altered = done(&darted(), &change);
    let front = altered.garment.piece("Front").unwrap();
    let dart = legs::Legs::find(front, "waist dart").unwrap();
    assert!((dart.tip - Point::new(56.0, 21.0)).hypot() < 1e-9);
    assert!(((dart.begin - dart.tip).hypot() - (dart.end - dart.tip).hypot()).abs() < 1e-9);
}

#[test]
fn a_dart_made_into_gathers_lets_in_just_its_width() {
    let before = darted();
    let altered = done(&before, &named(|dart| DartChange::ToGathers { dart }));
    let front = altered.garment.piece("Front").unwrap();
    assert!(
        (length(front, "waist") - 80.0).abs() < 1e-9,
        "{}",
        length(front, "waist")
    );
    assert!((length(front, "hem") - 100.0).abs() < 1e-9);
    assert_eq!(
        front.fullness[0].fullness,
        Fullness::Gathers { ratio: 1.25 }
    );
    let waist = &altered.garment.seams[0];
    assert!(waist.difference(&altered.garment.pieces).unwrap().0.abs() < 1e-9);
    let filled = crate::fullness::fill(&Arc::new(adapted(altered.garment.clone(), doll("doll"))));
    assert_eq!(filled.findings, Vec::new());
    let cloth = length(&filled.outcome.pieces[0], "waist");
    assert!(
        (cloth - 100.0).abs() < 1e-3,
        "80 mm of edge and the 20 mm of the dart: {cloth}"
    );
}

#[test]
fn a_dart_eased_in_makes_its_seam_say_so() {
    let before = darted();
    let altered = done(&before, &named(|dart| DartChange::ToEase { dart }));
    assert_eq!(altered.notes, Vec::new());
    assert!((length(&altered.garment.pieces[0], "waist") - 100.0).abs() < 1e-9);
    let Relation::Eased(by) = altered.garment.seams[0].relation else {
        panic!("{:?}", altered.garment.seams[0]);
    };
    assert!((by.0 - 20.0).abs() < 1e-9);
    let mut unsewn = darted();
    unsewn.seams.clear();
    insta::assert_snapshot!(said(&unsewn, &named(|dart| DartChange::ToEase { dart })), @"nothing is sewn to waist or waist left, so there is nothing to ease 20.0 mm into; sew the edge first, or take the dart out");
}

#[test]
fn a_dart_is_pressed_the_other_way_once() {
    let press = |to| named(|dart| DartChange::Press { dart, to });
    let altered = done(&darted(), &press(DartPress::After));
    assert_eq!(altered.garment.pieces[0].darts[0].pressed, DartPress::After);
    insta::assert_snapshot!(said(&altered.garment, &press(DartPress::After)), @"waist dart is pressed that way already");
}

#[test]
fn what_cannot_be_done_to_a_dart_is_refused_with_its_mm() {
    let front = darted();
    insta::assert_snapshot!(said(&front, &pivot(("waist", 1.0), 1.0)), @"waist dart opens there already; choose a place farther from its mouth");
    insta::assert_snapshot!(said(&front, &pivot(("in", 0.5), 1.0)), @"in is a leg of waist dart, and legs stay whole edges; choose a place on another edge, or take the dart out first");
    insta::assert_snapshot!(said(&front, &pivot(("hem", 0.5), 1.5)), @"150 % of waist dart cannot be turned; choose more than 0 and at most 100 %");
    insta::assert_snapshot!(said(&front, &pivot(("collar", 0.5), 1.0)), @"the piece has no edge called collar any more");
    let divide = |into, apart| {
        named(|dart| DartChange::Divide {
            dart,
            into,
            apart: Mm(apart),
        })
    };
    insta::assert_snapshot!(said(&front, &divide(2, 8.0)), @"2 darts of 10.0 mm would lie over each other 8.0 mm apart; lay them more than 10.0 mm apart");
    insta::assert_snapshot!(said(&front, &divide(4, 40.0)), @"waist left is too short: 12.5 mm are missing; lay the darts closer together or elsewhere");
    insta::assert_snapshot!(said(&front, &named(|dart| DartChange::Move { dart, along: Mm(-45.0) })), @"waist is too short: 5.0 mm are missing; lay the darts closer together or elsewhere");
    let add = |width, at, tip| DartChange::Add {
        dart: "second".to_owned(),
        at: OutlinePoint::new("hem", at),
        width: Mm(width),
        tip: Point::from(tip),
    };
    insta::assert_snapshot!(said(&front, &add(20.0, 0.05, (20.0, 30.0))), @"its mouth would reach 5.0 mm beyond the end of hem; lay it farther in, or make it narrower");
    insta::assert_snapshot!(said(&front, &add(10.0, 0.5, (50.0, 80.0))), @"its tip would lie 22.4 mm outside the piece; choose a place inside");
    insta::assert_snapshot!(said(&front, &add(0.0, 0.5, (50.0, 20.0))), @"a dart of 0.00 mm takes nothing up; make it wider");
    let mut folded = darted();
    folded.pieces[0] = Arc::new(finished_with(
        Piece::clone(&front.pieces[0]),
        "hem",
        Finish::Fold,
    ));
    insta::assert_snapshot!(said(&folded, &named(|dart| DartChange::ToGathers { dart })), @"waist dart points at the fold, which would bend when 20.0 mm are lapped; turn the dart to another edge first, or ease its width in");
    let gone = DartChange::Remove {
        dart: "bust dart".to_owned(),
    };
    insta::assert_snapshot!(said(&front, &gone), @"the piece has no dart called bust dart any more");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_turned_dart_keeps_its_angle_and_every_seam_its_length(
        n in 0..100_usize, e in 0..30_usize, at in 0.0..1.0_f64, share in 0.05..1.2_f64,
    ) {
        let (garment, piece, dart) = nth_dart(n);
        let edges = piece.outline.edges();
        let change = DartChange::Pivot {
            dart: dart.to_owned(),
            to: OutlinePoint::new(&edges[e % edges.len()].name, at),
            share: share.min(1.0),
            name: "turned dart".to_owned(),
        };
        let Ok(altered) = change.applied(garment, &piece.name) else { return Ok(()) };
        prop_assert_eq!(altered.garment.check_references(), Ok(()));
        let new = altered.garment.piece(&piece.name).unwrap();
        prop_assert!((angles(new) - angles(piece)).abs() < 1e-4, "{} {}", angles(new), angles(piece));
        prop_assert!(kept(piece, &altered) < 1e-3, "{}", kept(piece, &altered));
        prop_assert!((new.outline.area() / piece.outline.area() - 1.0).abs() < 1e-5);
        prop_assert!(touches_only(new));
        for (old, new) in garment.seams.iter().zip(&altered.garment.seams) {
            let off = (old.difference(&garment.pieces).unwrap() - new.difference(&altered.garment.pieces).unwrap()).0;
            prop_assert!(off.abs() < 1e-3, "{}: {off}", old.name);
        }
    }

    #[test]
    fn a_divided_or_moved_dart_keeps_every_seam_its_length(n in 0..100_usize, into in 2..5_u32, apart in 2.0..60.0_f64, along in -80.0..80.0_f64) {
        let (garment, piece, dart) = nth_dart(n);
        let divide = DartChange::Divide { dart: dart.to_owned(), into, apart: Mm(apart) };
        let along = DartChange::Move { dart: dart.to_owned(), along: Mm(along) };
        for change in [divide, along] {
            let Ok(altered) = change.applied(garment, &piece.name) else { continue };
            prop_assert_eq!(altered.garment.check_references(), Ok(()));
            prop_assert!(kept(piece, &altered) < 1e-3, "{}", kept(piece, &altered));
            let new = altered.garment.piece(&piece.name).unwrap();
            angles(new);
            let off = (new.outline.bounds().width() - piece.outline.bounds().width()).abs();
            prop_assert!(off < piece.outline.bounds().width() * 0.5);
        }
    }

    #[test]
    fn a_dart_cut_anywhere_has_equal_legs(n in 0..1000_usize, e in 0..30_usize, at in 0.0..1.0_f64, width in 1.0..40.0_f64, (x, y) in (0.1..0.9_f64, 0.1..0.9_f64)) {
        let (garment, piece) = nth_piece(n);
        let edges = piece.outline.edges();
        let bounds = piece.outline.bounds();
        let change = DartChange::Add {
            dart: "cut by hand".to_owned(),
            at: OutlinePoint::new(&edges[e % edges.len()].name, at),
            width: Mm(width),
            tip: Point::new(bounds.x0 + x * bounds.width(), bounds.y0 + y * bounds.height()),
        };
        let Ok(altered) = change.applied(garment, &piece.name) else { return Ok(()) };
        prop_assert_eq!(altered.garment.check_references(), Ok(()));
        let new = altered.garment.piece(&piece.name).unwrap();
        legs::Legs::equal(new, "cut by hand").unwrap();
        let gone = DartChange::Remove { dart: "cut by hand".to_owned() };
        let again = gone.applied(&altered.garment, &piece.name).unwrap();
        prop_assert_eq!(again.garment.piece(&piece.name).unwrap().outline.edges().len(), edges.len());
    }
}
