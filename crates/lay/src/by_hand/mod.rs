//! Laying by hand: what a held part would hit, where it would just touch, how far it may be turned, whether it may be flipped.
//!
//! Pure functions of what is there, quick enough to be asked on every frame. [`Table::faults`] is the check itself, so what
//! is free here is free in the saved plan.

mod contact;
mod snap;

use std::sync::Arc;

use petitoile_core::Degrees;
use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::{LayPlan, PartRef, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, ToLay};
use petitoile_core::piece::Face;

use crate::check_plan::{PlanFault, check_part};
use crate::lying::{copy_of, moved, outline_on_offcut, shape_of};
use contact::Shape;
use snap::Around;

/// What lies on the cloth while one part is held in the hand.
#[derive(Debug, Clone, Copy)]
pub struct Table<'a> {
    /// What is to be laid.
    pub to_lay: &'a ToLay,
    /// The offcuts.
    pub offcuts: &'a [Arc<Offcut>],
    /// What lies there; the held part of it does not count.
    pub plan: &'a LayPlan,
}

impl<'a> Table<'a> {
    /// Everything that is wrong with a part where it is held; empty: it is free and lies right.
    pub fn faults(&self, held: &Placed) -> Vec<PlanFault> {
        check_part(self.to_lay, self.offcuts, self.plan, held)
    }

    /// A part as it comes to an offcut: the right side up, along the grain, its middle at this point. `None` when there is no
    /// such part or offcut.
    pub fn laid_at(&self, part: &PartRef, offcut: &str, middle: Point) -> Option<Placed> {
        let shape = shape_of(self.to_lay, self.plan, part)?;
        let offcut = self.offcut(offcut)?;
        let mirrored = mirrored_on(&shape, offcut);
        let placed = Placed {
            piece: part.of.piece.clone(),
            copy: part.of.copy,
            number: part.of.number,
            part: part.part,
            offcut: offcut.name.clone(),
            turn: along(&shape, offcut, mirrored),
            moved: (0.0, 0.0),
            mirrored,
            pinned: false,
            as_cut: None,
        };
        let now = middle_of(&moved(&placed, &shape.outline))?;
        Some(moved_by(&placed, middle - now))
    }

    /// A held part taken over to another offcut with its middle at this point: turned and mirrored as that offcut wants it, as far
    /// off the grain as it was.
    pub fn carried_to(&self, held: &Placed, offcut: &str, middle: Point) -> Option<Placed> {
        let fresh = self.laid_at(&held.part_ref(), offcut, middle)?;
        let off = self.off_grain(held).unwrap_or(Degrees(0.0));
        let carried = self.turned_to(&fresh, off)?;
        Some(Placed {
            pinned: held.pinned,
            ..carried
        })
    }

    /// How far a part is turned off the grain, degrees, from -180 to 180; about 180 is upside down.
    pub fn off_grain(&self, held: &Placed) -> Option<Degrees> {
        let shape = shape_of(self.to_lay, self.plan, &held.part_ref())?;
        let true_turn = along(&shape, self.offcut(&held.offcut)?, held.mirrored);
        Some(Degrees(libm::remainder(held.turn.0 - true_turn.0, 360.0)))
    }

    /// How far a part may be turned off the grain on this offcut: its own tolerance and the doubt of the offcut's grain.
    pub fn may_turn(&self, held: &Placed) -> Option<Degrees> {
        let copy = self.copy(held)?;
        let doubt = self.offcut(&held.offcut)?.grain_doubt.0.abs();
        Some(Degrees((copy.grain_tolerance.0.abs() + doubt).min(180.0)))
    }

    /// May it lie upside down on this offcut?
    pub fn may_lie_upside_down(&self, held: &Placed) -> bool {
        let there = self.copy(held).zip(self.offcut(&held.offcut));
        there.is_some_and(|(copy, offcut)| copy.upside_down && !offcut.nap)
    }

    /// May it be flipped over on this offcut? Only where both sides are alike.
    pub fn may_flip(&self, held: &Placed) -> bool {
        self.offcut(&held.offcut)
            .is_some_and(|offcut| offcut.sides_alike)
    }

    /// Turned about its middle by an angle, as far as the grain allows; past half way upside down it goes over where that is
    /// allowed.
    pub fn turned_by(&self, held: &Placed, by: Degrees) -> Option<Placed> {
        let now = self.off_grain(held)?;
        self.turned_to(held, Degrees(now.0 + by.0))
    }

    /// Turned about its middle to an angle off the grain, as near as the grain allows.
    pub fn turned_to(&self, held: &Placed, off: Degrees) -> Option<Placed> {
        let (shape, offcut) = (
            shape_of(self.to_lay, self.plan, &held.part_ref())?,
            self.offcut(&held.offcut)?,
        );
        let limit = self.may_turn(held)?.0;
        let wished = libm::remainder(off.0, 360.0);
        let over = self.may_lie_upside_down(held) && wished.abs() > 90.0;
        let from = if over {
            180.0_f64.copysign(wished)
        } else {
            0.0
        };
        let allowed = from + (wished - from).clamp(-limit, limit);
        let turn = along(&shape, offcut, held.mirrored).0 + allowed;
        let turned = Placed {
            turn: Degrees(libm::remainder(turn, 360.0)),
            ..held.clone()
        };
        self.about_middle(held, turned, &shape)
    }

    /// Turned about its middle by half a turn; the way round, where it may not lie upside down, is told by [`Self::faults`].
    pub fn turned_over_end(&self, held: &Placed) -> Option<Placed> {
        let shape = shape_of(self.to_lay, self.plan, &held.part_ref())?;
        let turned = Placed {
            turn: Degrees(libm::remainder(held.turn.0 + 180.0, 360.0)),
            ..held.clone()
        };
        self.about_middle(held, turned, &shape)
    }

    /// Flipped left to right about the line of its grain; whether it may lie so, is told by [`Self::may_flip`] and
    /// [`Self::faults`].
    pub fn flipped(&self, held: &Placed) -> Option<Placed> {
        let shape = shape_of(self.to_lay, self.plan, &held.part_ref())?;
        let off = self.off_grain(held)?;
        let mirrored = !held.mirrored;
        let turn = along(&shape, self.offcut(&held.offcut)?, mirrored).0 - off.0;
        let flipped = Placed {
            turn: Degrees(libm::remainder(turn, 360.0)),
            mirrored,
            ..held.clone()
        };
        self.about_middle(held, flipped, &shape)
    }

    /// Moved by at most `reach` to a place where it is free and touches what is near, its gap and margin kept: one thing, or two
    /// where they make a corner. `None` when there is no free place within reach. Turn and offcut stay.
    pub fn snapped(&self, held: &Placed, reach: f64) -> Option<Placed> {
        let (part, around) = self.around(held, Some(reach))?;
        Some(moved_by(held, around.snapped(&part, reach)?))
    }

    /// Pushed in a direction until it touches, at most `reach`; when it is not free, to the first place in that direction where
    /// it is. `None` when there is none.
    pub fn pushed(&self, held: &Placed, direction: Vec2, reach: f64) -> Option<Placed> {
        let (part, around) = self.around(held, None)?;
        Some(moved_by(held, around.pushed(&part, direction, reach)?))
    }

    /// For many questions about one part that is moved without turning it.
    pub(crate) fn probe(&self, held: &Placed) -> Option<Probe> {
        let (part, around) = self.around(held, None)?;
        Some(Probe { part, around })
    }

    /// The outline of a held part on its offcut.
    pub fn outline(&self, held: &Placed) -> Option<Vec<Point>> {
        outline_on_offcut(self.to_lay, self.plan, held)
    }

    fn offcut(&self, name: &str) -> Option<&'a Offcut> {
        let found = self.offcuts.iter().find(|offcut| offcut.name == name);
        found.map(Arc::as_ref)
    }

    fn copy(&self, held: &Placed) -> Option<&'a CopyToLay> {
        copy_of(self.to_lay, &held.of())
    }

    fn about_middle(&self, held: &Placed, changed: Placed, shape: &LayShape) -> Option<Placed> {
        let was = middle_of(&moved(held, &shape.outline))?;
        let is = middle_of(&moved(&changed, &shape.outline))?;
        Some(moved_by(&changed, was - is))
    }

    /// The held part and everything it must stay off, or only what is within `reach`.
    fn around(&self, held: &Placed, reach: Option<f64>) -> Option<(Shape, Around)> {
        let part = Shape::new(self.outline(held)?)?;
        let offcut = self.offcut(&held.offcut)?;
        let (margin, gap) = (offcut.margin.0.max(0.0), self.to_lay.gap.0.max(0.0));
        let needs = self.copy(held).map(|copy| copy.needs);
        let blemishes = offcut
            .blemishes
            .iter()
            .filter(|blemish| {
                blemish.is_hole || needs.is_some_and(|needs| blemish.good_for < needs)
            })
            .map(|blemish| {
                let keep = if blemish.is_hole { margin } else { 0.0 };
                (blemish.outline.clone(), keep)
            });
        let others = self
            .plan
            .placed
            .iter()
            .filter(|other| other.offcut == held.offcut && other.part_ref() != held.part_ref())
            .filter_map(|other| Some((self.outline(other)?, gap)));
        let near = blemishes
            .chain(others)
            .filter_map(|(outline, keep)| Some((Shape::new(outline)?, keep)))
            .filter(|(other, keep)| {
                reach.is_none_or(|reach| !part.far_from(other, keep + 2.0 * reach))
            })
            .collect();
        let around = Around::new(Shape::new(offcut.outline.clone())?, margin, near);
        Some((part, around))
    }
}

/// A part and all it must stay off.
pub(crate) struct Probe {
    part: Shape,
    around: Around,
}

impl Probe {
    /// Room left when it is moved so; below 0, by how much it sticks out, overlaps or is too near at the worst.
    pub(crate) fn room(&self, way: Vec2) -> f64 {
        self.around.room(&self.part.moved(way))
    }
}

/// Moved without turning.
pub fn moved_by(held: &Placed, by: Vec2) -> Placed {
    Placed {
        moved: (held.moved.0 + by.x, held.moved.1 + by.y),
        ..held.clone()
    }
}

/// Is a shape laid mirrored on this offcut?
fn mirrored_on(shape: &LayShape, offcut: &Offcut) -> bool {
    shape.mirrored != (offcut.face == Face::Wrong)
}

/// The turn that lays a shape true to the grain.
fn along(shape: &LayShape, offcut: &Offcut, mirrored: bool) -> Degrees {
    let grain = if mirrored {
        -shape.grain.0
    } else {
        shape.grain.0
    };
    Degrees(libm::remainder(offcut.grain.0 - grain, 360.0))
}

fn middle_of(outline: &[Point]) -> Option<Point> {
    use petitoile_core::kurbo::Rect;
    let first = outline.first()?;
    let bounds = outline
        .iter()
        .fold(Rect::from_points(*first, *first), |bounds, p| {
            bounds.union_pt(*p)
        });
    Some(bounds.center())
}
