//! Patches as deep as is missing: where a copy nearly fits, seams just inside of the cloth take off what sticks out.

use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::turned;
use petitoile_core::laying::{Beyond, CopyToLay, patch_beyond};

use super::{Table, kinds};
use crate::search::{SeamOff, SeamsOff};

/// Places tried at each look.
const PLACES: usize = 3;

/// Directions that count as one, mm at 1 mm; and what a seam may be short of another one, mm: less than the search keeps inside of the cloth.
const NEAR: (f64, f64) = (1e-6, 0.01);

/// What comes off a copy in one way, in the drawing of its piece: one entry a seam.
pub(super) type Off = Vec<Beyond>;

/// Looks for patches that let a copy lie: what comes off in the ways added, the one it lies in last. The number of the look makes it
/// differ from others.
pub(super) fn look(copy: &CopyToLay, item: usize, number: u64, table: &mut Table<'_>) -> Vec<Off> {
    let mut added = Vec::new();
    let allowance = copy.new_seams.allowance.0;
    let draw = (item as u64) << 8 | number;
    for (kind, (rooms, _)) in kinds(copy, table.offcuts).into_iter().enumerate() {
        let Some(whole) = whole_way(item, &rooms, table) else {
            continue;
        };
        let found = table.search.seams_off(item, whole, allowance, draw);
        for place in found.into_iter().take(PLACES) {
            let off: Off = place.seams.iter().map(|seam| drawn(copy, seam)).collect();
            let Some(made) = patch_beyond(copy, &off) else {
                continue;
            };
            // The main part lies where the whole would; patches where they find a place.
            let mut places = vec![None; made.parts.len()];
            if let Some(main) = places.first_mut() {
                *main = Some(place.placed);
            }
            if table.offer(copy, item, (&made, kind), &places) {
                added.push(off);
            }
            if table.lies(item) {
                return added;
            }
        }
    }
    added
}

/// Offers a copy the patches that its other side got, where it does not lie either: a pair is cut alike, then. Ways added.
pub(super) fn alike(copy: &CopyToLay, item: usize, offs: &[Off], table: &mut Table<'_>) -> usize {
    let mut added = 0;
    let allowance = copy.new_seams.allowance.0;
    for (kind, (rooms, _)) in kinds(copy, table.offcuts).into_iter().enumerate() {
        let found = whole_way(item, &rooms, table).map_or_else(Vec::new, |whole| {
            let draw = (item as u64) << 8;
            table.search.seams_off(item, whole, allowance, draw)
        });
        // The one that the other side lies in first.
        for off in offs.iter().rev() {
            let Some(made) = patch_beyond(copy, off) else {
                continue;
            };
            let enough = |place: &&SeamsOff| {
                let needed = place.seams.iter().map(|seam| drawn(copy, seam));
                place.seams.len() == off.len()
                    && needed.zip(off).all(|(needed, off)| does(needed, *off))
            };
            let mut places = vec![None; made.parts.len()];
            if let Some(main) = places.first_mut() {
                *main = found.iter().find(enough).map(|place| place.placed);
            }
            added += usize::from(table.offer(copy, item, (&made, kind), &places));
            if table.lies(item) {
                return added;
            }
        }
    }
    added
}

/// Does one seam take off all that another one would, in the same direction?
fn does(needed: Beyond, off: Beyond) -> bool {
    (needed.out - off.out).hypot() < NEAR.0 && off.level <= needed.level + NEAR.1
}

/// A seam told along the grain, in the drawing.
fn drawn(copy: &CopyToLay, seam: &SeamOff) -> Beyond {
    let out = turned(copy.whole.grain) * Point::new(seam.out.x, seam.out.y);
    Beyond {
        out: out.to_vec2(),
        level: seam.level,
    }
}

/// The way that cuts the copy whole on these offcuts.
fn whole_way(item: usize, rooms: &[usize], table: &Table<'_>) -> Option<usize> {
    let of = &table.bridge.items.get(item)?.ways;
    let made = &table.bridge.problem.items.get(item)?.ways;
    of.iter().zip(made).position(|(of, way)| {
        let part = way.parts.first();
        let there = part.and_then(|part| part.rooms.as_deref());
        of.piecing.is_none() && there == Some(rooms)
    })
}
