//! Real pieces for the tests of hand work: the published drafts and the demo garments.

#![allow(clippy::unwrap_used, reason = "tests")]

use std::sync::{Arc, LazyLock};

use crate::body::{Body, BodyKind, Measured};
use crate::check::samples::{garment, strip};
use crate::drafts::wardrobe::{
    gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket, net_menders_smock,
};
use crate::drafts::{
    CircleShare, Constants, DraftMeasures, circular_skirt, fitted_bodice, flat_sleeve, gored_skirt,
    loose_bodice,
};
use crate::edge::Edge;
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::measure::Measure;
use crate::piece::{Dart, DartPress, Piece};
use crate::units::Mm;

/// A woman with seven figures, the rest estimated from them.
pub(crate) fn woman() -> Arc<Body> {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 920.0),
        (Measure::WaistGirth, 720.0),
        (Measure::HipGirth, 1010.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let body = Body::new("a woman", BodyKind::Woman);
    Arc::new(figures.into_iter().fold(body, |body, (measure, value)| {
        body.with(measure, Measured::own_tape(Mm(value)))
    }))
}

/// The pieces of the published drafts, each a garment of its own.
fn drafted() -> Vec<Garment> {
    let m = DraftMeasures::ADULT_92;
    let drafts = [
        loose_bodice(&m, Constants::Printed).unwrap(),
        fitted_bodice(&m, Constants::Printed).unwrap(),
        flat_sleeve(&m, Constants::Printed).unwrap(),
        gored_skirt(&m, Constants::Printed).unwrap(),
        circular_skirt(700.0, 600.0, CircleShare::Half).unwrap(),
    ];
    let of = |name: &str, outline: &Outline| {
        let leg = |leg: &&Edge| leg.name.starts_with("dart leg");
        let legs: Vec<&Edge> = outline.edges().iter().filter(leg).collect();
        let darts = legs.chunks(2).map(|pair| Dart {
            name: "waist dart".to_owned(),
            leg_in: pair.first().unwrap().name.clone(),
            leg_out: pair.last().unwrap().name.clone(),
            pressed: DartPress::Before,
        });
        let piece = Piece {
            darts: darts.collect(),
            outline: outline.clone(),
            ..strip(name, 1.0, 1.0)
        };
        garment(vec![piece], Vec::new())
    };
    drafts
        .iter()
        .flat_map(|draft| draft.outlines().map(|(name, outline)| of(name, outline)))
        .collect()
}

/// The demo garments, and the published drafts piece by piece.
pub(crate) static GARMENTS: LazyLock<Vec<Garment>> = LazyLock::new(|| {
    let woman = woman();
    let mut all = vec![
        harbour_jacket(&woman).unwrap(),
        net_menders_smock(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
        half_circle_sunday_skirt(&woman).unwrap(),
    ];
    all.extend(drafted());
    all
});

/// One piece of all of them, chosen by a number.
pub(crate) fn nth_piece(number: usize) -> (&'static Garment, &'static Arc<Piece>) {
    let pieces = GARMENTS
        .iter()
        .flat_map(|garment| garment.pieces.iter().map(move |piece| (garment, piece)));
    let all: Vec<_> = pieces.collect();
    all.get(number % all.len()).copied().unwrap()
}

/// Pieces with a dart, chosen by a number: the piece and the name of its dart.
pub(crate) fn nth_dart(number: usize) -> (&'static Garment, &'static Arc<Piece>, &'static str) {
    let pieces = GARMENTS
        .iter()
        .flat_map(|garment| garment.pieces.iter().map(move |piece| (garment, piece)));
    let darts = pieces.flat_map(|(garment, piece)| {
        let darts = piece.darts.iter();
        darts.map(move |dart| (garment, piece, dart.name.as_str()))
    });
    let all: Vec<_> = darts.collect();
    all.get(number % all.len()).copied().unwrap()
}
