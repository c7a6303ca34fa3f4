//! Speed of everything said about layers, for an outfit of 19 pieces in four garments.
#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::LengthUnit;
use petitoile_core::Mm;
use petitoile_core::adapt::adapt;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::drafts::wardrobe::{Dolls, sunday_on_the_quay_project};
use petitoile_core::layers::{Together, Worn, cover, findings, levelled, rooms, underneath};
use petitoile_core::machine::Machine;
use petitoile_core::measure::Measure;

fn body(kind: BodyKind, figures: &[(Measure, f64)]) -> Arc<Body> {
    let start = Body::new(format!("{figures:?}"), kind);
    Arc::new(figures.iter().fold(start, |body, (measure, mm)| {
        body.with(*measure, Measured::own_tape(Mm(*mm)))
    }))
}

fn layers(c: &mut Criterion) {
    let woman = body(
        BodyKind::Woman,
        &[
            (Measure::Height, 1628.0),
            (Measure::BustGirth, 919.2),
            (Measure::WaistGirth, 829.9),
            (Measure::BackWaistLength, 421.9),
        ],
    );
    let doll = |height| body(BodyKind::Doll, &[(Measure::Height, height)]);
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    let project = sunday_on_the_quay_project(&woman, &dolls).unwrap();
    let outfit = project.outfits.first().unwrap();
    let adapted: Vec<Arc<_>> = outfit
        .layers
        .iter()
        .map(|name| Arc::new(adapt(&project, name).unwrap()))
        .collect();
    let pieces: usize = adapted.iter().map(|a| a.pieces.len()).sum();
    c.bench_function(
        &format!("all of the layers of an outfit of {pieces} pieces"),
        |b| {
            b.iter(|| {
                let together = Together::new(outfit, |name| {
                    let found = adapted.iter().find(|a| a.fitting.name == name);
                    Ok(Arc::new(Worn::new(found.unwrap().clone())))
                });
                let last = together.layers.len() - 1;
                let under = underneath(&together, last);
                let level = levelled(together.layers.get(2).unwrap(), &under.pads);
                let covers: Vec<_> = (0..=last).filter_map(|i| cover(&together, i)).collect();
                let rooms = rooms(&together, last);
                let found = findings(
                    &[together],
                    "jacket",
                    &Machine::default(),
                    LengthUnit::Millimetre,
                );
                (under, level, covers, rooms, found)
            })
        },
    );
}

criterion_group!(benches, layers);
criterion_main!(benches);
