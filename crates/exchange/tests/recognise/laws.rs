//! Laws: turning, moving and reordering change nothing but places and order; no sheet makes it panic.

use petitoile_core::kurbo::{Affine, BezPath, Point, Rect};
use petitoile_exchange::bring_in::recognise::{Choices, Correction, Recognised, Thing, recognise};
use petitoile_exchange::bring_in::{FoundLine, FoundSheet, FoundText};
use proptest::prelude::*;

use super::common::doll_jacket;
use super::made::{found, moved};

/// What a recognised sheet says, without places and order; tenths, so that rounding does not tell.
fn said(found: &Recognised) -> Vec<String> {
    let mut all: Vec<String> = found
        .pieces
        .iter()
        .map(|p| {
            let outline = &p.piece.outline;
            let mut lengths: Vec<i64> = outline
                .edges()
                .iter()
                .map(|e| (e.line.length() * 10.0 + 0.37).floor() as i64)
                .collect();
            lengths.sort_unstable();
            let mut widths: Vec<i64> = p
                .allowances
                .iter()
                .map(|a| (a.width.0 * 10.0 + 0.37).floor() as i64)
                .collect();
            widths.sort_unstable();
            format!(
                "{} {lengths:?} {widths:?} {} notches, {} marks, {} darts, {} fold, {} copies, {}",
                p.piece.name,
                p.piece.notches.len(),
                p.piece.marks.len(),
                p.piece.darts.len(),
                p.piece.fold_edge().is_some(),
                p.piece.copies.len(),
                p.piece.grainline.is_some(),
            )
        })
        .collect();
    all.sort();
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]

    #[test]
    fn turning_and_moving_a_sheet_changes_only_places(turn in 0.0..std::f64::consts::TAU, x in -900.0..900.0, y in -900.0..900.0) {
        let sheet = found(&doll_jacket());
        let before = recognise(&sheet, &Choices::default());
        let by = Affine::translate((x, y)) * Affine::rotate(turn);
        let after = recognise(&moved(&sheet, by), &Choices::default());
        prop_assert_eq!(said(&before), said(&after));
        prop_assert_eq!(before.left.len(), after.left.len());
    }

    #[test]
    fn another_order_of_the_lines_changes_only_the_order(step in 1usize..400, turned in any::<bool>()) {
        let sheet = found(&doll_jacket());
        let n = sheet.lines.len();
        let mut other = sheet.clone();
        other.lines = (0..n).map(|i| sheet.lines[(i + step) % n].clone()).collect();
        if turned {
            other.lines.reverse();
        }
        other.texts.reverse();
        let before = recognise(&sheet, &Choices::default());
        let after = recognise(&other, &Choices::default());
        prop_assert_eq!(said(&before), said(&after));
    }
}

fn any_point() -> impl Strategy<Value = Point> {
    let figure = prop_oneof![
        8 => (-20i32..200).prop_map(f64::from),
        4 => -20.0..200.0f64,
        1 => Just(f64::NAN),
        1 => Just(1e300),
        1 => Just(-0.0),
    ];
    (figure.clone(), figure).prop_map(|(x, y)| Point::new(x, y))
}

fn any_line() -> impl Strategy<Value = FoundLine> {
    let points = proptest::collection::vec(any_point(), 0..9);
    (points, any::<bool>(), any::<bool>(), 0usize..4, 0u8..3).prop_map(
        |(points, closed, filled, dashes, colour)| {
            let mut path = BezPath::new();
            let mut rest = points.iter();
            if let Some(p) = rest.next() {
                path.move_to(*p);
            }
            while let Some(p) = rest.next() {
                if dashes == 1 && rest.len() > 1 {
                    path.curve_to(*p, *rest.next().unwrap(), *rest.next().unwrap());
                } else {
                    path.line_to(*p);
                }
            }
            if closed && !points.is_empty() {
                path.close_path();
            }
            FoundLine {
                path,
                closed,
                layer: format!("{colour}"),
                groups: vec![],
                colour: [colour, 0, 0],
                width: f64::from(colour) * 0.2,
                dash: [[3.0, 1.0], [f64::NAN, 0.0], [0.5, 0.5], [1.0, 1.0]][dashes]
                    [..dashes.min(2)]
                    .to_vec(),
                filled,
                meaning: None,
            }
        },
    )
}

fn any_sheet() -> impl Strategy<Value = FoundSheet> {
    let words = prop_oneof![
        Just("FRONT cut 2".to_owned()),
        Just("place on fold".to_owned()),
        Just("50 mm".to_owned()),
        Just("10 12 14".to_owned()),
        ".{0,12}",
    ];
    let texts = proptest::collection::vec((any_point(), words, -400.0..400.0f64), 0..6);
    (proptest::collection::vec(any_line(), 0..24), texts).prop_map(|(lines, texts)| FoundSheet {
        name: "any".to_owned(),
        bounds: Rect::new(0.0, 0.0, 200.0, 200.0),
        lines,
        texts: texts
            .into_iter()
            .map(|(at, words, turn)| FoundText {
                at,
                size: 4.0,
                turn,
                words,
                layer: String::new(),
                groups: vec![],
                meaning: None,
            })
            .collect(),
        points: vec![],
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, ..ProptestConfig::default() })]

    /// Also: the same twice, and every line is either in a piece or told.
    #[test]
    fn no_sheet_makes_it_panic_and_nothing_is_dropped_without_a_word(sheet in any_sheet()) {
        let found = recognise(&sheet, &Choices::default());
        let again = recognise(&sheet, &Choices::default());
        prop_assert_eq!(format!("{found:?}"), format!("{again:?}"));
        for i in 0..sheet.lines.len() {
            let thing = Thing::Line(i);
            let used = found.pieces.iter().any(|p| p.made_of.contains(&thing));
            let told = found.left.iter().any(|l| l.thing == thing);
            prop_assert!(used != told, "line {i} is in a piece: {used}, told: {told}");
        }
        // Every offered correction can be made, without a panic.
        let corrections: Vec<Correction> = found
            .guesses
            .iter()
            .flat_map(|g| g.alternatives.iter().map(|a| a.correction.clone()))
            .take(6)
            .collect();
        for correction in corrections {
            let choices = Choices { corrections: vec![correction], ..Choices::default() };
            recognise(&sheet, &choices);
        }
    }
}
