//! Pieces added, taken out, renamed.

use super::*;
use crate::garment::{Opening, Passing};

fn smock() -> Garment {
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        Relation::Equal,
    );
    let mut smock = garment(
        vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)],
        vec![side],
    );
    smock.tape_lines = vec![girth(
        "bust",
        vec![
            ("Front", at("left", 0.5), at("right", 0.5)),
            ("Back", at("left", 0.5), at("right", 0.5)),
        ],
    )];
    smock.openings = vec![Opening {
        name: "neck".to_owned(),
        hole: vec![
            EdgeRef::new("Front", "waist"),
            EdgeRef::new("Back", "waist"),
        ],
        slit: Vec::new(),
        passes: Passing::Head,
    }];
    smock
}

#[test]
fn a_drawn_piece_joins_the_list_under_a_name_of_its_own() {
    let added = done(
        &smock(),
        PiecesChange::Add(Arc::new(strip("Pocket", 30.0, 30.0))),
    );
    assert_eq!(added.garment.pieces.len(), 3);
    insta::assert_snapshot!(refused(&smock(), PiecesChange::Add(Arc::new(strip("Back", 30.0, 30.0)))), @"another piece is called Back already; choose another name");
    let none = Piece {
        copies: Vec::new(),
        ..strip("Pocket", 30.0, 30.0)
    };
    insta::assert_snapshot!(refused(&smock(), PiecesChange::Add(Arc::new(none))), @"Pocket is cut no time at all; say how many are cut");
    let bow = four(
        "Bow",
        [(0.0, 0.0), (100.0, 60.0), (100.0, 0.0), (0.0, 50.0)],
    );
    insta::assert_snapshot!(refused(&smock(), PiecesChange::Add(Arc::new(bow))), @"the outline would cross itself");
}

#[test]
fn a_piece_taken_out_takes_its_seams_and_its_part_of_the_tape_with_it_and_says_so() {
    let change = PiecesChange::Remove {
        piece: "Back".to_owned(),
    };
    let left = done(&smock(), change);
    assert!(left.garment.seams.is_empty());
    assert_eq!(left.carried.seams["side"], Vec::<String>::new());
    let bust = tape_measure(&left.garment.tape_lines[0], &left.garment.pieces).unwrap();
    assert!((bust.0 - 100.0).abs() < 1e-9);
    assert_eq!(
        left.garment.openings[0].hole,
        vec![EdgeRef::new("Front", "waist")]
    );
    let notes: Vec<String> = left.notes.iter().map(ToString::to_string).collect();
    assert!(
        notes
            .iter()
            .any(|n| n.starts_with("side: the seam went with Back"))
            && notes.iter().any(|n| n.starts_with("bust:")),
        "{notes:#?}"
    );
    assert_eq!(
        refused(
            &smock(),
            PiecesChange::Remove {
                piece: "Yoke".to_owned()
            }
        ),
        "there is no piece called Yoke any more"
    );
}

#[test]
fn a_renamed_piece_is_followed_by_everything_that_names_it_and_back_again_is_as_before() {
    let rename = |piece: &str, name: &str| PiecesChange::Rename {
        piece: piece.to_owned(),
        name: name.to_owned(),
    };
    let there = done(&smock(), rename("Back", "Rear"));
    assert_eq!(there.garment.seams[0].b[0].piece, "Rear");
    assert_eq!(there.garment.tape_lines[0].parts[1].piece, "Rear");
    assert_eq!(there.garment.openings[0].hole[1].piece, "Rear");
    let back = done(&there.garment, rename("Rear", "Back"));
    assert_eq!(back.garment, smock());
    insta::assert_snapshot!(refused(&smock(), rename("Back", "Front")), @"another piece is called Front already; choose another name");
    insta::assert_snapshot!(refused(&smock(), rename("Back", "  ")), @"the new piece needs a name; type one");
}
