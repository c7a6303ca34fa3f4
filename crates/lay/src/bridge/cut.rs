//! What stays where it is: pinned parts, and parts that are cut, as they were cut.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, ToLay};

use super::ways::{self, Cut};
use super::{Bridge, ItemOf, WayOf, seen};
use crate::lying::{broken_piecing, copy_of, shapes_of};
use crate::search;

impl Bridge {
    /// One copy: in every way when it is free, in the way it lies in when some of it is pinned or cut, in the way
    /// the maker chose when it was chosen by hand.
    pub(super) fn add_copy(&mut self, copy: &CopyToLay, offcuts: &[Arc<Offcut>], before: &LayPlan) {
        let shapes = shapes_of(copy, before);
        let kept: Vec<&Placed> = self.kept_of(&copy.of, before, shapes.len());
        if kept.iter().any(|placed| placed.part >= shapes.len()) {
            self.add_only_cut(&copy.of, before);
            return;
        }
        // A piecing that no longer works is no way to cut it; it lies whole then.
        let works = broken_piecing(copy, before).is_none();
        let chosen = works && before.chosen(&copy.of).is_some();
        let mut offered = if kept.is_empty() && !chosen {
            ways::all(copy, offcuts)
        } else {
            let cut = Cut {
                piecing: before.piecing(&copy.of).filter(|_| works),
                shapes: &shapes,
                cost: cost_of(copy, before),
            };
            ways::on_every_kind(copy, &cut, offcuts)
        };
        if !kept.is_empty() && offered.is_empty() {
            // It lies on cloth that is not its own; still it lies there.
            offered.push(anywhere(copy, &shapes, before));
        }
        let item = self.items.len();
        for placed in kept {
            self.keep(item, placed, &mut offered);
        }
        let (of, ways) = offered.into_iter().unzip();
        self.items.push(ItemOf {
            of: copy.of.clone(),
            ways: of,
        });
        self.problem.items.push(search::Item {
            ways,
            priority: u32::from(u8::MAX - copy.priority),
        });
    }

    /// What is cut of copies that are no longer wanted: it is in the way.
    pub(super) fn add_what_is_only_cut(&mut self, to_lay: &ToLay, before: &LayPlan) {
        let mut done: Vec<CopyRef> = Vec::new();
        for placed in before
            .placed
            .iter()
            .filter(|placed| placed.as_cut.is_some())
        {
            let of = placed.of();
            if copy_of(to_lay, &of).is_none() && !done.contains(&of) {
                self.add_only_cut(&of, before);
                done.push(of);
            }
        }
    }

    fn add_only_cut(&mut self, of: &CopyRef, before: &LayPlan) {
        let cut: Vec<&Placed> = before
            .placed
            .iter()
            .filter(|placed| placed.of() == *of && placed.as_cut.is_some())
            .filter(|placed| self.room_of(&placed.offcut).is_some())
            .collect();
        if cut.is_empty() {
            return;
        }
        let item = self.items.len();
        let mut way = search::Way::default();
        for placed in cut {
            let (Some(room), Some(outline)) = (self.room_of(&placed.offcut), &placed.as_cut) else {
                continue;
            };
            let part = way.parts.len();
            way.parts.push(search::Part {
                outline: seen(outline, self.lies_from_behind(room)),
                ..search::Part::default()
            });
            self.problem.fixed.push(at_rest(item, 0, part, room));
            self.kept.push(placed.clone());
        }
        let grains = vec![0.0; way.parts.len()];
        self.items.push(ItemOf {
            of: of.clone(),
            ways: vec![WayOf {
                piecing: before.piecing(of).cloned(),
                grains,
            }],
        });
        self.problem.items.push(search::Item {
            ways: vec![way],
            priority: u32::from(u8::MAX) + 1,
        });
    }

    /// Pinned and cut parts of a copy on offcuts that are there; each part once.
    fn kept_of<'p>(&self, of: &CopyRef, before: &'p LayPlan, parts: usize) -> Vec<&'p Placed> {
        let mut kept: Vec<&Placed> = Vec::new();
        for placed in before.placed.iter().filter(|placed| placed.of() == *of) {
            let stays = placed.as_cut.is_some() || (placed.pinned && placed.part < parts);
            let once = kept.iter().all(|other| other.part != placed.part);
            if stays && once && self.room_of(&placed.offcut).is_some() {
                kept.push(placed);
            }
        }
        kept
    }

    /// Fixes a part where it lies. All its ways differ only in freedom; the first is taken.
    fn keep(&mut self, item: usize, placed: &Placed, offered: &mut Vec<(WayOf, search::Way)>) {
        let Some(room) = self.room_of(&placed.offcut) else {
            return;
        };
        let from_behind = self.lies_from_behind(room);
        offered.truncate(1);
        let Some((of, way)) = offered.first_mut() else {
            return;
        };
        let (Some(grain), Some(part)) = (
            of.grains.get_mut(placed.part),
            way.parts.get_mut(placed.part),
        ) else {
            return;
        };
        part.rooms = None;
        let fixed = if let Some(outline) = &placed.as_cut {
            *grain = 0.0;
            part.outline = seen(outline, from_behind);
            at_rest(item, 0, placed.part, room)
        } else {
            self.to_search(placed, item, 0, room, *grain)
        };
        self.problem.fixed.push(fixed);
        self.kept.push(placed.clone());
    }
}

fn cost_of(copy: &CopyToLay, before: &LayPlan) -> u32 {
    let piecing = before.piecing(&copy.of);
    let way = copy.pieced.iter().find(|way| Some(&way.piecing) == piecing);
    way.map_or(0, |way| way.cost)
}

/// A way of lying that is fixed anyway.
fn anywhere(copy: &CopyToLay, shapes: &[LayShape], before: &LayPlan) -> (WayOf, search::Way) {
    let of = WayOf {
        piecing: before.piecing(&copy.of).cloned(),
        grains: shapes.iter().map(|shape| shape.grain.0).collect(),
    };
    let parts = shapes
        .iter()
        .map(|shape| search::Part {
            outline: ways::along_grain(shape),
            rooms: Some(Vec::new()),
            ..search::Part::default()
        })
        .collect();
    (of, search::Way { parts, cost: 0 })
}

/// A part whose outline is already that on the room.
fn at_rest(item: usize, way: usize, part: usize, room: usize) -> search::Placed {
    search::Placed {
        item,
        way,
        part,
        room,
        turn_deg: 0.0,
        mirrored: false,
        x: 0.0,
        y: 0.0,
    }
}
