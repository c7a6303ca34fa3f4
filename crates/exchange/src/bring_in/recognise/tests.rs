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

#[test]
fn borders_tables_and_frames_of_words_are_told_and_are_no_pieces() {
    let mut lines = vec![
        rectangle(0.0, 0.0, 400.0, 300.0),
        rectangle(20.0, 20.0, 150.0, 90.0),
        line(&[(200.0, 20.0), (300.0, 30.0), (260.0, 110.0)], true),
        // A table.
        rectangle(20.0, 150.0, 100.0, 40.0),
        // A frame of words.
        rectangle(220.0, 200.0, 150.0, 60.0),
    ];
    lines.extend((1..6).map(|i| {
        let x = 20.0 + 15.0 * f64::from(i);
        line(&[(x, 150.0), (x, 190.0)], false)
    }));
    let texts = (0..5)
        .map(|i| {
            let y = 205.0 + 10.0 * f64::from(i);
            words(225.0, y, 4.0, "wash by hand in lukewarm water")
        })
        .collect();
    let found = recognise(&sheet(lines, texts), &Choices::default());
    assert_eq!(found.pieces.len(), 2, "{:?}", found.left);
    for what in ["border of the sheet", "table or a strip", "frame of words"] {
        assert!(found.left.iter().any(|l| l.what.contains(what)), "{what}");
    }
}

#[test]
fn ten_thousand_short_lines_are_all_read() {
    // Every piece is found and no line is left.
    let mut lines = Vec::new();
    for i in 0..40 {
        for j in 0..10 {
            let (x, y) = (f64::from(i) * 60.0, f64::from(j) * 50.0);
            for k in 0..25 {
                let from = f64::from(k) * 2.0;
                lines.push(line(&[(x + from, y), (x + from + 2.0, y)], false));
            }
            lines.push(line(
                &[(x + 50.0, y), (x + 50.0, y + 40.0), (x, y + 40.0), (x, y)],
                false,
            ));
            lines.push(line(&[(x + 20.0, y), (x + 20.0, y + 4.0)], false));
        }
    }
    assert_eq!(lines.len(), 10_800);
    let found = recognise(&sheet(lines, vec![]), &Choices::default());
    assert_eq!(found.pieces.len(), 400);
    assert!(found.left.is_empty());
    assert!(found.pieces.iter().all(|p| p.piece.notches.len() == 1));
    assert!(
        found
            .pieces
            .iter()
            .all(|p| p.piece.outline.edges().len() == 4)
    );
}
