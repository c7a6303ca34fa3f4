//! Marks of the trade on sheets made in code: notches, arrows, dots, buttonholes, folds, darts, words.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::kurbo::{Circle, Point, Shape};
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::{MarkKind, Piece, Role, Side};

use super::super::found::{FoundLine, FoundText};
use super::tests::{drawn, line, rectangle, sheet, words};
use super::*;

/// A piece of 100 by 80 mm with what else is drawn.
fn with(lines: Vec<FoundLine>, texts: Vec<FoundText>) -> Recognised {
    let mut all = vec![rectangle(0.0, 0.0, 100.0, 80.0)];
    all.extend(lines);
    recognise(&sheet(all, texts), &Choices::default())
}

fn only(found: &Recognised) -> &Piece {
    assert_eq!(found.pieces.len(), 1, "{:?}", found.left);
    &found.pieces[0].piece
}

fn open(points: &[(f64, f64)]) -> FoundLine {
    line(points, false)
}

fn dashed(points: &[(f64, f64)], dash: &[f64]) -> FoundLine {
    let mut line = open(points);
    line.dash = dash.to_vec();
    line
}

#[test]
fn strokes_triangles_and_t_strokes_at_the_outline_are_notches() {
    let found = with(
        vec![
            open(&[(20.0, 0.0), (20.0, 6.0)]),
            open(&[(50.0, 0.0), (50.0, 6.0)]),
            open(&[(54.0, 0.0), (54.0, 6.0)]),
            // Three, across the line.
            open(&[(100.0 - 3.0, 30.0), (103.0, 30.0)]),
            open(&[(100.0 - 3.0, 34.0), (103.0, 34.0)]),
            open(&[(100.0 - 3.0, 38.0), (103.0, 38.0)]),
            // A triangle with its base on the upper edge.
            line(&[(30.0, 80.0), (36.0, 80.0), (33.0, 74.0)], true),
            // A T on the left edge.
            open(&[(0.0, 40.0), (6.0, 40.0)]),
            open(&[(6.0, 37.0), (6.0, 43.0)]),
        ],
        vec![],
    );
    let piece = only(&found);
    let mut notches: Vec<(String, i64, NotchKind)> = piece
        .notches
        .iter()
        .map(|n| (n.edge.clone(), (n.fraction * 1000.0).round() as i64, n.kind))
        .collect();
    notches.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(&b.1)));
    assert_eq!(
        notches,
        vec![
            ("edge 1".to_owned(), 200, NotchKind::Single),
            ("edge 1".to_owned(), 520, NotchKind::Double),
            ("edge 2".to_owned(), 425, NotchKind::Triple),
            ("edge 3".to_owned(), 670, NotchKind::Single),
            ("edge 4".to_owned(), 500, NotchKind::Single),
        ]
    );
    assert!(found.left.is_empty(), "{:?}", found.left);
}

#[test]
fn an_arrow_with_two_heads_is_the_grainline_however_the_heads_are_drawn() {
    let filled = |points: &[(f64, f64)]| {
        let mut head = line(points, true);
        head.filled = true;
        head.width = 0.0;
        head
    };
    for (heads, words) in [
        (
            vec![
                filled(&[(40.0, 70.0), (38.5, 65.0), (41.5, 65.0)]),
                filled(&[(40.0, 10.0), (38.5, 15.0), (41.5, 15.0)]),
                open(&[(40.0, 14.5), (40.0, 65.5)]),
            ],
            "filled heads",
        ),
        (
            vec![
                open(&[(38.0, 65.0), (40.0, 70.0), (42.0, 65.0)]),
                open(&[(38.0, 15.0), (40.0, 10.0), (42.0, 15.0)]),
                open(&[(40.0, 10.0), (40.0, 70.0)]),
            ],
            "open heads",
        ),
        (
            vec![
                open(&[(38.0, 65.0), (40.0, 70.0)]),
                open(&[(42.0, 65.0), (40.0, 70.0)]),
                open(&[(38.0, 15.0), (40.0, 10.0)]),
                open(&[(42.0, 15.0), (40.0, 10.0)]),
                open(&[(40.0, 10.0), (40.0, 70.0)]),
            ],
            "four barbs",
        ),
    ] {
        let found = with(heads, vec![]);
        let grain = only(&found).grainline;
        let (a, b) = grain.unwrap_or_else(|| panic!("{words}: {:?}", found.left));
        assert!(
            (b - a).x.abs() < 1e-6 && ((b - a).hypot() - 60.0).abs() < 1e-6,
            "{words}"
        );
        assert!(found.left.is_empty(), "{words}: {:?}", found.left);
    }
}

#[test]
fn circles_and_crosses_are_dots_and_two_close_parallels_a_buttonhole() {
    let circle = drawn(Circle::new((30.0, 30.0), 1.2).to_path(1e-3), true);
    let found = with(
        vec![
            circle,
            open(&[(58.0, 30.0), (62.0, 30.0)]),
            open(&[(60.0, 28.0), (60.0, 32.0)]),
            open(&[(70.0, 60.0), (85.0, 60.0)]),
            open(&[(70.0, 61.5), (85.0, 61.5)]),
        ],
        vec![words(31.9, 29.2, 1.8, "pocket")],
    );
    let piece = only(&found);
    assert_eq!(piece.marks.len(), 3, "{:?}", piece.marks);
    assert!(piece.marks.iter().any(|m| m.name == "pocket"
        && matches!(m.kind, MarkKind::Dot(p) if (p - Point::new(30.0, 30.0)).hypot() < 1e-3)));
    assert!(
        piece
            .marks
            .iter()
            .any(|m| matches!(m.kind, MarkKind::Dot(p) if p == Point::new(60.0, 30.0)))
    );
    assert!(
        piece
            .marks
            .iter()
            .any(|m| matches!(m.kind, MarkKind::Buttonhole(a, b)
        if (b - a).hypot() == 15.0 && a.y == 60.75))
    );
}

#[test]
fn dashes_inside_are_folds_or_stitching_by_what_they_are() {
    let found = with(
        vec![
            dashed(&[(0.0, 50.0), (100.0, 50.0)], &[4.0, 2.0]),
            dashed(&[(10.0, 20.0), (60.0, 30.0)], &[1.2, 0.8]),
            dashed(&[(10.0, 60.0), (60.0, 70.0)], &[5.0, 1.0, 1.0, 1.0]),
        ],
        vec![],
    );
    let nouns: Vec<&str> = only(&found).marks.iter().map(|m| m.kind.noun()).collect();
    assert_eq!(nouns, ["fold line", "stitching line", "placement line"]);
}

#[test]
fn an_edge_with_fold_beside_it_or_a_bracket_lies_on_the_fold() {
    let mut beside = words(4.0, 30.0, 4.0, "PLACE ON FOLD");
    beside.turn = 90.0;
    let by_words = with(vec![], vec![beside]);
    let bracket = vec![
        open(&[(2.0, 20.0), (8.0, 20.0), (8.0, 60.0), (2.0, 60.0)]),
        open(&[(3.0, 19.0), (1.0, 20.0), (3.0, 21.0)]),
        open(&[(3.0, 59.0), (1.0, 60.0), (3.0, 61.0)]),
    ];
    let by_bracket = with(bracket, vec![]);
    let mut own = vec![
        open(&[(0.0, 80.0), (0.0, 0.0)]),
        open(&[(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]),
    ];
    own[0].dash = vec![6.0, 1.0, 1.0, 1.0];
    let by_dashes = recognise(&sheet(own, vec![]), &Choices::default());
    for (found, how) in [
        (by_words, "words"),
        (by_bracket, "bracket"),
        (by_dashes, "dashes"),
    ] {
        let fold = only(&found).fold_edge().unwrap_or_else(|| panic!("{how}"));
        assert_eq!(fold.name, "fold");
        assert!(fold.line.at(0.5).x.abs() < 1e-9, "{how}");
        let guess = found
            .guesses
            .iter()
            .find(|g| g.kind == GuessKind::Fold)
            .unwrap();
        assert!(guess.certainty >= 0.8, "{how}");
        let id = found.pieces[0].id;
        let no = Correction::Fold {
            piece: id,
            edge: None,
        };
        assert!(guess.alternatives.iter().any(|a| a.correction == no));
    }
}

#[test]
fn a_v_in_the_outline_is_a_dart_and_a_v_drawn_on_is_one_too() {
    let outline = line(
        &[
            (0.0, 0.0),
            (40.0, 0.0),
            (50.0, 45.0),
            (60.0, 0.0),
            (100.0, 0.0),
            (100.0, 80.0),
            (0.0, 80.0),
        ],
        true,
    );
    let v = open(&[(30.0, 80.0), (36.0, 40.0), (42.0, 80.0)]);
    let found = recognise(&sheet(vec![outline, v], vec![]), &Choices::default());
    let piece = only(&found);
    assert_eq!(piece.darts.len(), 1);
    let dart = &piece.darts[0];
    assert_eq!(
        (dart.leg_in.as_str(), dart.leg_out.as_str()),
        ("dart 1 in", "dart 1 out")
    );
    assert_eq!(
        piece.outline.edge("dart 1 in").unwrap().line.end(),
        Point::new(50.0, 45.0)
    );
    let legs = piece
        .marks
        .iter()
        .filter(|m| matches!(m.kind, MarkKind::Stitch(_)));
    assert_eq!(legs.count(), 2);
    let darts: Vec<&Guess> = found
        .guesses
        .iter()
        .filter(|g| g.kind == GuessKind::Dart)
        .collect();
    assert_eq!(darts.len(), 2);
    insta::assert_snapshot!(darts[1].words, @"a dart, 46.1 mm long, 20 mm wide");
}

#[test]
fn words_give_names_counts_and_layers() {
    let mut lines = Vec::new();
    let mut texts = Vec::new();
    for (i, (name, cut)) in [
        ("1  FRONT", "cut 1 on fold"),
        ("2  Back", "CUT 2 shell 2 lining"),
        ("3  Cuff", "4x"),
    ]
    .iter()
    .enumerate()
    {
        let x = 150.0 * i as f64;
        lines.push(line(
            &[(x, 0.0), (x + 100.0, 0.0), (x + 90.0, 80.0), (x, 80.0)],
            true,
        ));
        texts.push(words(x + 30.0, 50.0, 6.0, name));
        texts.push(words(x + 30.0, 42.0, 4.0, cut));
    }
    let found = recognise(&sheet(lines, texts), &Choices::default());
    let of = |name: &str| {
        &found
            .pieces
            .iter()
            .find(|p| p.piece.name == name)
            .unwrap_or_else(|| panic!("{name}"))
            .piece
    };
    assert_eq!(of("Front").copies.len(), 1);
    let back = &of("Back").copies;
    assert_eq!(back.len(), 4);
    assert_eq!(back.iter().filter(|c| c.role == Role::Lining).count(), 2);
    assert_eq!(back.iter().filter(|c| c.side == Side::Left).count(), 2);
    assert_eq!(of("Cuff").copies.len(), 4);
    assert!(of("Front").fold_edge().is_some());
}

#[test]
fn allowance_words_tell_the_only_line() {
    for (said, drawn, width) in [
        ("Seam allowance of 1 cm included", Drawn::CutOnly, 10.0),
        ("5/8 in seam allowance included", Drawn::CutOnly, 15.875),
        ("No seam allowance", Drawn::StitchOnly, 0.0),
    ] {
        let found = with(vec![], vec![words(10.0, -20.0, 4.0, said)]);
        let piece = &found.pieces[0];
        assert_eq!(piece.drawn, drawn, "{said}");
        assert!((piece.allowances[0].width.0 - width).abs() < 1e-9, "{said}");
    }
}

#[test]
fn dashed_rows_along_the_edges_make_the_outline_a_cut_line_of_that_allowance() {
    let row = |a: (f64, f64), b: (f64, f64)| dashed(&[a, b], &[1.5, 1.0]);
    let found = with(
        vec![
            row((0.0, 20.0), (100.0, 20.0)),
            row((90.0, 0.0), (90.0, 80.0)),
            row((0.0, 70.0), (100.0, 70.0)),
        ],
        vec![],
    );
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::CutOnly);
    let widths: Vec<f64> = piece.allowances.iter().map(|a| a.width.0).collect();
    assert_eq!(widths, [20.0, 10.0, 10.0, 10.0]);
    assert!(piece.piece.marks.is_empty());
}

#[test]
fn dashes_drawn_one_by_one_are_one_dashed_line() {
    let mut lines = Vec::new();
    for i in 0..14 {
        let x = 10.0 + 6.0 * f64::from(i);
        lines.push(open(&[(x, 60.0), (x + 4.0, 60.0)]));
    }
    let found = with(lines, vec![]);
    let marks = &only(&found).marks;
    assert_eq!(marks.len(), 1, "{marks:?}");
    assert_eq!(marks[0].kind.noun(), "fold line");
    assert!((marks[0].kind.line().unwrap().length() - 82.0).abs() < 1e-6);
    assert!(found.left.is_empty());
}

#[test]
fn a_stitch_line_of_single_dashes_is_the_stitch_line() {
    let mut lines = Vec::new();
    // Round a rectangle 10 mm inside, dashes of 2 mm, the corners drawn.
    let corners = [(10.0, 10.0), (90.0, 10.0), (90.0, 70.0), (10.0, 70.0)];
    for i in 0..4 {
        let (a, b) = (Point::from(corners[i]), Point::from(corners[(i + 1) % 4]));
        let long = (b - a).hypot();
        let n = (long / 4.0).round();
        for k in 0..=(n as usize) {
            let from = (k as f64 * 4.0 - 1.0).max(0.0);
            let to = (k as f64 * 4.0 + 1.0).min(long);
            let (p, q) = (a.lerp(b, from / long), a.lerp(b, to / long));
            lines.push(open(&[(p.x, p.y), (q.x, q.y)]));
        }
    }
    let found = with(lines, vec![]);
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::Both, "{:?}", found.guesses);
    assert!(
        piece
            .allowances
            .iter()
            .all(|a| (a.width.0 - 10.0).abs() < 1e-6)
    );
    assert!(found.left.is_empty());
}
