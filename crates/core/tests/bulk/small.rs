//! Small garments counted by hand.

use crate::small_garments::{finished_with, garment, seam, stretch, strip};
use std::sync::Arc;

use crate::{cloth, layers, made, reckoned, stack};
use petitoile_core::adapt::adapt;
use petitoile_core::bulk::{Bulk, Judged, bulk, findings, heeded};
use petitoile_core::edge::Finish;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::Gravity;
use petitoile_core::finish::finish;
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Fullness, FullnessOp, fill};
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{By, order};
use petitoile_core::piece::{Copy, Piece, Role, Side};
use petitoile_core::project::Project;
use petitoile_core::seams::{Insert, InsertKind, Relation, Seam, SeamKind};
use petitoile_core::units::{LengthUnit, Mm};

fn kinded(mut seam: Seam, kind: SeamKind) -> Seam {
    seam.kind = kind;
    seam
}

/// Two panels side by side, sewn at their sides, and a band along their waists: `sides` is the kind of the side seam.
fn skirt(sides: SeamKind, hem_turns: u8) -> Garment {
    let hemmed = |name| {
        finished_with(
            strip(name, 100.0, 80.0),
            "hem",
            Finish::Hem {
                width: Some(Mm(6.0)),
                turns: hem_turns,
            },
        )
    };
    let pieces = vec![hemmed("Front"), hemmed("Back"), strip("Band", 200.0, 20.0)];
    let side = seam(
        "side seam",
        vec![stretch("Front", "right", 1.0, 0.0)],
        vec![stretch("Back", "left", 0.0, 1.0)],
        Relation::Equal,
    );
    let waist = seam(
        "waist seam",
        vec![stretch("Band", "hem", 0.0, 1.0)],
        vec![
            stretch("Front", "waist", 1.0, 0.0),
            stretch("Back", "waist", 1.0, 0.0),
        ],
        Relation::Equal,
    );
    garment(pieces, vec![kinded(side, sides), waist])
}

const COTTON: &[(Role, f64)] = &[(Role::Shell, 0.3)];

#[test]
fn a_plain_seam_is_two_layers_and_three_where_one_piece_brings_a_seam() {
    let all = reckoned(&made(skirt(SeamKind::Plain, 2), COTTON));
    assert_eq!(layers(stack(&all, "side seam", &[])), (2, 2));
    assert_eq!(layers(stack(&all, "waist seam", &["side seam"])), (3, 4));
    let along = stack(&all, "waist seam", &[]);
    assert!((along.stack.sewn().unwrap().thickness.0 - 0.6).abs() < 1e-12);
}

/// Fact sheet D2: a hem turned twice is 3 layers, 3 more where it crosses a seam pressed open; 0.9 and 1.8 mm at 0.3 mm.
#[test]
fn a_hem_turned_twice_is_three_layers_and_six_over_a_seam_pressed_open() {
    let all = reckoned(&made(skirt(SeamKind::Plain, 2), COTTON));
    let thick = |meets: &[&str]| {
        let judged = stack(&all, "Front, hem", meets);
        (layers(judged).0, judged.stack.sewn().unwrap().thickness.0)
    };
    let (run, crossing) = (thick(&[]), thick(&["side seam"]));
    assert_eq!((run.0, crossing.0), (3, 6));
    assert!((run.1 - 0.9).abs() < 1e-12 && (crossing.1 - 1.8).abs() < 1e-12);
}

/// Four squares that meet in one point: two seams across, one seam along.
fn four_squares(kind: SeamKind) -> Garment {
    let square = |name| strip(name, 50.0, 50.0);
    let across = |name, left, right| {
        kinded(
            seam(
                name,
                vec![stretch(left, "right", 0.0, 1.0)],
                vec![stretch(right, "left", 1.0, 0.0)],
                Relation::Equal,
            ),
            kind,
        )
    };
    let along = seam(
        "along",
        vec![stretch("A", "hem", 0.0, 1.0), stretch("B", "hem", 0.0, 1.0)],
        vec![
            stretch("C", "waist", 1.0, 0.0),
            stretch("D", "waist", 1.0, 0.0),
        ],
        Relation::Equal,
    );
    garment(
        ["A", "B", "C", "D"].map(square).into(),
        vec![across("above", "A", "B"), across("below", "C", "D"), along],
    )
}

/// Fact sheet I: a crossing of felled seams is 8 layers, 2.4 mm at 0.3 mm; pressed open it is 4.
#[test]
fn where_four_pieces_meet_plain_seams_make_four_layers_and_felled_ones_eight() {
    let meets = ["above", "below"];
    let plain = reckoned(&made(four_squares(SeamKind::Plain), COTTON));
    assert_eq!(layers(stack(&plain, "along", &meets)).0, 4);
    let felled = reckoned(&made(four_squares(SeamKind::Felled), COTTON));
    let judged = stack(&felled, "along", &meets);
    assert_eq!(layers(judged).0, 8);
    assert!((judged.stack.sewn().unwrap().thickness.0 - 2.4).abs() < 1e-12);
    let french = reckoned(&made(four_squares(SeamKind::French), COTTON));
    assert_eq!(layers(stack(&french, "along", &meets)).0, 10);
}

#[test]
fn grading_lowers_the_step_over_seams_that_lie_to_one_side() {
    let with = |graded: bool| {
        let mut finished = made(four_squares(SeamKind::Overedged), COTTON);
        if graded {
            let filled = std::sync::Arc::make_mut(&mut finished.filled);
            let adapted = std::sync::Arc::make_mut(&mut filled.adapted);
            let fitting = std::sync::Arc::make_mut(&mut adapted.fitting);
            fitting.making.graded = ["above".to_owned(), "below".to_owned()].into();
        }
        stack(&reckoned(&finished), "along", &["above", "below"])
            .stack
            .step
            .0
    };
    // Both sides climb two layers at once; graded, one at a time from the graded side.
    assert!((with(false) - 4.0 * 0.3).abs() < 1e-9, "{}", with(false));
    assert!((with(true) - 2.0 * 0.3).abs() < 1e-9, "{}", with(true));
}

#[test]
fn a_flat_lining_and_an_interlining_count_in_every_seam() {
    let role = |role| Copy {
        side: Side::Whole,
        role,
    };
    let mut skirt = skirt(SeamKind::Plain, 2);
    let front = std::sync::Arc::make_mut(&mut skirt.pieces[0]);
    front.copies = vec![
        role(Role::Shell),
        role(Role::FlatLined),
        role(Role::Interlining),
    ];
    let cloths = [
        (Role::Shell, 0.3),
        (Role::FlatLined, 0.1),
        (Role::Interlining, 0.2),
    ];
    let all = reckoned(&made(skirt, &cloths));
    let side = stack(&all, "side seam", &[]);
    assert_eq!(layers(side).0, 4, "three of the front, one of the back");
    assert!((side.stack.sewn().unwrap().thickness.0 - 0.9).abs() < 1e-12);
}

#[test]
fn knife_pleats_lie_three_times_and_gathers_an_odd_number_of_times() {
    let with = |fullness: Fullness| {
        let mut skirt = skirt(SeamKind::Plain, 2);
        let front: &mut Piece = std::sync::Arc::make_mut(&mut skirt.pieces[0]);
        front.fullness = vec![FullnessOp {
            from: 0.2,
            to: 0.8,
            ..FullnessOp::new("waist", fullness)
        }];
        let all = reckoned(&made(skirt, COTTON));
        let along = stack(&all, "waist seam", &[]);
        (layers(along).0, along.stack.mean)
    };
    let pleats = with(Fullness::KnifePleats {
        count: 3,
        depth: Mm(8.0),
    });
    assert_eq!(pleats.0, 4, "three of the front, one of the band");
    let gathers = with(Fullness::Gathers { ratio: 2.0 });
    assert_eq!(gathers.0, 4);
    // Front gathered on 60 of 200 mm, away from the side seam: the band 1, cloth 1, and 60 mm more.
    let open = 200.0 - 2.0 * 6.35;
    let mean = 2.0 + 60.0 / open;
    assert!((gathers.1 - mean).abs() < 1e-3, "{} for {mean}", gathers.1);
    assert_eq!(with(Fullness::Gathers { ratio: 3.2 }).0, 6, "five and one");
}

#[test]
fn what_is_caught_in_a_seam_counts_only_where_it_lies() {
    let mut skirt = skirt(SeamKind::Plain, 2);
    skirt.seams[0].inserts = vec![Insert {
        name: "ribbon".to_owned(),
        kind: InsertKind::Tie,
        thickness: Mm(0.5),
        from: 0.4,
        to: 0.5,
    }];
    let all = reckoned(&made(skirt, COTTON));
    let side = &stack(&all, "side seam", &[]).stack;
    assert!((side.sewn().unwrap().thickness.0 - 1.1).abs() < 1e-12);
    let at = side.place.fraction.unwrap();
    assert!((0.4..0.5).contains(&at), "shown where it lies: {at}");
}

/// A band folded over the waist: its inner edge turned under on the waist seam, whose allowances lie inside.
fn banded(fullness: Option<Fullness>) -> Garment {
    let mut skirt = skirt(SeamKind::Plain, 2);
    let inside = seam(
        "band inside",
        vec![stretch("Band", "waist", 1.0, 0.0)],
        vec![stretch("Band", "hem", 0.0, 1.0)],
        Relation::Equal,
    );
    skirt.seams.push(kinded(inside, SeamKind::Lapped));
    if let Some(fullness) = fullness {
        for piece in &mut skirt.pieces[..2] {
            let piece = std::sync::Arc::make_mut(piece);
            piece.fullness = vec![FullnessOp {
                from: 0.2,
                to: 0.8,
                ..FullnessOp::new("waist", fullness)
            }];
        }
    }
    skirt
}

#[test]
fn a_band_over_a_waist_is_five_layers_and_seven_over_pleats() {
    // Inner band twice (turned under), outer band twice (with its allowance), the skirt's allowance.
    let plain = reckoned(&made(banded(None), COTTON));
    assert_eq!(layers(stack(&plain, "band inside", &[])).0, 5);
    // The side seam of the skirt goes up into the band with it: one more.
    assert_eq!(layers(stack(&plain, "band inside", &["side seam"])).0, 6);
    let pleats = Fullness::KnifePleats {
        count: 3,
        depth: Mm(8.0),
    };
    let pleated = reckoned(&made(banded(Some(pleats)), COTTON));
    assert_eq!(layers(stack(&pleated, "band inside", &[])).0, 7);
}

#[test]
fn too_thick_a_stack_is_told_with_place_number_and_what_helps() {
    let finished = made(four_squares(SeamKind::Felled), &[(Role::Shell, 0.6)]);
    let machine = Machine {
        thickest: Mm(3.0),
        ..Machine::default()
    };
    let all = bulk(&finished, None, &machine, LengthUnit::Millimetre);
    let told = findings(&all, "Smock for the doll", &machine, LengthUnit::Millimetre);
    let along = told
        .iter()
        .find(|f| f.place.part.as_deref() == Some("along"))
        .unwrap();
    assert_eq!(along.gravity, Gravity::Care);
    assert_eq!(along.place.fraction.map(|f| (f * 10.0).round()), Some(5.0));
    insta::assert_snapshot!(along, @"along: where it crosses above and below, 8 layers lie under the foot, 4.80 mm: 1.80 mm more than the 3.00 mm your machine takes. Sew above plain: 3.60 mm; or: Sew below plain: 3.60 mm; or: Sew it by hand.");
}

/// A project with that garment on the very body it was made for.
fn project(garment: Garment) -> Project {
    let fitting = Fitting::new("fitted", garment.name.clone(), garment.made_for.clone());
    Project {
        garments: vec![Arc::new(garment)],
        fittings: vec![Arc::new(fitting)],
        machine: Machine {
            thickest: Mm(4.0),
            step: Mm(50.0),
            shortest: Mm(5.0),
            ..Machine::default()
        },
        ..Project::default()
    }
}

fn worked(project: &Project) -> Bulk {
    let adapted = adapt(project, "fitted").unwrap();
    let order = order(
        &adapted.made,
        &adapted.fitting,
        &project.machine,
        project.unit,
    );
    let filled = fill(&Arc::new(adapted)).outcome;
    let finished = finish(&Arc::new(filled)).outcome;
    bulk(&finished, Some(&order), &project.machine, project.unit)
}

#[test]
fn every_remedy_gives_what_it_says() {
    let mut squares = four_squares(SeamKind::Felled);
    for (role, thickness) in [(Role::Shell, 0.6), (Role::Interlining, 0.3)] {
        squares.cloths.insert(role, cloth(thickness));
    }
    for piece in &mut squares.pieces {
        let inner = Copy {
            side: Side::Whole,
            role: Role::Interlining,
        };
        Arc::make_mut(piece).copies.push(inner);
    }
    let before = project(squares);
    let over: Vec<Judged> = worked(&before)
        .stacks
        .into_iter()
        .filter(Judged::is_over)
        .collect();
    assert!(!over.is_empty(), "nothing is over its limit");
    let mut tried = 0;
    for judged in &over {
        for remedy in &judged.remedies {
            let edit = remedy.edit.as_ref().unwrap_or_else(|| panic!("{remedy:?}"));
            let after = worked(&before.edited(edit).unwrap());
            let now = after
                .stacks
                .iter()
                .find(|s| {
                    (&s.stack.name, &s.stack.meets) == (&judged.stack.name, &judged.stack.meets)
                })
                .unwrap_or_else(|| panic!("{} is gone", judged.stack.name));
            let high = now.stack.sewn().unwrap().thickness.0;
            match remedy.becomes {
                Some(said) => assert!((high - said.0).abs() < 1e-6, "{}: {high}", remedy.words),
                None => assert_eq!(now.by, By::Hand, "{}", remedy.words),
            }
            assert_eq!(remedy.is_enough, !now.is_over(), "{}", remedy.words);
            tried += 1;
        }
    }
    assert!(tried >= 4, "{tried}");
}

/// What the maker is told about the step that sews a seam.
fn heeded_step(project: &Project, key: &str) -> (By, String) {
    let adapted = adapt(project, "fitted").unwrap();
    let (machine, unit) = (&project.machine, project.unit);
    let order = order(&adapted.made, &adapted.fitting, machine, unit);
    let fitting = adapted.fitting.clone();
    let finished = finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome;
    let bulk = bulk(&finished, Some(&order), machine, unit);
    let order = heeded(order, &bulk, &fitting, machine, unit);
    let step = order.step(key).unwrap_or_else(|| panic!("{order:?}"));
    (step.by, step.by_why.clone())
}

/// Two layers of 0.6 mm run: 1.2 mm. Where the seams cross lie more.
#[test]
fn a_run_the_machine_does_not_sew_is_sewn_by_hand_and_a_crossing_only_where_it_crosses() {
    let mut squares = four_squares(SeamKind::Plain);
    squares.cloths.insert(Role::Shell, cloth(0.6));
    let mut before = project(squares);
    let mut along = |thickest: f64| {
        before.machine.thickest = Mm(thickest);
        heeded_step(&before, "sew along")
    };
    assert_eq!(along(4.0).0, By::Machine);
    assert!(!along(4.0).1.contains("layers"), "{}", along(4.0).1);
    let crossing = along(2.0);
    assert_eq!(crossing.0, By::Machine);
    assert!(crossing.1.contains("; by hand where it crosses above and below: 4 layers are 2.40 mm thick, more than the 2.00 mm your machine takes"), "{}", crossing.1);
    let run = along(1.0);
    assert_eq!(run.0, By::Hand);
    assert_eq!(
        run.1,
        "2 layers are 1.20 mm thick, more than the 1.00 mm your machine takes"
    );
    // She may choose the machine all the same, and is told why not.
    let chosen = before.edited(&Edit::Fitting {
        fitting: "fitted".to_owned(),
        change: FittingEdit::SetBy("sew along".to_owned(), Some(By::Machine)),
    });
    let (by, why) = heeded_step(&chosen.unwrap(), "sew along");
    assert_eq!(by, By::Machine);
    assert!(
        why.starts_with("your choice; otherwise by hand: 2 layers"),
        "{why}"
    );
}

/// Felt faced with itself: two turned layers of 1 mm. Lined to the edge with lawn it is 1 + 0.1 mm, in one change.
#[test]
fn a_faced_edge_too_thick_is_lined_to_the_edge_in_one_change() {
    let faced = finished_with(strip("Bib", 60.0, 40.0), "waist", Finish::Facing);
    let mut bib = garment(vec![faced], Vec::new());
    for (role, thickness) in [(Role::Shell, 1.0), (Role::Lining, 0.1)] {
        bib.cloths.insert(role, cloth(thickness));
    }
    let mut before = project(bib);
    before.machine.thickest = Mm(1.5);
    let all = worked(&before);
    let judged = stack(&all, "Bib, waist", &[]);
    let line = judged
        .remedies
        .iter()
        .find(|remedy| remedy.words.starts_with("Line to the edge"))
        .unwrap();
    assert!(line.is_enough, "{line:?}");
    let after = before.edited(line.edit.as_ref().unwrap()).unwrap();
    let then = worked(&after);
    let sewn = stack(&then, "waist of Bib to its lining", &[]);
    let high = sewn.stack.sewn().unwrap().thickness;
    assert!(
        (high.0 - line.becomes.unwrap().0).abs() < 1e-9,
        "{high:?} {line:?}"
    );
    assert!((high.0 - 1.1).abs() < 1e-9, "{high:?}");
    assert!(!sewn.is_over());
}

#[test]
fn nothing_is_told_where_everything_fits() {
    let finished = made(banded(None), &[(Role::Shell, 0.165)]);
    let (machine, unit) = (Machine::default(), LengthUnit::Millimetre);
    let all = bulk(&finished, None, &machine, unit);
    assert_eq!(findings(&all, "x", &machine, unit), Vec::new());
}

#[test]
fn cloth_of_which_nobody_gave_the_thickness_is_named() {
    let all = reckoned(&made(skirt(SeamKind::Plain, 1), &[]));
    assert_eq!(all.unknown, [Role::Shell]);
    assert_eq!(layers(stack(&all, "side seam", &[])).0, 2, "still counted");
}

/// Fact sheet H02: round a stack of 1 mm a layer of 0.5 mm is 2.356 mm long in its middle.
#[test]
fn a_hem_says_its_turn_of_cloth() {
    let all = reckoned(&made(skirt(SeamKind::Plain, 2), &[(Role::Shell, 0.5)]));
    let turn = stack(&all, "Front, hem", &[]).stack.turn_of_cloth.unwrap();
    assert!(
        (turn.0 - std::f64::consts::PI * 0.5).abs() < 1e-12,
        "{turn:?}"
    );
}
