//! Between the nouns of a project and those of the search: copies and offcuts become items and rooms, and what was found comes
//! back as a plan.
//!
//! The search knows neither right sides nor bias: an offcut that shows its wrong side is handed over as it looks from behind,
//! and every shape turned so that its grain runs along y.

mod back;
mod cut;
pub(crate) mod ways;

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Piecing, Placed};
use petitoile_core::laying::ToLay;
use petitoile_core::piece::Face;

use crate::search;
pub(crate) use ways::area;

/// A problem of the search, and whose its rooms, items and ways are.
#[derive(Debug, Clone)]
pub(crate) struct Bridge {
    pub(crate) problem: search::Problem,
    pub(crate) rooms: Vec<RoomOf>,
    pub(crate) items: Vec<ItemOf>,
    /// What is never moved, as it lay before; in the places of `problem.fixed`.
    pub(crate) kept: Vec<Placed>,
}

/// The offcut that a room is.
#[derive(Debug, Clone)]
pub(crate) struct RoomOf {
    pub(crate) name: String,
    /// It shows its wrong side; the room is its mirror image.
    pub(crate) from_behind: bool,
    /// Which blemishes its holes are.
    pub(crate) holes: Vec<usize>,
    /// Which blemishes its zones are.
    pub(crate) zones: Vec<usize>,
}

/// The copy that an item is.
#[derive(Debug, Clone)]
pub(crate) struct ItemOf {
    pub(crate) of: CopyRef,
    pub(crate) ways: Vec<WayOf>,
}

/// How a way of the search cuts a copy.
#[derive(Debug, Clone)]
pub(crate) struct WayOf {
    pub(crate) piecing: Option<Piecing>,
    /// Direction of the grain of each part in its drawing, degrees; 0 where the part is handed over as it lies on the offcut.
    pub(crate) grains: Vec<f64>,
}

impl Bridge {
    /// What pinned and cut in `before` stays; everything else is to be laid.
    pub(crate) fn new(to_lay: &ToLay, offcuts: &[Arc<Offcut>], before: &LayPlan) -> Self {
        let (rooms, made): (Vec<RoomOf>, Vec<search::Room>) =
            offcuts.iter().map(|offcut| room(offcut, before)).unzip();
        let mut bridge = Self {
            problem: search::Problem {
                rooms: made,
                gap: to_lay.gap.0.max(0.0),
                ..search::Problem::default()
            },
            rooms,
            items: Vec::new(),
            kept: Vec::new(),
        };
        for copy in &to_lay.copies {
            bridge.add_copy(copy, offcuts, before);
        }
        bridge.add_what_is_only_cut(to_lay, before);
        bridge
    }

    pub(crate) fn room_of(&self, offcut: &str) -> Option<usize> {
        self.rooms.iter().position(|room| room.name == offcut)
    }

    /// Takes a way out that cannot be searched, with what is fixed of it.
    pub(crate) fn without_way(&mut self, item: usize, way: usize) {
        if let Some(problem) = self.problem.items.get_mut(item)
            && way < problem.ways.len()
        {
            problem.ways.remove(way);
        }
        if let Some(of) = self.items.get_mut(item)
            && way < of.ways.len()
        {
            of.ways.remove(way);
        }
        let fixed = std::mem::take(&mut self.problem.fixed);
        let kept = std::mem::take(&mut self.kept);
        for (mut fixed, kept) in fixed.into_iter().zip(kept) {
            if fixed.item == item && fixed.way == way {
                continue;
            }
            if fixed.item == item && fixed.way > way {
                fixed.way -= 1;
            }
            self.problem.fixed.push(fixed);
            self.kept.push(kept);
        }
    }
}

fn room(offcut: &Offcut, before: &LayPlan) -> (RoomOf, search::Room) {
    let from_behind = is_from_behind(offcut);
    let seen = |points: &[Point]| seen(points, from_behind);
    let is_zone = |blemish: &Blemish| !blemish.is_hole && blemish.good_for < GoodFor::Anything;
    let chosen = |is: &dyn Fn(&Blemish) -> bool| -> Vec<usize> {
        (0..offcut.blemishes.len())
            .filter(|i| offcut.blemishes.get(*i).is_some_and(is))
            .collect()
    };
    let of = RoomOf {
        name: offcut.name.clone(),
        from_behind,
        holes: chosen(&|blemish| blemish.is_hole),
        zones: chosen(&is_zone),
    };
    let blemishes = |which: &[usize]| -> Vec<Blemish> {
        which
            .iter()
            .filter_map(|i| offcut.blemishes.get(*i).cloned())
            .collect()
    };
    let room = search::Room {
        outline: seen(&offcut.outline),
        holes: blemishes(&of.holes)
            .iter()
            .map(|hole| seen(&hole.outline))
            .collect(),
        zones: blemishes(&of.zones)
            .iter()
            .map(|place| search::Zone {
                quality: quality(place.good_for),
                polygon: seen(&place.outline),
            })
            .collect(),
        already_open: before
            .placed
            .iter()
            .any(|placed| placed.offcut == offcut.name && placed.as_cut.is_some()),
        margin: offcut.margin.0.max(0.0),
        grain: search::Grain {
            angle_deg: if from_behind {
                -offcut.grain.0
            } else {
                offcut.grain.0
            },
            // The doubt widens what is allowed (see `check_plan`); it is in the tolerance of the parts.
            doubt_deg: 0.0,
        },
    };
    (of, room)
}

/// Does it show its wrong side, so that the search sees it from behind?
pub(crate) fn is_from_behind(offcut: &Offcut) -> bool {
    offcut.face == Face::Wrong && !offcut.sides_alike
}

/// Points as the search sees them.
pub(crate) fn seen(points: &[Point], from_behind: bool) -> Vec<Point> {
    let mirrored = |p: &Point| Point::new(if from_behind { -p.x } else { p.x }, p.y);
    points.iter().map(mirrored).collect()
}

/// The number the search compares.
pub(crate) fn quality(good_for: GoodFor) -> u8 {
    match good_for {
        GoodFor::Inside => 1,
        GoodFor::Hidden => 2,
        GoodFor::Anything => 3,
    }
}
