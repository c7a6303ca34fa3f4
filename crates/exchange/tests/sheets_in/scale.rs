//! Test squares and measured lines compared with what they say.

use super::*;
use petitoile_core::LengthUnit;
use petitoile_core::kurbo::{BezPath, Vec2};
use petitoile_core::paper::PaperSettings;
use petitoile_exchange::bring_in::FoundText;
use petitoile_exchange::bring_in::scale::{Correction, MeasureKind, scale_check, scaled};
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::sheet::sheet;
use petitoile_exchange::tiling::tile;

fn line(points: &[(f64, f64)], closed: bool) -> FoundLine {
    let mut path = BezPath::new();
    for (i, p) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*p)
        } else {
            path.line_to(*p)
        }
    }
    if closed {
        path.close_path();
    }
    FoundLine {
        path,
        closed,
        layer: String::new(),
        groups: vec![],
        colour: [0; 3],
        width: 0.2,
        dash: vec![],
        filled: false,
        meaning: None,
    }
}

fn square(x: f64, y: f64, w: f64, h: f64) -> FoundLine {
    line(&[(x, y), (x + w, y), (x + w, y + h), (x, y + h)], true)
}

fn text(words: &str, x: f64, y: f64) -> FoundText {
    FoundText {
        at: Point::new(x, y),
        size: 4.0,
        turn: 0.0,
        words: words.into(),
        layer: String::new(),
        groups: vec![],
        meaning: None,
    }
}

fn of(lines: Vec<FoundLine>, texts: Vec<FoundText>) -> FoundSheet {
    FoundSheet {
        lines,
        texts,
        ..FoundSheet::default()
    }
}

fn correction(lines: Vec<FoundLine>, texts: Vec<FoundText>) -> Correction {
    let check = scale_check(&of(lines, texts));
    check.correction.unwrap_or_else(|| panic!("nothing found"))
}

#[test]
fn a_square_marked_5_cm_that_measures_less_offers_the_correction() {
    let found = correction(
        vec![square(20.0, 20.0, 47.0, 47.0)],
        vec![text("5 cm", 38.0, 40.0)],
    );
    assert!((found.across - 50.0 / 47.0).abs() < 1e-9 && !found.is_uneven());
    assert!(found.is_needed() && found.sure > 0.6, "{found:?}");
    let sheet = of(
        vec![square(20.0, 20.0, 47.0, 47.0)],
        vec![text("5 cm", 38.0, 40.0)],
    );
    let right = scaled(&sheet, found.across, found.up);
    assert!((right.lines[0].path.bounding_box().width() - 50.0).abs() < 1e-9);
    assert!(!scale_check(&right).correction.unwrap().is_needed());
    let words = scale_check(&sheet).measures[0].in_words(LengthUnit::Millimetre);
    assert_eq!(
        words,
        "the square marked “5 cm” measures 47 mm across and 47 mm up"
    );
}

#[test]
fn a_sheet_stretched_one_way_is_corrected_across_and_up_apart() {
    let found = correction(
        vec![square(0.0, 0.0, 104.0, 98.0)],
        vec![text("TEST SQUARE 10 cm", 20.0, 50.0)],
    );
    assert!(found.is_uneven());
    assert!((found.across - 100.0 / 104.0).abs() < 1e-9 && (found.up - 100.0 / 98.0).abs() < 1e-9);
    assert!(found.sure > 0.8);
}

#[test]
fn squares_lie_in_four_strokes_too_and_words_may_stand_below() {
    let four = vec![
        line(&[(10.0, 10.0), (34.13, 10.0)], false),
        line(&[(34.13, 10.0), (34.13, 34.13)], false),
        line(&[(34.13, 34.13), (10.0, 34.13)], false),
        line(&[(10.0, 34.13), (10.0, 10.0)], false),
    ];
    let found = correction(four, vec![text("1 inch test square", 8.0, 3.0)]);
    assert!((found.across - 25.4 / 24.13).abs() < 1e-6, "{found:?}");
}

#[test]
fn a_line_with_ticks_at_its_ends_says_its_length_one_way() {
    let ticked = vec![
        line(&[(10.0, 10.0), (106.0, 10.0)], false),
        line(&[(10.0, 8.0), (10.0, 12.0)], false),
        line(&[(106.0, 8.0), (106.0, 12.0)], false),
    ];
    let check = scale_check(&of(ticked, vec![text("4\"", 55.0, 12.0)]));
    assert_eq!(check.measures[0].kind, MeasureKind::Line);
    let found = check.correction.unwrap();
    assert!((found.across - 101.6 / 96.0).abs() < 1e-9);
    let bar = correction(
        vec![square(0.0, 0.0, 5.0, 120.0)],
        vec![text("10 cm", 6.0, 60.0)],
    );
    assert!((bar.up - 100.0 / 120.0).abs() < 1e-9);
}

#[test]
fn two_squares_that_agree_are_surer_than_one_and_a_stray_figure_raises_doubt() {
    let one = (square(0.0, 0.0, 48.0, 48.0), text("50 mm", 18.0, 24.0));
    let two = (
        square(100.0, 0.0, 48.768, 48.768),
        text("2 in", 120.0, 24.0),
    );
    let stray = (
        square(200.0, 0.0, 60.0, 60.0),
        text("cut 2 in shell", 210.0, 30.0),
    );
    let alone = correction(vec![one.0.clone()], vec![one.1.clone()]);
    let both = correction(
        vec![one.0.clone(), two.0.clone()],
        vec![one.1.clone(), two.1.clone()],
    );
    assert_eq!(both.agree, 2);
    assert!(both.sure > alone.sure);
    let three = correction(vec![one.0, two.0, stray.0], vec![one.1, two.1, stray.1]);
    assert!((three.across - 50.0 / 48.0).abs() < 1e-6);
    assert!(three.sure < both.sure && three.differ == 1);
}

#[test]
fn a_seam_allowance_beside_a_piece_is_no_test_square() {
    let piece = square(0.0, 0.0, 180.0, 240.0);
    let words = vec![
        text("seam allowance 1 cm", 60.0, 120.0),
        text("cut 2", 60.0, 100.0),
    ];
    assert_eq!(scale_check(&of(vec![piece], words)).correction, None);
    assert_eq!(scale_check(&FoundSheet::default()).correction, None);
}

#[test]
fn our_own_print_is_true_and_a_shrunk_one_is_found_out() {
    let pages = tile(
        &sheet(&common::doll_jacket(), LengthUnit::Millimetre),
        &PaperSettings::default(),
    );
    let found = bring_in(&write_pages(&pages), "jacket.pdf").unwrap();
    let check = scale_check(&found.sheets[0]);
    let truth = check.correction.unwrap();
    assert!(!truth.is_needed(), "{check:#?}");
    assert!(truth.agree >= 2 && truth.sure > 0.8, "{check:#?}");
    let shrunk = scaled(&found.sheets[0], 0.94, 0.95);
    let back = scale_check(&shrunk).correction.unwrap();
    assert!(
        (back.across * 0.94 - 1.0).abs() < 1e-4 && (back.up * 0.95 - 1.0).abs() < 1e-4,
        "{back:?}"
    );
}

#[test]
fn the_square_of_a_bought_sheet_in_pages_is_found() {
    let found = found("tiled_reportlab.pdf");
    let check = found
        .sheets
        .iter()
        .find_map(|sheet| scale_check(sheet).correction)
        .unwrap();
    assert!(!check.is_needed() && check.sure > 0.5);
}

#[test]
fn scaling_keeps_places_words_and_turns_together() {
    let mut words = text("Grain", 10.0, 20.0);
    words.turn = 90.0;
    let sheet = of(vec![square(0.0, 0.0, 10.0, 10.0)], vec![words]);
    let double = scaled(&sheet, 2.0, 3.0);
    assert_eq!(
        double.lines[0].path.bounding_box(),
        Rect::new(0.0, 0.0, 20.0, 30.0)
    );
    assert_eq!(double.texts[0].at, Point::ORIGIN + Vec2::new(20.0, 60.0));
    assert!((double.texts[0].turn - 90.0).abs() < 1e-9);
}
