#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::check::samples::{WHOLE, adapted, doll, finished_with, garment, seam, stretch, strip};
use crate::edge::{Finish, OutlinePoint};
use crate::fullness::{Fullness, FullnessOp, fill};
use crate::notch::{Notch, NotchKind};
use crate::piece::{Mark, MarkKind};

fn pieces(list: Vec<Piece>) -> Vec<Arc<Piece>> {
    list.into_iter().map(Arc::new).collect()
}

fn notched(mut piece: Piece, edge: &str, fractions: &[f64]) -> Piece {
    let notch = |fraction: &f64| Notch {
        edge: edge.to_owned(),
        fraction: *fraction,
        kind: NotchKind::Single,
    };
    piece.notches.extend(fractions.iter().map(notch));
    piece
}

#[test]
fn a_side_is_the_sum_of_its_stretches_whichever_way_they_run() {
    let pieces = pieces(vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)]);
    let side = [
        stretch("Front", "waist", 0.0, 0.5),
        stretch("Back", "waist", 1.0, 0.25),
    ];
    assert!((side_length(&side, &pieces).unwrap().0 - 110.0).abs() < 1e-9);
    assert_eq!(
        side_length(&[stretch("Yoke", "waist", 0.0, 1.0)], &pieces),
        Err(SeamError::NoPiece("Yoke".to_owned()))
    );
}

#[test]
fn a_seam_is_measured_against_its_relation() {
    let pieces = pieces(vec![
        strip("Cap", 104.0, 60.0),
        strip("Armscye", 99.0, 60.0),
    ]);
    let difference = |relation| {
        let s = seam(
            "sleeve into armscye",
            vec![stretch("Cap", "waist", 0.0, 1.0)],
            vec![stretch("Armscye", "waist", 1.0, 0.0)],
            relation,
        );
        s.difference(&pieces).unwrap().0
    };
    assert!((difference(Relation::Equal) - 5.0).abs() < 1e-9);
    assert!((difference(Relation::Eased(Mm(4.0))) - 1.0).abs() < 1e-9);
    assert!((difference(Relation::Ratio(1.0)) - 5.0).abs() < 1e-9);
}

#[test]
fn cloth_less_what_is_taken_up_is_the_sewn_length() {
    let mut skirt = strip("Skirt", 120.0, 40.0);
    let fullness = Fullness::KnifePleats {
        count: 4,
        depth: Mm(6.0),
    };
    skirt.fullness = vec![FullnessOp {
        edge: "waist".to_owned(),
        from: 0.25,
        to: 0.75,
        fullness,
        even_to: Some("hem".to_owned()),
        layout: Default::default(),
    }];
    let filled = fill(&Arc::new(adapted(
        garment(vec![skirt], Vec::new()),
        doll("doll"),
    )))
    .outcome;
    let waist = stretch("Skirt", "waist", 0.0, 1.0);
    assert!((waist.length(&filled.pieces).unwrap().0 - 168.0).abs() < 1e-6);
    assert!((waist.sewn_length(&filled.pieces).unwrap().0 - 120.0).abs() < 1e-6);
}

#[test]
fn walking_a_seam_pairs_its_notches_in_sewing_order() {
    let a = notched(strip("Front", 100.0, 60.0), "waist", &[0.2, 0.5, 1.0]);
    let b = notched(strip("Back", 100.0, 60.0), "waist", &[0.5, 0.79]);
    let s = seam(
        "waist",
        vec![stretch("Front", "waist", 0.0, 1.0)],
        vec![stretch("Back", "waist", 1.0, 0.0)],
        Relation::Equal,
    );
    let walked = s.walked(&pieces(vec![a, b])).unwrap();
    assert_eq!(walked.alone, Vec::new());
    assert!(
        (walked.pairs[0].apart.0 - 1.0).abs() < 1e-9 && walked.pairs[1].apart.0.abs() < 1e-9,
        "{walked:?}"
    );
}

#[test]
fn a_notch_without_its_like_is_told() {
    let a = notched(strip("Front", 100.0, 60.0), "waist", &[0.2]);
    let s = seam(
        "waist",
        vec![stretch("Front", "waist", 0.0, 1.0)],
        vec![stretch("Back", "waist", 1.0, 0.0)],
        Relation::Equal,
    );
    let walked = s
        .walked(&pieces(vec![a, strip("Back", 100.0, 60.0)]))
        .unwrap();
    assert_eq!(walked.alone, vec![(NotchKind::Single, 1, 0)]);
}

#[test]
fn a_seam_from_dot_to_dot_runs_round_the_corner_over_both_edges() {
    let front = strip("Front", 100.0, 60.0);
    let at = OutlinePoint::new;
    let found = |from: OutlinePoint, to: OutlinePoint, way| {
        stretches_between(&front, WHOLE, &from, &to, way).map(|found| {
            found
                .into_iter()
                .map(|s| (s.edge, s.from, s.to))
                .collect::<Vec<_>>()
        })
    };
    let bit = |edge: &str, from: f64, to: f64| (edge.to_owned(), from, to);
    assert_eq!(
        found(at("hem", 0.4), at("right", 0.5), Way::Drawn),
        Ok(vec![bit("hem", 0.4, 1.0), bit("right", 0.0, 0.5)])
    );
    assert_eq!(
        found(at("right", 0.5), at("hem", 0.4), Way::Shorter),
        Ok(vec![bit("right", 0.5, 0.0), bit("hem", 1.0, 0.4)])
    );
    assert_eq!(
        found(at("right", 0.5), at("hem", 0.4), Way::Longer)
            .unwrap()
            .first(),
        Some(&bit("right", 0.5, 1.0)),
        "the longer way leaves by the other end"
    );
    let round = found(at("hem", 0.6), at("hem", 0.4), Way::Drawn).unwrap();
    assert_eq!(round.len(), 5, "once round, all but a fifth of the hem");
    assert_eq!(
        found(at("hem", 1.0), at("right", 0.0), Way::Drawn),
        Err(PartialError::Nothing("Front".to_owned()))
    );
}

#[test]
fn what_cannot_be_sewn_between_two_places_is_said() {
    let half = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    let at = OutlinePoint::new;
    let said = |from, to, way| {
        stretches_between(&half, WHOLE, &from, &to, way)
            .unwrap_err()
            .to_string()
    };
    insta::assert_snapshot!(said(at("waist", 0.5), at("hem", 0.5), Way::Drawn), @"Front: left lies between and is cut on the fold; sew the other way round, or up to the fold");
    insta::assert_snapshot!(said(at("neckline", 0.5), at("hem", 0.5), Way::Drawn), @"Front has no edge called neckline; choose the place again");
    let round = stretches_between(
        &half,
        WHOLE,
        &at("waist", 0.5),
        &at("hem", 0.5),
        Way::Shorter,
    )
    .unwrap();
    assert_eq!(round.len(), 3, "the way without the fold: {round:?}");
}

#[test]
fn a_dot_stands_for_the_nearest_place_on_the_outline() {
    let mut front = strip("Front", 100.0, 60.0);
    front.marks.push(Mark {
        name: "slit".to_owned(),
        kind: MarkKind::Dot(kurbo::Point::new(98.0, 15.0)),
    });
    let (at, off) = front.dot_on_outline("slit").unwrap();
    assert_eq!(at.edge, "right");
    assert!((at.fraction - 0.25).abs() < 1e-6 && (off.0 - 2.0).abs() < 1e-6);
    assert_eq!(front.dot_on_outline("pocket"), None);
}

#[test]
fn a_place_on_a_side_is_found_by_its_distance_and_back() {
    let pieces = pieces(vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)]);
    let stretches = [
        stretch("Front", "waist", 0.0, 0.5),
        stretch("Back", "waist", 1.0, 0.25),
    ];
    let side = Side::new(&stretches, &pieces).unwrap();
    let place = side.place(Mm(70.0)).unwrap();
    assert_eq!(
        (place.edge.piece.as_str(), place.piece_on_left),
        ("Back", false)
    );
    assert!((place.fraction - 0.75).abs() < 1e-9);
    assert!((place.point - kurbo::Point::new(20.0, 60.0)).hypot() < 1e-9);
    assert!((place.direction - kurbo::Vec2::new(1.0, 0.0)).hypot() < 1e-9);
    let back = side.along(&place.edge, place.fraction);
    assert!((back[0].0 - 70.0).abs() < 1e-9 && back.len() == 1);
}
