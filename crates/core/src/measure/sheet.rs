//! The measuring sheet: what every measure is called, how it is taken, and where the tape lies in the picture.

use super::{Measure, TapeMark, TapePlace, View};

/// What a measuring sheet says about one measure.
pub(super) struct Entry {
    /// Stable name in files.
    pub key: &'static str,
    /// Trade name.
    pub label: &'static str,
    /// Where the tape goes.
    pub how: &'static str,
    /// Where it lies in the picture.
    pub place: TapePlace,
}

const fn ring(view: View, x: f64, y: f64, half_width: f64) -> TapePlace {
    TapePlace {
        view,
        mark: TapeMark::Ring { x, y, half_width },
    }
}

const fn line(view: View, from: (f64, f64), to: (f64, f64)) -> TapePlace {
    TapePlace {
        view,
        mark: TapeMark::Line { from, to },
    }
}

/// Names follow ISO 8559-1 where the standard has one (fact sheet A1); the sentences are our own.
#[rustfmt::skip]
pub(super) const fn entry(measure: Measure) -> Entry {
    use View::{Back, Front};
    let (key, label, how, place) = match measure {
        Measure::Height => (
            "height",
            "Height",
            "Stand the body upright against a wall, without shoes, and measure from the floor to the top of the head under the hair.",
            line(Front, (-0.25, 0.0), (-0.25, 1.0)),
        ),
        Measure::HeadGirth => (
            "head_girth",
            "Head girth",
            "Lay the tape level round the largest part of the head, just above the ears, under the hair or wig.",
            ring(Front, 0.0, 0.945, 0.055),
        ),
        Measure::HeadGirthWithWig => (
            "head_girth_with_wig",
            "Head girth with wig",
            "Lay the tape round the same place with the wig on, pulled as tight as a neckline would press it.",
            ring(Front, 0.0, 0.945, 0.062),
        ),
        Measure::NeckGirth => (
            "neck_girth",
            "Neck girth",
            "Lay the tape round the middle of the neck.",
            ring(Front, 0.0, 0.86, 0.03),
        ),
        Measure::NeckBaseGirth => (
            "neck_base_girth",
            "Neck-base girth",
            "Lay the tape on its edge round the root of the neck, over the nape bone, both neck points and the pit at the front.",
            ring(Front, 0.0, 0.838, 0.04),
        ),
        Measure::ShoulderLength => (
            "shoulder_length",
            "Shoulder length",
            "Measure along the shoulder from the side of the neck to the shoulder point.",
            line(Front, (0.038, 0.842), (0.11, 0.818)),
        ),
        Measure::ShoulderWidth => (
            "shoulder_width",
            "Shoulder width",
            "Measure across the back from shoulder point to shoulder point.",
            line(Back, (-0.11, 0.818), (0.11, 0.818)),
        ),
        Measure::AcrossFront => (
            "across_front",
            "Across front",
            "Measure across the chest from armpit fold to armpit fold, half way down the armscye.",
            line(Front, (-0.092, 0.77), (0.092, 0.77)),
        ),
        Measure::AcrossBack => (
            "across_back",
            "Across back",
            "Measure across the back from armpit fold to armpit fold, half way down the armscye.",
            line(Back, (-0.092, 0.77), (0.092, 0.77)),
        ),
        Measure::ArmscyeDepth => (
            "armscye_depth",
            "Scye depth",
            "Measure down the spine from the nape to the level of the armpits.",
            line(Back, (0.0, 0.85), (0.0, 0.722)),
        ),
        Measure::ArmscyeGirth => (
            "armscye_girth",
            "Armscye girth",
            "Lay the tape over the shoulder point, down the front and under the arm, and close it at the back.",
            ring(Front, 0.105, 0.77, 0.02),
        ),
        Measure::BustGirth => (
            "bust_girth",
            "Bust girth",
            "Lay the tape level round the body under the armpits and over the fullest part of the bust or chest.",
            ring(Front, 0.0, 0.722, 0.095),
        ),
        Measure::UnderbustGirth => (
            "underbust_girth",
            "Underbust girth",
            "Lay the tape level round the body just below the bust.",
            ring(Front, 0.0, 0.69, 0.088),
        ),
        Measure::WaistGirth => (
            "waist_girth",
            "Waist girth",
            "Lay the tape level round the narrowest part of the trunk, between the lowest ribs and the hips.",
            ring(Front, 0.0, 0.62, 0.078),
        ),
        Measure::HipGirth => (
            "hip_girth",
            "Hip girth",
            "Lay the tape level round the fullest part of the seat.",
            ring(Front, 0.0, 0.515, 0.1),
        ),
        Measure::BustWidth => (
            "bust_width",
            "Bust width",
            "Hold two upright rulers against the sides at the level of the bust girth, arms away, and measure straight between them.",
            line(Front, (-0.095, 0.722), (0.095, 0.722)),
        ),
        Measure::WaistWidth => (
            "waist_width",
            "Waist width",
            "Hold two upright rulers against the sides of the waist and measure straight between them.",
            line(Front, (-0.078, 0.62), (0.078, 0.62)),
        ),
        Measure::HipWidth => (
            "hip_width",
            "Hip width",
            "Hold two upright rulers against the sides at the fullest part of the seat and measure straight between them.",
            line(Front, (-0.1, 0.515), (0.1, 0.515)),
        ),
        Measure::BackWaistLength => (
            "back_waist_length",
            "Back waist length",
            "Measure down the spine from the nape to the waist.",
            line(Back, (0.0, 0.85), (0.0, 0.62)),
        ),
        Measure::FrontWaistLength => (
            "front_waist_length",
            "Front waist length",
            "Measure down the middle of the front from the pit of the neck to the waist.",
            line(Front, (0.0, 0.832), (0.0, 0.62)),
        ),
        Measure::UnderarmLength => (
            "underarm_length",
            "Underarm length",
            "Measure down the side of the body from the armpit to the waist.",
            line(Front, (0.095, 0.722), (0.078, 0.62)),
        ),
        Measure::WaistToHip => (
            "waist_to_hip",
            "Waist to hips",
            "Measure down the side from the waist to the fullest part of the seat.",
            line(Front, (0.078, 0.62), (0.1, 0.515)),
        ),
        Measure::WaistToKnee => (
            "waist_to_knee",
            "Waist to knee",
            "Measure down the front of one leg from the waist to the middle of the knee.",
            line(Front, (0.05, 0.62), (0.05, 0.28)),
        ),
        Measure::WaistToFloor => (
            "waist_to_floor",
            "Waist height",
            "Measure down the side from the waist straight to the floor, without shoes.",
            line(Front, (0.125, 0.62), (0.125, 0.0)),
        ),
        Measure::BodyRise => (
            "body_rise",
            "Body rise",
            "Measure straight down at the side from the waist to the level of the crotch; a flat rule held between the legs shows the level.",
            line(Front, (0.115, 0.62), (0.115, 0.48)),
        ),
        Measure::InsideLeg => (
            "inside_leg",
            "Inside leg length",
            "Measure down the inside of the leg from the crotch to the floor, without shoes.",
            line(Front, (0.006, 0.48), (0.022, 0.0)),
        ),
        Measure::ArmLength => (
            "arm_length",
            "Arm length",
            "Measure down the outside of the arm from the shoulder point to the wrist bone.",
            line(Front, (0.11, 0.818), (0.19, 0.485)),
        ),
        Measure::ShoulderToElbow => (
            "shoulder_to_elbow",
            "Upper arm length",
            "Measure down the outside of the arm from the shoulder point to the elbow.",
            line(Front, (0.11, 0.818), (0.158, 0.64)),
        ),
        Measure::InsideArmLength => (
            "inside_arm_length",
            "Inside arm length",
            "Measure down the inside of the arm from the armpit to the wrist.",
            line(Front, (0.098, 0.728), (0.17, 0.482)),
        ),
        Measure::UpperArmGirth => (
            "upper_arm_girth",
            "Upper arm girth",
            "Lay the tape round the fullest part of the upper arm, arm hanging.",
            ring(Front, 0.125, 0.72, 0.022),
        ),
        Measure::ElbowGirth => (
            "elbow_girth",
            "Elbow girth",
            "Lay the tape round the elbow, arm bent if it bends.",
            ring(Front, 0.15, 0.64, 0.018),
        ),
        Measure::WristGirth => (
            "wrist_girth",
            "Wrist girth",
            "Lay the tape round the wrist, over the wrist bones.",
            ring(Front, 0.181, 0.485, 0.013),
        ),
        Measure::HandGirth => (
            "hand_girth",
            "Hand girth",
            "Lay the tape round the widest part of the hand, over the knuckles; on a doll with a fixed thumb go over the thumb too, since a sleeve must pass it.",
            ring(Front, 0.19, 0.45, 0.018),
        ),
        Measure::ThighGirth => (
            "thigh_girth",
            "Thigh girth",
            "Lay the tape round one leg at its fullest, close under the seat.",
            ring(Front, 0.052, 0.46, 0.047),
        ),
        Measure::KneeGirth => (
            "knee_girth",
            "Knee girth",
            "Lay the tape round one knee, leg straight.",
            ring(Front, 0.048, 0.28, 0.031),
        ),
        Measure::CalfGirth => (
            "calf_girth",
            "Calf girth",
            "Lay the tape round the fullest part of one calf.",
            ring(Front, 0.048, 0.205, 0.031),
        ),
        Measure::AnkleGirth => (
            "ankle_girth",
            "Ankle girth",
            "Lay the tape round the thinnest part of one leg above the ankle.",
            ring(Front, 0.046, 0.065, 0.018),
        ),
        Measure::HeelGirth => (
            "heel_girth",
            "Heel girth",
            "Lay the tape round the foot, over the heel and the bend of the instep: this is what a trouser hem must pass.",
            line(Front, (0.028, 0.012), (0.062, 0.05)),
        ),
        Measure::FootLength => (
            "foot_length",
            "Foot length",
            "Measure from the back of the heel to the end of the longest toe.",
            line(Front, (0.046, 0.03), (0.062, -0.004)),
        ),
        Measure::ShoeHeight => (
            "shoe_height",
            "Shoe height",
            "Put the shoes on and measure how much higher the heel of the foot stands.",
            line(Front, (0.1, 0.0), (0.1, 0.03)),
        ),
    };
    Entry { key, label, how, place }
}
