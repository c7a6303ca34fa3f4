//! Where the levels of a body lie, and what has to pass through an opening.

use super::{Body, Torso};
use crate::garment::Passing;
use crate::measure::{Level, Measure};
use crate::units::Mm;

/// How far the shoulder point lies under the nape, as a share of the back waist length.
///
/// # Source
/// 44.09 of 421.90 mm on the loose bodice of a dressmaking book of 1916, drafted by its rules for a 92 cm woman.
const SHOULDER_DROP: f64 = 0.105;

/// How far the ankle ring lies above the floor, as a share of waist to floor: proportion of our own, no source.
const ANKLE_HEIGHT: f64 = 0.07;

/// How far the crown lies above the brow, as a share of the head girth with wig: proportion of our own, no source.
const CROWN_HEIGHT: f64 = 0.19;

/// Girth round both shoulders and upper arms, as a share of the shoulder width.
///
/// # Source
/// ANSUR II means, women 1028.2 / 365.3 and men 1178.6 / 415.7 (computed): 2.815 and 2.835.
const ROUND_SHOULDERS: f64 = 2.82;

impl Body {
    /// Where a level lies in its part of the body, downwards negative.
    ///
    /// Torso and leg: from the nape, along the back, so that Waist and Knee are the same level in both. Arm: from the
    /// shoulder point. Head: from the crown.
    pub fn height_of(&self, level: Level) -> Mm {
        let mm = |measure| self.mm(measure).0;
        let waist = || -mm(Measure::BackWaistLength);
        Mm(match level {
            Level::Nape | Level::CapTop | Level::Crown => 0.0,
            Level::ShoulderPoint => SHOULDER_DROP * waist(),
            Level::Across => -0.5 * mm(Measure::ArmscyeDepth),
            Level::Bust => -mm(Measure::ArmscyeDepth),
            Level::Waist => waist(),
            Level::Hip => waist() - mm(Measure::WaistToHip),
            Level::Crotch => waist() - mm(Measure::BodyRise),
            Level::Knee => waist() - mm(Measure::WaistToKnee),
            Level::Ankle => waist() - (1.0 - ANKLE_HEIGHT) * mm(Measure::WaistToFloor),
            Level::Floor => waist() - mm(Measure::WaistToFloor),
            Level::Underarm => mm(Measure::InsideArmLength) - mm(Measure::ArmLength),
            Level::Elbow => -mm(Measure::ShoulderToElbow),
            Level::Wrist => -mm(Measure::ArmLength),
            Level::Brow => -CROWN_HEIGHT * mm(Measure::HeadGirthWithWig),
        })
    }

    /// The girth that is taken at a level; `None` where no tape goes round.
    ///
    /// Knee and below, and the crotch, are girths of one leg.
    pub fn girth_at(&self, level: Level) -> Option<Measure> {
        level.girth()
    }

    /// The girth of what has to pass through an opening, pressed in as far as a soft torso gives.
    pub fn passing(&self, passing: Passing) -> Mm {
        match passing {
            Passing::Head => self.mm(Measure::HeadGirthWithWig),
            Passing::Hand => self.mm(Measure::HandGirth),
            Passing::Foot => self.mm(Measure::HeelGirth),
            Passing::Trunk => {
                let widest = self.shoulder_girth().0.max(self.mm(Measure::HipGirth).0);
                Mm((widest - self.give().0).max(0.0))
            }
        }
    }

    /// Girth round both shoulders and upper arms, arms hanging, estimated from the shoulder width.
    pub fn shoulder_girth(&self) -> Mm {
        Mm(ROUND_SHOULDERS * self.mm(Measure::ShoulderWidth).0)
    }

    /// How much a girth of the torso can be pressed in.
    pub fn give(&self) -> Mm {
        match self.torso {
            Torso::Soft { give } => give,
            Torso::Rigid => Mm(0.0),
        }
    }
}
