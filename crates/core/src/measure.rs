//! The measures of a body, under their ISO 8559-1 names where the standard has one, and its levels.

use serde::{Deserialize, Serialize};

/// A measure of a body. All in mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each is described by `Measure::how_to_measure`")]
pub enum Measure {
    Height,
    HeadGirth,
    HeadGirthWithWig,
    NeckGirth,
    NeckBaseGirth,
    BustGirth,
    UnderbustGirth,
    WaistGirth,
    HipGirth,
    UpperArmGirth,
    ElbowGirth,
    WristGirth,
    HandGirth,
    ThighGirth,
    KneeGirth,
    CalfGirth,
    AnkleGirth,
    HeelGirth,
    ShoulderLength,
    ShoulderWidth,
    AcrossFront,
    AcrossBack,
    ArmscyeDepth,
    ArmscyeGirth,
    BackWaistLength,
    FrontWaistLength,
    UnderarmLength,
    WaistToHip,
    WaistToKnee,
    WaistToFloor,
    BodyRise,
    InsideLeg,
    ArmLength,
    ShoulderToElbow,
    InsideArmLength,
    FootLength,
    ShoeHeight,
}

impl Measure {
    /// Every measure, in the order of a measuring sheet.
    pub const ALL: [Self; 37] = [
        Self::Height,
        Self::HeadGirth,
        Self::HeadGirthWithWig,
        Self::NeckGirth,
        Self::NeckBaseGirth,
        Self::ShoulderLength,
        Self::ShoulderWidth,
        Self::AcrossFront,
        Self::AcrossBack,
        Self::ArmscyeDepth,
        Self::ArmscyeGirth,
        Self::BustGirth,
        Self::UnderbustGirth,
        Self::WaistGirth,
        Self::HipGirth,
        Self::BackWaistLength,
        Self::FrontWaistLength,
        Self::UnderarmLength,
        Self::WaistToHip,
        Self::WaistToKnee,
        Self::WaistToFloor,
        Self::BodyRise,
        Self::InsideLeg,
        Self::ArmLength,
        Self::ShoulderToElbow,
        Self::InsideArmLength,
        Self::UpperArmGirth,
        Self::ElbowGirth,
        Self::WristGirth,
        Self::HandGirth,
        Self::ThighGirth,
        Self::KneeGirth,
        Self::CalfGirth,
        Self::AnkleGirth,
        Self::HeelGirth,
        Self::FootLength,
        Self::ShoeHeight,
    ];
}

/// A level of the body that can cross a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Level {
    /// Torso: where the neck meets the back.
    Nape,
    /// Torso: the outer end of the shoulder.
    ShoulderPoint,
    /// Torso: half way down the armscye.
    Across,
    /// Torso: the armpit, where the bust girth is taken.
    Bust,
    /// Torso and leg.
    Waist,
    /// Torso and leg: fullest part of the seat.
    Hip,
    /// Leg.
    Crotch,
    /// Torso (skirts) and leg.
    Knee,
    /// Leg.
    Ankle,
    /// Torso (gowns).
    Floor,
    /// Arm: the outer end of the shoulder, top of a sleeve cap.
    CapTop,
    /// Arm: the armpit, base of a sleeve cap.
    Underarm,
    /// Arm.
    Elbow,
    /// Arm.
    Wrist,
    /// Head: above the ears.
    Brow,
    /// Head: its top.
    Crown,
}
