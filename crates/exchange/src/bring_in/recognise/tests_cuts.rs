//! Notches cut into an outline, rows of stitching, words nobody reads: nothing is lost, nothing is taken for something else.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::kurbo::{BezPath, Point};
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::MarkKind;

use super::super::found::FoundLine;
use super::tests::{line, rectangle, sheet, words};
use super::*;

/// A rectangle with Vs cut into its lower edge at these places, this deep and wide at the mouth.
fn cut(wide: f64, high: f64, at: &[f64], deep: f64, mouth: f64) -> FoundLine {
    let mut points = vec![(0.0, 0.0)];
    for x in at {
        points.extend([(x - mouth / 2.0, 0.0), (*x, deep), (x + mouth / 2.0, 0.0)]);
    }
    points.extend([(wide, 0.0), (wide, high), (0.0, high)]);
    line(&points, true)
}

fn recognised(lines: Vec<FoundLine>) -> Recognised {
    recognise(&sheet(lines, vec![]), &Choices::default())
}

/// Which notches lie where, mm along their edges.
fn notches(piece: &RecognisedPiece) -> Vec<(f64, NotchKind)> {
    let outline = &piece.piece.outline;
    piece
        .piece
        .notches
        .iter()
        .map(|notch| {
            let edge = outline.edges().iter().find(|e| e.name == notch.edge);
            let along = notch.fraction * edge.unwrap().line.length();
            ((along * 100.0).round() / 100.0, notch.kind)
        })
        .collect()
}

#[test]
fn a_short_v_in_an_edge_is_a_notch_and_the_outline_runs_on_over_it() {
    for (deep, mouth) in [(3.0, 4.0), (6.0, 6.0), (8.0, 8.0), (-5.0, 6.0), (4.0, 0.0)] {
        let found = recognised(vec![cut(300.0, 200.0, &[80.0, 210.0], deep, mouth)]);
        assert_eq!(found.pieces.len(), 1);
        let piece = &found.pieces[0];
        assert_eq!(piece.piece.outline.edges().len(), 4, "{deep} {mouth}");
        assert!(piece.piece.darts.is_empty());
        let wanted = vec![(80.0, NotchKind::Single), (210.0, NotchKind::Single)];
        assert_eq!(notches(piece), wanted, "{deep} deep, {mouth} wide");
    }
}

#[test]
fn two_vs_close_together_are_one_double_notch() {
    let found = recognised(vec![cut(300.0, 200.0, &[100.0, 108.0], 6.0, 5.0)]);
    let piece = &found.pieces[0];
    assert_eq!(notches(piece), vec![(104.0, NotchKind::Double)]);
    assert_eq!(piece.piece.outline.edges().len(), 4);
}

#[test]
fn a_v_in_a_round_edge_is_a_notch_and_the_edge_stays_one() {
    let mut path = BezPath::new();
    path.move_to((0.0, 0.0));
    path.line_to((300.0, 0.0));
    path.line_to((300.0, 150.0));
    // A round edge of radius 500 or so, a V of 6 mm in its middle.
    path.curve_to((253.0, 166.0), (203.0, 176.0), (153.0, 178.5));
    path.line_to((150.0, 172.5));
    path.line_to((147.0, 178.5));
    path.curve_to((97.0, 176.0), (47.0, 166.0), (0.0, 150.0));
    path.close_path();
    let mut round = rectangle(0.0, 0.0, 1.0, 1.0);
    round.path = path;
    let found = recognised(vec![round]);
    let piece = &found.pieces[0].piece;
    assert_eq!(piece.outline.edges().len(), 4);
    assert_eq!(piece.notches.len(), 1);
    assert!((piece.notches[0].fraction - 0.5).abs() < 0.001);
}

#[test]
fn darts_and_corners_stay_what_they_are() {
    // A dart of a doll's bodice, of a bodice for a woman, a roof.
    for (outline, darts, edges) in [
        (cut(90.0, 70.0, &[40.0], 12.0, 5.0), 1, 7),
        (cut(90.0, 70.0, &[40.0], 8.0, 3.0), 1, 7),
        (cut(400.0, 400.0, &[150.0], 110.0, 25.0), 1, 7),
        (cut(100.0, 80.0, &[50.0], -20.0, 60.0), 0, 7),
    ] {
        let found = recognised(vec![outline]);
        let piece = &found.pieces[0].piece;
        assert_eq!(
            (piece.darts.len(), piece.outline.edges().len()),
            (darts, edges)
        );
        assert!(piece.notches.is_empty());
    }
}

#[test]
fn a_v_is_part_of_the_outline_when_the_maker_says_so() {
    let sheet = sheet(vec![cut(300.0, 200.0, &[80.0, 210.0], 6.0, 6.0)], vec![]);
    let found = recognise(&sheet, &Choices::default());
    let of_second = found
        .guesses
        .iter()
        .filter(|g| g.kind == GuessKind::Notch)
        .nth(1)
        .unwrap();
    let choices = Choices {
        corrections: vec![of_second.alternatives[0].correction.clone()],
        ..Choices::default()
    };
    let piece = &recognise(&sheet, &choices).pieces[0];
    assert_eq!(notches(piece), vec![(80.0, NotchKind::Single)]);
    assert_eq!(piece.piece.outline.edges().len(), 7);
}

#[test]
fn vs_in_the_cut_line_are_notches_of_the_stitch_line() {
    let found = recognised(vec![
        cut(300.0, 200.0, &[80.0], 6.0, 6.0),
        rectangle(10.0, 10.0, 280.0, 180.0),
    ]);
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::Both);
    assert_eq!(notches(piece), vec![(70.0, NotchKind::Single)]);
    assert!(
        piece
            .allowances
            .iter()
            .all(|a| (a.width.0 - 10.0).abs() < 0.01)
    );
}

fn row(points: &[(f64, f64)]) -> FoundLine {
    let mut row = line(points, false);
    row.dash = vec![1.0, 1.0];
    row
}

#[test]
fn rows_of_a_channel_are_stitching_and_no_stitch_line() {
    // A casing: two rows along the long edges of a strip.
    let found = recognised(vec![
        rectangle(0.0, 0.0, 300.0, 30.0),
        row(&[(0.0, 4.0), (300.0, 4.0)]),
        row(&[(0.0, 26.0), (300.0, 26.0)]),
    ]);
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::StitchOnly);
    let is_stitch = |m: &petitoile_core::piece::Mark| matches!(m.kind, MarkKind::Stitch(_));
    assert_eq!(piece.piece.marks.iter().filter(|m| is_stitch(m)).count(), 2);

    // All round, with a channel along one edge: the row that is as far in as elsewhere is where it is sewn.
    let found = recognised(vec![
        rectangle(0.0, 0.0, 200.0, 100.0),
        row(&[(14.0, 10.0), (186.0, 10.0)]),
        row(&[(190.0, 14.0), (190.0, 86.0)]),
        row(&[(186.0, 90.0), (14.0, 90.0)]),
        row(&[(10.0, 86.0), (10.0, 14.0)]),
        row(&[(14.0, 20.0), (186.0, 20.0)]),
    ]);
    let piece = &found.pieces[0];
    assert_eq!(piece.drawn, Drawn::CutOnly);
    assert!(
        piece
            .allowances
            .iter()
            .all(|a| (a.width.0 - 10.0).abs() < 0.01)
    );
    assert_eq!(piece.piece.marks.iter().filter(|m| is_stitch(m)).count(), 1);
}

#[test]
fn words_that_are_neither_name_nor_count_are_kept_or_told() {
    let sheet = sheet(
        vec![rectangle(0.0, 0.0, 200.0, 150.0)],
        vec![
            words(20.0, 120.0, 8.0, "Front"),
            words(20.0, 110.0, 8.0, "cut 2"),
            words(20.0, 100.0, 8.0, "Summer dress"),
            words(60.0, 40.0, 4.0, "pocket goes here"),
            words(60.0, 30.0, 4.0, "attach button"),
            words(150.0, 60.0, 4.0, "grain"),
        ],
    );
    let found = recognise(&sheet, &Choices::default());
    let piece = &found.pieces[0].piece;
    assert_eq!(piece.name, "Front");
    let kept: Vec<&str> = piece
        .marks
        .iter()
        .filter(|m| matches!(m.kind, MarkKind::Text(_)))
        .map(|m| m.name.as_str())
        .collect();
    assert_eq!(kept, ["attach button"]);
    let told: Vec<&str> = found
        .guesses
        .iter()
        .filter(|g| g.kind == GuessKind::Words)
        .map(|g| g.words.as_str())
        .collect();
    assert_eq!(
        told,
        [
            "words kept on the piece: \"attach button\"",
            "words that are not kept: \"Summer dress\", \"pocket goes here\", \"grain\"",
        ]
    );
    // And kept after all when the maker says so.
    let keeps = found
        .guesses
        .iter()
        .flat_map(|g| &g.alternatives)
        .find(|a| a.words.starts_with("\"pocket"))
        .unwrap();
    let choices = Choices {
        corrections: vec![keeps.correction.clone()],
        ..Choices::default()
    };
    let piece = &recognise(&sheet, &choices).pieces[0].piece;
    assert!(piece.marks.iter().any(|m| m.name == "pocket goes here"));
}

#[test]
fn every_line_and_word_is_in_a_piece_and_told_or_left_and_named() {
    let mut circle = rectangle(0.0, 0.0, 1.0, 1.0);
    circle.path = {
        use petitoile_core::kurbo::{Circle, Shape};
        Circle::new((150.0, 100.0), 1.5).to_path(1e-3)
    };
    let lines = vec![
        cut(300.0, 200.0, &[80.0], 6.0, 6.0),
        line(&[(120.0, 200.0), (120.0, 194.0)], false),
        line(&[(40.0, 40.0), (40.0, 160.0)], false),
        line(&[(37.0, 46.0), (40.0, 40.0), (43.0, 46.0)], false),
        line(&[(37.0, 154.0), (40.0, 160.0), (43.0, 154.0)], false),
        circle,
        row(&[(0.0, 20.0), (300.0, 20.0)]),
        line(&[(200.0, 60.0), (260.0, 70.0)], false),
        // Beside the piece.
        line(&[(340.0, 0.0), (360.0, 0.0)], false),
        rectangle(340.0, 20.0, 5.0, 5.0),
    ];
    let texts = vec![
        words(60.0, 120.0, 8.0, "Front"),
        words(60.0, 108.0, 8.0, "cut 2"),
        words(200.0, 140.0, 5.0, "attach pocket"),
        words(200.0, 100.0, 5.0, "17"),
        words(340.0, 60.0, 5.0, "words beside it all"),
    ];
    let sheet = sheet(lines, texts);
    let found = recognise(&sheet, &Choices::default());
    assert_eq!(found.pieces.len(), 1, "{:?}", found.left);
    let piece = &found.pieces[0];
    let all = (0..sheet.lines.len())
        .map(Thing::Line)
        .chain((0..sheet.texts.len()).map(Thing::Text));
    for thing in all {
        let used = piece.made_of.contains(&thing);
        let left: Vec<&LeftOver> = found.left.iter().filter(|l| l.thing == thing).collect();
        assert_eq!(usize::from(used) + left.len(), 1, "{thing:?}");
        assert!(left.iter().all(|l| !l.what.is_empty() && l.at.is_finite()));
        if let (true, Thing::Text(text)) = (used, thing) {
            let words = sheet.texts[text].words.as_str();
            let is_told = found.guesses.iter().any(|g| g.words.contains(words));
            assert!(is_told, "{words}: {:?}", found.guesses);
        }
    }
    // One guess for each: outline or one line, notches, grain, dot, row, line inside, name, count, words.
    let count = |kind: GuessKind| found.guesses.iter().filter(|g| g.kind == kind).count();
    assert_eq!(count(GuessKind::Notch), 2);
    assert_eq!(count(GuessKind::Grain), 1);
    assert_eq!(count(GuessKind::Dot), 1);
    assert_eq!(count(GuessKind::Inside), 2);
    assert_eq!(count(GuessKind::Words), 2);
    assert!(
        found
            .guesses
            .iter()
            .all(|g| g.at != Point::new(f64::NAN, 0.0))
    );
}
