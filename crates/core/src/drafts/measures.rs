//! The measures the drafts ask for, under the books' meanings.

use serde::{Deserialize, Serialize};

use super::DraftError;
use crate::body::Body;
use crate::measure::Measure;

/// The measures the drafts ask for, all in mm.
///
/// The books use some measures no survey takes; each field says how it is filled in then. Those proportions are ours.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DraftMeasures {
    /// Bust girth (child: chest).
    pub bust_girth: f64,
    /// Waist girth.
    pub waist_girth: f64,
    /// Hip girth.
    pub hip_girth: f64,
    /// Girth at the base of the neck; else 1.13 neck girth (ANSUR II ratio 1.12 to 1.14).
    pub neck_base_girth: f64,
    /// Shoulder length; else 0.374 shoulder width (ANSUR II).
    pub shoulder_length: f64,
    /// "Width of back" of the books, narrower than the survey's across back; else 0.88 shoulder width.
    pub width_of_back: f64,
    /// "Width of front"; else 1.037 width of back (ratio of a dressmaking lesson: chest 14 in, back 13 1/2 in).
    pub width_of_front: f64,
    /// Nape to waist.
    pub back_waist_length: f64,
    /// Front neck pit to waist; else 0.93 back waist length.
    pub front_waist_length: f64,
    /// Armpit to waist; else half the back waist length.
    pub underarm_length: f64,
    /// Front neck pit down to armpit level; else front waist length less underarm length.
    pub armscye_depth_front: f64,
    /// Height of the waist dart; else three quarters of the underarm length.
    pub dart_height: f64,
    /// Upper arm girth.
    pub upper_arm_girth: f64,
    /// Elbow girth; else 0.95 upper arm girth.
    pub elbow_girth: f64,
    /// Hand girth, thumb laid in.
    pub hand_girth: f64,
    /// Shoulder point to elbow; else 0.572 arm length.
    pub shoulder_elbow: f64,
    /// Elbow to wrist.
    pub elbow_wrist: f64,
    /// Armpit to elbow; else shoulder to elbow less 0.42 upper arm girth.
    pub inside_elbow: f64,
    /// Armpit to wrist; else arm length less 0.42 upper arm girth.
    pub inside_wrist: f64,
    /// Skirt length at the front; else waist height less knee height.
    pub skirt_front: f64,
    /// Skirt length at the side; else 1.02 of the front.
    pub skirt_side: f64,
    /// Skirt length at the back; else 1.02 of the front.
    pub skirt_back: f64,
    /// Gown length from the neck point; else 1.06 back waist length and the skirt.
    pub gown_length: f64,
    /// What the gown's sleeve adds to the width of front; else 0.30 arm length.
    pub gown_sleeve_add: f64,
    /// Gown's hem width, all round; else twice the bust.
    pub gown_bottom: f64,
}

impl DraftMeasures {
    /// A grown woman of 92 cm chest: ANSUR II women (public domain) averaged by chest size, what is missing
    /// filled in by the proportions above.
    pub const ADULT_92: Self = Self {
        bust_girth: 919.2,
        waist_girth: 829.9,
        hip_girth: 1009.9,
        neck_base_girth: 368.3,
        shoulder_length: 135.5,
        width_of_back: 322.17,
        width_of_front: 334.09,
        back_waist_length: 421.9,
        front_waist_length: 392.37,
        underarm_length: 210.95,
        armscye_depth_front: 181.42,
        dart_height: 158.21,
        upper_arm_girth: 298.9,
        elbow_girth: 283.95,
        hand_girth: 186.2,
        shoulder_elbow: 311.11,
        elbow_wrist: 232.79,
        inside_elbow: 185.57,
        inside_wrist: 418.36,
        skirt_front: 535.8,
        skirt_side: 546.52,
        skirt_back: 546.52,
        gown_length: 983.01,
        gown_sleeve_add: 163.17,
        gown_bottom: 1838.4,
    };

    /// Are all of them lengths above 0?
    ///
    /// # Errors
    /// [`DraftError::BadMeasure`] for the first that is not.
    pub fn checked(&self) -> Result<&Self, DraftError> {
        let all = [
            ("bust girth", self.bust_girth),
            ("waist girth", self.waist_girth),
            ("hip girth", self.hip_girth),
            ("neck base girth", self.neck_base_girth),
            ("shoulder length", self.shoulder_length),
            ("width of back", self.width_of_back),
            ("width of front", self.width_of_front),
            ("back waist length", self.back_waist_length),
            ("front waist length", self.front_waist_length),
            ("underarm length", self.underarm_length),
            ("front armscye depth", self.armscye_depth_front),
            ("dart height", self.dart_height),
            ("upper arm girth", self.upper_arm_girth),
            ("elbow girth", self.elbow_girth),
            ("hand girth", self.hand_girth),
            ("shoulder to elbow", self.shoulder_elbow),
            ("elbow to wrist", self.elbow_wrist),
            ("armpit to elbow", self.inside_elbow),
            ("armpit to wrist", self.inside_wrist),
            ("front skirt length", self.skirt_front),
            ("side skirt length", self.skirt_side),
            ("back skirt length", self.skirt_back),
            ("gown length", self.gown_length),
            ("gown sleeve", self.gown_sleeve_add),
            ("gown hem width", self.gown_bottom),
        ];
        match all
            .into_iter()
            .find(|(_, value)| !value.is_finite() || *value <= 0.0)
        {
            Some((measure, value)) => Err(DraftError::BadMeasure { measure, value }),
            None => Ok(self),
        }
    }
}

impl DraftMeasures {
    /// The measures of a body; what is not on its sheet is estimated, by [`Body::measure`] or by the proportions
    /// that stand at the fields here.
    pub fn of(body: &Body) -> Self {
        let mm = |measure| body.mm(measure).0;
        let (back, front, underarm) = (
            mm(Measure::BackWaistLength),
            mm(Measure::FrontWaistLength),
            mm(Measure::UnderarmLength),
        );
        let (arm, elbow, upper_arm) = (
            mm(Measure::ArmLength),
            mm(Measure::ShoulderToElbow),
            mm(Measure::UpperArmGirth),
        );
        let (bust, skirt) = (mm(Measure::BustGirth), mm(Measure::WaistToKnee));
        Self {
            bust_girth: bust,
            waist_girth: mm(Measure::WaistGirth),
            hip_girth: mm(Measure::HipGirth),
            neck_base_girth: mm(Measure::NeckBaseGirth),
            shoulder_length: mm(Measure::ShoulderLength),
            width_of_back: mm(Measure::AcrossBack),
            width_of_front: mm(Measure::AcrossFront),
            back_waist_length: back,
            front_waist_length: front,
            underarm_length: underarm,
            armscye_depth_front: front - underarm,
            dart_height: 0.75 * underarm,
            upper_arm_girth: upper_arm,
            elbow_girth: mm(Measure::ElbowGirth),
            hand_girth: mm(Measure::HandGirth),
            shoulder_elbow: elbow,
            elbow_wrist: arm - elbow,
            inside_elbow: elbow - 0.42 * upper_arm,
            inside_wrist: mm(Measure::InsideArmLength),
            skirt_front: skirt,
            skirt_side: 1.02 * skirt,
            skirt_back: 1.02 * skirt,
            gown_length: 1.06 * back + skirt,
            gown_sleeve_add: 0.3 * arm,
            gown_bottom: 2.0 * bust,
        }
    }
}
