//! Circular skirt: a ring, or part of one.

use std::f64::consts::PI;

use kurbo::{CubicBez, Point};

use super::pen::{curved, fold, must_have_length, piece, straight};
use super::{Draft, DraftError};
use crate::geometry::arc::arc;

/// How much of a full circle a circular skirt takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CircleShare {
    /// A quarter circle.
    Quarter,
    /// A half circle.
    Half,
    /// A full circle.
    Full,
}

impl CircleShare {
    /// The share as a number: 0.25, 0.5, 1.
    pub fn share(self) -> f64 {
        match self {
            Self::Quarter => 0.25,
            Self::Half => 0.5,
            Self::Full => 1.0,
        }
    }
}

/// A circular skirt, one piece "skirt": the half from the fold at the centre front to the centre back.
///
/// Waist radius = waist / (2 pi share), hem radius that plus `length`. The fold lies on x = 0, the centre of the
/// circle is the origin. Edges: "centre front" (the fold), "hem", "centre back", "waist".
/// Arcs are cubics over 30 degrees or less, within 4e-7 of their radius.
///
/// # Errors
/// [`DraftError::NoLength`] for a waist or length that is not above 0.
///
/// # Source
/// Closed form.
pub fn circular_skirt(waist: f64, length: f64, share: CircleShare) -> Result<Draft, DraftError> {
    must_have_length("skirt", "waist", waist)?;
    must_have_length("skirt", "centre front", length)?;
    let inner = waist / (2.0 * PI * share.share());
    let outer = inner + length;
    // From straight down (the fold) anticlockwise by half of the whole skirt's angle.
    let (from, to) = (-PI / 2.0, -PI / 2.0 + PI * share.share());
    let at =
        |radius: f64, angle: f64| Point::new(radius * libm::cos(angle), radius * libm::sin(angle));
    let (fold_top, fold_hem) = (Point::new(0.0, -inner), Point::new(0.0, -outer));
    let points = [("fold at waist", fold_top), ("fold at hem", fold_hem)];
    // Pieces are listed clockwise, as the other drafts are.
    let hem: Vec<CubicBez> = arc(Point::ORIGIN, outer, to, from);
    let skirt = piece(
        "skirt",
        &points,
        vec![
            fold("centre front", fold_hem, fold_top),
            curved("waist", &arc(Point::ORIGIN, inner, from, to)),
            straight("centre back", &[at(inner, to), at(outer, to)]),
            curved("hem", &hem),
        ],
    )?;
    Ok(Draft {
        name: "circular skirt",
        scale: 1.0,
        pieces: vec![skirt],
        doubts: Vec::new(),
    })
}
