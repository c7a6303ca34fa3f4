//! A fitting: one garment on one target body, with its choices and alterations.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::allowance::AllowancePlan;
use crate::alteration::Alteration;
use crate::body::Body;
use crate::closure::Closure;
use crate::cloth::Cloth;
use crate::ease::{EasePolicy, cloth_term};
use crate::lay_plan::LayPlan;
use crate::laying::Laying;
use crate::making_order::MakingOrder;
use crate::measure::Measure;
use crate::pad::{Pad, measured_over};
use crate::paper::PaperSettings;
use crate::piece::Role;
use crate::tape::Hold;
use crate::units::Mm;

/// One garment on one target body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fitting {
    /// Unique in its project.
    pub name: String,
    /// Name of the garment.
    pub garment: String,
    /// The target body.
    pub body: Arc<Body>,
    /// How ease is brought over.
    pub ease: EasePolicy,
    /// How pieces keep their shape, where the maker chose otherwise than the program.
    #[serde(default)]
    pub shaping: BTreeMap<String, Shaping>,
    /// Choices about single demands, by the name of their tape line or seam.
    #[serde(default)]
    pub demands: BTreeMap<String, DemandChoice>,
    /// What details (collar, cuff, ruffle depth, pocket, hem) follow.
    pub details: DetailRule,
    /// The same for single pieces.
    #[serde(default)]
    pub detail_of: BTreeMap<String, DetailRule>,
    /// The doll-size cloth of each layer.
    #[serde(default)]
    pub cloths: BTreeMap<Role, Cloth>,
    /// Thickness of each layer worn underneath, innermost first.
    #[serde(default)]
    pub worn_underneath: Vec<Mm>,
    /// What lies underneath girth by girth, as worn in an outfit; takes the place of `worn_underneath`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub as_worn: Option<AsWorn>,
    /// Stuffed pieces worn underneath.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pads_underneath: Vec<Pad>,
    /// What closes its openings, by their names, where the maker chose otherwise than the program.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub closures: BTreeMap<String, Closure>,
    /// Wears shoes?
    #[serde(default)]
    pub with_shoes: bool,
    /// Allowances and hems at doll size.
    pub allowances: AllowancePlan,
    /// Work by hand, replayed after every solve.
    #[serde(default)]
    pub alterations: Vec<Alteration>,
    /// How it is printed.
    pub paper: PaperSettings,
    /// How the pieces are laid on cloth.
    #[serde(default)]
    pub laying: Laying,
    /// Where the pieces lie on cloth.
    #[serde(default)]
    pub lay_plan: Option<LayPlan>,
    /// Order of work.
    #[serde(default)]
    pub making: MakingOrder,
}

/// What lies underneath, as worn in an outfit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AsWorn {
    /// Name of the outfit.
    pub outfit: String,
    /// Thickness of everything underneath at each girth; where a girth is not named, nothing lies underneath.
    pub stacks: BTreeMap<Measure, Mm>,
}

/// What may change least when a piece is adapted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Shaping {
    /// Stay close to the shape of the body: body blocks.
    FollowBody,
    /// Keep every direction and an even scale along each edge: flared and circular pieces.
    KeepDirections,
}

/// What details follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DetailRule {
    /// Target height / source height.
    #[default]
    Height,
    /// Target girth / source girth (bust; head for hats).
    Girth,
}

/// A maker's choice about one demand.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct DemandChoice {
    /// Fitted or hanging, instead of the garment's own.
    pub hold: Option<Hold>,
    /// Finished measure, instead of the computed one.
    pub measure: Option<Mm>,
    /// Ease on the body, instead of the policy's (cloth term still added).
    pub ease: Option<Mm>,
    /// Rank: 1 is kept longest. Without it, the kind of the demand decides.
    pub rank: Option<u8>,
}

impl Fitting {
    /// A fitting with every choice at its default.
    pub fn new(name: impl Into<String>, garment: impl Into<String>, body: Arc<Body>) -> Self {
        Self {
            name: name.into(),
            garment: garment.into(),
            body,
            ease: EasePolicy::default(),
            shaping: BTreeMap::new(),
            demands: BTreeMap::new(),
            details: DetailRule::default(),
            detail_of: BTreeMap::new(),
            cloths: BTreeMap::new(),
            worn_underneath: Vec::new(),
            as_worn: None,
            pads_underneath: Vec::new(),
            closures: BTreeMap::new(),
            with_shoes: false,
            allowances: AllowancePlan::default(),
            alterations: Vec::new(),
            paper: PaperSettings::default(),
            laying: Laying::default(),
            lay_plan: None,
            making: MakingOrder::default(),
        }
    }
    /// Thickness of everything worn underneath at a girth.
    pub fn stack_underneath(&self, measure: Measure) -> Mm {
        match &self.as_worn {
            Some(worn) => worn.stacks.get(&measure).copied().unwrap_or_default(),
            None => Mm(self.worn_underneath.iter().map(|layer| layer.0).sum()),
        }
    }

    /// What a tape round the target body reads over the pads worn underneath: its girth, and what they add to it with the
    /// cloth between.
    pub fn girth_over_pads(&self, measure: Measure) -> Mm {
        let bare = self.body.mm(measure);
        let cloth = cloth_term(&[self.stack_underneath(measure)], Mm(0.0));
        measured_over(&self.pads_underneath, &self.body, measure, bare + cloth) - cloth
    }
}
