//! PDFs by reportlab, cairo and pikepdf: sizes within 0.01 mm, what is drawn and how.

use super::*;
use petitoile_core::kurbo::Circle;
use petitoile_exchange::bring_in::{Kind, Scale};

#[test]
fn a_sheet_by_reportlab_comes_in_at_true_size_with_its_colours_widths_and_dashes() {
    let found = found("reportlab.pdf");
    assert_eq!((found.kind, &found.scale), (Kind::Pdf, &Scale::Given));
    let page = &found.sheets[0];
    assert_eq!(page.name, "page 1");
    assert!((page.bounds.width() - 210.0).abs() < 0.01);
    let red = line_from(page, (20.0, 30.0), (120.0, 30.0));
    assert_eq!(red.colour, [255, 0, 0]);
    assert!((red.width - 0.5).abs() < 1e-3);
    assert!(!red.closed && !red.filled && red.dash.is_empty());
    let curve = line_from(page, (20.0, 50.0), (100.0, 50.0));
    assert!((curve.path.bounding_box().y1 - 80.0).abs() < 0.01);
    let dashed = line_from(page, (20.0, 100.0), (120.0, 100.0));
    assert!((dashed.dash[0] - 3.0).abs() < 0.01 && (dashed.dash[1] - 1.5).abs() < 0.01);
    // The rectangle of 20 by 10, doubled and turned by 30 degrees: filled and stroked, but there once.
    let (sin, cos) = (30.0_f64.to_radians().sin(), 30.0_f64.to_radians().cos());
    let turned = closed_within(
        page,
        Rect::new(
            50.0 - 20.0 * sin,
            150.0,
            50.0 + 40.0 * cos,
            150.0 + 40.0 * sin + 20.0 * cos,
        ),
    );
    assert!(turned.filled && turned.width > 0.9);
    for x in [20.0, 100.0] {
        line_from(page, (x - 5.0, 200.0), (x + 5.0, 200.0));
        line_from(page, (x, 195.0), (x, 205.0));
    }
    let round = line_from(page, (175.0, 50.0), (175.0, 50.0));
    let truth = Circle::new((150.0, 50.0), 25.0);
    assert!((round.path.area().abs() - truth.area()).abs() < 1.0);
    assert_eq!(page.lines.len(), 9, "nothing twice");
}

#[test]
fn words_come_in_whole_with_their_place_size_and_turn() {
    let found = found("reportlab.pdf");
    let texts = &found.sheets[0].texts;
    let words: Vec<&str> = texts.iter().map(|text| text.words.as_str()).collect();
    assert_eq!(words, ["Front, cut 2", "Grain"]);
    assert!(texts[0].at.distance(Point::new(30.0, 250.0)) < 0.01);
    assert!((texts[0].size - 12.0 * 25.4 / 72.0).abs() < 0.01);
    assert!(texts[1].at.distance(Point::new(180.0, 100.0)) < 0.01);
    assert!((texts[1].turn - 90.0).abs() < 0.01);
}

#[test]
fn a_page_turned_in_the_file_lies_as_it_is_shown_and_a_picture_is_told() {
    let found = found("reportlab.pdf");
    let turned = &found.sheets[1];
    // The file says 297 wide, 210 high, turned clockwise.
    assert!((turned.bounds.width() - 210.0).abs() < 0.01);
    line_from(turned, (10.0, 287.0), (10.0, 237.0));
    assert!(found.sheets[2].lines.is_empty());
    let told: Vec<&str> = found.left.iter().map(|left| left.what.as_str()).collect();
    assert_eq!(told, ["page 3: a picture at 40, 120 mm, 30 by 20 mm"]);
}

#[test]
fn a_sheet_by_cairo_comes_in_at_true_size_y_up() {
    let found = found("cairo.pdf");
    let page = &found.sheets[0];
    let blue = line_from(page, (20.0, 280.0), (120.0, 280.0));
    assert_eq!(blue.colour, [0, 0, 255]);
    assert!((blue.width - 0.4).abs() < 1e-3);
    closed_within(page, Rect::new(60.0, 160.0, 140.0, 240.0));
    let dashed = line_from(page, (10.0, 100.0), (110.0, 100.0));
    assert!((dashed.dash[0] - 2.0).abs() < 0.01 && (dashed.dash[1] - 1.0).abs() < 0.01);
    let half = 200.0_f64.sqrt();
    let diamond = closed_within(
        page,
        Rect::new(150.0 - half, 50.0 - half, 150.0 + half, 50.0 + half),
    );
    assert!(diamond.filled && diamond.width > 0.0);
    line_from(page, (0.0, 55.0), (100.0, 55.0));
    assert_eq!(page.texts.len(), 1);
    assert_eq!(page.texts[0].words, "Rückenteil 2 ×");
    assert!(page.texts[0].at.distance(Point::new(20.0, 150.0)) < 0.01);
    assert!((page.texts[0].size - 5.0).abs() < 0.01);
    let told: Vec<&str> = found.left.iter().map(|left| left.what.as_str()).collect();
    assert_eq!(
        told,
        ["page 1: 1 line outside of the window they are shown in"]
    );
}

#[test]
fn lines_of_a_layer_that_is_off_are_read_too_and_it_is_said() {
    for name in ["layers_plain.pdf", "layers_packed.pdf"] {
        let found = found(name);
        let layers: Vec<(&str, f64)> = found.sheets[0]
            .lines
            .iter()
            .map(|line| (line.layer.as_str(), line.path.bounding_box().y0.round()))
            .collect();
        let all = [
            ("Size 36", 10.0),
            ("Size 38", 20.0),
            ("Größe 40", 30.0),
            ("", 40.0),
        ];
        assert_eq!(layers, all, "{name}");
        assert_eq!(found.left.len(), 1);
        assert!(found.left[0].what.starts_with("the layer Size 38 is off"));
    }
}

#[test]
fn the_unit_of_a_page_counts_and_its_seen_corner_is_the_origin() {
    let found = found("user_unit.pdf");
    let page = &found.sheets[0];
    let mm = 2.0 * 25.4 / 72.0;
    assert!((page.bounds.width() - 300.0 * mm).abs() < 1e-6);
    line_from(page, (10.0 * mm, 10.0 * mm), (110.0 * mm, 10.0 * mm));
    assert_eq!(
        found.left[0].what,
        "page 1: 1 line beyond the edge of the page"
    );
}

#[test]
fn a_locked_file_is_refused_with_what_to_do_and_a_lock_without_password_is_none() {
    let error = bring_in(&sample("locked.pdf"), "locked.pdf").unwrap_err();
    assert_eq!(
        error.to_string(),
        "locked.pdf: a PDF locked with a password is not read; open it with its password, save it without one and \
         bring that in"
    );
    assert_eq!(found("locked_without_word.pdf").sheets[0].lines.len(), 1);
}

#[test]
fn damaged_and_empty_files_are_told_apart() {
    let whole = sample("reportlab.pdf");
    let error = bring_in(&whole[..200], "torn.pdf").unwrap_err();
    assert!(matches!(error, BringInError::Broken { .. }), "{error}");
    let error = bring_in(b"%PDF-1.4\nnothing else", "torn.pdf").unwrap_err();
    assert!(matches!(error, BringInError::Broken { .. }), "{error}");
    assert!(matches!(
        bring_in(b"", "no.pdf"),
        Err(BringInError::Empty { .. })
    ));
}

#[test]
fn reading_stops_when_asked_and_tells_how_far_it_is() {
    use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
    let (stop, done) = (AtomicBool::new(false), AtomicU32::new(0));
    let watch = Watch {
        stop: Some(&stop),
        done: Some(&done),
    };
    let bytes = sample("reportlab.pdf");
    read(&bytes, "sheet.pdf", &Limits::default(), &watch).unwrap();
    assert_eq!(done.load(Ordering::Relaxed), 1000);
    stop.store(true, Ordering::Relaxed);
    let error = read(&bytes, "sheet.pdf", &Limits::default(), &watch).unwrap_err();
    assert!(matches!(error, BringInError::Stopped { .. }));
}

#[test]
fn a_form_that_names_its_layer_gives_it_to_its_lines() {
    let found = found("layers_forms.pdf");
    let layers: Vec<(&str, f64)> = found.sheets[0]
        .lines
        .iter()
        .map(|line| (line.layer.as_str(), line.path.bounding_box().y0.round()))
        .collect();
    assert_eq!(
        layers,
        [("Cutting (front)", 10.0), ("Größe 40", 20.0), ("", 30.0)]
    );
    assert!(found.left[0].what.starts_with("the layer Größe 40 is off"));
}
