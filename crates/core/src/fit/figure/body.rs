//! The body from its girths, lengths and widths: one ring for every girth, limbs between them.
//!
//! Every ring has exactly the girth of its measure. Its shape is an ellipse: where a width across the body is given,
//! the depth follows; elsewhere a stated proportion. Proportions and places without a measure are our own, no source.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use super::ellipse;
use super::look::InSpace;
use super::solid::{Hoop, Limb, Solid, smooth};
use crate::body::{Body, Origin};
use crate::measure::{Level, Measure};
use crate::units::Mm;

/// A girth of the body as a ring in space.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyRing {
    /// Which girth.
    pub measure: Measure,
    /// Round what.
    pub limb: Limb,
    /// Its level, where it lies on one.
    pub level: Option<Level>,
    /// Where and how large.
    pub hoop: Hoop,
    /// Is the girth given or estimated?
    pub origin: Origin,
    /// What gave its shape.
    pub shaped_by: ShapedBy,
}

/// What gave a ring its shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShapedBy {
    /// A width that stands on the body sheet.
    Width(Measure),
    /// So many times as deep as wide, a proportion of our own.
    Proportion(f64),
}

/// A body as limbs and rings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BodyFigure {
    /// The limbs.
    pub limbs: Vec<Solid>,
    /// Every girth, head to foot; arms and legs on both sides.
    pub rings: Vec<BodyRing>,
    /// From the floor to the crown.
    pub height: Mm,
    /// Heights of the levels of trunk and leg above the floor.
    levels: BTreeMap<Level, Mm>,
}

impl BodyFigure {
    /// How far a level of trunk or leg lies above the floor; `None` for levels of arm and head.
    pub fn height_of(&self, level: Level) -> Option<Mm> {
        self.levels.get(&level).copied()
    }

    /// The ring of a girth; of a pair, the wearer's left one, which the front view shows to the right.
    pub fn ring(&self, measure: Measure) -> Option<&BodyRing> {
        self.rings.iter().find(|ring| ring.measure == measure)
    }

    /// The rings of a girth: two for arms and legs.
    pub fn rings_of(&self, measure: Measure) -> impl Iterator<Item = &BodyRing> {
        self.rings
            .iter()
            .filter(move |ring| ring.measure == measure)
    }
}

/// How many times as deep as wide a section is where no width is given: proportions of our own, no source.
fn proportion(measure: Measure) -> f64 {
    match measure {
        Measure::HeadGirth | Measure::HeadGirthWithWig => 1.2,
        Measure::NeckGirth => 0.95,
        Measure::NeckBaseGirth => 0.8,
        Measure::BustGirth => 0.78,
        Measure::UnderbustGirth => 0.74,
        Measure::WaistGirth => 0.74,
        Measure::HipGirth => 0.70,
        Measure::HandGirth => 1.8,
        _ => 1.0,
    }
}

/// A depth that is no less and no more than so many times the width is believed; else the width does not fit the girth.
const BELIEVED: std::ops::RangeInclusive<f64> = 0.45..=1.3;

/// Steps between two rings of a limb.
const BETWEEN: u32 = 6;

/// How far arms stand away from the trunk, radians (for the picture, no source).
const ARMS_AWAY: f64 = 0.2;

/// Builds a body from its measures; missing ones are estimated by [`Body::measure`], so it never fails.
pub fn body_figure(body: &Body) -> BodyFigure {
    let builder = Builder::new(body);
    let mut rings = builder.head();
    let trunk = builder.trunk();
    rings.extend(trunk.iter().cloned());
    let mut limbs = vec![builder.head_solid(), builder.trunk_solid(&trunk)];
    for side in [1.0, -1.0] {
        let arm = builder.arm(side);
        limbs.push(builder.arm_solid(&arm, side));
        rings.extend(arm);
        let leg = builder.leg(side);
        limbs.push(builder.leg_solid(&leg, side));
        rings.extend(leg);
    }
    BodyFigure {
        limbs,
        rings,
        height: Mm(builder.crown),
        levels: ON_TRUNK
            .into_iter()
            .map(|level| (level, Mm(builder.height(level))))
            .collect(),
    }
}

/// Levels whose height is counted from the nape.
const ON_TRUNK: [Level; 10] = [
    Level::Nape,
    Level::ShoulderPoint,
    Level::Across,
    Level::Bust,
    Level::Waist,
    Level::Hip,
    Level::Crotch,
    Level::Knee,
    Level::Ankle,
    Level::Floor,
];

struct Builder<'a> {
    body: &'a Body,
    /// Heights above the floor.
    nape: f64,
    crown: f64,
    /// Half the width of the hip ring, on which the legs stand.
    hip: f64,
}

impl<'a> Builder<'a> {
    fn new(body: &'a Body) -> Self {
        let nape = -body.height_of(Level::Floor).0;
        // A head is never lower than a ball of its girth is high, whatever height the sheet says.
        let head = body.mm(Measure::HeadGirth).0 / PI;
        let crown = body.mm(Measure::Height).0.max(nape + head);
        let hip = ring_shape(body, Measure::HipGirth).0;
        Self {
            body,
            nape,
            crown,
            hip,
        }
    }

    fn mm(&self, measure: Measure) -> f64 {
        self.body.mm(measure).0
    }

    /// Height of a level of trunk or leg above the floor.
    fn height(&self, level: Level) -> f64 {
        self.nape + self.body.height_of(level).0
    }

    fn ring(&self, measure: Measure, limb: Limb, centre: InSpace, lean: f64) -> BodyRing {
        let (half_width, half_depth, shaped_by) = ring_shape(self.body, measure);
        BodyRing {
            measure,
            limb,
            level: Level::ALL
                .into_iter()
                .find(|level| level.girth() == Some(measure)),
            hoop: Hoop {
                centre,
                half_width,
                half_depth,
                lean,
            },
            origin: self
                .body
                .given(measure)
                .map_or(Origin::Estimated, |given| given.origin),
            shaped_by,
        }
    }

    /// The brow lies as far below the crown as the level says, but above the chin.
    fn brow(&self) -> f64 {
        let head = self.crown - self.nape;
        let below = -self.body.height_of(Level::Brow).0;
        self.crown - below.clamp(0.2 * head, 0.6 * head)
    }

    fn chin(&self) -> f64 {
        self.nape + 0.14 * (self.crown - self.nape)
    }

    fn head(&self) -> Vec<BodyRing> {
        let at = |height| InSpace::new(0.0, height, 0.0);
        let wig = self.mm(Measure::HeadGirthWithWig) > self.mm(Measure::HeadGirth) + 1e-6;
        let mut rings = vec![self.ring(Measure::HeadGirth, Limb::Head, at(self.brow()), 0.0)];
        if wig {
            rings.push(self.ring(Measure::HeadGirthWithWig, Limb::Head, at(self.brow()), 0.0));
        }
        rings
    }

    /// A ball above the brow, below it drawn in to the chin.
    fn head_solid(&self) -> Solid {
        let (half_width, half_depth, _) = ring_shape(self.body, Measure::HeadGirth);
        let (brow, chin) = (self.brow(), self.chin());
        let hoop = |height: f64, times: f64| Hoop {
            centre: InSpace::new(0.0, height, 0.0),
            half_width: times * half_width,
            half_depth: times * half_depth,
            lean: 0.0,
        };
        let above = (0..=8).map(|i| {
            let angle = 0.5 * PI * f64::from(i) / 8.0;
            hoop(
                brow + (self.crown - brow) * libm::cos(angle),
                libm::sin(angle).max(0.02),
            )
        });
        let below = (1..=8).map(|i| {
            let down = f64::from(i) / 8.0;
            hoop(
                brow - (brow - chin) * down,
                1.0 - 0.58 * libm::pow(down, 2.2),
            )
        });
        Solid {
            limb: Limb::Head,
            hoops: above.chain(below).collect(),
        }
    }

    fn trunk(&self) -> Vec<BodyRing> {
        let (bust, waist) = (self.height(Level::Bust), self.height(Level::Waist));
        let neck = self.nape + 0.5 * (self.chin() - self.nape);
        let places = [
            (Measure::NeckGirth, neck),
            (Measure::NeckBaseGirth, self.nape),
            (Measure::BustGirth, bust),
            // No level of its own: a third of the way to the waist.
            (Measure::UnderbustGirth, bust + (waist - bust) / 3.0),
            (Measure::WaistGirth, waist),
            (Measure::HipGirth, self.height(Level::Hip)),
        ];
        places
            .into_iter()
            .map(|(measure, height)| {
                self.ring(measure, Limb::Trunk, InSpace::new(0.0, height, 0.0), 0.0)
            })
            .collect()
    }

    /// The girths, the widths between them, and down to where the legs part.
    fn trunk_solid(&self, rings: &[BodyRing]) -> Solid {
        let mut hoops: Vec<Hoop> = rings.iter().map(|ring| ring.hoop).collect();
        let depth = |measure| ring_shape(self.body, measure).1;
        let (neck, bust) = (depth(Measure::NeckBaseGirth), depth(Measure::BustGirth));
        let level = |level, half_width: f64, half_depth| Hoop {
            centre: InSpace::new(0.0, self.height(level), 0.0),
            half_width,
            half_depth,
            lean: 0.0,
        };
        let across = 0.25 * (self.mm(Measure::AcrossFront) + self.mm(Measure::AcrossBack));
        hoops.push(level(
            Level::ShoulderPoint,
            0.46 * self.mm(Measure::ShoulderWidth),
            0.5 * (neck + bust) * 0.9,
        ));
        hoops.push(level(Level::Across, across, 0.3 * neck + 0.7 * bust));
        let (thigh, thigh_depth) = self.thigh();
        let crotch = level(Level::Crotch, 2.0 * thigh, thigh_depth);
        hoops.push(crotch);
        hoops.sort_by(|a, b| b.centre.y.total_cmp(&a.centre.y));
        smooth(Limb::Trunk, &hoops, BETWEEN)
    }

    fn arm(&self, side: f64) -> Vec<BodyRing> {
        let limb = if side > 0.0 {
            Limb::LeftArm
        } else {
            Limb::RightArm
        };
        let down = |level: Level| -self.body.height_of(level).0;
        let places = [
            (Measure::UpperArmGirth, down(Level::Underarm).max(0.0)),
            (Measure::ElbowGirth, down(Level::Elbow)),
            (Measure::WristGirth, down(Level::Wrist)),
            (Measure::HandGirth, down(Level::Wrist) + 0.5 * self.hand()),
        ];
        places
            .into_iter()
            .map(|(measure, down)| {
                self.ring(measure, limb, self.on_arm(side, down), side * ARMS_AWAY)
            })
            .collect()
    }

    /// As long as its girth (for the picture, no source).
    fn hand(&self) -> f64 {
        0.95 * self.mm(Measure::HandGirth)
    }

    /// A place on the middle of an arm, so far down from the shoulder point.
    fn on_arm(&self, side: f64, down: f64) -> InSpace {
        let thick = ring_shape(self.body, Measure::UpperArmGirth).0;
        let shoulder = InSpace::new(
            side * (0.5 * self.mm(Measure::ShoulderWidth) - 0.55 * thick),
            self.height(Level::ShoulderPoint) - 0.3 * thick,
            0.0,
        );
        let way = InSpace::new(side * libm::sin(ARMS_AWAY), -libm::cos(ARMS_AWAY), 0.0);
        shoulder.plus(down, way)
    }

    fn arm_solid(&self, rings: &[BodyRing], side: f64) -> Solid {
        let thick = ring_shape(self.body, Measure::UpperArmGirth).0;
        let free = |down: f64, half: f64, depth: f64| Hoop {
            centre: self.on_arm(side, down),
            half_width: half,
            half_depth: depth,
            lean: side * ARMS_AWAY,
        };
        let hand = ring_shape(self.body, Measure::HandGirth);
        let wrist = -self.body.height_of(Level::Wrist).0;
        // Rounded off over the shoulder (for the picture, no source).
        let mut hoops = vec![
            free(-0.55 * thick, 0.2 * thick, 0.2 * thick),
            free(-0.35 * thick, 0.55 * thick, 0.55 * thick),
            free(0.0, 0.8 * thick, 0.8 * thick),
        ];
        hoops.extend(rings.iter().map(|ring| ring.hoop));
        hoops.push(free(wrist + self.hand(), 0.45 * hand.0, 0.45 * hand.1));
        hoops.sort_by(|a, b| b.centre.y.total_cmp(&a.centre.y));
        let limb = rings.first().map_or(Limb::LeftArm, |ring| ring.limb);
        smooth(limb, &hoops, BETWEEN)
    }

    /// Half width and half depth of a thigh: round, unless two of them side by side would be wider than the hips.
    fn thigh(&self) -> (f64, f64) {
        let girth = self.mm(Measure::ThighGirth);
        let (round, _) = ellipse::of_proportion(girth, 1.0);
        let widest = 0.49 * self.hip;
        if round <= widest {
            return (round, round);
        }
        // No deeper than so many times its width, or it would look like a board.
        ellipse::depth_for(girth, widest)
            .filter(|depth| *depth <= 1.6 * widest)
            .map_or_else(
                || ellipse::of_proportion(girth, 1.6),
                |depth| (widest, depth),
            )
    }

    fn leg(&self, side: f64) -> Vec<BodyRing> {
        let limb = if side > 0.0 {
            Limb::LeftLeg
        } else {
            Limb::RightLeg
        };
        let (knee, ankle) = (self.height(Level::Knee), self.height(Level::Ankle));
        let places = [
            (Measure::ThighGirth, self.height(Level::Crotch)),
            (Measure::KneeGirth, knee),
            // No level of its own: a third of the way from the knee to the ankle.
            (Measure::CalfGirth, knee + (ankle - knee) / 3.0),
            (Measure::AnkleGirth, ankle),
        ];
        places
            .into_iter()
            .map(|(measure, height)| {
                let mut ring = self.ring(measure, limb, self.on_leg(side, height), 0.0);
                if measure == Measure::ThighGirth {
                    let (half_width, half_depth) = self.thigh();
                    ring.hoop = Hoop {
                        half_width,
                        half_depth,
                        ..ring.hoop
                    };
                    ring.shaped_by = ShapedBy::Proportion(half_depth / half_width.max(1e-9));
                }
                ring
            })
            .collect()
    }

    /// A place on the middle of a leg: half the hips from the middle at the crotch, a little closer at the ankle.
    fn on_leg(&self, side: f64, height: f64) -> InSpace {
        let top = self.height(Level::Crotch).max(1e-6);
        let thigh = self.thigh().0 * 1.04;
        let foot = 1.35 * ring_shape(self.body, Measure::AnkleGirth).0;
        let up = (height / top).clamp(0.0, 1.0);
        InSpace::new(side * (foot + (thigh - foot) * up), height, 0.0)
    }

    fn leg_solid(&self, rings: &[BodyRing], side: f64) -> Solid {
        let mut hoops: Vec<Hoop> = rings.iter().map(|ring| ring.hoop).collect();
        hoops.sort_by(|a, b| b.centre.y.total_cmp(&a.centre.y));
        let foot = self.mm(Measure::FootLength);
        let ankle = ring_shape(self.body, Measure::AnkleGirth).1;
        let sole = |height: f64, share: f64| {
            let half_depth = 0.5 * share * foot;
            let mut centre = self.on_leg(side, height);
            centre.z = (half_depth - ankle).max(0.0);
            Hoop {
                centre,
                half_width: 0.19 * foot,
                half_depth: half_depth.max(0.5 * ankle),
                lean: 0.0,
            }
        };
        let instep = 0.4 * self.height(Level::Ankle).max(0.0);
        hoops.push(sole(instep, 0.85));
        hoops.push(sole(0.0, 1.0));
        let limb = rings.first().map_or(Limb::LeftLeg, |ring| ring.limb);
        smooth(limb, &hoops, BETWEEN)
    }
}

/// Half width and half depth of the ring of a girth, and what shaped it.
///
/// A width of bust, waist or hip that stands on the sheet is the width of its ring, where the depth that follows is one
/// that a body can have. At the bust the widths across front and back stand in for it: half their sum.
fn ring_shape(body: &Body, measure: Measure) -> (f64, f64, ShapedBy) {
    let girth = body.mm(measure).0;
    for (by, half_width) in given_widths(body, measure) {
        let believed = ellipse::depth_for(girth, half_width)
            .filter(|depth| BELIEVED.contains(&(depth / half_width)));
        if let Some(half_depth) = believed {
            return (half_width, half_depth, ShapedBy::Width(by));
        }
    }
    let times = proportion(measure);
    let (half_width, half_depth) = ellipse::of_proportion(girth, times);
    (half_width, half_depth, ShapedBy::Proportion(times))
}

/// Half the width of the body at a girth, where one stands on the sheet; the best known first.
fn given_widths(body: &Body, measure: Measure) -> Vec<(Measure, f64)> {
    let given = |width: Measure| {
        let figure = body.given(width)?;
        (figure.origin != Origin::Estimated).then_some(figure.value.0)
    };
    let straight = match measure {
        Measure::BustGirth => Measure::BustWidth,
        Measure::WaistGirth => Measure::WaistWidth,
        Measure::HipGirth => Measure::HipWidth,
        _ => return Vec::new(),
    };
    let mut all: Vec<(Measure, f64)> = given(straight)
        .map(|width| (straight, 0.5 * width))
        .into_iter()
        .collect();
    if measure == Measure::BustGirth {
        match (given(Measure::AcrossFront), given(Measure::AcrossBack)) {
            (Some(front), Some(back)) => all.push((Measure::AcrossBack, 0.25 * (front + back))),
            (Some(front), None) => all.push((Measure::AcrossFront, 0.5 * front)),
            (None, Some(back)) => all.push((Measure::AcrossBack, 0.5 * back)),
            (None, None) => {}
        }
    }
    all
}
