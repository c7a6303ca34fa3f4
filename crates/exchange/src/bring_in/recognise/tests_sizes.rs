//! Nested sizes on sheets made in code.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::super::found::{FoundLine, FoundSheet, FoundText};
use super::tests::{line, rectangle, sheet, words};
use super::*;

/// Three sizes of two pieces on a common left edge; the front crosses at its shoulder. `told` makes them differ.
fn nest(told: impl Fn(usize, &mut FoundLine), texts: Vec<FoundText>) -> FoundSheet {
    let mut lines = Vec::new();
    for size in 0..3 {
        let s = size as f64;
        let front = [
            (0.0, 0.0),
            (80.0 + 6.0 * s, 0.0),
            (84.0 + 6.0 * s, 60.0 + 2.0 * s),
            (50.0 + 2.0 * s, 110.0 - 1.0 * s),
            (0.0, 90.0 + 3.0 * s),
        ];
        let mut front = line(&front, true);
        told(size, &mut front);
        let mut cuff = rectangle(150.0, 0.0, 40.0 + 5.0 * s, 20.0);
        told(size, &mut cuff);
        lines.extend([front, cuff]);
    }
    lines.push(rectangle(220.0, 0.0, 33.0, 44.0));
    sheet(lines, texts)
}

fn area(found: &Recognised) -> f64 {
    found
        .pieces
        .iter()
        .map(|p| p.piece.outline.area())
        .fold(0.0, f64::max)
}

fn check(sheet: &FoundSheet, names: [&str; 3], told_by: &str) {
    let mut areas = Vec::new();
    for name in names {
        let choices = Choices {
            size: Some(name.to_owned()),
            ..Choices::default()
        };
        let found = recognise(sheet, &choices);
        assert_eq!(found.pieces.len(), 3, "{told_by}: {:?}", found.left);
        let all: Vec<&str> = found.sizes.iter().map(|s| s.name.as_str()).collect();
        assert_eq!(all, names);
        assert!(
            found.sizes[0].told_by.contains(told_by),
            "{:?}",
            found.sizes
        );
        assert_eq!(found.left.len(), 4 + sheet.texts.len());
        assert_eq!(found.size.as_deref(), Some(name));
        areas.push(area(&found));
    }
    assert!(areas[0] < areas[1] && areas[1] < areas[2], "{areas:?}");
    let smallest = recognise(sheet, &Choices::default());
    assert!((area(&smallest) - areas[0]).abs() < 1e-9);
}

#[test]
fn sizes_are_told_by_dashes() {
    let dashes = [vec![], vec![4.0, 2.0], vec![6.0, 1.0, 1.0, 1.0]];
    let told = nest(
        |size, line| line.dash.clone_from(&dashes[size]),
        vec![words(0.0, -30.0, 4.0, "10 12 14")],
    );
    check(&told, ["10", "12", "14"], "no dashes");
}

#[test]
fn sizes_are_told_by_colour() {
    let told = nest(
        |size, line| line.colour = [[200, 0, 0], [0, 150, 0], [0, 0, 200]][size],
        vec![],
    );
    check(&told, ["size 1", "size 2", "size 3"], "colour 200, 0, 0");
}

#[test]
fn sizes_are_told_by_layer() {
    let told = nest(
        |size, line| line.layer = ["Size 36", "Size 38", "Size 40"][size].to_owned(),
        vec![],
    );
    check(&told, ["36", "38", "40"], "layer Size 36");
}

#[test]
fn sizes_that_are_drawn_alike_are_told_by_their_order_when_the_sheet_names_them() {
    let told = nest(|_, _| {}, vec![words(0.0, -30.0, 4.0, "Sizes S / M / L")]);
    check(&told, ["S", "M", "L"], "order");
}

#[test]
fn a_cut_line_and_its_stitch_line_in_two_colours_are_one_size() {
    let mut lines = Vec::new();
    for (x, w) in [(0.0, 90.0), (150.0, 60.0)] {
        let mut cut = rectangle(x, 0.0, w + 20.0, 80.0);
        cut.colour = [200, 0, 0];
        lines.extend([cut, rectangle(x + 10.0, 10.0, w, 60.0)]);
    }
    let found = recognise(&sheet(lines, vec![]), &Choices::default());
    assert_eq!(found.pieces.len(), 2);
    assert!(found.sizes.is_empty());
    assert!(found.pieces.iter().all(|p| p.drawn == Drawn::Both));
}

#[test]
fn sizes_that_share_a_fold_drawn_once_are_closed_along_it() {
    let mut lines = vec![line(&[(0.0, 0.0), (0.0, 90.0)], false)];
    for size in 0..3 {
        let s = size as f64;
        let mut own = line(
            &[
                (0.0, 0.0),
                (80.0 + 6.0 * s, 0.0),
                (84.0 + 6.0 * s, 60.0 + 2.0 * s),
                (50.0 + 2.0 * s, 110.0 + 4.0 * s),
                (0.0, 90.0),
            ],
            false,
        );
        own.colour = [60 * size as u8, 0, 0];
        lines.push(own);
    }
    lines[0].colour = [0, 0, 200];
    let sheet = sheet(lines, vec![words(0.0, -20.0, 4.0, "10 12 14")]);
    let mut areas = Vec::new();
    for name in ["10", "12", "14"] {
        let choices = Choices {
            size: Some(name.to_owned()),
            ..Choices::default()
        };
        let found = recognise(&sheet, &choices);
        assert_eq!(found.pieces.len(), 1, "{name}: {:?}", found.left);
        let piece = &found.pieces[0];
        assert_eq!(piece.piece.outline.edges().len(), 5, "{name}");
        assert!(piece.made_of.contains(&Thing::Line(0)), "{name}");
        areas.push(area(&found));
    }
    assert!(areas[0] < areas[1] && areas[1] < areas[2], "{areas:?}");
}

#[test]
fn a_line_across_a_piece_in_another_colour_is_no_size() {
    let mut yoke = line(&[(0.0, 40.0), (50.0, 36.0), (100.0, 40.0)], false);
    yoke.colour = [200, 0, 0];
    let found = recognise(
        &sheet(vec![rectangle(0.0, 0.0, 100.0, 80.0), yoke], vec![]),
        &Choices::default(),
    );
    assert_eq!(found.pieces.len(), 1);
    assert!(found.sizes.is_empty());
    assert_eq!(found.pieces[0].piece.marks.len(), 1);
}
