//! Layers of ASTM D6673-10 (withdrawn 2019): what lies on which.
//!
//! Source: the standard's layer table as listed in a public secondary transcription; its own text was not read. 84 to 87
//! from memory.

use crate::bring_in::Meaning;

/// Outline of a piece, and the texts about it.
pub const OUTLINE: u16 = 1;
/// Corners of outlines and lines.
pub const TURN_POINTS: u16 = 2;
/// Points of their curves.
pub const CURVE_POINTS: u16 = 3;
/// Notches (V and slit).
pub const NOTCHES: u16 = 4;
/// Line of symmetry: cut on the fold.
pub const MIRROR: u16 = 6;
/// Warp.
pub const GRAIN: u16 = 7;
/// Lines that are drawn, not cut.
pub const INSIDE: u16 = 8;
/// Lines that are cut inside the piece.
pub const CUT_OUTS: u16 = 11;
/// Punched marks.
pub const HOLES: u16 = 13;
/// Lines that are sewn.
pub const SEWN: u16 = 14;
/// Other words.
pub const WORDS: u16 = 15;

/// Every layer that a drawing may carry, with a name for people.
pub const NAMES: [(u16, &str); 11] = [
    (OUTLINE, "piece boundary"),
    (TURN_POINTS, "turn points"),
    (CURVE_POINTS, "curve points"),
    (NOTCHES, "notches"),
    (MIRROR, "mirror line"),
    (GRAIN, "grain line"),
    (INSIDE, "internal lines"),
    (CUT_OUTS, "internal cutouts"),
    (HOLES, "drill holes"),
    (SEWN, "sew lines"),
    (WORDS, "annotation text"),
];

/// The number of a layer, if its name is one.
pub fn number(layer: &str) -> Option<u16> {
    layer.trim().parse().ok()
}

/// What a line on a layer is.
pub fn of_line(layer: u16) -> Option<Meaning> {
    match layer {
        OUTLINE => Some(Meaning::CutLine),
        NOTCHES | 80..=83 => Some(Meaning::Notch),
        5 | 9 | 10 | 84..=87 => Some(Meaning::Reference),
        MIRROR => Some(Meaning::Fold),
        GRAIN => Some(Meaning::Grain),
        INSIDE => Some(Meaning::Inside),
        CUT_OUTS => Some(Meaning::CutOut),
        HOLES => Some(Meaning::Hole),
        SEWN => Some(Meaning::StitchLine),
        _ => None,
    }
}

/// What a point on a layer is.
pub fn of_point(layer: u16) -> Option<Meaning> {
    match layer {
        TURN_POINTS => Some(Meaning::Corner),
        CURVE_POINTS => Some(Meaning::OnCurve),
        NOTCHES | 80..=83 => Some(Meaning::Notch),
        HOLES => Some(Meaning::Hole),
        _ => None,
    }
}

/// What a text on a layer is.
pub fn of_text(layer: u16) -> Meaning {
    match layer {
        OUTLINE => Meaning::PieceText,
        5 | 9 | 10 => Meaning::Reference,
        _ => Meaning::Words,
    }
}
