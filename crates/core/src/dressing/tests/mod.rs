#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod closed;
mod laws;
mod opened;
mod tied;

use std::sync::Arc;

use super::*;
use crate::adapt::Adapted;
use crate::body::Measured;
use crate::check::samples::{adapted, doll, garment, strip};
use crate::edge::EdgeRef;
use crate::finding::Finding;
use crate::garment::{Garment, Opening, Passing};
use crate::measure::Measure;
use crate::units::Mm;

/// A hole of this girth with a slit of this length (none when 0).
fn with_opening(passes: Passing, hole: f64, slit: f64) -> Garment {
    let mut garment = garment(
        vec![
            strip("Neck", hole, 10.0),
            strip("Back", 40.0, slit.max(1.0)),
        ],
        Vec::new(),
    );
    let slit = if slit > 0.0 {
        vec![EdgeRef::new("Back", "right")]
    } else {
        Vec::new()
    };
    garment.openings = vec![Opening {
        name: "centre back".to_owned(),
        hole: vec![EdgeRef::new("Neck", "hem")],
        slit,
        passes,
    }];
    garment
}

/// A garment on a doll of these figures.
fn on(garment: Garment, figures: &[(Measure, f64)]) -> Adapted {
    let body = figures.iter().fold(doll("doll"), |body, (measure, mm)| {
        body.with(*measure, Measured::own_tape(Mm(*mm)))
    });
    adapted(garment, body)
}

fn filled(adapted: Adapted) -> Filled {
    crate::fullness::fill(&Arc::new(adapted)).outcome
}

fn looked_at(adapted: Adapted) -> Dressing {
    dressing(&filled(adapted), &[])
}

fn said(adapted: Adapted) -> Vec<Finding> {
    findings(&filled(adapted))
}

/// The figure of a body that each opening lets through, the others kept small.
fn figures(passes: Passing, girth: f64) -> Vec<(Measure, f64)> {
    let measure = match passes {
        Passing::Head => Measure::HeadGirthWithWig,
        Passing::Hand => Measure::HandGirth,
        Passing::Foot => Measure::HeelGirth,
        Passing::Trunk => Measure::HipGirth,
    };
    vec![(measure, girth)]
}
