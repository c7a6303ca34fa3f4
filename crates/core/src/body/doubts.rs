//! Figures of one sheet that cannot both be right.

use super::Body;
use crate::measure::Measure;
use crate::units::{LengthUnit, Mm};

/// Two given figures that contradict each other: the first is never larger than the second on any body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubt {
    /// The measure that must be the smaller one.
    pub smaller: Measure,
    /// Its figure.
    pub is: Mm,
    /// The measure that must be at least as large.
    pub larger: Measure,
    /// Its figure.
    pub only: Mm,
}

impl Doubt {
    /// What is wrong and what to do, one sentence, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        format!(
            "{} ({}) cannot be more than {} ({}); measure both again.",
            self.smaller,
            unit.show(self.is),
            self.larger.label().to_lowercase(),
            unit.show(self.only),
        )
    }
}

/// What lies inside or under what: anatomy, and true of every doll class in `assets/bodies`.
const NEVER_LARGER: [(Measure, Measure); 25] = [
    (Measure::HeadGirth, Measure::HeadGirthWithWig),
    (Measure::HeadGirth, Measure::Height),
    (Measure::NeckGirth, Measure::NeckBaseGirth),
    (Measure::UnderbustGirth, Measure::BustGirth),
    (Measure::WristGirth, Measure::HandGirth),
    (Measure::WristGirth, Measure::UpperArmGirth),
    (Measure::UpperArmGirth, Measure::ArmscyeGirth),
    (Measure::AnkleGirth, Measure::HeelGirth),
    (Measure::AnkleGirth, Measure::CalfGirth),
    (Measure::CalfGirth, Measure::ThighGirth),
    (Measure::ThighGirth, Measure::HipGirth),
    (Measure::BustWidth, Measure::BustGirth),
    (Measure::WaistWidth, Measure::WaistGirth),
    (Measure::HipWidth, Measure::HipGirth),
    (Measure::ShoulderLength, Measure::ShoulderWidth),
    (Measure::ArmscyeDepth, Measure::BackWaistLength),
    (Measure::UnderarmLength, Measure::BackWaistLength),
    (Measure::WaistToHip, Measure::BodyRise),
    (Measure::BodyRise, Measure::WaistToFloor),
    (Measure::WaistToKnee, Measure::WaistToFloor),
    (Measure::InsideLeg, Measure::WaistToFloor),
    (Measure::WaistToFloor, Measure::Height),
    (Measure::ShoulderToElbow, Measure::ArmLength),
    (Measure::InsideArmLength, Measure::ArmLength),
    (Measure::ArmLength, Measure::Height),
];

impl Body {
    /// Given figures that contradict each other: a slip of the tape or the unit. Estimates are never doubted.
    pub fn doubts(&self) -> Vec<Doubt> {
        let given = |measure| self.measures.get(&measure).map(|figure| figure.value);
        NEVER_LARGER
            .into_iter()
            .filter_map(|(smaller, larger)| {
                Some(Doubt {
                    smaller,
                    is: given(smaller)?,
                    larger,
                    only: given(larger)?,
                })
            })
            .filter(|doubt| doubt.is.0 > doubt.only.0)
            .collect()
    }
}
