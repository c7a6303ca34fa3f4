//! What a file itself says, by an open standard, is taken as given.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::kurbo::{Affine, Point};
use petitoile_core::piece::MarkKind;

use super::super::found::{FoundLine, FoundPoint, FoundSheet, Meaning};
use super::tests::{line, rectangle, sheet, words};
use super::*;

fn is(mut line: FoundLine, meaning: Meaning) -> FoundLine {
    line.meaning = Some(meaning);
    line
}

/// Two pieces in blocks that lie on each other, as in files of the apparel practice.
fn practice() -> FoundSheet {
    let mut all = FoundSheet::default();
    for (n, (name, wide)) in [("FRONT", 100.0), ("BACK", 110.0)].into_iter().enumerate() {
        let mut one = sheet(
            vec![
                is(rectangle(0.0, 0.0, wide, 80.0), Meaning::CutLine),
                is(rectangle(0.0, 10.0, wide - 10.0, 60.0), Meaning::StitchLine),
                is(line(&[(0.0, 0.0), (0.0, 80.0)], false), Meaning::Fold),
                is(line(&[(40.0, 20.0), (40.0, 60.0)], false), Meaning::Grain),
                is(line(&[(10.0, 30.0), (50.0, 35.0)], false), Meaning::Inside),
                is(
                    line(&[(0.0, -5.0), (90.0, -5.0)], false),
                    Meaning::Reference,
                ),
            ],
            vec![
                words(20.0, 50.0, 4.0, &format!("Piece Name: {name}")),
                words(20.0, 44.0, 4.0, "Quantity: 2"),
                words(20.0, 38.0, 4.0, "Size: M"),
            ],
        );
        for (at, meaning) in [
            ((30.0, 0.0), Meaning::Notch),
            ((60.0, 40.0), Meaning::Hole),
            ((0.0, 0.0), Meaning::Corner),
        ] {
            one.points.push(FoundPoint {
                at: Point::from(at),
                layer: String::new(),
                groups: vec![],
                meaning: Some(meaning),
            });
        }
        let block = vec![format!("block {n}")];
        one.lines
            .iter_mut()
            .for_each(|l| l.groups.clone_from(&block));
        one.texts
            .iter_mut()
            .for_each(|t| t.groups.clone_from(&block));
        one.points
            .iter_mut()
            .for_each(|p| p.groups.clone_from(&block));
        all.lines.extend(one.lines);
        all.texts.extend(one.texts);
        all.points.extend(one.points);
        all.bounds = one.bounds;
    }
    all
}

#[test]
fn layers_of_the_apparel_practice_are_taken_as_given_even_when_blocks_lie_on_each_other() {
    let sheet = practice();
    let found = recognise(&sheet, &Choices::default());
    assert_eq!(found.pieces.len(), 2, "{:?}", found.left);
    for (name, wide) in [("Front", 90.0), ("Back", 100.0)] {
        let piece = found.pieces.iter().find(|p| p.piece.name == name).unwrap();
        assert_eq!(piece.drawn, Drawn::Both);
        assert!((piece.piece.outline.bounds().width() - wide).abs() < 1e-6);
        assert!(piece.piece.outline.bounds().x0.abs() < 1e-6, "put back");
        assert!(piece.piece.fold_edge().unwrap().line.at(0.5).x.abs() < 1e-6);
        let (a, b) = piece.piece.grainline.unwrap();
        assert!(a.x == 40.0 && b.x == 40.0 || (a.x - 40.0).abs() < 1e-6);
        assert!(((b - a).y.abs() - 40.0).abs() < 1e-6);
        assert_eq!(piece.piece.notches.len(), 1);
        assert_eq!(piece.piece.copies.len(), 2);
        let dots = |k: &MarkKind| matches!(k, MarkKind::Dot(_));
        assert_eq!(
            piece.piece.marks.iter().filter(|m| dots(&m.kind)).count(),
            1
        );
        assert_eq!(piece.piece.marks.len(), 2);
    }
    let doubted: Vec<&Guess> = found
        .guesses
        .iter()
        .filter(|g| g.certainty < 1.0 && !matches!(g.kind, GuessKind::Name | GuessKind::CutCount))
        .collect();
    assert!(doubted.is_empty(), "{doubted:?}");
    assert_eq!(found.left.len(), 2, "lines of reference: {:?}", found.left);
}

#[test]
fn corrections_go_before_what_was_guessed() {
    let plain = sheet(
        vec![
            rectangle(0.0, 0.0, 100.0, 80.0),
            line(&[(50.0, 10.0), (50.0, 70.0)], false),
        ],
        vec![
            words(20.0, 40.0, 5.0, "Front"),
            words(70.0, 40.0, 4.0, "Yoke"),
        ],
    );
    let first = recognise(&plain, &Choices::default());
    let id = first.pieces[0].id;
    let with = |corrections: Vec<Correction>| {
        recognise(
            &plain,
            &Choices {
                corrections,
                ..Choices::default()
            },
        )
    };
    let named = with(vec![Correction::Name {
        piece: id,
        name: "Side".to_owned(),
    }]);
    assert_eq!(named.pieces[0].piece.name, "Side");
    let by_text = with(vec![Correction::Is {
        thing: Thing::Text(1),
        taken: Taken::Name,
    }]);
    assert_eq!(by_text.pieces[0].piece.name, "Yoke");
    let grain = with(vec![Correction::Is {
        thing: Thing::Line(1),
        taken: Taken::Grain,
    }]);
    assert!(grain.pieces[0].piece.grainline.is_some());
    let out = with(vec![Correction::Is {
        thing: Thing::Line(1),
        taken: Taken::NoPart,
    }]);
    // The other words are kept, the line is not.
    let is_text = |m: &petitoile_core::piece::Mark| matches!(m.kind, MarkKind::Text(_));
    assert!(out.pieces[0].piece.marks.iter().all(is_text));
    assert!(
        out.left
            .iter()
            .any(|l| l.thing == Thing::Line(1) && l.what == "left out by you")
    );
    let fold = with(vec![Correction::Fold {
        piece: id,
        edge: Some(3),
    }]);
    assert!(fold.pieces[0].piece.outline.edges()[3].is_fold());
    let none = with(vec![Correction::IsPiece {
        piece: id,
        is_piece: false,
    }]);
    assert!(none.pieces.is_empty());
    assert_eq!(none.left.len(), 4);
}

#[test]
fn a_sheet_moved_as_a_whole_gives_the_same_garment() {
    let body = std::sync::Arc::new(petitoile_core::body::Body::new(
        "not known",
        petitoile_core::body::BodyKind::Woman,
    ));
    let mut cut = sheet(vec![rectangle(0.0, 0.0, 100.0, 80.0)], vec![]);
    for line in &mut cut.lines {
        line.path = Affine::translate((300.0, 40.0)) * line.path.clone();
    }
    let choices = Choices {
        one_line: Some(OneLine::Cut),
        allowance: Some(petitoile_core::Mm(12.0)),
        ..Choices::default()
    };
    let made = garment(&recognise(&cut, &choices), "Skirt", body);
    assert_eq!(made.included_allowance.len(), 4);
    let piece =
        petitoile_core::allowance::without_allowance(&made.pieces[0], &made.included_allowance);
    assert!((piece.unwrap().outline.area() - 76.0 * 56.0).abs() < 1e-6);
}
