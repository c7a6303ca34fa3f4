//! Copies opened out, numbered, mirrored, and what they need of the cloth.

use std::collections::BTreeMap;

use super::*;
use crate::cloth::{Cloth, GoodFor};
use crate::edge::{Edge, Finish};
use crate::finding::Gravity;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::Face;
use crate::units::Degrees;

fn on_fold(name: &str) -> Piece {
    samples::finished_with(samples::strip(name, 42.0, 60.0), "left", Finish::Fold)
}

#[test]
fn a_rectangle_on_the_fold_opens_to_one_twice_as_wide() {
    let laid = laid(&finished(vec![on_fold("Front")], |_| {}));
    assert_eq!(laid.findings, Vec::new());
    let shape = &laid.outcome.copies[0].whole;
    let bounds = crate::geometry::closed::bounds(&shape.outline);
    assert_eq!(
        (bounds.x0, bounds.y0, bounds.x1, bounds.y1),
        (-42.0, 0.0, 42.0, 60.0)
    );
    assert_eq!(shape.outline.len(), 4, "{:?}", shape.outline);
    assert!((area(&shape.outline) - 84.0 * 60.0).abs() < 1e-9);
    let fold = shape.fold.unwrap();
    assert_eq!((fold.p0.x, fold.p1.x), (0.0, 0.0));
    assert!(((fold.p1 - fold.p0).hypot() - 60.0).abs() < 1e-9);
}

#[test]
fn the_allowance_lies_round_the_opened_piece_and_not_along_its_fold() {
    let laid = laid(&finished(vec![on_fold("Front")], |fitting| {
        fitting.allowances.seam = Mm(5.0);
        fitting.allowances.hem = Mm(5.0);
    }));
    let bounds = crate::geometry::closed::bounds(&laid.outcome.copies[0].whole.outline);
    assert!((bounds.width() - (84.0 + 10.0)).abs() < 1e-9, "{bounds:?}");
}

#[test]
fn copies_that_are_alike_are_numbered_and_left_ones_are_mirrored() {
    let mut cuff = samples::strip("Cuff", 60.0, 20.0);
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
    let mut front = samples::strip("Front", 60.0, 20.0);
    let lining = Copy {
        role: Role::Lining,
        ..WHOLE
    };
    front.copies = vec![WHOLE, lining];
    let mut by_itself = samples::strip("Pocket bag", 60.0, 20.0);
    by_itself.copies = vec![lining];
    let laid = laid(&finished(vec![front, by_itself], |_| {})).outcome;
    let mirrored: Vec<bool> = laid.copies.iter().map(|c| c.whole.mirrored).collect();
    assert_eq!(mirrored, [false, true, false]);
}

#[test]
fn what_a_copy_needs_follows_its_layer_the_outfit_and_the_maker() {
    let mut front = on_fold("Front");
    front.copies.push(Copy {
        role: Role::Lining,
        ..WHOLE
    });
    let mut back = on_fold("Back");
    back.name = "Back".to_owned();
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
fn a_grainline_has_no_arrowhead() {
    let grain = |a: (f64, f64), b: (f64, f64)| {
        let mut strip = samples::strip("Band", 60.0, 60.0);
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
    let points = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 60.0),
        (-3.0, 60.0),
        (-3.0, 50.0),
        (0.0, 50.0),
    ];
    let edges: Vec<Edge> = (0..6)
        .map(|i| {
            let line = Line::straight(points[i].into(), points[(i + 1) % 6].into());
            let finish = if i == 5 { Finish::Fold } else { Finish::Raw };
            Edge::finished(format!("edge {i}"), line, finish)
        })
        .collect();
    let mut front = samples::strip("Front", 42.0, 60.0);
    front.outline = Outline::new(edges).unwrap();
    let laid = laid(&finished(vec![front], |_| {}));
    assert_eq!(laid.outcome.copies, Vec::new());
    let [finding] = laid.findings.as_slice() else {
        panic!("{:?}", laid.findings)
    };
    assert_eq!(finding.gravity, Gravity::Unusable);
    assert_eq!(
        finding.to_string(),
        "Front, edge 3: The half reaches 3 mm beyond its fold, so it cannot be opened out. Draw the half on one side of the \
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
