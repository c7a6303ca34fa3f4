//! Copies opened out, numbered, mirrored, and what they need of the cloth.

use std::collections::BTreeMap;

use petitoile_core::Mm;
use petitoile_core::cloth::{Cloth, GoodFor};
use petitoile_core::edge::Finish;
use petitoile_core::finding::Gravity;
use petitoile_core::laying::{CopyToLay, Hidden, HiddenPiece, PieceLaying, to_lay};
use petitoile_core::piece::{Copy, Face, Piece, Role, Side};
use petitoile_core::units::{Degrees, LengthUnit};

use super::samples::{WHOLE, area, bounds, finished, laid, on_fold, piece, rectangle, to_lay_of};

#[test]
fn a_rectangle_on_the_fold_opens_to_one_twice_as_wide() {
    let laid = laid(&finished(vec![on_fold("Front", 42.0, 60.0)], |_| {}));
    assert_eq!(laid.findings, Vec::new());
    let shape = &laid.outcome.copies[0].whole;
    assert_eq!(bounds(&shape.outline), (-42.0, 0.0, 42.0, 60.0));
    assert_eq!(shape.outline.len(), 4, "{:?}", shape.outline);
    assert!((area(&shape.outline) - 84.0 * 60.0).abs() < 1e-9);
    let fold = shape.fold.unwrap();
    assert_eq!((fold.p0.x, fold.p1.x), (0.0, 0.0));
    assert!(((fold.p1 - fold.p0).hypot() - 60.0).abs() < 1e-9);
}

#[test]
fn the_allowance_lies_round_the_opened_piece_and_not_along_its_fold() {
    let laid = laid(&finished(vec![on_fold("Front", 42.0, 60.0)], |fitting| {
        fitting.allowances.seam = Mm(5.0);
        fitting.allowances.hem = Mm(5.0);
    }));
    let (left, _, right, _) = bounds(&laid.outcome.copies[0].whole.outline);
    assert!(
        (right - left - (84.0 + 10.0)).abs() < 1e-9,
        "{left} {right}"
    );
}

#[test]
fn copies_that_are_alike_are_numbered_and_left_ones_are_mirrored() {
    let mut cuff = rectangle("Cuff", 60.0, 20.0);
    let copy = |side, role| Copy { side, role };
    cuff.copies = vec![
        WHOLE,
        WHOLE,
        copy(Side::Right, Role::Shell),
        copy(Side::Left, Role::Shell),
        copy(Side::Left, Role::Lining),
    ];
    let told = |face| {
        let cuff = Piece {
            face,
            ..cuff.clone()
        };
        let laid = laid(&finished(vec![cuff], |_| {})).outcome;
        let told = |copy: &CopyToLay| (copy.of.number, copy.whole.mirrored);
        laid.copies.iter().map(told).collect::<Vec<_>>()
    };
    assert_eq!(
        told(Face::Right),
        [(0, false), (1, false), (0, false), (0, true), (0, true)]
    );
    assert_eq!(
        told(Face::Wrong),
        [(0, true), (1, true), (0, true), (0, false), (0, false)]
    );
}

#[test]
fn a_lining_in_one_is_the_mirror_image_of_its_shell() {
    let mut front = rectangle("Front", 60.0, 20.0);
    let lining = Copy {
        role: Role::Lining,
        ..WHOLE
    };
    front.copies = vec![WHOLE, lining];
    let mut by_itself = rectangle("Pocket bag", 60.0, 20.0);
    by_itself.copies = vec![lining];
    let laid = laid(&finished(vec![front, by_itself], |_| {})).outcome;
    let mirrored: Vec<bool> = laid.copies.iter().map(|c| c.whole.mirrored).collect();
    assert_eq!(mirrored, [false, true, false]);
}

#[test]
fn what_a_copy_needs_follows_its_layer_the_outfit_and_the_maker() {
    let mut front = on_fold("Front", 42.0, 60.0);
    front.copies.push(Copy {
        role: Role::Lining,
        ..WHOLE
    });
    let back = on_fold("Back", 42.0, 60.0);
    let finished = finished(vec![front, back], |fitting| {
        let cloth = Cloth {
            name: "blue linen".to_owned(),
            thickness: Mm(0.3),
            source: String::new(),
        };
        fitting.cloths.insert(Role::Shell, cloth);
        let chosen = PieceLaying {
            priority: Some(1),
            grain_tolerance: Some(Degrees(5.0)),
            upside_down: Some(false),
            ..PieceLaying::default()
        };
        fitting.laying.pieces.insert("Back".to_owned(), chosen);
    });
    let under = HiddenPiece {
        by: "Apron".to_owned(),
        whole: true,
    };
    let hidden = Hidden {
        pieces: BTreeMap::from([("Front".to_owned(), under)]),
    };
    let laid = to_lay(&finished, &hidden, LengthUnit::Millimetre).outcome;
    let told: Vec<_> = laid
        .copies
        .iter()
        .map(|c| {
            (
                c.needs,
                c.priority,
                c.cloth.as_deref(),
                c.grain_tolerance.0,
                c.upside_down,
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            (GoodFor::Hidden, 2, Some("blue linen"), 2.0, true),
            (GoodFor::Inside, 3, None, 2.0, true),
            (GoodFor::Anything, 1, Some("blue linen"), 5.0, false),
        ]
    );
}

#[test]
fn a_facing_is_seen_from_inside_only() {
    let laid = to_lay_of(vec![rectangle("Neck facing", 60.0, 20.0)], |_| {});
    assert_eq!(
        (laid.copies[0].needs, laid.copies[0].priority),
        (GoodFor::Inside, 3)
    );
}

#[test]
fn a_grainline_has_no_arrowhead() {
    let grain = |a: (f64, f64), b: (f64, f64)| {
        let mut strip = rectangle("Band", 60.0, 60.0);
        strip.grainline = Some((a.into(), b.into()));
        laid(&finished(vec![strip], |_| {})).outcome.copies[0]
            .whole
            .grain
            .0
    };
    for (a, b, angle) in [
        ((30.0, 10.0), (30.0, 50.0), 0.0),
        ((30.0, 50.0), (30.0, 10.0), 0.0),
        ((20.0, 20.0), (40.0, 40.0), -45.0),
        ((40.0, 20.0), (20.0, 40.0), 45.0),
        ((10.0, 30.0), (50.0, 30.0), 90.0),
        ((50.0, 30.0), (10.0, 30.0), 90.0),
    ] {
        assert!(
            (grain(a, b) - angle).abs() < 1e-9,
            "{a:?} {b:?}: {}",
            grain(a, b)
        );
    }
}

#[test]
fn a_half_that_reaches_beyond_its_fold_is_told_by_how_much() {
    let corners = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 60.0),
        (-3.0, 60.0),
        (-3.0, 50.0),
        (0.0, 50.0),
    ];
    let raw = Finish::Raw;
    let edges = [
        ("hem", raw),
        ("side", raw),
        ("waist", raw),
        ("tongue", raw),
        ("step", raw),
        ("centre front", Finish::Fold),
    ];
    let front = piece("Front", &corners, &edges);
    let laid = laid(&finished(vec![front], |_| {}));
    assert_eq!(laid.outcome.copies, Vec::new());
    let [finding] = laid.findings.as_slice() else {
        panic!("{:?}", laid.findings)
    };
    assert_eq!(finding.gravity, Gravity::Unusable);
    assert_eq!(
        finding.to_string(),
        "Front, tongue: The half reaches 3 mm beyond its fold, so it cannot be opened out. Draw the half on one side of the \
         fold."
    );
}

#[test]
fn what_two_outfits_hide_is_what_both_hide() {
    let under = |whole| HiddenPiece {
        by: "Apron".to_owned(),
        whole,
    };
    let hidden = |pieces: &[(&str, bool)]| Hidden {
        pieces: pieces
            .iter()
            .map(|(name, whole)| ((*name).to_owned(), under(*whole)))
            .collect(),
    };
    let both = Hidden::in_all(&[
        hidden(&[("Front", true), ("Back", true), ("Bib", true)]),
        hidden(&[("Front", true), ("Back", false)]),
    ]);
    assert_eq!(both, hidden(&[("Front", true), ("Back", false)]));
    assert_eq!(
        (both.whole("Back"), both.fold("Back")),
        (None, Some("Apron"))
    );
    assert_eq!(Hidden::in_all(&[]), Hidden::default());
}
