//! Every seam that the cloth asks for enters the order of work, the making sheet and the stacks.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::Adapted;
use petitoile_core::bulk::bulk;
use petitoile_core::cloth::Cloth;
use petitoile_core::dressing::dressing;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::fill;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Piecing, PiecingKind};
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{Mistake, Order, Step, Way, Work, order, ways_back};
use petitoile_core::making_sheet::{Basis, MakingSheet, making_sheet};
use petitoile_core::piece::{Copy, Role};
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch};
use petitoile_core::units::LengthUnit;

use super::demos::all;
use super::samples::{WHOLE, adapted, copy_of, laid, on_fold, rectangle};

const UNIT: LengthUnit = LengthUnit::Millimetre;

fn order_of(finished: &Finished) -> Order {
    let adapted = &finished.filled.adapted;
    order(&adapted.made, &adapted.fitting, &Machine::default(), UNIT)
}

fn sheet_of(finished: &Finished, order: &Order) -> MakingSheet {
    let machine = Machine::default();
    making_sheet(&Basis {
        finished,
        order,
        bulk: &bulk(finished, Some(order), &machine, UNIT),
        dressing: &dressing(&finished.filled, &[]),
        machine: &machine,
        unit: UNIT,
    })
}

/// The same finished with every copy pieced in the first way it is offered.
fn pieced(finished: &Finished) -> (Finished, Vec<Piecing>) {
    let to_lay = laid(finished).outcome;
    let ways = to_lay.copies.iter().filter_map(|copy| copy.pieced.first());
    let piecings: Vec<Piecing> = ways.map(|way| way.piecing.clone()).collect();
    (with(&finished.filled.adapted, piecings.clone()), piecings)
}

fn with(adapted: &Adapted, piecings: Vec<Piecing>) -> Finished {
    let mut adapted = adapted.clone();
    Arc::make_mut(&mut adapted.fitting).lay_plan = Some(LayPlan {
        piecings,
        ..LayPlan::default()
    });
    finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome
}

#[test]
fn parts_are_sewn_together_before_anything_else_touches_their_copy() {
    let mut checked = 0;
    for whole in all() {
        let name = whole.filled.adapted.fitting.name.clone();
        let (finished, piecings) = pieced(&whole);
        let before = order_of(&whole);
        let after = order_of(&finished);
        assert_eq!(after.is_feasible(), before.is_feasible(), "{name}");
        assert_eq!(
            after.steps.len(),
            before.steps.len() + piecings.len(),
            "{name}"
        );
        for piecing in &piecings {
            let own = |step: &Step| matches!(&step.work, Work::PieceTogether { of, .. } if *of == piecing.of);
            let at = after.steps.iter().position(own).unwrap();
            assert!(after.steps[at].length.0 > 0.0);
            let copy = (piecing.of.piece.clone(), piecing.of.copy);
            let touched = after
                .steps
                .iter()
                .take(at)
                .filter(|step| step.work != Work::CutOut && step.copies.contains(&copy));
            // Another of those that are alike is another copy.
            let touched: Vec<&str> = touched
                .filter(|step| !matches!(step.work, Work::PieceTogether { .. }))
                .map(|step| step.key.as_str())
                .collect();
            assert_eq!(
                touched,
                [] as [&str; 0],
                "{name}: before {}",
                after.steps[at].key
            );
            checked += 1;
        }
        let mut keys: Vec<&str> = after.steps.iter().map(|step| step.key.as_str()).collect();
        keys.sort_unstable();
        let all = keys.len();
        keys.dedup();
        assert_eq!(keys.len(), all, "{name}: every key once");
    }
    assert!(checked > 30, "{checked}");
}

#[test]
fn a_lining_that_is_mounted_is_whole_before_it_is_mounted() {
    let mut front = on_fold("Front", 40.0, 60.0);
    let mounted = Copy {
        role: Role::FlatLined,
        ..WHOLE
    };
    front.copies.push(mounted);
    let adapted = adapted(vec![front], |_| {});
    let piecing = Piecing {
        of: CopyRef {
            copy: mounted,
            ..copy_of("Front")
        },
        ..along_fold("Front", 60.0)
    };
    let order = order_of(&with(&adapted, vec![piecing]));
    let keys: Vec<&str> = order.steps.iter().map(|step| step.key.as_str()).collect();
    let at = |key: &str| {
        keys.iter()
            .position(|k| *k == key)
            .unwrap_or_else(|| panic!("{key}: {keys:?}"))
    };
    assert!(at("cut out") < at("piece Front, mounted"));
    assert!(at("piece Front, mounted") < at("flat-line Front"));
}

fn along_fold(piece: &str, long: f64) -> Piecing {
    Piecing {
        of: copy_of(piece),
        kind: PiecingKind::AlongFold,
        lines: vec![(Point::new(0.0, 0.0), Point::new(0.0, long))],
        allowance: Mm(5.0),
    }
}

#[test]
fn a_piecing_of_a_copy_that_is_not_cut_is_no_step() {
    let adapted = adapted(vec![on_fold("Front", 40.0, 60.0)], |_| {});
    let mut second = along_fold("Front", 60.0);
    second.of.number = 1;
    let order = order_of(&with(&adapted, vec![second, along_fold("Old front", 60.0)]));
    assert!(
        order
            .steps
            .iter()
            .all(|step| !matches!(step.work, Work::PieceTogether { .. }))
    );
}

/// A panel and a yoke sewn on at its waist, edge on edge.
fn panel_and_yoke() -> Adapted {
    let mut adapted = adapted(
        vec![
            rectangle("Panel", 100.0, 60.0),
            rectangle("Yoke", 100.0, 30.0),
        ],
        |fitting| {
            let cloth = Cloth {
                name: "linen".to_owned(),
                thickness: Mm(0.3),
                source: String::new(),
            };
            fitting.cloths.insert(Role::Shell, cloth);
            fitting.allowances.seam = Mm(5.0);
        },
    );
    let stretch = |piece: &str, edge: &str, from: f64| Stretch {
        piece: piece.to_owned(),
        copy: WHOLE,
        edge: edge.to_owned(),
        from,
        to: 1.0 - from,
    };
    let seam = Seam {
        name: "yoke seam".to_owned(),
        a: vec![stretch("Panel", "waist", 0.0)],
        b: vec![stretch("Yoke", "hem", 1.0)],
        mirrored: false,
        relation: Relation::Equal,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    };
    Arc::make_mut(&mut adapted.made).seams.push(seam);
    adapted
}

fn patched_panel() -> Piecing {
    Piecing {
        of: copy_of("Panel"),
        kind: PiecingKind::Patch,
        lines: vec![(Point::new(70.0, -5.0), Point::new(70.0, 65.0))],
        allowance: Mm(5.0),
    }
}

#[test]
fn the_making_sheet_says_which_parts_are_sewn_and_counts_them() {
    let finished = with(&panel_and_yoke(), vec![patched_panel()]);
    let order = order_of(&finished);
    let sheet = sheet_of(&finished, &order);
    let told: Vec<&str> = sheet
        .steps
        .iter()
        .take(3)
        .map(|step| step.sentence.as_str())
        .collect();
    assert_eq!(
        told,
        [
            "Cut out 3 pieces, mark notches, dots and stitch lines on the wrong side.",
            "Sew the patch to Panel.",
            "Overcast the raw waist and hem of Panel and Yoke.",
        ]
    );
    assert_eq!(sheet.steps[0].notes[0], "Cut in parts: Panel in 2.");
    assert_eq!(
        sheet.steps[1].notes,
        [
            "Right sides together; allowance 5 mm.",
            "Trim what sticks out beyond the cut line.",
            "Then press the seam as sewn, then its allowances open.",
        ]
    );
    let counts: Vec<String> = sheet.cutting.iter().map(|row| row.count_words()).collect();
    assert_eq!(counts, ["1 in 2 parts", "1"]);
}

#[test]
fn each_kind_of_piecing_has_its_sentence() {
    let strip = Piecing {
        kind: PiecingKind::Strip,
        lines: vec![
            (Point::new(30.0, -5.0), Point::new(30.0, 65.0)),
            (Point::new(60.0, -5.0), Point::new(60.0, 65.0)),
        ],
        ..patched_panel()
    };
    let two_patches = Piecing {
        kind: PiecingKind::Patch,
        ..strip.clone()
    };
    let halves = Piecing {
        kind: PiecingKind::AlongFold,
        ..patched_panel()
    };
    for (piecing, sentence) in [
        (strip, "Join the three parts of Panel end to end."),
        (two_patches, "Sew the two patches to Panel."),
        (
            halves,
            "Sew the two parts of Panel together, along the former fold.",
        ),
    ] {
        let finished = with(&panel_and_yoke(), vec![piecing]);
        let sheet = sheet_of(&finished, &order_of(&finished));
        assert_eq!(sheet.steps[1].sentence, sentence);
    }
}

/// Two layers along the seam, one more where the panel's own seam is crossed: its allowance, pressed open.
#[test]
fn a_seam_over_a_piecing_sews_through_one_allowance_more() {
    let layers = |piecings: Vec<Piecing>| -> Vec<(Vec<String>, u32)> {
        let finished = with(&panel_and_yoke(), piecings);
        let order = order_of(&finished);
        let bulk = bulk(&finished, Some(&order), &Machine::default(), UNIT);
        let stacks = bulk
            .stacks
            .iter()
            .filter(|judged| judged.stack.name == "yoke seam");
        let mut told: Vec<_> = stacks
            .map(|judged| {
                (
                    judged.stack.meets.clone(),
                    judged.stack.sewn().unwrap().count,
                )
            })
            .collect();
        told.sort();
        told
    };
    assert_eq!(layers(Vec::new()), [(Vec::new(), 2)]);
    let met = vec!["the piecing of Panel".to_owned()];
    assert_eq!(layers(vec![patched_panel()]), [(Vec::new(), 2), (met, 3)]);
}

/// The panel is 60 mm high and its piecings run square to the yoke seam: each of two patches has a seam as long as that of one,
/// both are sewn before the yoke, and the yoke's seam crosses both.
#[test]
fn both_seams_of_two_patches_are_sewn_first_and_crossed_later() {
    let two = Piecing {
        lines: vec![
            (Point::new(20.0, -5.0), Point::new(20.0, 65.0)),
            (Point::new(70.0, -5.0), Point::new(70.0, 65.0)),
        ],
        ..patched_panel()
    };
    let step_of = |piecing: Piecing| -> (Finished, Order, usize, f64) {
        let finished = with(&panel_and_yoke(), vec![piecing]);
        let order = order_of(&finished);
        let is_piecing = |step: &Step| matches!(step.work, Work::PieceTogether { .. });
        let mut at = order
            .steps
            .iter()
            .enumerate()
            .filter(|(_, step)| is_piecing(step));
        let (place, step) = at.next().unwrap();
        assert!(at.next().is_none(), "both seams are one step of the work");
        let length = step.length.0;
        (finished, order, place, length)
    };
    let (_, _, _, one_seam) = step_of(patched_panel());
    let (finished, order, place, both_seams) = step_of(two);
    assert!(one_seam > 0.0 && (both_seams - 2.0 * one_seam).abs() < 1e-9);
    let yoke = |step: &Step| matches!(&step.work, Work::Seam { seam, .. } if seam == "yoke seam");
    assert!(place < order.steps.iter().position(yoke).unwrap());
    let bulk = bulk(&finished, Some(&order), &Machine::default(), UNIT);
    let crossed = bulk
        .stacks
        .iter()
        .filter(|judged| judged.stack.name == "yoke seam" && !judged.stack.meets.is_empty());
    assert_eq!(crossed.count(), 2);
}

#[test]
fn what_runs_across_a_piecing_is_unpicked_with_it() {
    let mut adapted = panel_and_yoke();
    let done = ["cut out", "piece Panel", "sew yoke seam"];
    let fitting = Arc::make_mut(&mut adapted.fitting);
    fitting.making.done = done.map(str::to_owned).into_iter().collect();
    let finished = with(&adapted, vec![patched_panel()]);
    let order = order_of(&finished);
    let step = order.step("sew yoke seam").unwrap();
    assert!(
        step.after.contains(&"piece Panel".to_owned()),
        "{:?}",
        step.after
    );
    assert!(step.rules.contains(&"crossed seam first"));
    let made = &finished.filled.adapted;
    let wrong = Mistake::SewnWrong("piece Panel".to_owned());
    let ways = ways_back(&made.made, &made.fitting, &Machine::default(), UNIT, &wrong).unwrap();
    let fewest = ways.iter().find(|way| way.way == Way::Fewest).unwrap();
    assert_eq!(fewest.unpick, ["sew yoke seam", "piece Panel"]);
}
