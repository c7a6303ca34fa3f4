//! What is to be laid: closed forms on strips, laws, and the demo garments.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod demos;
mod opened;

use std::sync::Arc;

use kurbo::Point;

use super::*;
use crate::body::{Body, BodyKind};
use crate::check::samples;
use crate::finding::Warned;
use crate::finish::Finished;
use crate::fitting::Fitting;
use crate::piece::{Copy, Piece, Role, Side};
use crate::units::LengthUnit;

pub(super) const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

/// These pieces, finished on a doll with no allowance at seams, and with these choices.
pub(super) fn finished(pieces: Vec<Piece>, choose: impl Fn(&mut Fitting)) -> Finished {
    let mut adapted = samples::adapted(
        samples::garment(pieces, Vec::new()),
        Body::new("doll", BodyKind::Doll),
    );
    let fitting = Arc::make_mut(&mut adapted.fitting);
    fitting.allowances.seam = Mm(0.0);
    choose(fitting);
    samples::finished(adapted)
}

pub(super) fn laid(finished: &Finished) -> Warned<ToLay> {
    to_lay(finished, &Hidden::default(), LengthUnit::Millimetre)
}

pub(super) fn area(outline: &[Point]) -> f64 {
    let n = outline.len();
    (0..n)
        .map(|i| (outline[i], outline[(i + 1) % n]))
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum::<f64>()
        / 2.0
}
