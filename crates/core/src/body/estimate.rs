//! What is missing on a body sheet is estimated from the most related measure that stands on it.
//!
//! A measure is only ever estimated from figures that are given, never from another estimate, so there is no circle.

use super::typical::{survey, typical};
use super::{Body, BodyKind, Measured, Origin};
use crate::measure::Measure;
use crate::units::Mm;

/// Estimates a measure by a stated proportion; the source says which.
pub(super) fn estimate(body: &Body, measure: Measure) -> Measured {
    let (value, how) = reckoned(body, measure);
    Measured {
        value: Mm(value),
        origin: Origin::Estimated,
        source: how.words(),
    }
}

/// The same figure without the words for where it comes from: bodies are asked for it at every turn.
pub(super) fn value(body: &Body, measure: Measure) -> Mm {
    Mm(reckoned(body, measure).0)
}

fn reckoned(body: &Body, measure: Measure) -> (f64, How) {
    by_sum(body, measure).unwrap_or_else(|| by_proportion(body, measure))
}

/// How a figure was estimated.
#[derive(Debug, Clone, Copy)]
enum How {
    /// One measure less another.
    Less(Measure, Measure),
    /// One measure and another.
    Plus(Measure, Measure),
    /// The arm less what the upper arm takes.
    InsideArm,
    /// Nothing is given: the typical body itself, of this height.
    Typical {
        kind: BodyKind,
        height: f64,
        own: Option<&'static str>,
    },
    /// So many times another measure.
    Times {
        ratio: f64,
        of: Measure,
        kind: BodyKind,
        own: Option<&'static str>,
    },
}

impl How {
    /// The source in words.
    fn words(self) -> String {
        let bracketed = |own: Option<&str>| own.map_or_else(String::new, |own| format!(" ({own})"));
        match self {
            Self::Less(whole, part) => format!("{} less {}", words(whole), words(part)),
            Self::Plus(one, other) => format!("{} + {}", words(one), words(other)),
            Self::InsideArm => {
                "arm length less 0.42 of the upper arm girth (proportion of our own, no source)"
                    .to_owned()
            }
            Self::Typical { kind, height, own } => format!(
                "nothing is measured yet: {}, height {height:.0} mm{}",
                survey(kind),
                bracketed(own)
            ),
            Self::Times {
                ratio,
                of,
                kind,
                own,
            } => format!(
                "{ratio:.3} x {}: {}{}",
                words(of),
                survey(kind),
                bracketed(own)
            ),
        }
    }
}

/// A given figure; nonsense (not above 0, not finite) counts as missing.
fn given(body: &Body, measure: Measure) -> Option<f64> {
    body.measures
        .get(&measure)
        .map(|m| m.value.0)
        .filter(|value| value.is_finite() && *value > 0.0)
}

/// Measures that are exactly the sum or difference of two others, when both are given.
fn by_sum(body: &Body, measure: Measure) -> Option<(f64, How)> {
    use Measure as M;
    let less = |whole, part| {
        Some((
            given(body, whole)? - given(body, part)?,
            How::Less(whole, part),
        ))
    };
    let plus = |one, other| {
        Some((
            given(body, one)? + given(body, other)?,
            How::Plus(one, other),
        ))
    };
    match measure {
        M::ArmscyeDepth => less(M::BackWaistLength, M::UnderarmLength),
        M::UnderarmLength => less(M::BackWaistLength, M::ArmscyeDepth),
        M::BackWaistLength => plus(M::ArmscyeDepth, M::UnderarmLength),
        M::BodyRise => less(M::WaistToFloor, M::InsideLeg),
        M::InsideLeg => less(M::WaistToFloor, M::BodyRise),
        M::WaistToFloor => plus(M::InsideLeg, M::BodyRise),
        M::InsideArmLength => {
            let arm = given(body, M::ArmLength)?;
            let upper_arm = given(body, M::UpperArmGirth)
                .unwrap_or_else(|| by_proportion(body, M::UpperArmGirth).0);
            Some((arm - 0.42 * upper_arm, How::InsideArm))
        }
        _ => None,
    }
    .filter(|(value, _)| *value > 0.0)
}

/// In proportion to the most related measure that is given.
fn by_proportion(body: &Body, measure: Measure) -> (f64, How) {
    let figure = typical(body.kind, measure);
    let (kind, own) = (body.kind, figure.proportion);
    let from = related(measure)
        .iter()
        .chain(&FROM_ANYTHING)
        .chain(&Measure::ALL)
        .find_map(|relative| Some((*relative, given(body, *relative)?)));
    let Some((of, value)) = from else {
        let size = if kind == BodyKind::Doll {
            DOLL_HEIGHT / typical(kind, Measure::Height).value
        } else {
            1.0
        };
        let height = typical(kind, Measure::Height).value * size;
        return (figure.value * size, How::Typical { kind, height, own });
    };
    let ratio = figure.value / typical(kind, of).value;
    let how = How::Times {
        ratio,
        of,
        kind,
        own,
    };
    (value * ratio, how)
}

/// A doll without any figure counts as the 45 cm play doll's 457 mm high (class figure, common practice, no source).
const DOLL_HEIGHT: f64 = 457.0;

fn words(measure: Measure) -> &'static str {
    measure.label()
}

/// Looked at when no related measure is given: height first, after these whatever is there.
const FROM_ANYTHING: [Measure; 11] = [
    Measure::Height,
    Measure::WaistToFloor,
    Measure::BackWaistLength,
    Measure::InsideLeg,
    Measure::ArmLength,
    Measure::WaistToKnee,
    Measure::BustGirth,
    Measure::HipGirth,
    Measure::WaistGirth,
    Measure::ShoulderWidth,
    Measure::HeadGirth,
];

/// The measures a measure is estimated from, the most related first.
fn related(measure: Measure) -> &'static [Measure] {
    use Measure as M;
    match measure {
        M::Height => &[],
        M::HeadGirth => &[M::HeadGirthWithWig],
        M::HeadGirthWithWig => &[M::HeadGirth],
        M::NeckGirth => &[M::NeckBaseGirth, M::BustGirth],
        M::NeckBaseGirth => &[M::NeckGirth, M::BustGirth],
        M::BustGirth => &[M::UnderbustGirth, M::WaistGirth, M::HipGirth],
        M::UnderbustGirth => &[M::BustGirth, M::WaistGirth],
        M::WaistGirth => &[M::UnderbustGirth, M::BustGirth, M::HipGirth],
        M::HipGirth => &[M::WaistGirth, M::BustGirth, M::ThighGirth],
        M::UpperArmGirth => &[M::ElbowGirth, M::WristGirth, M::HandGirth, M::BustGirth],
        M::ElbowGirth => &[M::UpperArmGirth, M::WristGirth, M::BustGirth],
        M::WristGirth => &[M::HandGirth, M::ElbowGirth, M::UpperArmGirth, M::BustGirth],
        M::HandGirth => &[M::WristGirth, M::ElbowGirth, M::UpperArmGirth, M::BustGirth],
        M::ThighGirth => &[M::HipGirth, M::KneeGirth, M::CalfGirth],
        M::KneeGirth => &[M::CalfGirth, M::ThighGirth, M::HipGirth],
        M::CalfGirth => &[M::KneeGirth, M::ThighGirth, M::AnkleGirth, M::HipGirth],
        M::AnkleGirth => &[M::CalfGirth, M::HeelGirth, M::KneeGirth, M::ThighGirth],
        M::HeelGirth => &[M::AnkleGirth, M::FootLength, M::CalfGirth],
        M::ShoulderLength | M::AcrossFront | M::AcrossBack => &[
            M::ShoulderWidth,
            M::AcrossBack,
            M::AcrossFront,
            M::ShoulderLength,
            M::BustGirth,
        ],
        M::ShoulderWidth => &[
            M::AcrossBack,
            M::AcrossFront,
            M::ShoulderLength,
            M::BustGirth,
        ],
        M::ArmscyeGirth => &[M::BustGirth, M::UpperArmGirth, M::ArmscyeDepth],
        M::ArmscyeDepth => &[M::BackWaistLength, M::FrontWaistLength, M::UnderarmLength],
        M::BackWaistLength => &[M::FrontWaistLength, M::ArmscyeDepth, M::UnderarmLength],
        M::FrontWaistLength => &[M::BackWaistLength, M::ArmscyeDepth, M::UnderarmLength],
        M::UnderarmLength => &[M::BackWaistLength, M::FrontWaistLength, M::ArmscyeDepth],
        M::WaistToHip => &[M::BodyRise, M::WaistToFloor, M::WaistToKnee],
        M::WaistToKnee => &[M::WaistToFloor, M::InsideLeg],
        M::WaistToFloor => &[M::InsideLeg, M::WaistToKnee],
        M::BodyRise => &[M::WaistToFloor, M::InsideLeg, M::WaistToHip],
        M::InsideLeg => &[M::WaistToFloor, M::WaistToKnee],
        M::ArmLength => &[M::InsideArmLength, M::ShoulderToElbow],
        M::ShoulderToElbow => &[M::ArmLength, M::InsideArmLength],
        M::InsideArmLength => &[M::ArmLength, M::ShoulderToElbow],
        M::FootLength => &[M::Height, M::HeelGirth],
        M::ShoeHeight => &[M::Height],
        M::BustWidth => &[M::BustGirth, M::UnderbustGirth, M::WaistGirth],
        M::WaistWidth => &[M::WaistGirth, M::BustGirth, M::HipGirth],
        M::HipWidth => &[M::HipGirth, M::WaistGirth, M::BustGirth],
    }
}
