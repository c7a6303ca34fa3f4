#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::check::samples::{
    adapted, doll, finished, finished_with, four, garment, seam, stretch, strip,
};
use crate::edge::Finish;
use crate::seams::Relation;

/// A side panel between front and back whose left side is longer by `lean`.
fn panel(lean: f64) -> Garment {
    let panel = four(
        "Side",
        [(0.0, -lean), (60.0, 0.0), (50.0, 80.0), (10.0, 80.0)],
    );
    let whole = |piece: &str, edge: &str| vec![stretch(piece, edge, 0.0, 1.0)];
    garment(
        vec![panel, strip("Front", 70.0, 80.0), strip("Back", 70.0, 80.0)],
        vec![
            seam(
                "front side",
                whole("Side", "left"),
                whole("Front", "left"),
                Relation::Equal,
            ),
            seam(
                "back side",
                whole("Side", "right"),
                whole("Back", "right"),
                Relation::Equal,
            ),
        ],
    )
}

/// The garment once its remedy is accepted.
fn accepted(finding: &Finding, garment: &Garment) -> Garment {
    let Some(Edit::Alter { alteration, .. }) = &finding.remedy else {
        panic!("a remedy of hand work")
    };
    alteration.applied(garment).unwrap().garment
}

fn found(garment: Garment) -> Vec<Finding> {
    findings(&finished(adapted(garment, doll("doll"))))
        .into_iter()
        .filter(|f| f.place.piece.as_deref() == Some("Side"))
        .collect()
}

#[test]
fn a_nearly_symmetric_panel_between_front_and_back_is_told() {
    let found = found(panel(1.5));
    assert_eq!(found.len(), 1);
    insta::assert_snapshot!(found[0], @"Side, right: turned over left to right it looks the same within 1.8 mm, but one edge is sewn to Back and the other to Front: it can be set in the wrong way round. Notch it: two strokes towards Back, one stroke towards Front.");
}

#[test]
fn its_remedy_notches_panel_and_mates_so_that_it_is_told_no_more() {
    let first = found(panel(1.5));
    let notched = &accepted(&first[0], &panel(1.5));
    let kinds = |name: &str| {
        notched
            .piece(name)
            .unwrap()
            .notches
            .iter()
            .map(|n| n.kind)
            .collect::<Vec<_>>()
    };
    assert_eq!(kinds("Front"), vec![NotchKind::Single]);
    assert_eq!(kinds("Back"), vec![NotchKind::Double]);
    assert_eq!(kinds("Side").len(), 2);
    assert_eq!(found(notched.clone()), Vec::new());
    let walked = notched.seams[0].walked(&notched.pieces).unwrap();
    assert!(
        walked.alone.is_empty() && walked.pairs[0].apart.0 < 1e-6,
        "the new notches meet: {walked:?}"
    );
}

#[test]
fn a_lined_panel_names_each_mate_and_notches_it_once() {
    let mut lined = panel(1.5);
    let lining = lined.seams.clone().into_iter().map(|mut seam| {
        seam.name.push_str(", lining");
        seam
    });
    lined.seams.extend(lining.collect::<Vec<_>>());
    let first = found(lined.clone());
    assert!(!first[0].what.contains("Back and Back"), "{}", first[0]);
    let notched = &accepted(&first[0], &lined);
    assert_eq!(notched.piece("Back").unwrap().notches.len(), 1);
}

#[test]
fn clearly_lopsided_and_truly_symmetric_panels_are_left_alone() {
    assert_eq!(found(panel(12.0)), Vec::new(), "an eye sees 12 mm");
    assert_eq!(
        found(panel(0.0)),
        Vec::new(),
        "the same either way round does no harm"
    );
}

#[test]
fn a_panel_between_two_like_pieces_may_be_set_either_way() {
    let mut garment = panel(1.5);
    garment.seams[1].b = vec![stretch("Front", "right", 0.0, 1.0)];
    assert_eq!(found(garment), Vec::new());
}

#[test]
fn a_half_on_the_fold_cannot_be_mistaken() {
    let mut garment = panel(1.5);
    let half = finished_with(Piece::clone(&garment.pieces[0]), "waist", Finish::Fold);
    garment.pieces[0] = Arc::new(half);
    assert_eq!(found(garment), Vec::new());
}
