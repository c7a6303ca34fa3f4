//! The typical figures that estimates take their proportions from: one each for women, men, children and dolls.
//!
//! Only ratios of two figures of one column are ever used, so the doll's column may stand for a height of 1000.
//!
//! # Source
//! Women and men: means of ANSUR II (US Army, 2012; 1,986 women, 4,082 men), computed from the public tables; its waist
//! is at the navel, its upper arm flexed. Children: UM-HSRI-77-17 (1977), mean of girls and boys of 8 years, read from a
//! public copy. Dolls: mean over the nine generic classes of `assets/bodies/dolls.ron`, each divided by its height, which
//! are common practice from memory. What no survey has is filled in by the proportion that stands beside it.

use super::BodyKind;
use crate::measure::Measure;

/// A figure of a typical body, and the proportion it was filled in by when no survey has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TypicalFigure {
    /// Millimetres on the typical body.
    pub value: f64,
    /// The proportion, or `None` when it was surveyed.
    pub proportion: Option<&'static str>,
}

/// Where the typical figures of this kind of body come from, in words.
pub(super) fn survey(kind: BodyKind) -> &'static str {
    match kind {
        BodyKind::Woman => "mean of the women of ANSUR II (2012)",
        BodyKind::Man => "mean of the men of ANSUR II (2012)",
        BodyKind::Child => "mean of US girls and boys of 8 years (1977)",
        BodyKind::Doll => "mean of nine doll classes (common practice, no source)",
    }
}

/// The figure of the typical body of this kind.
pub(super) fn typical(kind: BodyKind, measure: Measure) -> TypicalFigure {
    let [woman, man, child, doll] = row(measure);
    match kind {
        BodyKind::Woman => woman,
        BodyKind::Man => man,
        BodyKind::Child => child,
        BodyKind::Doll => doll,
    }
}

const fn surveyed(value: f64) -> TypicalFigure {
    TypicalFigure {
        value,
        proportion: None,
    }
}

const fn filled(value: f64, proportion: &'static str) -> TypicalFigure {
    TypicalFigure {
        value,
        proportion: Some(proportion),
    }
}

const CHILD_BACK_WAIST: &str = "pit of the neck above the waist (same survey) + 0.035 of the height; proportion of our own, no source";
const CHILD_INSIDE_LEG: &str =
    "the fold under the seat (same survey), taken as the crotch; reading of our own";
const CHILD_RISE: &str = "waist to floor less inside leg";
const DOLL_RISE: &str = "0.25 of waist to floor; proportion of our own, no source";
const DOLL_INSIDE_LEG: &str = "0.75 of waist to floor; proportion of our own, no source";
const HIP_DEPTH: &str = "0.74 of the body rise, as on the women of ANSUR II";
const NECK_BASE: &str = "1.13 x neck girth, as on the women of ANSUR II";
const CHILD_UPPER_ARM: &str = "0.31 of the chest girth; proportion of our own, no source";
const CHILD_WRIST: &str = "0.68 of the upper arm; proportion of our own, no source";
const CHILD_HAND: &str = "1.22 x the wrist, near the 1.21 of ANSUR II";
const ELBOW: &str = "0.95 of the upper arm; proportion of our own, no source";
const CHILD_ANKLE: &str = "0.68 of the calf; proportion of our own, no source";
const CHILD_HEEL: &str = "1.26 x foot length, as on the women of ANSUR II";
const KNEE: &str = "0.98 of the calf; proportion of our own, no source";
const SHOULDER: &str = "0.374 of the shoulder width, as on the 84 cm women of ANSUR II";
const ACROSS_BACK: &str = "0.88 of the shoulder width, the width of back of the old drafting books; proportion of our own, no source";
const ACROSS_FRONT: &str = "1.037 x across back (ratio read in a dressmaking lesson from before 1929), that 0.88 of the shoulder width";
const SCYE_DEPTH: &str = "back waist length less the underarm length, that half of the back waist length; proportion of our own, no source";
const UNDERARM: &str = "half of the back waist length; proportion of our own, no source";
const FRONT_WAIST: &str = "0.93 of the back waist length; proportion of our own, no source";
const SCYE_GIRTH: &str = "0.43 of the bust girth; proportion of our own, no source";
const UNDERBUST_WOMAN: &str = "0.87 of the bust girth; proportion of our own, no source";
const UNDERBUST_MAN: &str = "0.95 of the chest girth; proportion of our own, no source";
const UNDERBUST_CHILD: &str = "0.97 of the chest girth; proportion of our own, no source";
const UNDERBUST_DOLL: &str = "0.92 of the bust girth; proportion of our own, no source";
const UPPER_ARM_LENGTH: &str = "0.572 of the arm length; proportion of our own, no source";
const INSIDE_ARM: &str =
    "arm length less 0.42 of the upper arm girth; proportion of our own, no source";
const NO_WIG: &str = "the head itself, people are dressed without a wig";
const WIG: &str = "1.06 x head girth; proportion of our own, no source";
const BUST_WIDTH: &str = "0.3563 of the bust girth, an ellipse 0.78 times as deep as wide; proportion of our own, no source";
const WAIST_WIDTH: &str = "0.3638 of the waist girth, an ellipse 0.74 times as deep as wide; proportion of our own, no source";
const HIP_WIDTH: &str = "0.3716 of the hip girth, an ellipse 0.70 times as deep as wide; proportion of our own, no source";
const SHOE: &str = "0.015 of the height, a low shoe; proportion of our own, no source";
const DOLL_SHOE: &str = "0.02 of the height, a low shoe; proportion of our own, no source";

/// Woman, man, child, doll.
fn row(measure: Measure) -> [TypicalFigure; 4] {
    match measure {
        Measure::Height => [
            surveyed(1628.5),
            surveyed(1756.2),
            surveyed(1268.5),
            surveyed(1000.0),
        ],
        Measure::HeadGirth => [
            surveyed(561.1),
            surveyed(574.4),
            surveyed(522.0),
            surveyed(480.5),
        ],
        Measure::HeadGirthWithWig => [
            filled(561.1, NO_WIG),
            filled(574.4, NO_WIG),
            filled(522.0, NO_WIG),
            filled(509.33, WIG),
        ],
        Measure::NeckGirth => [
            surveyed(329.8),
            surveyed(397.6),
            surveyed(270.5),
            surveyed(207.6),
        ],
        Measure::NeckBaseGirth => [
            surveyed(371.2),
            surveyed(434.6),
            filled(305.665, NECK_BASE),
            filled(234.588, NECK_BASE),
        ],
        Measure::ShoulderLength => [
            surveyed(135.4),
            surveyed(149.8),
            filled(104.346, SHOULDER),
            filled(78.5026, SHOULDER),
        ],
        Measure::ShoulderWidth => [
            surveyed(365.3),
            surveyed(415.7),
            surveyed(279.0),
            surveyed(209.9),
        ],
        Measure::AcrossFront => [
            filled(333.358168, ACROSS_FRONT),
            filled(379.351192, ACROSS_FRONT),
            filled(254.60424, ACROSS_FRONT),
            filled(191.546344, ACROSS_FRONT),
        ],
        Measure::AcrossBack => [
            filled(321.464, ACROSS_BACK),
            filled(365.816, ACROSS_BACK),
            filled(245.52, ACROSS_BACK),
            filled(184.712, ACROSS_BACK),
        ],
        Measure::ArmscyeDepth => [
            filled(212.7, SCYE_DEPTH),
            filled(238.8, SCYE_DEPTH),
            filled(157.94875, SCYE_DEPTH),
            filled(106.05, SCYE_DEPTH),
        ],
        Measure::ArmscyeGirth => [
            filled(407.167, SCYE_GIRTH),
            filled(455.241, SCYE_GIRTH),
            filled(268.965, SCYE_GIRTH),
            filled(213.882, SCYE_GIRTH),
        ],
        Measure::BustGirth => [
            surveyed(946.9),
            surveyed(1058.7),
            surveyed(625.5),
            surveyed(497.4),
        ],
        Measure::UnderbustGirth => [
            filled(823.803, UNDERBUST_WOMAN),
            filled(1005.765, UNDERBUST_MAN),
            filled(606.735, UNDERBUST_CHILD),
            filled(457.608, UNDERBUST_DOLL),
        ],
        Measure::WaistGirth => [
            surveyed(860.9),
            surveyed(940.6),
            surveyed(568.0),
            surveyed(410.8),
        ],
        Measure::HipGirth => [
            surveyed(1021.2),
            surveyed(1019.5),
            surveyed(650.5),
            surveyed(527.1),
        ],
        Measure::BackWaistLength => [
            surveyed(425.4),
            surveyed(477.6),
            filled(315.8975, CHILD_BACK_WAIST),
            surveyed(212.1),
        ],
        Measure::FrontWaistLength => [
            filled(395.622, FRONT_WAIST),
            filled(444.168, FRONT_WAIST),
            filled(293.784675, FRONT_WAIST),
            filled(197.253, FRONT_WAIST),
        ],
        Measure::UnderarmLength => [
            filled(212.7, UNDERARM),
            filled(238.8, UNDERARM),
            filled(157.94875, UNDERARM),
            filled(106.05, UNDERARM),
        ],
        Measure::WaistToHip => [
            surveyed(146.4),
            surveyed(168.6),
            filled(116.55, HIP_DEPTH),
            filled(107.6885, HIP_DEPTH),
        ],
        Measure::WaistToKnee => [
            surveyed(531.1),
            surveyed(568.1),
            surveyed(413.5),
            surveyed(300.1),
        ],
        Measure::WaistToFloor => [
            surveyed(980.1),
            surveyed(1056.5),
            surveyed(739.5),
            surveyed(582.1),
        ],
        Measure::BodyRise => [
            surveyed(197.8),
            surveyed(210.6),
            filled(157.5, CHILD_RISE),
            filled(145.525, DOLL_RISE),
        ],
        Measure::InsideLeg => [
            surveyed(782.3),
            surveyed(845.9),
            filled(582.0, CHILD_INSIDE_LEG),
            filled(436.575, DOLL_INSIDE_LEG),
        ],
        Measure::ArmLength => [
            surveyed(543.6),
            surveyed(593.1),
            surveyed(455.5),
            surveyed(310.7),
        ],
        Measure::ShoulderToElbow => [
            filled(310.9392, UPPER_ARM_LENGTH),
            filled(339.2532, UPPER_ARM_LENGTH),
            surveyed(260.0),
            filled(177.7204, UPPER_ARM_LENGTH),
        ],
        Measure::InsideArmLength => [
            filled(415.248, INSIDE_ARM),
            filled(442.698, INSIDE_ARM),
            filled(374.0599, INSIDE_ARM),
            filled(238.964, INSIDE_ARM),
        ],
        Measure::UpperArmGirth => [
            surveyed(305.6),
            surveyed(358.1),
            filled(193.905, CHILD_UPPER_ARM),
            surveyed(170.8),
        ],
        Measure::ElbowGirth => [
            filled(290.32, ELBOW),
            filled(340.195, ELBOW),
            filled(184.20975, ELBOW),
            filled(162.26, ELBOW),
        ],
        Measure::WristGirth => [
            surveyed(154.8),
            surveyed(175.9),
            filled(131.8554, CHILD_WRIST),
            surveyed(118.8),
        ],
        Measure::HandGirth => [
            surveyed(186.6),
            surveyed(212.3),
            filled(160.863588, CHILD_HAND),
            surveyed(152.7),
        ],
        Measure::ThighGirth => [
            surveyed(616.1),
            surveyed(625.1),
            surveyed(384.5),
            surveyed(305.8),
        ],
        Measure::KneeGirth => [
            filled(365.834, KNEE),
            filled(384.454, KNEE),
            filled(250.88, KNEE),
            filled(219.52, KNEE),
        ],
        Measure::CalfGirth => [
            surveyed(373.3),
            surveyed(392.3),
            surveyed(256.0),
            surveyed(224.0),
        ],
        Measure::AnkleGirth => [
            surveyed(215.7),
            surveyed(229.3),
            filled(174.08, CHILD_ANKLE),
            surveyed(144.5),
        ],
        Measure::HeelGirth => [
            surveyed(310.3),
            surveyed(343.5),
            filled(249.48, CHILD_HEEL),
            surveyed(189.5),
        ],
        Measure::FootLength => [
            surveyed(246.3),
            surveyed(271.2),
            surveyed(198.0),
            surveyed(129.7),
        ],
        Measure::BustWidth => [
            filled(337.38047, BUST_WIDTH),
            filled(377.21481, BUST_WIDTH),
            filled(222.86565, BUST_WIDTH),
            filled(177.22362, BUST_WIDTH),
        ],
        Measure::WaistWidth => [
            filled(313.19542, WAIST_WIDTH),
            filled(342.19028, WAIST_WIDTH),
            filled(206.6384, WAIST_WIDTH),
            filled(149.44904, WAIST_WIDTH),
        ],
        Measure::HipWidth => [
            filled(379.47792, HIP_WIDTH),
            filled(378.8462, HIP_WIDTH),
            filled(241.7258, HIP_WIDTH),
            filled(195.87036, HIP_WIDTH),
        ],
        Measure::ShoeHeight => [
            filled(24.4275, SHOE),
            filled(26.343, SHOE),
            filled(19.0275, SHOE),
            filled(20.0, DOLL_SHOE),
        ],
    }
}
