//! Closed forms of recognising, on sheets made in code.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::kurbo::{BezPath, Point, Rect, Shape};

use super::super::found::{FoundLine, FoundSheet, FoundText};
use super::*;

pub(super) fn line(points: &[(f64, f64)], closed: bool) -> FoundLine {
    let mut path = BezPath::new();
    for (i, p) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*p);
        } else {
            path.line_to(*p);
        }
    }
    if closed {
        path.close_path();
    }
    drawn(path, closed)
}

pub(super) fn drawn(path: BezPath, closed: bool) -> FoundLine {
    FoundLine {
        path,
        closed,
        layer: String::new(),
        groups: vec![],
        colour: [0, 0, 0],
        width: 0.3,
        dash: vec![],
        filled: false,
        meaning: None,
    }
}

pub(super) fn rectangle(x: f64, y: f64, w: f64, h: f64) -> FoundLine {
    line(&[(x, y), (x + w, y), (x + w, y + h), (x, y + h)], true)
}

pub(super) fn words(x: f64, y: f64, size: f64, words: &str) -> FoundText {
    FoundText {
        at: Point::new(x, y),
        size,
        turn: 0.0,
        words: words.to_owned(),
        layer: String::new(),
        groups: vec![],
        meaning: None,
    }
}

pub(super) fn sheet(lines: Vec<FoundLine>, texts: Vec<FoundText>) -> FoundSheet {
    let bounds = lines
        .iter()
        .map(|l| l.path.bounding_box())
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    FoundSheet {
        name: "sheet".to_owned(),
        bounds,
        lines,
        texts,
        points: vec![],
    }
}

#[test]
fn a_rectangle_is_a_piece_of_four_edges_with_a_doubt_about_its_line() {
    let found = recognise(
        &sheet(vec![rectangle(10.0, 20.0, 80.0, 40.0)], vec![]),
        &Choices::default(),
    );
    assert_eq!(found.pieces.len(), 1);
    let piece = &found.pieces[0];
    assert_eq!(piece.piece.outline.edges().len(), 4);
    assert!((piece.piece.outline.area() - 3200.0).abs() < 1e-9);
    let doubt = found
        .guesses
        .iter()
        .find(|g| g.kind == GuessKind::OneLine)
        .unwrap();
    assert!(doubt.certainty < 0.9);
    let again = recognise(
        &sheet(vec![rectangle(10.0, 20.0, 80.0, 40.0)], vec![]),
        &Choices {
            corrections: vec![doubt.alternatives[0].correction.clone()],
            ..Choices::default()
        },
    );
    assert_eq!(again.pieces[0].drawn, Drawn::CutOnly);
    assert!(again.left.is_empty(), "{:?}", again.left);
}

#[test]
fn a_line_inside_at_a_steady_width_is_the_stitch_line_and_hems_are_wider() {
    let cut = rectangle(0.0, 0.0, 112.0, 70.0);
    let stitch = rectangle(6.0, 20.0, 100.0, 44.0);
    let found = recognise(&sheet(vec![cut, stitch], vec![]), &Choices::default());
    assert_eq!(found.pieces.len(), 1);
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::Both);
    let widths: Vec<f64> = piece.allowances.iter().map(|a| a.width.0).collect();
    for (width, wanted) in widths.iter().zip([20.0, 6.0, 6.0, 6.0]) {
        assert!((width - wanted).abs() < 1e-9, "{widths:?}");
    }
}

#[test]
fn strokes_whose_ends_meet_are_one_outline_and_a_gap_is_told() {
    let lines = vec![
        line(&[(0.0, 0.0), (80.0, 0.0)], false),
        line(&[(80.0, 0.02), (80.0, 50.0)], false),
        line(&[(0.0, 50.0), (80.0, 50.0)], false),
        line(&[(0.0, 49.3), (0.0, 0.0)], false),
    ];
    let found = recognise(&sheet(lines, vec![]), &Choices::default());
    assert_eq!(found.pieces.len(), 1);
    assert_eq!(found.pieces[0].piece.outline.edges().len(), 4);
    let gaps: Vec<&Guess> = found
        .guesses
        .iter()
        .filter(|g| g.kind == GuessKind::Gap)
        .collect();
    assert_eq!(gaps.len(), 1, "{gaps:?}");
    assert!(gaps[0].words.contains("0.7 mm"), "{}", gaps[0].words);
    assert!(found.left.is_empty());
}

#[test]
fn a_test_square_is_told_and_is_no_piece() {
    let found = recognise(
        &sheet(
            vec![
                rectangle(0.0, 0.0, 50.0, 50.0),
                rectangle(60.0, 0.0, 150.0, 90.0),
            ],
            vec![words(20.0, 20.0, 4.0, "5 cm")],
        ),
        &Choices::default(),
    );
    assert_eq!(found.pieces.len(), 1);
    assert!(found.left[0].what.contains("test square of 50 mm"));
    assert_eq!(found.left.len(), 2);
}

#[test]
fn an_empty_sheet_and_broken_figures_give_nothing_and_a_word() {
    let found = recognise(&FoundSheet::default(), &Choices::default());
    assert_eq!(found, Recognised::default());
    let broken = line(&[(f64::NAN, 0.0), (f64::INFINITY, 1.0), (0.0, 0.0)], true);
    let found = recognise(&sheet(vec![broken], vec![]), &Choices::default());
    assert!(found.pieces.is_empty());
    assert_eq!(found.left.len(), 1);
}
