//! A piece on the fold opened out.

use kurbo::Point;

use super::*;
use crate::alteration::samples::GARMENTS;
use crate::check::samples::{LEFT, RIGHT, seam, stretch};
use crate::garment::tape_measure;
use crate::geometry::simple::crosses_itself;
use crate::notch::{Notch, NotchKind};
use crate::seams::Relation;

#[test]
fn a_half_opened_out_is_twice_as_wide_and_keeps_its_hem_in_one() {
    let mut half = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    half.notches = vec![Notch {
        edge: "right".to_owned(),
        fraction: 0.25,
        kind: NotchKind::Single,
    }];
    let whole = after(half, ShapeChange::OpenOut);
    assert!(whole.fold_edge().is_none());
    assert_eq!(whole.outline.edges().len(), 4);
    assert!(
        (length(&whole, "hem") - 200.0).abs() < 1e-9
            && (length(&whole, "waist") - 200.0).abs() < 1e-9
    );
    assert!(whole.outline.edge("hem").unwrap().line.is_straight());
    let at: Vec<Point> = whole
        .notches
        .iter()
        .map(|n| whole.point_at(&place(&n.edge, n.fraction)).unwrap())
        .collect();
    assert!((at[0] - Point::new(100.0, 15.0)).hypot() < 1e-9);
    assert!((at[1] - Point::new(-100.0, 15.0)).hypot() < 1e-9);
    insta::assert_snapshot!(refused(whole, ShapeChange::OpenOut), @"it lies on no fold; finish an edge as the fold first, or copy the piece");
}

#[test]
fn what_a_half_was_sewn_to_both_halves_are_sewn_to() {
    let half = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    let back = Piece {
        copies: vec![RIGHT, LEFT],
        ..strip("Back", 90.0, 60.0)
    };
    let mut side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        Relation::Equal,
    );
    side.b[0].copy = RIGHT;
    side.mirrored = true;
    let opened = ShapeChange::OpenOut
        .applied(&garment(vec![half, back], vec![side]), "Front")
        .unwrap();
    assert_eq!(opened.garment.check_references(), Ok(()));
    let seams = &opened.garment.seams;
    assert_eq!(seams.len(), 2);
    assert_eq!(
        (seams[1].a[0].edge.as_str(), seams[1].b[0].copy),
        ("right 2", LEFT)
    );
    let line = seams[1].a[0].line(&opened.garment.pieces).unwrap();
    assert!(
        (line.start() - Point::new(-100.0, 0.0)).hypot() < 1e-9,
        "it starts at the hem too"
    );
}

/// Girths count a half twice and a whole once, so they read the same.
#[test]
fn every_half_of_the_demo_garments_opened_out_leaves_the_girths_as_they_were() {
    let mut opened = 0;
    for garment in GARMENTS.iter() {
        for piece in garment
            .pieces
            .iter()
            .filter(|piece| piece.fold_edge().is_some())
        {
            let altered = match ShapeChange::OpenOut.applied(garment, &piece.name) {
                Ok(altered) => altered,
                Err(why) => panic!("{}: {why}", piece.name),
            };
            opened += 1;
            assert_eq!(altered.garment.check_references(), Ok(()));
            let whole = altered.garment.piece(&piece.name).unwrap();
            assert!((whole.outline.area() / piece.outline.area() - 2.0).abs() < 1e-9);
            assert!(crosses_itself(&whole.outline).is_none());
            for tape in &garment.tape_lines {
                let before = tape_measure(tape, &garment.pieces).unwrap();
                let now = altered
                    .garment
                    .tape_lines
                    .iter()
                    .find(|t| t.name == tape.name);
                let Some(now) = now else { continue };
                let after = tape_measure(now, &altered.garment.pieces).unwrap();
                assert!(
                    (before.0 - after.0).abs() < 1e-6,
                    "{}, {}: {before:?} {after:?}",
                    piece.name,
                    tape.name
                );
            }
        }
    }
    assert!(opened > 3, "{opened}");
}
