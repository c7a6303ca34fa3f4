//! The ease table: what handbooks give people, and what we propose for doll classes. Each row with its source.

use super::{EaseRow, Wearer};
use crate::body::BodyKind;
use crate::measure::Measure;
use crate::units::Mm;

const COURSE: &str = "university course text on theatre costume, chapter on ease (read)";
const LESSON: &str = "open online drafting lesson, dress block with darts (read)";
const PRACTICE: &str = "common practice, no source";
const PROPOSAL: &str =
    "proposal of our own, no source: check it on your doll; one thin layer of cloth is in it";

/// A doll class with the two figures a doll is matched by, mm (class figures, common practice, no source).
pub(super) struct DollClass {
    pub key: &'static str,
    pub height: f64,
    pub bust: f64,
}

/// The classes that have rows of their own; keys as in the table of bodies.
#[rustfmt::skip]
pub(super) const CLASSES: [DollClass; 9] = [
    DollClass { key: "play-45", height: 457.0, bust: 282.0 },
    DollClass { key: "play-36", height: 362.0, bust: 195.0 },
    DollClass { key: "child-doll-33", height: 330.0, bust: 165.0 },
    DollClass { key: "fashion-29-slim", height: 292.0, bust: 126.0 },
    DollClass { key: "fashion-29-curvy", height: 284.0, bust: 140.0 },
    DollClass { key: "fashion-40", height: 406.0, bust: 205.0 },
    DollClass { key: "jointed-60", height: 600.0, bust: 260.0 },
    DollClass { key: "jointed-42", height: 420.0, bust: 185.0 },
    DollClass { key: "mini-12", height: 145.0, bust: 75.0 },
];

const fn person(
    kind: BodyKind,
    garment: &'static str,
    measure: Measure,
    least: f64,
    most: f64,
    source: &'static str,
) -> EaseRow {
    EaseRow {
        wearer: Wearer::Person(kind),
        garment,
        measure,
        least: Mm(least),
        most: Mm(most),
        holds_cloth: false,
        source,
    }
}

const fn doll(class: &'static str, measure: Measure, least: f64, most: f64) -> EaseRow {
    EaseRow {
        wearer: Wearer::DollClass(class),
        garment: "one thin layer",
        measure,
        least: Mm(least),
        most: Mm(most),
        holds_cloth: true,
        source: PROPOSAL,
    }
}

/// The first row of a wearer and a measure is the one that counts when nothing else is chosen.
#[rustfmt::skip]
pub(super) const ROWS: [EaseRow; 67] = [
    person(BodyKind::Woman, "bodice", Measure::BustGirth, 38.1, 50.8, COURSE),
    person(BodyKind::Woman, "fitted dress with sleeve", Measure::BustGirth, 80.0, 80.0, LESSON),
    person(BodyKind::Woman, "relaxed dress", Measure::BustGirth, 160.0, 160.0, LESSON),
    person(BodyKind::Woman, "dress", Measure::WaistGirth, 19.0, 25.4, COURSE),
    person(BodyKind::Woman, "skirt or trousers", Measure::WaistGirth, 12.7, 19.0, COURSE),
    person(BodyKind::Woman, "fitted dress with sleeve", Measure::WaistGirth, 48.0, 80.0, LESSON),
    person(BodyKind::Woman, "any garment", Measure::HipGirth, 50.8, 69.8, COURSE),
    person(BodyKind::Woman, "fitted dress with sleeve", Measure::HipGirth, 32.0, 48.0, LESSON),
    person(BodyKind::Woman, "dress block", Measure::BackWaistLength, 10.0, 10.0, LESSON),
    person(BodyKind::Woman, "dress block", Measure::ArmscyeDepth, 25.0, 25.0, LESSON),
    person(BodyKind::Woman, "bodice", Measure::AcrossBack, 12.0, 25.0, PRACTICE),
    person(BodyKind::Woman, "bodice", Measure::AcrossFront, 5.0, 12.0, PRACTICE),
    person(BodyKind::Woman, "fitted sleeve", Measure::UpperArmGirth, 38.0, 50.0, PRACTICE),
    person(BodyKind::Woman, "fitted sleeve", Measure::WristGirth, 15.0, 25.0, PRACTICE),
    person(BodyKind::Woman, "round neckline", Measure::NeckBaseGirth, 5.0, 12.0, PRACTICE),
    person(BodyKind::Woman, "buttoned collar band", Measure::NeckGirth, 10.0, 20.0, PRACTICE),
    person(BodyKind::Man, "fitted shirt", Measure::BustGirth, 38.1, 63.5, COURSE),
    person(BodyKind::Man, "trousers", Measure::WaistGirth, 19.0, 25.4, COURSE),
    person(BodyKind::Man, "trousers", Measure::HipGirth, 38.1, 50.8, COURSE),
    person(BodyKind::Man, "fitted sleeve", Measure::UpperArmGirth, 38.0, 50.0, PRACTICE),
    person(BodyKind::Man, "close cuff", Measure::WristGirth, 40.0, 60.0, PRACTICE),
    person(BodyKind::Man, "buttoned collar band", Measure::NeckGirth, 10.0, 20.0, PRACTICE),
    doll("play-45", Measure::BustGirth, 14.0, 22.0),
    doll("play-45", Measure::WaistGirth, 8.0, 14.0),
    doll("play-45", Measure::HipGirth, 14.0, 22.0),
    doll("play-45", Measure::UpperArmGirth, 10.0, 16.0),
    doll("play-45", Measure::WristGirth, 6.0, 10.0),
    doll("play-36", Measure::BustGirth, 10.0, 16.0),
    doll("play-36", Measure::WaistGirth, 6.0, 10.0),
    doll("play-36", Measure::HipGirth, 10.0, 16.0),
    doll("play-36", Measure::UpperArmGirth, 7.0, 12.0),
    doll("play-36", Measure::WristGirth, 5.0, 8.0),
    doll("child-doll-33", Measure::BustGirth, 9.0, 14.0),
    doll("child-doll-33", Measure::WaistGirth, 5.0, 9.0),
    doll("child-doll-33", Measure::HipGirth, 9.0, 14.0),
    doll("child-doll-33", Measure::UpperArmGirth, 6.0, 10.0),
    doll("child-doll-33", Measure::WristGirth, 4.0, 7.0),
    doll("fashion-29-slim", Measure::BustGirth, 5.0, 9.0),
    doll("fashion-29-slim", Measure::WaistGirth, 3.0, 5.0),
    doll("fashion-29-slim", Measure::HipGirth, 5.0, 9.0),
    doll("fashion-29-slim", Measure::UpperArmGirth, 4.0, 7.0),
    doll("fashion-29-slim", Measure::WristGirth, 3.0, 5.0),
    doll("fashion-29-curvy", Measure::BustGirth, 5.0, 9.0),
    doll("fashion-29-curvy", Measure::WaistGirth, 3.0, 5.0),
    doll("fashion-29-curvy", Measure::HipGirth, 5.0, 9.0),
    doll("fashion-29-curvy", Measure::UpperArmGirth, 4.0, 7.0),
    doll("fashion-29-curvy", Measure::WristGirth, 3.0, 5.0),
    doll("fashion-40", Measure::BustGirth, 7.0, 12.0),
    doll("fashion-40", Measure::WaistGirth, 4.0, 7.0),
    doll("fashion-40", Measure::HipGirth, 7.0, 12.0),
    doll("fashion-40", Measure::UpperArmGirth, 5.0, 9.0),
    doll("fashion-40", Measure::WristGirth, 4.0, 6.0),
    doll("jointed-60", Measure::BustGirth, 10.0, 18.0),
    doll("jointed-60", Measure::WaistGirth, 5.0, 9.0),
    doll("jointed-60", Measure::HipGirth, 10.0, 18.0),
    doll("jointed-60", Measure::UpperArmGirth, 8.0, 13.0),
    doll("jointed-60", Measure::WristGirth, 5.0, 9.0),
    doll("jointed-42", Measure::BustGirth, 8.0, 13.0),
    doll("jointed-42", Measure::WaistGirth, 4.0, 7.0),
    doll("jointed-42", Measure::HipGirth, 8.0, 13.0),
    doll("jointed-42", Measure::UpperArmGirth, 6.0, 10.0),
    doll("jointed-42", Measure::WristGirth, 4.0, 7.0),
    doll("mini-12", Measure::BustGirth, 3.0, 6.0),
    doll("mini-12", Measure::WaistGirth, 2.0, 4.0),
    doll("mini-12", Measure::HipGirth, 3.0, 6.0),
    doll("mini-12", Measure::UpperArmGirth, 3.0, 5.0),
    doll("mini-12", Measure::WristGirth, 2.0, 3.0),
];
