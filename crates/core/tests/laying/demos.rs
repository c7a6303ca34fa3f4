//! Every copy of the demo projects can be laid, and whatever way to piece it is offered gives it back.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::adapt;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::drafts::wardrobe::{
    Dolls, harbour_jacket_project, net_menders_smock_project, sunday_on_the_quay_project,
    sunday_skirts_project,
};
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::fill;
use petitoile_core::geometry::closed::crosses_itself;
use petitoile_core::lay_plan::PiecingKind;
use petitoile_core::laying::{LEAST, seam_lines};
use petitoile_core::measure::Measure;
use petitoile_core::project::Project;

use super::samples::{allowed, area, laid};

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

/// Every fitting of the demo projects, finished; the maker allows every way to piece.
pub fn all() -> Vec<Finished> {
    let mut list = Vec::new();
    for project in projects() {
        for fitting in &project.fittings {
            let mut adapted = adapt(&project, &fitting.name).unwrap();
            let names = adapted.pieces.iter().map(|piece| piece.name.clone());
            let chosen: Vec<_> = names.map(|name| (name, allowed())).collect();
            let fitting = Arc::make_mut(&mut adapted.fitting);
            fitting.laying.pieces.extend(chosen);
            list.push(finish(&Arc::new(fill(&Arc::new(adapted)).outcome)).outcome);
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
            let cut = petitoile_core::kurbo::Shape::area(&half.cut).abs();
            let times = if half.fold.is_some() { 2.0 } else { 1.0 };
            let line = petitoile_core::kurbo::Shape::perimeter(&half.cut, 0.01);
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

#[test]
fn every_way_to_piece_a_demo_garment_gives_the_whole_back() {
    let (mut folds, mut patches, mut strips, mut most) = (0, 0, 0, 0);
    for finished in all() {
        for copy in &laid(&finished).outcome.copies {
            most = most.max(copy.pieced.len());
            for way in &copy.pieced {
                let what = format!("{:?}: {}", copy.of, way.why);
                let lines = seam_lines(&copy.whole, &way.piecing).unwrap();
                let sewn: f64 = lines.iter().map(|l| (l.p1 - l.p0).hypot()).sum();
                let parts: f64 = way.parts.iter().map(|part| area(&part.outline)).sum();
                let out = parts - 2.0 * way.piecing.allowance.0 * sewn - area(&copy.whole.outline);
                assert!(out.abs() < 0.01, "{what}: {out} mm2");
                assert_eq!(way.parts.len(), lines.len() + 1, "{what}");
                for part in &way.parts {
                    assert_eq!(crosses_itself(&part.outline), None, "{what}");
                    assert!(narrowest(&part.outline) >= LEAST.0 / 2.0, "{what}");
                }
                match way.piecing.kind {
                    PiecingKind::AlongFold => folds += 1,
                    PiecingKind::Patch => patches += 1,
                    PiecingKind::Strip => strips += 1,
                }
            }
            let costs: Vec<u32> = copy.pieced.iter().map(|way| way.cost).collect();
            assert!(costs.is_sorted(), "{:?}: {costs:?}", copy.of);
        }
    }
    assert!(
        folds > 10 && patches > 50 && strips > 2,
        "{folds} {patches} {strips}"
    );
    assert!(most <= 40, "{most} ways for one copy");
}

/// The smaller side of the upright rectangle round it.
fn narrowest(outline: &[petitoile_core::kurbo::Point]) -> f64 {
    let (left, low, right, high) = super::samples::bounds(outline);
    (right - left).min(high - low)
}
