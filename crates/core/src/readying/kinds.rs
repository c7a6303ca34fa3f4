//! Kinds of pieces, told by their shape alone: which side is which, and which way is up.
//!
//! Every kind is a walk round the outline from a centre or cap, with the direction each side should have. A piece is
//! read from every side and both ways round; the best reading of each kind is kept.

use kurbo::Vec2;

use super::sides::{Bit, Drawn, Side};
use crate::edge::Finish;
use crate::piece::Piece;

/// A kind of piece by its sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Family {
    /// Half a front or back: centre, neckline, shoulder, armscye, side, lower edge.
    Bodice,
    /// Its upper part: centre, neckline, shoulder, armscye, lower edge.
    Yoke,
    /// Its lower part: centre, upper edge, armscye, side, lower edge.
    Under,
    /// Cap, underarm, hem, underarm.
    Sleeve,
    /// A panel of a skirt: straight edge, waist, other edge, hem.
    Panel,
    /// Half a leg of trousers: rise, waist, outer seam, hem, inner seam.
    Leg,
    /// Collar, cuff, waistband: outer end, attached edge, end, outer edge.
    Band,
}

/// A side of a piece by what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Role {
    Centre,
    Extension,
    Neckline,
    Shoulder,
    Armscye,
    Side,
    Lower,
    Upper,
    Cap,
    /// The sides of a sleeve or panel: the one nearer to the front, and the other.
    Fronter,
    Backer,
    Hem,
    Waist,
    Rise,
    Outer,
    Inner,
    /// The edge of a band that is sewn on, its ends, and the edge opposite.
    Attached,
    EndOne,
    EndTwo,
    Free,
}

impl Family {
    pub(super) const ALL: [Self; 7] = [
        Self::Bodice,
        Self::Yoke,
        Self::Under,
        Self::Sleeve,
        Self::Panel,
        Self::Leg,
        Self::Band,
    ];

    /// Its sides in the order they are walked.
    pub(super) const fn roles(self) -> &'static [Role] {
        use Role::{
            Armscye, Attached, Backer, Cap, Centre, EndOne, EndTwo, Free, Fronter, Hem, Inner,
            Lower, Neckline, Outer, Rise, Shoulder, Side, Upper, Waist,
        };
        match self {
            Self::Bodice => &[Centre, Neckline, Shoulder, Armscye, Side, Lower],
            Self::Yoke => &[Centre, Neckline, Shoulder, Armscye, Lower],
            Self::Under => &[Centre, Upper, Armscye, Side, Lower],
            Self::Sleeve => &[Cap, Fronter, Hem, Backer],
            Self::Panel => &[Fronter, Waist, Backer, Hem],
            Self::Leg => &[Rise, Waist, Outer, Hem, Inner],
            Self::Band => &[EndOne, Attached, EndTwo, Free],
        }
    }
}

/// A reading of a piece as one kind.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct View {
    pub(super) family: Family,
    /// Its sides in the order of [`Family::roles`], as drawn.
    pub(super) sides: Vec<Side>,
    /// Are they walked against the outline's direction?
    pub(super) against: bool,
    /// Directions in the drawing: along the body upwards, and from the first side to the inside of the piece.
    pub(super) up: Vec2,
    pub(super) out: Vec2,
    /// 0 to 1.
    pub(super) score: f64,
}

/// A score that is 1 at `wanted`, a half `width` away, and falls fast beyond.
pub(super) fn near(x: f64, wanted: f64, width: f64) -> f64 {
    let off = (x - wanted) / width;
    1.0 / (1.0 + off * off * off * off)
}

fn angle_near(angle: f64, wanted: f64, width: f64) -> f64 {
    let off = (angle - wanted + 540.0).rem_euclid(360.0) - 180.0;
    near(off, 0.0, width)
}

fn at_least(x: f64, least: f64, width: f64) -> f64 {
    if x >= least {
        1.0
    } else {
        near(x, least, width)
    }
}

fn at_most(x: f64, most: f64, width: f64) -> f64 {
    at_least(-x, -most, width)
}

/// The best reading of a piece in each kind, the likeliest first. Those that cannot be are left out.
pub(super) fn views(piece: &Piece, drawn: &Drawn) -> Vec<View> {
    let mut best: Vec<View> = Family::ALL
        .into_iter()
        .filter_map(|family| best_view(piece, drawn, family))
        .collect();
    best.sort_by(|a, b| b.score.total_cmp(&a.score));
    best
}

/// Below this a reading is no reading.
pub(super) const LEAST: f64 = 0.02;

fn best_view(piece: &Piece, drawn: &Drawn, family: Family) -> Option<View> {
    let read = drawn.with_sides(family.roles().len())?;
    let passed = libm::pow(0.85, read.passed as f64);
    let darted = if read.darts.is_empty()
        || matches!(
            family,
            Family::Bodice | Family::Panel | Family::Leg | Family::Sleeve
        ) {
        1.0
    } else {
        0.5
    };
    let count = read.sides.len();
    let mut best: Option<View> = None;
    for against in [false, true] {
        for first in 0..count {
            let sides: Vec<Side> = (0..count)
                .filter_map(|step| {
                    let at = if against {
                        first + count - step
                    } else {
                        first + step
                    };
                    read.sides.get(at % count).cloned()
                })
                .collect();
            let Some(mut view) = framed(family, sides, against) else {
                continue;
            };
            let hem = is_hemmed(piece, view.side_at(Role::Hem));
            view.score =
                scored(&view, hem) * grain(piece, &view) * marked(piece, &view) * passed * darted;
            if best.as_ref().is_none_or(|b| b.score < view.score) {
                best = Some(view);
            }
        }
    }
    best.filter(|view| view.score >= LEAST)
}

fn framed(family: Family, sides: Vec<Side>, against: bool) -> Option<View> {
    let mut view = View {
        family,
        sides,
        against,
        up: Vec2::ZERO,
        out: Vec2::ZERO,
        score: 0.0,
    };
    let walked = |k: usize| view.chord(k);
    let up = match family {
        Family::Yoke | Family::Under | Family::Panel => walked(0)?,
        // A centre may lean in below the bust; above it stands upright.
        Family::Bodice => view
            .sides
            .first()
            .map(|side| if against { -side.lead } else { side.tail })?,
        // The attached edge lies level, the piece below or above it; its ends stand up to it.
        Family::Band => quarter_left(walked(1)?, against),
        // The base of the cap lies level; the cap rises from it.
        Family::Sleeve => quarter_left(walked(0)?, against),
        // The hem lies level.
        Family::Leg => quarter_left(-walked(3)?, against),
    };
    let size = up.hypot();
    if size < 1e-6 || !size.is_finite() {
        return None;
    }
    view.up = up / size;
    // Walked with the outline the piece lies to the left, walked against it to the right.
    view.out = if against {
        Vec2::new(view.up.y, -view.up.x)
    } else {
        Vec2::new(-view.up.y, view.up.x)
    };
    Some(view)
}

/// A quarter turn away from the piece.
fn quarter_left(v: Vec2, against: bool) -> Vec2 {
    if against {
        Vec2::new(-v.y, v.x)
    } else {
        Vec2::new(v.y, -v.x)
    }
}

impl View {
    /// From the start to the end of a side, as it is walked.
    pub(super) fn chord(&self, k: usize) -> Option<Vec2> {
        let side = self.sides.get(k)?;
        Some(if self.against {
            -side.chord()
        } else {
            side.chord()
        })
    }

    /// Direction of a side: 0 outwards from the first side, 90 upwards.
    fn angle(&self, k: usize) -> f64 {
        let chord = self.chord(k).unwrap_or_default();
        libm::atan2(chord.dot(self.up), chord.dot(self.out)).to_degrees()
    }

    /// Angle inside the piece between side `k` and the next.
    pub(super) fn corner(&self, k: usize) -> f64 {
        self.sides.get(k).map_or(0.0, |side| {
            if self.against {
                side.before
            } else {
                side.after
            }
        })
    }

    pub(super) fn side_at(&self, role: Role) -> Option<&Side> {
        let at = self.family.roles().iter().position(|r| *r == role)?;
        self.sides.get(at)
    }

    pub(super) fn length(&self, role: Role) -> f64 {
        self.side_at(role).map_or(0.0, |side| side.length)
    }

    /// A side as stretches of edges, in the order it is walked.
    pub(super) fn bits(&self, role: Role) -> Vec<Bit> {
        let Some(side) = self.side_at(role) else {
            return Vec::new();
        };
        let with = side.edges.iter().map(|edge| Bit {
            edge: *edge,
            from: 0.0,
            to: 1.0,
        });
        if self.against {
            with.rev().map(Bit::turned).collect()
        } else {
            with.collect()
        }
    }
}

/// How well the grainline of the drawing, if there is one, stands along the body.
fn grain(piece: &Piece, view: &View) -> f64 {
    let Some((a, b)) = piece.grainline else {
        return 1.0;
    };
    let along = b - a;
    if along.hypot() < 1e-6 || view.family == Family::Band {
        return 1.0;
    }
    let lean = (along.cross(view.up) / along.hypot()).abs();
    near(lean, 0.0, 0.35).max(0.3)
}

fn is_hemmed(piece: &Piece, side: Option<&Side>) -> bool {
    is_finished(piece, side, |finish| matches!(finish, Finish::Hem { .. }))
}

/// Has an edge of a side such a finish?
fn is_finished(piece: &Piece, side: Option<&Side>, wanted: impl Fn(Finish) -> bool) -> bool {
    let edges = side.map_or(&[][..], |side| side.edges.as_slice());
    edges.iter().any(|i| {
        let edge = piece.outline.edges().get(*i);
        edge.is_some_and(|edge| edge.finish.iter().any(|stretch| wanted(stretch.finish)))
    })
}

/// How well hems and folds that are marked on the drawing lie where the kind has them.
fn marked(piece: &Piece, view: &View) -> f64 {
    let against = |role: &Role, side: &Side| {
        let hem =
            !matches!(role, Role::Hem | Role::Lower | Role::Free) && is_hemmed(piece, Some(side));
        let can_fold = matches!(
            role,
            Role::Centre | Role::Fronter | Role::Backer | Role::EndOne | Role::EndTwo
        );
        let fold = !can_fold && is_finished(piece, Some(side), |finish| finish == Finish::Fold);
        hem || fold
    };
    let off = view.family.roles().iter().zip(&view.sides);
    if off.into_iter().any(|(role, side)| against(role, side)) {
        0.1
    } else {
        1.0
    }
}

/// `hem`: the hem is marked, so that it need not be told from the waist.
fn scored(v: &View, hem: bool) -> f64 {
    let side = |k: usize| v.sides.get(k);
    let turn = |k: usize| side(k).map_or(0.0, |s| s.turn);
    let length = |k: usize| side(k).map_or(0.0, |s| s.length);
    let straight = |k: usize| side(k).map_or(0.0, |s| near(s.off, 0.0, 0.03));
    let bent = |k: usize| side(k).map_or(0.0, |s| near(s.off, 0.0, 0.09));
    let ratio = |a: f64, b: f64| libm::log(a.max(1e-9) / b.max(1e-9));
    match v.family {
        Family::Bodice => {
            straight(0)
                * near(v.corner(5), 90.0, 20.0)
                * near(v.corner(0), 90.0, 30.0)
                * neck(v)
                * angle_near(v.angle(3), -70.0, 40.0)
                * at_most(turn(3), -15.0, 25.0)
                * angle_near(v.angle(4), -92.0, 28.0)
                * bent(4)
                * angle_near(v.angle(5), 180.0, 22.0)
                * at_most(turn(5), 40.0, 20.0)
                * at_least(length(0) / length(4).max(1e-9), 0.9, 0.3)
        }
        Family::Yoke => {
            straight(0)
                * near(v.corner(4), 90.0, 15.0)
                * near(v.corner(0), 90.0, 30.0)
                * neck(v)
                * angle_near(v.angle(3), -92.0, 30.0)
                * near(v.corner(3), 90.0, 25.0)
                * bent(4)
                * angle_near(v.angle(4), 180.0, 20.0)
                * at_most(length(3) / length(4).max(1e-9), 1.6, 0.5)
                // Its armscye is hollow; the hem of a leg, which lies like it, is not.
                * at_most(turn(3), -4.0, 3.0)
                // A yoke is wider than it is deep.
                * at_most(length(0) / length(4).max(1e-9), 1.2, 0.4)
        }
        Family::Under => {
            straight(0)
                * near(v.corner(4), 90.0, 15.0)
                * near(v.corner(0), 90.0, 12.0)
                * angle_near(v.angle(1), 0.0, 15.0)
                * bent(1)
                * angle_near(v.angle(2), -50.0, 35.0)
                * at_most(turn(2), -20.0, 25.0)
                * angle_near(v.angle(3), -90.0, 25.0)
                * bent(3)
                * angle_near(v.angle(4), 180.0, 22.0)
                * at_most(length(2) / length(3).max(1e-9), 1.1, 0.4)
                * at_least(length(4) / armpit_width(v), 0.85, 0.12)
        }
        Family::Sleeve => {
            let base = v.chord(0).map_or(0.0, |c| c.hypot()).max(1e-9);
            near(ratio(length(1), length(3)), 0.0, 0.06)
                * side(0).map_or(0.0, |s| {
                    at_least(s.bulge, 0.12, 0.06) * at_most(s.bulge, 0.9, 0.3)
                })
                * angle_near(v.angle(1), -90.0, 30.0)
                * angle_near(v.angle(3), 90.0, 30.0)
                * bent(1)
                * bent(3)
                * angle_near(v.angle(2), 180.0, 25.0)
                * at_least(length(2) / base, 0.35, 0.15)
                * at_most(length(2) / base, 1.7, 0.4)
                * at_least(length(1) / base, 0.12, 0.08)
        }
        Family::Panel => {
            let square = |k: usize, width: f64| near(v.corner(k), 90.0, width);
            straight(0)
                * straight(2)
                * square(0, 25.0)
                * square(3, 25.0)
                * near(v.corner(1), 90.0, 40.0)
                * near(v.corner(2), 90.0, 40.0)
                // The side that stands more square is the straight grain.
                * (0.6 + 0.4 * square(0, 4.0) * square(3, 4.0))
                * near(ratio(length(0), length(2)), 0.0, 0.2)
                * at_most(turn(1), 12.0, 15.0)
                * at_least(turn(3), -20.0, 15.0)
                * if hem { 1.0 } else { widens(length(1), length(3)) }
                * at_least(length(0) / length(1).max(1e-9), 0.55, 0.15)
                * at_most(length(0) / length(1).max(1e-9), 25.0, 8.0)
        }
        Family::Leg => {
            at_most(turn(0), -12.0, 15.0)
                * angle_near(v.angle(0), 80.0, 35.0)
                * angle_near(v.angle(1), 0.0, 25.0)
                * bent(1)
                * angle_near(v.angle(2), -90.0, 20.0)
                * angle_near(v.angle(3), 180.0, 10.0)
                * angle_near(v.angle(4), 90.0, 20.0)
                * at_most(v.corner(4), 125.0, 20.0)
                * near(length(4) / length(2).max(1e-9), 0.7, 0.25)
                * near(length(0) / length(2).max(1e-9), 0.35, 0.2)
        }
        Family::Band => {
            let (long, short) = (length(1).min(length(3)), length(0).max(length(2)));
            straight(1).max(0.5 * bent(1))
                * straight(0)
                * straight(2)
                * near(v.corner(0), 90.0, 40.0)
                * near(v.corner(1), 90.0, 40.0)
                * near(ratio(length(0), length(2)), 0.0, 0.5)
                * near(ratio(length(1), length(3)), 0.0, 0.3)
                * at_least(long / short.max(1e-9), 2.0, 0.5)
                * 0.8
        }
    }
}

/// From the centre to the armpit of the lower part of a body, level.
fn armpit_width(v: &View) -> f64 {
    let along = |k: usize| v.chord(k).map_or(0.0, |chord| chord.dot(v.out));
    (along(1) + along(2)).max(1e-9)
}

/// A panel is no wider at the waist than at the hem.
fn widens(waist: f64, hem: f64) -> f64 {
    at_most(waist / hem.max(1e-9), 1.0, 0.1) * if waist <= hem { 1.0 } else { 0.9 }
}

/// A panel as wide at the waist as at the hem is gathered: it is no long strip.
pub(super) fn is_panel_not_strip(view: &View) -> f64 {
    let (side, waist, hem) = (
        view.length(Role::Fronter),
        view.length(Role::Waist).max(1e-9),
        view.length(Role::Hem),
    );
    let flared = at_least(hem / waist, 1.3, 0.15);
    flared.max(at_most(side / waist, 1.8, 0.4))
}

/// Neckline and shoulder of a half front or back.
fn neck(v: &View) -> f64 {
    let (Some(neckline), Some(shoulder)) = (v.sides.get(1), v.sides.get(2)) else {
        return 0.0;
    };
    angle_near(v.angle(1), 38.0, 42.0)
        * at_most(neckline.turn, 5.0, 25.0)
        * angle_near(v.angle(2), -20.0, 28.0)
        * near(shoulder.off, 0.0, 0.06)
        * at_most(neckline.bulge, 0.03, 0.1)
}
