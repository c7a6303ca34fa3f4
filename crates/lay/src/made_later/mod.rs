//! Ways to piece a copy that are only made while the search runs, from the cloth that the best plan leaves: strips joined of what
//! is left over, patches as deep as is missing.
//!
//! Looked for at certain steps, so that it does not matter in what portions steps are asked for. What is found is placed exactly,
//! proved by the search as everything else, and from then on one more way of cutting that copy.

mod joined;
mod patched;

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::{CopyToLay, PiecedWay, ToLay};

use crate::bridge::{Bridge, WayOf, ways};
use crate::lying::copy_of;
use crate::search::{self, Search};

/// Steps between two looks.
const EVERY: u64 = 250;

/// Ways added to one copy at most, and looks for a patch: each took as long as 25 to 50 steps on the made-up doll set.
const MOST_ADDED: usize = 6;
const MOST_LOOKS: u64 = 4;

/// What was looked for so far.
#[derive(Debug, Default)]
pub(crate) struct MadeLater {
    /// The plan that was looked at last.
    seen: Option<search::Plan>,
    /// Ways added and looks for a patch, by item.
    spent: Vec<(usize, u64)>,
}

/// What a look works on.
pub(crate) struct Table<'a> {
    pub(crate) offcuts: &'a [Arc<Offcut>],
    pub(crate) bridge: &'a mut Bridge,
    pub(crate) search: &'a mut Search,
}

impl MadeLater {
    /// Steps until the next look.
    pub(crate) fn next(steps_done: u64) -> u64 {
        EVERY - steps_done % EVERY
    }

    /// Looks at what the best plan leaves over.
    pub(crate) fn look(&mut self, to_lay: &ToLay, before: &LayPlan, table: &mut Table<'_>) {
        let is_new = self.seen.as_ref() != Some(table.search.best());
        self.spent.resize(table.bridge.items.len(), (0, 0));
        for item in 0..table.bridge.items.len() {
            let Some(of) = table.bridge.items.get(item).map(|item| item.of.clone()) else {
                continue;
            };
            let is_fixed = table
                .bridge
                .problem
                .fixed
                .iter()
                .any(|one| one.item == item);
            let Some(copy) = copy_of(to_lay, &of).filter(|_| !is_fixed) else {
                continue;
            };
            // What the maker chose stays.
            if before.chosen(&of).is_none() {
                self.look_at(copy, item, is_new, table);
            }
        }
        self.seen = Some(table.search.best().clone());
    }

    fn look_at(&mut self, copy: &CopyToLay, item: usize, is_new: bool, table: &mut Table<'_>) {
        let Some((added, looks)) = self.spent.get_mut(item) else {
            return;
        };
        if *added >= MOST_ADDED {
            return;
        }
        if is_new {
            *added += joined::look(copy, item, table);
        }
        let lies = table.search.best().not_placed.binary_search(&item).is_err();
        if !lies && copy.new_seams.patch.is_some() && *looks < MOST_LOOKS {
            *looks += 1;
            *added += patched::look(copy, item, *looks, table);
        }
    }
}

impl Table<'_> {
    /// Offers the search a way of cutting an item on the kind of offcut that has this number, and places for its parts; says
    /// whether it is a new way.
    fn offer(
        &mut self,
        copy: &CopyToLay,
        item: usize,
        (made, kind): (&PiecedWay, usize),
        places: &[Option<search::Placed>],
    ) -> bool {
        let cut = ways::Cut {
            piecing: Some(&made.piecing),
            shapes: &made.parts,
            cost: made.cost,
        };
        let mut kinds = ways::on_every_kind(copy, &cut, self.offcuts);
        if kind >= kinds.len() {
            return false;
        }
        let (of, way) = kinds.swap_remove(kind);
        if let Some(known) = self.known(item, &of, &way) {
            self.search.offer_places(item, known, places);
            return false;
        }
        let Ok(number) = self.search.add_way(item, &way) else {
            return false;
        };
        if let (Some(items), Some(problem)) = (
            self.bridge.items.get_mut(item),
            self.bridge.problem.items.get_mut(item),
        ) {
            items.ways.push(of);
            problem.ways.push(way);
        }
        self.search.offer_places(item, number, places);
        true
    }

    /// The number of a way that cuts just so on the same offcuts.
    fn known(&self, item: usize, of: &WayOf, way: &search::Way) -> Option<usize> {
        let rooms = |way: &search::Way| way.parts.first().and_then(|part| part.rooms.clone());
        let ways = self.bridge.items.get(item)?.ways.iter();
        let made = &self.bridge.problem.items.get(item)?.ways;
        ways.zip(made)
            .position(|(known, made)| known.piecing == of.piecing && rooms(made) == rooms(way))
    }
}

/// Every kind of offcut that a copy may lie on: its rooms, and whether it lies mirrored there.
fn kinds(copy: &CopyToLay, offcuts: &[Arc<Offcut>]) -> Vec<(Vec<usize>, bool)> {
    let whole = ways::Cut {
        piecing: None,
        shapes: std::slice::from_ref(&copy.whole),
        cost: 0,
    };
    let all = ways::on_every_kind(copy, &whole, offcuts);
    let kind = |way: &search::Way| {
        let part = way.parts.first();
        (
            part.and_then(|part| part.rooms.clone()).unwrap_or_default(),
            part.is_some_and(|part| part.mirror == search::Mirror::Always),
        )
    };
    all.iter().map(|(_, way)| kind(way)).collect()
}
