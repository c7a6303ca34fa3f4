//! Pieces that come with their allowance drawn in.

use super::*;

#[test]
fn an_allowance_drawn_in_comes_off_to_the_stitch_line() {
    let mut widths = BTreeMap::new();
    for (edge, width) in [("0", 10.0), ("1", 4.0), ("3", 5.0)] {
        widths.insert(EdgeRef::new("piece", edge), Mm(width));
    }
    let mut drawn = straight_piece(
        &[(-5.0, -10.0), (84.0, -10.0), (84.0, 50.0), (-5.0, 50.0)],
        &[Finish::Seam],
    );
    drawn.notches.push(crate::notch::Notch {
        edge: "0".into(),
        fraction: 45.0 / 89.0,
        kind: crate::notch::NotchKind::Single,
    });
    let stitch = without_allowance(&drawn, &widths).unwrap();
    let bounds = stitch.outline.bounds();
    for (got, wanted) in [
        (bounds.x0, 0.0),
        (bounds.y0, 0.0),
        (bounds.x1, 80.0),
        (bounds.y1, 50.0),
    ] {
        assert!((got - wanted).abs() < 1e-9, "{bounds:?}");
    }
    assert!(
        (stitch.notches[0].fraction - 0.5).abs() < 1e-6,
        "the notch stays at x = 40"
    );
    let names: Vec<_> = stitch
        .outline
        .edges()
        .iter()
        .map(|e| e.name.as_str())
        .collect();
    assert_eq!(names, ["0", "1", "2", "3"]);
}

#[test]
fn an_allowance_that_cannot_come_off_is_refused_in_the_makers_words() {
    let strip = straight_piece(
        &[(0.0, 0.0), (60.0, 0.0), (60.0, 8.0), (0.0, 8.0)],
        &[Finish::Seam],
    );
    let all = |width: f64| {
        strip
            .outline
            .edges()
            .iter()
            .map(|e| (EdgeRef::new("piece", &e.name), Mm(width)))
            .collect::<BTreeMap<_, _>>()
    };
    let error = without_allowance(&strip, &all(5.0)).unwrap_err();
    insta::assert_snapshot!(error.to_string(), @"piece, 1: nothing is left of this edge when 5.0 mm are taken off here and at its neighbours; give less, or take the allowance off by hand");
    let error = without_allowance(
        &strip,
        &BTreeMap::from([(EdgeRef::new("piece", "cuff"), Mm(5.0))]),
    )
    .unwrap_err();
    insta::assert_snapshot!(error.to_string(), @"piece, cuff: there is no such edge to take an allowance off; check the name");
    assert!(matches!(
        without_allowance(&strip, &all(-1.0)),
        Err(AllowanceError::BadWidth { .. })
    ));
    let disc = piece(vec![Edge::seam(
        "rim",
        Line::from_cubics(&circle(4.0, false)).unwrap(),
    )]);
    let error = without_allowance(
        &disc,
        &BTreeMap::from([(EdgeRef::new("piece", "rim"), Mm(5.0))]),
    )
    .unwrap_err();
    assert!(matches!(error, AllowanceError::TooTight { .. }), "{error}");
}

#[test]
fn a_disc_without_its_allowance_is_the_smaller_disc() {
    let disc = piece(vec![Edge::seam(
        "rim",
        Line::from_cubics(&circle(40.0, false)).unwrap(),
    )]);
    let stitch = without_allowance(
        &disc,
        &BTreeMap::from([(EdgeRef::new("piece", "rim"), Mm(6.0))]),
    )
    .unwrap();
    let truth = std::f64::consts::PI * 34.0 * 34.0;
    assert!((stitch.outline.area() / truth - 1.0).abs() < 1e-3);
}
