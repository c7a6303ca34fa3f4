//! Ways to piece a copy that are only made while the search runs, from the cloth that the best plan leaves: strips joined of what
//! is left over, patches as deep as is missing.
//!
//! Looked for at certain steps, so that it does not matter in what portions steps are asked for. What is found is placed exactly,
//! proved by the search as everything else, and from then on one more way of cutting that copy.

mod joined;
mod patched;

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::lay_plan::{CopyRef, LayPlan};
use petitoile_core::laying::{CopyToLay, PiecedWay, ToLay};
use petitoile_core::piece::Side;

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
        let free = |item: usize, table: &Table<'_>| free_copy(item, to_lay, before, table);
        for item in 0..table.bridge.items.len() {
            if let Some(copy) = free(item, table) {
                let patched = self.look_at(copy, item, is_new, table);
                if patched.is_empty() {
                    continue;
                }
                let mut others = (0..table.bridge.items.len())
                    .filter(|other| !table.lies(*other))
                    .filter_map(|other| Some((free(other, table)?, other)));
                let other_side = others.find(|(other, _)| are_a_pair(&copy.of, &other.of));
                if let Some((other_copy, other)) = other_side {
                    self.pair(other_copy, other, &patched, table);
                }
            }
        }
        self.seen = Some(table.search.best().clone());
    }

    /// Looks at one copy; gives what patches took off in the ways added.
    fn look_at(
        &mut self,
        copy: &CopyToLay,
        item: usize,
        is_new: bool,
        table: &mut Table<'_>,
    ) -> Vec<patched::Off> {
        let Some((added, looks)) = self.spent.get_mut(item) else {
            return Vec::new();
        };
        if *added >= MOST_ADDED {
            return Vec::new();
        }
        if is_new {
            *added += joined::look(copy, item, table);
        }
        if table.lies(item) || copy.new_seams.patch.is_none() || *looks >= MOST_LOOKS {
            return Vec::new();
        }
        *looks += 1;
        let patched = patched::look(copy, item, *looks, table);
        *added += patched.len();
        patched
    }

    /// Offers the other side of a pair the patches that the one side got.
    fn pair(
        &mut self,
        copy: &CopyToLay,
        item: usize,
        offs: &[patched::Off],
        table: &mut Table<'_>,
    ) {
        if let Some((added, _)) = self.spent.get_mut(item)
            && *added < MOST_ADDED
        {
            *added += patched::alike(copy, item, offs, table);
        }
    }
}

impl Table<'_> {
    /// Does an item lie in the best plan?
    fn lies(&self, item: usize) -> bool {
        self.search.best().not_placed.binary_search(&item).is_err()
    }

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

/// The copy that an item is, where it may be cut otherwise: it is not fixed, and what the maker chose stays.
fn free_copy<'a>(
    item: usize,
    to_lay: &'a ToLay,
    before: &LayPlan,
    table: &Table<'_>,
) -> Option<&'a CopyToLay> {
    let of = &table.bridge.items.get(item)?.of;
    let mut fixed = table.bridge.problem.fixed.iter();
    let is_fixed = fixed.any(|one| one.item == item);
    let copy = copy_of(to_lay, of).filter(|_| !is_fixed)?;
    before.chosen(of).is_none().then_some(copy)
}

/// Are they the same piece, one as drawn and one mirrored?
fn are_a_pair(one: &CopyRef, other: &CopyRef) -> bool {
    let alike =
        (&one.piece, one.copy.role, one.number) == (&other.piece, other.copy.role, other.number);
    let sides = [one.copy.side, other.copy.side];
    alike && sides.contains(&Side::Right) && sides.contains(&Side::Left)
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
