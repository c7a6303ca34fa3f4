//! Every copy of the demo projects can be laid.

use std::sync::Arc;

use super::*;
use crate::adapt::adapt;
use crate::body::Measured;
use crate::drafts::wardrobe::{
    Dolls, harbour_jacket_project, net_menders_smock_project, sunday_on_the_quay_project,
    sunday_skirts_project,
};
use crate::finish::finish;
use crate::fullness::fill;
use crate::geometry::closed::crosses_itself;
use crate::measure::Measure;
use crate::project::Project;

fn woman() -> Arc<Body> {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let body = Body::new("a woman", BodyKind::Woman);
    Arc::new(figures.into_iter().fold(body, |body, (measure, value)| {
        body.with(measure, Measured::own_tape(Mm(value)))
    }))
}

fn doll(height: f64) -> Arc<Body> {
    Arc::new(
        Body::new(format!("{height} mm doll"), BodyKind::Doll)
            .with(Measure::Height, Measured::own_tape(Mm(height))),
    )
}

pub fn projects() -> Vec<Project> {
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    let woman = woman();
    vec![
        harbour_jacket_project(&woman, &dolls).unwrap(),
        net_menders_smock_project(&woman, &dolls).unwrap(),
        sunday_on_the_quay_project(&woman, &dolls).unwrap(),
        sunday_skirts_project(&woman, &dolls).unwrap(),
    ]
}

/// Every fitting of the demo projects, finished.
pub fn all() -> Vec<Finished> {
    let mut list = Vec::new();
    for project in projects() {
        for fitting in &project.fittings {
            let adapted = Arc::new(adapt(&project, &fitting.name).unwrap());
            list.push(finish(&Arc::new(fill(&adapted).outcome)).outcome);
        }
    }
    list
}

#[test]
fn every_copy_of_the_demo_projects_has_an_outline_that_can_be_laid() {
    let mut opened = 0;
    for finished in all() {
        let name = finished.filled.adapted.fitting.name.clone();
        let laid = laid(&finished);
        assert_eq!(laid.findings, Vec::new(), "{name}");
        let copies: usize = finished.pieces.iter().map(|p| p.piece.copies.len()).sum();
        assert_eq!(laid.outcome.copies.len(), copies, "{name}");
        for copy in &laid.outcome.copies {
            let shape = &copy.whole;
            let half = finished
                .pieces
                .iter()
                .find(|p| p.piece.name == copy.of.piece)
                .unwrap();
            assert_eq!(crosses_itself(&shape.outline), None, "{name} {:?}", copy.of);
            // Within what chords leave out: half the drawing tolerance along the whole line is ample.
            let cut = kurbo::Shape::area(&half.cut).abs();
            let times = if half.fold.is_some() { 2.0 } else { 1.0 };
            let line = kurbo::Shape::perimeter(&half.cut, 0.01);
            let off = (area(&shape.outline) - times * cut).abs();
            assert!(
                off <= times * 0.05 * line,
                "{name} {:?}: {off} mm2",
                copy.of
            );
            opened += usize::from(half.fold.is_some());
        }
    }
    assert!(opened > 10, "only {opened} on the fold");
}
