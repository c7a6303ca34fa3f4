//! Every copy and part accounted for before the first cut.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PiecesChange};
use petitoile_core::edit::Edit;
use petitoile_core::fitting::Fitting;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, PartRef, Piecing, PiecingKind, Placed};
use petitoile_core::laying::{PieceLaying, StrayWhy, ToLay, cut_outline, tally};
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::project::Project;
use petitoile_core::units::{Degrees, LengthUnit};

use super::samples::{WHOLE, adapted, copy_of, on_fold, rectangle, to_lay_of};

fn placed(of: &CopyRef, part: usize) -> Placed {
    Placed {
        piece: of.piece.clone(),
        copy: of.copy,
        number: of.number,
        part,
        offcut: "blue linen".to_owned(),
        turn: Degrees(90.0),
        moved: (200.0, 10.0),
        mirrored: false,
        pinned: false,
        as_cut: None,
    }
}

/// A front on the fold with its lining, and two cuffs.
fn smock() -> ToLay {
    let lining = Copy {
        role: Role::Lining,
        ..WHOLE
    };
    let mut front = on_fold("Front", 40.0, 60.0);
    front.copies.push(lining);
    let mut cuff = rectangle("Cuff", 50.0, 20.0);
    let side = |side| Copy { side, ..WHOLE };
    cuff.copies = vec![side(Side::Right), side(Side::Left)];
    to_lay_of(vec![front, cuff], |_| {})
}

fn all_placed(to_lay: &ToLay) -> LayPlan {
    LayPlan {
        placed: to_lay
            .copies
            .iter()
            .map(|copy| placed(&copy.of, 0))
            .collect(),
        ..LayPlan::default()
    }
}

#[test]
fn without_a_plan_everything_is_missing() {
    let tally = tally(&smock(), None);
    let told: Vec<String> = tally.rows.iter().map(|row| row.words()).collect();
    assert_eq!(
        told,
        [
            "Front: 1 copy, the half opened out; 0 on cloth, 1 missing",
            "Front, lining: 1 copy, the half opened out; 0 on cloth, 1 missing",
            "Cuff: 2 copies; 0 on cloth, 2 missing",
        ]
    );
    assert!(!tally.is_complete());
    assert_eq!(tally.words(), "4 to cut: 0 on cloth, 4 missing");
}

#[test]
fn a_plan_with_every_copy_is_complete_and_all_cut_once_it_is_marked() {
    let to_lay = smock();
    let mut plan = all_placed(&to_lay);
    let done = tally(&to_lay, Some(&plan));
    assert!(done.is_complete() && !done.is_all_cut());
    for (placed, copy) in plan.placed.iter_mut().zip(&to_lay.copies) {
        placed.as_cut = Some(cut_outline(placed, &copy.whole));
    }
    let done = tally(&to_lay, Some(&plan));
    assert!(done.is_all_cut());
    assert_eq!(done.words(), "4 to cut: 4 on cloth, 4 of them cut");
    assert_eq!(
        done.findings(Some(&plan), LengthUnit::Millimetre),
        Vec::new()
    );
}

#[test]
fn a_copy_in_parts_is_complete_only_with_all_of_them() {
    let to_lay = smock();
    let mut plan = all_placed(&to_lay);
    plan.piecings.push(Piecing {
        of: to_lay.copies[0].of.clone(),
        kind: PiecingKind::AlongFold,
        lines: vec![(Point::new(0.0, 0.0), Point::new(0.0, 60.0))],
        allowance: Mm(5.0),
    });
    let half = tally(&to_lay, Some(&plan));
    assert_eq!(
        (half.rows[0].pieced, half.rows[0].parts, half.rows[0].lying),
        (1, 2, 1)
    );
    let other = PartRef {
        of: to_lay.copies[0].of.clone(),
        part: 1,
    };
    assert_eq!(half.rows[0].missing, [other]);
    assert_eq!(
        half.rows[0].words(),
        "Front: 1 copy, the half opened out, in 2 parts; 1 on cloth, 1 missing"
    );
    plan.placed.push(placed(&to_lay.copies[0].of, 1));
    assert!(tally(&to_lay, Some(&plan)).is_complete());
}

#[test]
fn what_lies_there_and_should_not_is_told_apart() {
    let to_lay = smock();
    let mut plan = all_placed(&to_lay);
    let of = |piece: &str, copy, number| CopyRef {
        piece: piece.to_owned(),
        copy,
        number,
    };
    let right = to_lay.copies[2].of.copy;
    for (of, part) in [
        (of("Old front", WHOLE, 0), 0),
        (of("Cuff", right, 1), 0),
        (of("Cuff", right, 0), 3),
        (of("Front", WHOLE, 0), 0),
    ] {
        plan.placed.push(placed(&of, part));
    }
    // A cuff that was cut 2 mm longer.
    let mut longer = to_lay.copies[3].whole.clone();
    for p in longer.outline.iter_mut().filter(|p| p.x > 25.0) {
        p.x += 2.0;
    }
    plan.placed[3].as_cut = Some(cut_outline(&plan.placed[3], &longer));
    let tally = tally(&to_lay, Some(&plan));
    let why: Vec<StrayWhy> = tally.strays.iter().map(|stray| stray.why).collect();
    assert_eq!(why.len(), 5, "{why:?}");
    let StrayWhy::OtherOutline(by) = why[0] else {
        panic!("{why:?}")
    };
    assert!((by.0 - 2.0).abs() < 1e-9);
    assert_eq!(
        why[1..],
        [
            StrayWhy::NoPiece,
            StrayWhy::NoCopy,
            StrayWhy::NoPart(1),
            StrayWhy::Twice
        ]
    );
    let told = tally.findings(Some(&plan), LengthUnit::Millimetre);
    assert_eq!(
        told[0].what,
        "Cuff, left was cut from blue linen by another outline: they differ by 2 mm."
    );
    assert_eq!(
        told[1].to_string(),
        "Old front: Old front lies on blue linen, but no piece of that name is to be cut. Take it off the cloth; if the \
         piece was renamed, lay it anew."
    );
}

#[test]
fn a_piecing_that_lies_outside_its_piece_now_is_told() {
    let to_lay = smock();
    let plan = LayPlan {
        piecings: vec![Piecing {
            of: to_lay.copies[0].of.clone(),
            kind: PiecingKind::Patch,
            lines: vec![(Point::new(500.0, 0.0), Point::new(500.0, 60.0))],
            allowance: Mm(5.0),
        }],
        ..LayPlan::default()
    };
    let tally = tally(&to_lay, Some(&plan));
    assert_eq!(tally.unpieced.len(), 1);
    assert_eq!(tally.rows[0].parts, 1, "counted as whole");
    assert!(!tally.is_complete());
    assert_eq!(tally.findings(Some(&plan), LengthUnit::Millimetre).len(), 1);
}

#[test]
fn a_piece_that_is_renamed_takes_its_place_its_parts_and_its_choices_with_it() {
    let front = on_fold("Front", 40.0, 60.0);
    let adapted = adapted(vec![front], |_| {});
    let mut fitting = Fitting::clone(&adapted.fitting);
    let of = copy_of("Front");
    fitting.lay_plan = Some(LayPlan {
        placed: vec![placed(&of, 0)],
        piecings: vec![Piecing {
            of: of.clone(),
            kind: PiecingKind::AlongFold,
            lines: vec![(Point::new(0.0, 0.0), Point::new(0.0, 60.0))],
            allowance: Mm(5.0),
        }],
        chosen: vec![of.clone()],
        ..LayPlan::default()
    });
    let chosen = PieceLaying {
        priority: Some(1),
        ..PieceLaying::default()
    };
    fitting.laying.pieces.insert("Front".to_owned(), chosen);
    let project = Project {
        garments: vec![adapted.garment.clone()],
        fittings: vec![Arc::new(fitting)],
        ..Project::default()
    };
    let rename = PiecesChange::Rename {
        piece: "Front".to_owned(),
        name: "Apron".to_owned(),
    };
    let next = project
        .edited(&Edit::Alter {
            garment: "Smock".to_owned(),
            alteration: Alteration::Pieces(rename),
        })
        .unwrap();
    let fitting = &next.fittings[0];
    let plan = fitting.lay_plan.as_ref().unwrap();
    assert_eq!(plan.placed[0].piece, "Apron");
    assert_eq!(plan.piecings[0].of.piece, "Apron");
    assert_eq!(plan.chosen[0].piece, "Apron");
    assert_eq!(fitting.laying.pieces.get("Apron"), Some(&chosen));
    assert_eq!(fitting.laying.pieces.len(), 1);
}
