//! What a seam has to heed that is only made while laying: a strip joined of left-over bits, a patch as deep as is missing.

use kurbo::{Line, Point};

use crate::units::{LengthUnit, Mm};

/// How a copy may be pieced otherwise than it is offered, once it is known what cloth is left.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NewSeams {
    /// Allowance on each side of a new seam.
    pub allowance: Mm,
    /// What a patch costs; `None`: it may not be patched.
    pub patch: Option<u32>,
    /// Darts, tucks and pleats, on both halves of a piece on the fold: no new seam comes nearer to them than its allowance.
    pub keep_off: Vec<Line>,
    /// Notches and marks, on both halves: a new seam that comes nearer to them than its allowance costs more.
    pub marks: Vec<Line>,
    /// Corners of the piece, on both halves, and the edges that meet there: "side and hem".
    pub corners: Vec<(Point, String)>,
    /// How far joins of a strip keep off its middle, where that is the centre front.
    pub off_middle: Option<Mm>,
    /// ", hidden under Apron"; nothing where a seam shows.
    pub seen: String,
    /// How lengths are told.
    pub unit: LengthUnit,
}
