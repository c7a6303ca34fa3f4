//! Printed sheets come in: PDF read, pages joined, scale checked. Files by reportlab, cairo and pikepdf lie in
//! `samples/pages` with the script that made them.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    reason = "tests"
)]

mod bombs;
#[path = "../common/mod.rs"]
mod common;
mod foreign_pdf;
mod joining;
mod labelled;
#[path = "../common/nested.rs"]
mod nested;
mod own_prints;
mod pikepdf;
mod scale;

use petitoile_core::kurbo::{ParamCurve, Point, Rect, Shape};
use petitoile_exchange::bring_in::{
    BringInError, FoundDrawing, FoundLine, FoundSheet, Limits, Watch, read,
};

/// Bytes of a sample.
pub fn sample(name: &str) -> Vec<u8> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/pages/");
    std::fs::read(format!("{path}{name}")).unwrap()
}

/// A sample, read.
pub fn found(name: &str) -> FoundDrawing {
    bring_in(&sample(name), name).unwrap()
}

pub fn bring_in(bytes: &[u8], name: &str) -> Result<FoundDrawing, BringInError> {
    read(bytes, name, &Limits::default(), &Watch::default())
}

/// The line of a sheet whose ends lie here.
pub fn line_from(sheet: &FoundSheet, from: (f64, f64), to: (f64, f64)) -> &FoundLine {
    let near = |line: &&FoundLine| {
        let ends = line.path.segments().next().zip(line.path.segments().last());
        ends.is_some_and(|(first, last)| {
            first.start().distance(Point::from(from)) < 0.01
                && last.end().distance(Point::from(to)) < 0.01
        })
    };
    sheet
        .lines
        .iter()
        .find(near)
        .unwrap_or_else(|| panic!("no line from {from:?} to {to:?} in {:#?}", sheet.lines))
}

/// The closed line with these bounds.
pub fn closed_within(sheet: &FoundSheet, bounds: Rect) -> &FoundLine {
    let near = |line: &&FoundLine| {
        let b = line.path.bounding_box();
        line.closed
            && [
                b.x0 - bounds.x0,
                b.y0 - bounds.y0,
                b.x1 - bounds.x1,
                b.y1 - bounds.y1,
            ]
            .iter()
            .all(|apart| apart.abs() < 0.01)
    };
    sheet.lines.iter().find(near).unwrap_or_else(|| {
        let all: Vec<Rect> = sheet.lines.iter().map(|l| l.path.bounding_box()).collect();
        panic!("no closed line within {bounds:?} in {all:#?}")
    })
}
