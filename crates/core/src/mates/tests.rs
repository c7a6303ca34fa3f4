#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::check::samples::{WHOLE, finished_with, garment, seam, stretch, strip};
use crate::edge::Finish;
use crate::notch::{Notch, NotchKind};
use crate::seams::Relation;

#[test]
fn the_edge_that_is_as_long_comes_first() {
    let blouse = garment(
        vec![
            strip("Front", 100.0, 61.0),
            strip("Back", 80.0, 67.0),
            strip("Yoke", 80.0, 30.0),
        ],
        Vec::new(),
    );
    let found = mates(&blouse, &[stretch("Yoke", "hem", 0.0, 1.0)]).unwrap();
    assert!(found[0].difference.0.abs() < 1e-9);
    assert!(
        found[0].reason.starts_with("as long, both straight"),
        "{}",
        found[0].reason
    );
    // Mates run against each other as drawn.
    assert!(found[0].stretches[0].from > found[0].stretches[0].to);
    let turned = mates(&blouse, &[stretch("Yoke", "hem", 1.0, 0.0)]).unwrap();
    assert!(turned[0].stretches[0].from < turned[0].stretches[0].to);
}

#[test]
fn notches_tell_two_edges_of_one_length_apart() {
    let notched = |mut piece: Piece, edge: &str, fraction: f64, kind| {
        piece.notches.push(Notch {
            edge: edge.to_owned(),
            fraction,
            kind,
        });
        piece
    };
    let side = |name: &str, kind| notched(strip(name, 50.0, 60.0), "left", 0.3, kind);
    let blouse = garment(
        vec![
            notched(strip("Front", 100.0, 60.0), "right", 0.7, NotchKind::Double),
            side("One", NotchKind::Single),
            side("Two", NotchKind::Double),
        ],
        Vec::new(),
    );
    let found = mates(&blouse, &[stretch("Front", "right", 0.0, 1.0)]).unwrap();
    let first = &found[0].stretches[0];
    assert_eq!((first.piece.as_str(), first.edge.as_str()), ("Two", "left"));
}

#[test]
fn a_hem_and_a_fold_are_sewn_to_nothing() {
    let hem = Finish::Hem {
        width: None,
        turns: 1,
    };
    let skirt = garment(
        vec![
            finished_with(strip("Front", 100.0, 61.0), "hem", hem),
            finished_with(strip("Back", 100.0, 90.0), "right", Finish::Fold),
        ],
        Vec::new(),
    );
    for mate in mates(&skirt, &[stretch("Front", "waist", 0.0, 1.0)]).unwrap() {
        for stretch in &mate.stretches {
            let at = (stretch.piece.as_str(), stretch.edge.as_str());
            assert_ne!(at, ("Back", "right"), "cut on the fold");
            assert_ne!(at, ("Front", "hem"), "hemmed");
        }
    }
    assert_eq!(sewable(&skirt, "Front", WHOLE, "hem"), None);
}

#[test]
fn an_edge_that_is_sewn_already_comes_after_a_free_one() {
    let pieces = vec![
        strip("Front", 100.0, 60.0),
        strip("Back", 80.0, 60.0),
        strip("Panel", 90.0, 60.0),
        strip("Other", 95.0, 60.0),
    ];
    let sewn = seam(
        "side",
        vec![stretch("Panel", "left", 0.0, 1.0)],
        vec![stretch("Back", "right", 0.0, 1.0)],
        Relation::Equal,
    );
    let found = mates(
        &garment(pieces, vec![sewn]),
        &[stretch("Front", "right", 0.0, 1.0)],
    )
    .unwrap();
    assert!(found[0].sewn == 0.0 && found[0].difference.0.abs() < 1e-9);
}

#[test]
fn a_side_that_is_not_there_is_said() {
    let blouse = garment(vec![strip("Front", 100.0, 60.0)], Vec::new());
    insta::assert_snapshot!(mates(&blouse, &[stretch("Yoke", "hem", 0.0, 1.0)]).unwrap_err(), @"there is no piece called Yoke");
    insta::assert_snapshot!(mates(&blouse, &[stretch("Front", "hem", 0.5, 0.5)]).unwrap_err(), @"one side of the seam has no length");
    insta::assert_snapshot!(mates(&blouse, &[]).unwrap_err(), @"one side of the seam has no length");
}
