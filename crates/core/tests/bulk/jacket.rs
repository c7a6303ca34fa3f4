//! The harbour jacket, counted by hand on the table: two layers everywhere, lining and shell each by themselves.

use std::sync::Arc;

use crate::{layers, reckoned, stack};
use petitoile_core::adapt::as_drawn;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::bulk::{Bulk, Judged, Work};
use petitoile_core::drafts::wardrobe::harbour_jacket;
use petitoile_core::fitting::Fitting;
use petitoile_core::measure::Measure;
use petitoile_core::units::Mm;

fn jacket() -> Bulk {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let woman = Body::new("a woman", BodyKind::Woman);
    let woman = figures.into_iter().fold(woman, |body, (measure, value)| {
        body.with(measure, Measured::own_tape(Mm(value)))
    });
    let woman = Arc::new(woman);
    let garment = Arc::new(harbour_jacket(&woman).unwrap());
    let fitting = Fitting::new("jacket as drawn", garment.name.clone(), woman);
    let adapted = as_drawn(&garment, &Arc::new(fitting)).unwrap();
    let filled = petitoile_core::fullness::fill(&Arc::new(adapted)).outcome;
    reckoned(&petitoile_core::finish::finish(&Arc::new(filled)).outcome)
}

const WOOL: f64 = 0.568;
const TAFFETA: f64 = 0.15;

fn thick(judged: &Judged, wool: f64, taffeta: f64) {
    let sewn = judged.stack.sewn().unwrap().thickness.0;
    let by_hand = wool * WOOL + taffeta * TAFFETA;
    assert!(
        (sewn - by_hand).abs() < 1e-9,
        "{}: {sewn} for {by_hand}",
        judged.stack.name
    );
}

#[test]
fn the_collar_is_sewn_in_two_layers_and_turned_in_four() {
    let all = jacket();
    let outer = stack(&all, "collar outer edge", &[]);
    assert_eq!(
        layers(outer),
        (2, 4),
        "shell and lining; both with their allowances"
    );
    thick(outer, 1.0, 1.0);
    // Its point: each layer with the allowances of both edges and the bit beyond, not trimmed.
    let point = all
        .stacks
        .iter()
        .find(|j| j.stack.work == Work::Corner && j.stack.name == "collar outer edge");
    let point = point.unwrap();
    assert_eq!(point.stack.meets, ["collar front end"]);
    assert_eq!(layers(point), (0, 8));
    // On the neckline: collar, and where the shoulder seam comes in, the jacket twice.
    assert_eq!(layers(stack(&all, "collar to neckline", &[])).0, 2);
    assert_eq!(
        layers(stack(&all, "collar to neckline", &["shoulder"])).0,
        3
    );
    // At its front end the collar's own end seam lies open on it; the jacket's edge runs on straight and crosses nothing.
    let end = stack(&all, "collar to neckline", &["collar front end"]);
    assert_eq!(layers(end).0, 3);
    thick(end, 3.0, 0.0);
}

#[test]
fn the_cuff_is_closed_in_two_layers_and_set_on_in_four_where_two_seams_meet() {
    let all = jacket();
    assert_eq!(layers(stack(&all, "cuff ends", &[])), (2, 2));
    let on_sleeve = stack(&all, "cuff to sleeve", &["cuff ends", "underarm"]);
    assert_eq!(layers(on_sleeve).0, 4);
    thick(on_sleeve, 4.0, 0.0);
    // Shell and lining of the cuff each bring their end seam to the outer edge.
    let outer = stack(&all, "cuff outer edge", &["cuff ends", "cuff ends, lining"]);
    assert_eq!(layers(outer), (4, 8));
    thick(outer, 2.0, 2.0);
}

#[test]
fn the_armscye_meets_the_shoulder_in_three_layers_and_the_side_in_four() {
    let all = jacket();
    assert_eq!(
        layers(stack(&all, "sleeve into front armscye", &[])),
        (2, 3)
    );
    assert_eq!(
        layers(stack(&all, "sleeve into front armscye", &["shoulder"])).0,
        3
    );
    let under = stack(
        &all,
        "sleeve into front armscye",
        &["side seam", "underarm"],
    );
    assert_eq!(layers(under).0, 4);
    thick(under, 4.0, 0.0);
}

#[test]
fn the_hem_crosses_the_dart_in_six_layers_and_the_side_seam_in_four() {
    let all = jacket();
    let hem = |edge: &str, meets: &[&str]| layers(stack(&all, edge, meets)).0;
    assert_eq!(hem("front, waist side", &[]), 2);
    assert_eq!(hem("front, waist side", &["side seam"]), 4);
    // The dart lies to the centre: three layers, turned once.
    assert_eq!(hem("front, waist centre", &["waist dart"]), 6);
    assert_eq!(hem("front, waist centre", &["front edge"]), 4);
}
