//! A plan that can be cut has no fault; broken in each way there is, it has exactly that one, by the right number of mm.

use std::sync::Arc;

use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::lay_plan::{LayPlan, PartRef, PiecingKind};
use petitoile_core::laying::ToLay;
use petitoile_core::piece::{Face, Side};
use petitoile_core::{Degrees, LengthUnit, Mm};
use petitoile_lay::{FaultKind, PlanFault, check_plan};

use crate::small::{self, copy, part, placed, rectangle};

const RIGHT: usize = 0;
const LEFT: usize = 1;
const BAND: usize = 2;

/// What is checked, to be broken.
struct Case {
    to_lay: ToLay,
    offcut: Offcut,
    plan: LayPlan,
}

fn case() -> Case {
    Case {
        to_lay: small::to_lay(),
        offcut: small::offcut(),
        plan: small::plan(),
    }
}

impl Case {
    fn faults(&self) -> Vec<PlanFault> {
        check_plan(&self.to_lay, &[Arc::new(self.offcut.clone())], &self.plan)
    }

    fn one(&self) -> PlanFault {
        let faults = self.faults();
        assert_eq!(faults.len(), 1, "{faults:#?}");
        faults[0].clone()
    }
}

/// Breaks the plan and looks for exactly this fault.
#[track_caller]
fn check(broken: impl FnOnce(&mut Case), piece: (&str, Side), by: f64, kind: &FaultKind) {
    let mut it = case();
    broken(&mut it);
    let fault = it.one();
    assert_eq!(fault.kind, *kind);
    assert_eq!(fault.part, part(piece.0, piece.1));
    assert_eq!(fault.offcut, it.plan.placed[0].offcut);
    assert!(
        (fault.by.0 - by).abs() < 1e-3,
        "{} instead of {by}",
        fault.by.0
    );
    let words = fault.words(LengthUnit::Millimetre);
    assert!(
        words.starts_with(piece.0) && words.contains(&fault.offcut),
        "{words}"
    );
    assert!(!fault.advice().is_empty());
}

#[test]
fn a_plan_that_can_be_cut_has_no_fault() {
    assert_eq!(case().faults(), []);
}

#[test]
fn what_sticks_out_over_the_edge_is_told_by_how_far() {
    let out = |it: &mut Case| it.plan.placed[RIGHT].moved = (-3.0, 10.0);
    check(out, ("sleeve", Side::Right), 3.0, &FaultKind::OverEdge);
    let quite_out = |it: &mut Case| it.plan.placed[BAND].moved = (110.0, 50.0);
    check(quite_out, ("band", Side::Whole), 50.0, &FaultKind::OverEdge);
}

#[test]
fn the_margin_is_kept() {
    let near = |it: &mut Case| it.plan.placed[RIGHT].moved = (3.5, 10.0);
    check(
        near,
        ("sleeve", Side::Right),
        1.5,
        &FaultKind::InMargin(Mm(5.0)),
    );
    let mut just = case();
    just.plan.placed[RIGHT].moved = (5.0, 10.0);
    assert_eq!(just.faults(), []);
}

#[test]
fn a_notch_in_the_edge_that_reaches_in_is_seen() {
    let notched = |it: &mut Case| {
        it.offcut.outline = small_with_notch();
    };
    // The notch runs 12 mm deep into the band from above, between its corners.
    check(notched, ("band", Side::Whole), 2.0, &FaultKind::OverEdge);
}

/// A slit 4 mm wide from the top edge down to y = 58; the band ends at y = 60.
fn small_with_notch() -> Vec<petitoile_core::kurbo::Point> {
    crate::doll_set::points(
        &[
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 100.0),
            (32.0, 100.0),
            (32.0, 58.0),
            (28.0, 58.0),
            (28.0, 100.0),
            (0.0, 100.0),
        ],
        1.0,
    )
}

#[test]
fn holes_are_off_limits_and_so_is_the_margin_around_them() {
    let into = |it: &mut Case| it.plan.placed[BAND].moved = (32.0, 72.0);
    check(into, ("band", Side::Whole), 2.0, &FaultKind::OnHole(0));
    let near = |it: &mut Case| it.plan.placed[BAND].moved = (28.0, 72.0);
    check(
        near,
        ("band", Side::Whole),
        3.0,
        &FaultKind::NearHole(0, Mm(5.0)),
    );
    let around = |it: &mut Case| {
        it.plan.placed[BAND].moved = (28.0, 50.0);
        it.offcut.blemishes[0].outline = rectangle(40.0, 54.0, 42.0, 56.0);
    };
    check(around, ("band", Side::Whole), 4.0, &FaultKind::OnHole(0));
}

#[test]
fn a_blemish_serves_what_needs_no_better() {
    let onto = |it: &mut Case| it.plan.placed[BAND].moved = (22.0, 8.0);
    let mut it = case();
    it.plan.placed.truncate(0);
    it.plan
        .placed
        .push(placed(&copy("band", Side::Whole), 22.0, 8.0));
    let fault = it.one();
    assert_eq!(fault.kind, FaultKind::OnBlemish(1));
    assert!((fault.by.0 - 2.0).abs() < 1e-3, "{}", fault.by.0);
    it.to_lay.copies[BAND].needs = GoodFor::Inside;
    assert_eq!(it.faults(), []);
    it.to_lay.copies[BAND].needs = GoodFor::Hidden;
    it.offcut.blemishes[1].good_for = GoodFor::Hidden;
    assert_eq!(it.faults(), []);
    let _ = onto;
}

#[test]
fn parts_lie_apart_by_the_gap() {
    let near = |it: &mut Case| it.plan.placed[LEFT].moved = (50.75, 10.0);
    let of_left = |by| FaultKind::TooNear(part("sleeve", Side::Left), Mm(by));
    check(near, ("sleeve", Side::Right), 0.25, &of_left(1.0));
    let over = |it: &mut Case| it.plan.placed[LEFT].moved = (48.0, 10.0);
    let overlaps = FaultKind::Overlaps(part("sleeve", Side::Left));
    check(over, ("sleeve", Side::Right), 2.0, &overlaps);
    let inside = |it: &mut Case| {
        it.to_lay.copies[BAND].whole.outline = rectangle(0.0, 0.0, 4.0, 6.0);
        it.plan.placed[BAND].moved = (12.0, 12.0);
    };
    // To the left edge of the sleeve it is nearest: it would have to move 6 mm.
    let on_band = FaultKind::Overlaps(part("band", Side::Whole));
    check(inside, ("sleeve", Side::Right), 6.0, &on_band);
    let across = |it: &mut Case| it.plan.placed[BAND].moved = (8.0, 20.0);
    let mut it = case();
    across(&mut it);
    // The band crosses both sleeves: 10 mm of it lie on each.
    let faults = it.faults();
    assert_eq!(faults.len(), 2);
    assert!(
        faults.iter().all(|fault| (fault.by.0 - 10.0).abs() < 1e-3),
        "{faults:#?}"
    );
}

#[test]
fn of_two_that_overlap_the_free_one_is_told() {
    let pinned = |it: &mut Case| {
        it.plan.placed[LEFT].moved = (48.0, 10.0);
        it.plan.placed[RIGHT].pinned = true;
    };
    let overlaps = FaultKind::Overlaps(part("sleeve", Side::Right));
    check(pinned, ("sleeve", Side::Left), 2.0, &overlaps);
}

#[test]
fn the_grain_is_kept_within_tolerance_and_doubt() {
    let turned = |degrees: f64| {
        move |it: &mut Case| {
            it.plan.placed.truncate(1);
            it.plan.placed[RIGHT].turn = Degrees(degrees);
            it.plan.placed[RIGHT].moved = (30.0, 30.0);
        }
    };
    for degrees in [2.0, -2.0, 362.0] {
        let mut it = case();
        turned(degrees)(&mut it);
        assert_eq!(it.faults(), [], "{degrees}");
    }
    let mut it = case();
    turned(3.0)(&mut it);
    let fault = it.one();
    let FaultKind::OffGrain { off, allowed } = fault.kind else {
        panic!("{fault:?}");
    };
    assert!((off.0 - 3.0).abs() < 1e-9 && allowed == Degrees(2.0));
    // Along the grain it measures 20 sin 3 + 30 cos 3 minus what its corner lacks; the grainline runs off by that times sin 3.
    assert!(0.4 < fault.by.0 && fault.by.0 < 0.6, "{}", fault.by.0);
    it.offcut.grain_doubt = Degrees(1.0);
    assert_eq!(it.faults(), []);
    it.offcut.grain = Degrees(45.0);
    it.plan.placed[RIGHT].turn = Degrees(42.5);
    assert_eq!(it.faults(), []);
}

#[test]
fn a_grainline_that_is_drawn_aslant_lies_along_the_warp() {
    let mut it = case();
    it.plan.placed.truncate(2);
    for (placed, turn) in it.plan.placed.iter_mut().zip([-45.0, 45.0]) {
        placed.turn = Degrees(turn);
    }
    it.plan.placed[RIGHT].moved = (8.0, 30.0);
    it.plan.placed[LEFT].moved = (80.0, 40.0);
    for copy in &mut it.to_lay.copies {
        copy.whole.grain = Degrees(45.0);
    }
    // Drawn 45 degrees to the left: turned 45 back, the mirrored one the other way.
    assert_eq!(it.faults(), []);
    it.plan.placed[LEFT].turn = Degrees(-45.0);
    let turned = it.faults();
    assert!(
        turned
            .iter()
            .any(|fault| matches!(fault.kind, FaultKind::OffGrain { .. }))
    );
}

#[test]
fn upside_down_is_for_pieces_that_may_on_cloth_without_nap() {
    let over = |it: &mut Case| {
        it.plan.placed[BAND].turn = Degrees(180.0);
        it.plan.placed[BAND].moved = (50.0, 60.0);
    };
    let mut it = case();
    over(&mut it);
    assert_eq!(it.faults(), []);
    let with_nap = |it: &mut Case| {
        over(it);
        it.offcut.nap = true;
    };
    check(
        with_nap,
        ("band", Side::Whole),
        0.0,
        &FaultKind::UpsideDown { nap: true },
    );
    let not_allowed = |it: &mut Case| {
        over(it);
        it.to_lay.copies[BAND].upside_down = false;
    };
    check(
        not_allowed,
        ("band", Side::Whole),
        0.0,
        &FaultKind::UpsideDown { nap: false },
    );
}

#[test]
fn the_right_side_shows() {
    let flipped = |it: &mut Case| {
        it.plan.placed[RIGHT].mirrored = true;
        it.plan.placed[RIGHT].moved = (30.0, 10.0);
    };
    check(flipped, ("sleeve", Side::Right), 0.0, &FaultKind::WrongSide);
    let mut it = case();
    flipped(&mut it);
    it.offcut.sides_alike = true;
    assert_eq!(it.faults(), []);
    let mut it = case();
    it.offcut.face = Face::Wrong;
    let faults = it.faults();
    assert_eq!(faults.len(), 3);
    assert!(
        faults
            .iter()
            .all(|fault| fault.kind == FaultKind::WrongSide)
    );
}

#[test]
fn the_cloth_is_the_one_that_was_chosen() {
    let other = |it: &mut Case| it.to_lay.copies[BAND].cloth = Some("silk".to_owned());
    let kind = FaultKind::OtherCloth {
        wanted: "silk".to_owned(),
        there: "cotton".to_owned(),
    };
    check(other, ("band", Side::Whole), 0.0, &kind);
    let mut any = case();
    any.to_lay.copies[BAND].cloth = None;
    assert_eq!(any.faults(), []);
}

#[test]
fn no_copy_lies_twice_and_nothing_that_is_not_wanted() {
    let twice = |it: &mut Case| {
        let mut again = it.plan.placed[BAND].clone();
        again.moved = (10.0, 65.0);
        it.plan.placed.push(again);
    };
    check(twice, ("band", Side::Whole), 0.0, &FaultKind::LaidTwice);
    let not_wanted = |it: &mut Case| {
        it.to_lay.copies.truncate(2);
    };
    check(
        not_wanted,
        ("band", Side::Whole),
        0.0,
        &FaultKind::NotWanted,
    );
    let elsewhere = |it: &mut Case| it.offcut.name = "blue A".to_owned();
    let mut it = case();
    elsewhere(&mut it);
    it.plan.placed[BAND].offcut = "red".to_owned();
    assert_eq!(it.one().kind, FaultKind::NoSuchOffcut);
}

#[test]
fn all_parts_of_a_copy_lie_or_none() {
    let mut it = case();
    it.plan.piecings.push(small::piecing());
    let missing = it.one();
    assert_eq!(missing.kind, FaultKind::PartsMissing(vec![1]));
    let unit = LengthUnit::Millimetre;
    assert_eq!(missing.what(unit), "its part 2 of 2 does not lie");
    assert!(
        missing
            .finding("Sunday", unit)
            .what
            .starts_with("Its part 2 of 2 does")
    );
    it.plan.piecings[0].kind = PiecingKind::AlongFold;
    assert_eq!(it.one().what(unit), "its right part does not lie");
    // The other part is told by its name, too.
    let mut over = it.plan.placed[BAND].clone();
    (over.part, over.moved) = (1, it.plan.placed[RIGHT].moved);
    it.plan.placed.push(over);
    let told: Vec<String> = it.faults().iter().map(|fault| fault.words(unit)).collect();
    assert!(
        told.iter().any(
            |words| words.starts_with("sleeve, right, on blue A: overlaps band, right part by")
        ),
        "{told:?}"
    );
    it.plan.placed.pop();
    it.plan.piecings = vec![small::piecing()];
    it.plan.placed.push(petitoile_core::lay_plan::Placed {
        part: 1,
        moved: (10.0, 65.0),
        ..it.plan.placed[BAND].clone()
    });
    assert_eq!(it.faults(), []);
    it.plan.piecings.clear();
    let fault = it.one();
    assert_eq!(fault.kind, FaultKind::NoSuchPart);
    assert_eq!(
        fault.part,
        PartRef {
            of: copy("band", Side::Whole),
            part: 1
        }
    );
}

#[test]
fn what_is_cut_is_as_it_was_cut() {
    let mut it = case();
    it.plan.placed[RIGHT].as_cut = Some(crate::doll_set::points(
        &[
            (10.0, 10.0),
            (30.0, 10.0),
            (30.0, 30.0),
            (20.0, 40.0),
            (10.0, 40.0),
        ],
        1.0,
    ));
    assert_eq!(it.faults(), []);
    // Cut 2 mm narrower.
    it.plan.placed[RIGHT].as_cut = Some(crate::doll_set::points(
        &[
            (10.0, 10.0),
            (28.0, 10.0),
            (28.0, 30.0),
            (20.0, 40.0),
            (10.0, 40.0),
        ],
        1.0,
    ));
    let fault = it.one();
    assert_eq!(fault.kind, FaultKind::NotAsCut);
    assert!((fault.by.0 - 2.0).abs() < 0.01, "{}", fault.by.0);
    // Its cloth is gone wherever it is said to lie now, and the other one gives way.
    it.plan.placed[LEFT].moved = (47.0, 10.0);
    let kinds: Vec<FaultKind> = it.faults().into_iter().map(|fault| fault.kind).collect();
    assert!(
        kinds.contains(&FaultKind::Overlaps(part("sleeve", Side::Right))),
        "{kinds:?}"
    );
}

#[test]
fn a_cut_part_of_what_is_no_longer_wanted_is_only_in_the_way() {
    let mut it = case();
    it.plan.placed[BAND].as_cut = Some(rectangle(10.0, 50.0, 50.0, 60.0));
    it.to_lay.copies.truncate(2);
    assert_eq!(it.faults(), []);
    it.plan.placed[LEFT].moved = (51.0, 25.0);
    let fault = it.one();
    assert_eq!(fault.part, part("sleeve", Side::Left));
    assert_eq!(fault.kind, FaultKind::Overlaps(part("band", Side::Whole)));
}

#[test]
fn a_place_that_is_no_number_is_told() {
    let nowhere = |it: &mut Case| it.plan.placed[RIGHT].turn = Degrees(f64::NAN);
    check(nowhere, ("sleeve", Side::Right), 0.0, &FaultKind::NoPlace);
}

#[test]
fn a_fault_is_a_finding_that_takes_the_part_up() {
    let mut it = case();
    it.plan.placed[RIGHT].moved = (-3.0, 10.0);
    let finding = it.one().finding("Sunday", LengthUnit::Millimetre);
    assert_eq!(
        finding.to_string(),
        "sleeve, right, on blue A: It sticks out over the edge by 3 mm. Move it, or lay again."
    );
    assert!(finding.remedy.is_some());
}
