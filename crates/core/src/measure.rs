//! The measures of a body, under their ISO 8559-1 names where the standard has one, and its levels.

use serde::{Deserialize, Serialize};

mod sheet;

/// Where the tape lies in the picture of a body.
///
/// Fractions of the height of a schematic figure that stands upright with its arms a little away: x from its middle,
/// to the right of the picture positive; y from the floor up to the crown at 1. [`FIGURE`] is the figure they fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapePlace {
    /// From which side it is seen.
    pub view: View,
    /// How the tape lies.
    pub mark: TapeMark,
}

/// From which side a figure is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// From the front.
    Front,
    /// From the back.
    Back,
}

/// How a tape lies in the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TapeMark {
    /// Round the body, an arm or a leg.
    Ring {
        /// Middle of the ring.
        x: f64,
        /// Height above the floor.
        y: f64,
        /// Half its width.
        half_width: f64,
    },
    /// Along the body.
    Line {
        /// Where the tape starts.
        from: (f64, f64),
        /// Where it ends.
        to: (f64, f64),
    },
}

/// The right half (in the picture) of a schematic figure, from crown to crotch, for [`TapePlace`]: join it to its mirror image.
///
/// Drawn by us after the proportions of the women of ANSUR II (crotch at 0.48, waist at 0.60 to 0.62, knee at 0.28 of the height).
pub const FIGURE: [(f64, f64); 43] = [
    (0.0, 1.0),
    (0.030, 0.992),
    (0.050, 0.970),
    (0.055, 0.940),
    (0.050, 0.905),
    (0.033, 0.878),
    (0.030, 0.860),
    (0.038, 0.842),
    (0.080, 0.830),
    (0.110, 0.818),
    (0.128, 0.795),
    (0.147, 0.720),
    (0.168, 0.640),
    (0.194, 0.485),
    (0.208, 0.450),
    (0.200, 0.405),
    (0.185, 0.415),
    (0.172, 0.450),
    (0.168, 0.485),
    (0.132, 0.640),
    (0.103, 0.720),
    (0.097, 0.730),
    (0.095, 0.722),
    (0.088, 0.690),
    (0.078, 0.620),
    (0.090, 0.565),
    (0.100, 0.515),
    (0.099, 0.460),
    (0.090, 0.370),
    (0.079, 0.280),
    (0.079, 0.205),
    (0.070, 0.130),
    (0.064, 0.065),
    (0.068, 0.030),
    (0.078, 0.0),
    (0.025, 0.0),
    (0.028, 0.065),
    (0.024, 0.130),
    (0.017, 0.205),
    (0.017, 0.280),
    (0.008, 0.400),
    (0.005, 0.460),
    (0.0, 0.480),
];

/// A measure of a body. All in mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[allow(
    missing_docs,
    reason = "each is described by `Measure::how_to_measure`"
)]
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
    BustWidth,
    WaistWidth,
    HipWidth,
}

impl Measure {
    /// Every measure, in the order of a measuring sheet.
    pub const ALL: [Self; 40] = [
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
        Self::BustWidth,
        Self::WaistWidth,
        Self::HipWidth,
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

    /// Its name in files and on the command line: "waist_girth". Never changes.
    pub const fn key(self) -> &'static str {
        sheet::entry(self).key
    }

    /// The measure of this [`key`](Self::key).
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|measure| measure.key() == key)
    }

    /// Its name in the trade: "Waist girth" (ISO 8559-1 where the standard has one).
    pub const fn label(self) -> &'static str {
        sheet::entry(self).label
    }

    /// Where the tape goes, in one sentence.
    pub const fn how_to_measure(self) -> &'static str {
        sheet::entry(self).how
    }

    /// Does the tape go round?
    pub const fn is_girth(self) -> bool {
        matches!(
            self,
            Self::HeadGirth
                | Self::HeadGirthWithWig
                | Self::NeckGirth
                | Self::NeckBaseGirth
                | Self::ArmscyeGirth
                | Self::BustGirth
                | Self::UnderbustGirth
                | Self::WaistGirth
                | Self::HipGirth
                | Self::UpperArmGirth
                | Self::ElbowGirth
                | Self::WristGirth
                | Self::HandGirth
                | Self::ThighGirth
                | Self::KneeGirth
                | Self::CalfGirth
                | Self::AnkleGirth
                | Self::HeelGirth
        )
    }

    /// Where the tape lies in the picture of a body.
    pub const fn tape_place(self) -> TapePlace {
        sheet::entry(self).place
    }
}

impl std::fmt::Display for Measure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.label())
    }
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

impl Level {
    /// Every level: torso and leg from the nape down, then arm, then head.
    pub const ALL: [Self; 16] = [
        Self::Nape,
        Self::ShoulderPoint,
        Self::Across,
        Self::Bust,
        Self::Waist,
        Self::Hip,
        Self::Crotch,
        Self::Knee,
        Self::Ankle,
        Self::Floor,
        Self::CapTop,
        Self::Underarm,
        Self::Elbow,
        Self::Wrist,
        Self::Brow,
        Self::Crown,
    ];

    /// Its name: "Bust", "Top of the cap".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Nape => "Nape",
            Self::ShoulderPoint => "Shoulder point",
            Self::Across => "Across the chest",
            Self::Bust => "Bust",
            Self::Waist => "Waist",
            Self::Hip => "Hip",
            Self::Crotch => "Crotch",
            Self::Knee => "Knee",
            Self::Ankle => "Ankle",
            Self::Floor => "Floor",
            Self::CapTop => "Top of the cap",
            Self::Underarm => "Underarm",
            Self::Elbow => "Elbow",
            Self::Wrist => "Wrist",
            Self::Brow => "Brow",
            Self::Crown => "Crown",
        }
    }

    /// The girth that is taken at this level; `None` where no tape goes round.
    ///
    /// Crotch, knee and ankle are girths of one leg.
    pub const fn girth(self) -> Option<Measure> {
        match self {
            Self::Nape => Some(Measure::NeckBaseGirth),
            Self::Bust => Some(Measure::BustGirth),
            Self::Waist => Some(Measure::WaistGirth),
            Self::Hip => Some(Measure::HipGirth),
            Self::Crotch => Some(Measure::ThighGirth),
            Self::Knee => Some(Measure::KneeGirth),
            Self::Ankle => Some(Measure::AnkleGirth),
            Self::Underarm => Some(Measure::UpperArmGirth),
            Self::Elbow => Some(Measure::ElbowGirth),
            Self::Wrist => Some(Measure::WristGirth),
            Self::Brow => Some(Measure::HeadGirthWithWig),
            Self::ShoulderPoint | Self::Across | Self::Floor | Self::CapTop | Self::Crown => None,
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::indexing_slicing,
        clippy::panic,
        reason = "tests"
    )]

    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_measure_has_its_own_key_label_and_sentence() {
        let unique = |words: fn(Measure) -> &'static str| {
            Measure::ALL
                .into_iter()
                .map(words)
                .collect::<BTreeSet<_>>()
                .len()
        };
        assert_eq!(
            Measure::ALL.into_iter().collect::<BTreeSet<_>>().len(),
            Measure::ALL.len()
        );
        assert_eq!(unique(Measure::key), Measure::ALL.len());
        assert_eq!(unique(Measure::label), Measure::ALL.len());
        assert_eq!(unique(Measure::how_to_measure), Measure::ALL.len());
        for measure in Measure::ALL {
            assert_eq!(Measure::from_key(measure.key()), Some(measure));
            assert!(
                measure
                    .key()
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c == '_'),
                "{}",
                measure.key()
            );
            assert!(measure.how_to_measure().ends_with('.'), "{measure}");
        }
        assert_eq!(Measure::from_key("no such measure"), None);
    }

    #[test]
    fn a_measure_is_a_girth_when_its_name_says_so() {
        for measure in Measure::ALL {
            assert_eq!(
                measure.is_girth(),
                measure.key().contains("girth"),
                "{measure}"
            );
        }
    }

    #[test]
    fn the_tape_lies_on_the_picture_of_the_figure() {
        for measure in Measure::ALL {
            let (points, ring) = match measure.tape_place().mark {
                TapeMark::Ring { x, y, half_width } => {
                    (vec![(x - half_width, y), (x + half_width, y)], true)
                }
                TapeMark::Line { from, to } => (vec![from, to], false),
            };
            for (x, y) in points {
                assert!(
                    x.abs() <= 0.3 && (-0.01..=1.0).contains(&y),
                    "{measure}: {x} {y}"
                );
            }
            // A heel ring is seen as a slanting line from the front; all other girths are rings.
            assert_eq!(
                ring,
                measure.is_girth() && measure != Measure::HeelGirth,
                "{measure}"
            );
        }
    }

    /// The rings of the trunk, from the neck down, lie in the order of the body.
    #[test]
    fn the_rings_of_the_trunk_lie_in_the_order_of_the_body() {
        let height = |measure: Measure| match measure.tape_place().mark {
            TapeMark::Ring { y, .. } => y,
            TapeMark::Line { from, .. } => from.1,
        };
        let order = [
            Measure::HeadGirth,
            Measure::NeckGirth,
            Measure::NeckBaseGirth,
            Measure::BustGirth,
            Measure::UnderbustGirth,
            Measure::WaistGirth,
            Measure::HipGirth,
            Measure::ThighGirth,
            Measure::KneeGirth,
            Measure::CalfGirth,
            Measure::AnkleGirth,
        ];
        assert!(
            order
                .windows(2)
                .all(|pair| height(pair[0]) > height(pair[1]))
        );
    }

    #[test]
    fn the_figure_closes_on_its_middle_line() {
        assert_eq!(FIGURE.first(), Some(&(0.0, 1.0)));
        assert_eq!(FIGURE.last(), Some(&(0.0, 0.48)));
        assert!(
            FIGURE
                .iter()
                .all(|(x, y)| (0.0..=0.25).contains(x) && (0.0..=1.0).contains(y))
        );
    }

    #[test]
    fn every_level_has_its_own_label() {
        assert_eq!(
            Level::ALL
                .into_iter()
                .map(Level::label)
                .collect::<BTreeSet<_>>()
                .len(),
            Level::ALL.len()
        );
    }
}
