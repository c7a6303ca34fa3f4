//! The body sheet a drafted body has, all of it or what makers usually take.

use crate::body::{Body, BodyKind, Measured};
use crate::drafts::{Constants, DraftMeasures};
use crate::measure::Measure;
use crate::units::{MM_PER_INCH, Mm};

/// The body sheet of a drafted body.
pub(super) fn body(m: &DraftMeasures) -> Body {
    let figures = [
        (Measure::BustGirth, m.bust_girth),
        (Measure::WaistGirth, m.waist_girth),
        (Measure::HipGirth, m.hip_girth),
        (Measure::NeckBaseGirth, m.neck_base_girth),
        (Measure::ShoulderLength, m.shoulder_length),
        (Measure::AcrossBack, m.width_of_back),
        (Measure::AcrossFront, m.width_of_front),
        (Measure::ShoulderWidth, m.width_of_back / 0.88),
        (Measure::BackWaistLength, m.back_waist_length),
        (Measure::FrontWaistLength, m.front_waist_length),
        (Measure::UnderarmLength, m.underarm_length),
        (
            Measure::ArmscyeDepth,
            m.back_waist_length - m.underarm_length,
        ),
        (Measure::UpperArmGirth, m.upper_arm_girth),
        (Measure::ElbowGirth, m.elbow_girth),
        (Measure::HandGirth, m.hand_girth),
        (Measure::ShoulderToElbow, m.shoulder_elbow),
        (Measure::ArmLength, m.shoulder_elbow + m.elbow_wrist),
        (Measure::InsideArmLength, m.inside_wrist),
        (Measure::WaistToKnee, m.skirt_front),
        // The gored draft takes the hip 6 in (in proportion) below the waist, whatever the body.
        (
            Measure::WaistToHip,
            6.0 * MM_PER_INCH * Constants::InProportion.scale(m.bust_girth),
        ),
    ];
    let mut body = Body::new("redraft", BodyKind::Doll);
    for (measure, value) in figures {
        body.measures.insert(measure, Measured::own_tape(Mm(value)));
    }
    body
}

/// The same body sheet without the depth and across measures that makers seldom take.
pub(in crate::redraft) fn estimated(body: &Body) -> Body {
    let mut body = body.clone();
    for measure in [
        Measure::AcrossBack,
        Measure::AcrossFront,
        Measure::ArmscyeDepth,
        Measure::UnderarmLength,
        Measure::FrontWaistLength,
    ] {
        body.measures.remove(&measure);
    }
    body
}
