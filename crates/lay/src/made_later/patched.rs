//! Patches as deep as is missing: where a copy nearly fits, a seam just inside of the cloth takes off what sticks out.

use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::turned;
use petitoile_core::laying::{CopyToLay, patch_beyond};

use super::{Table, kinds};

/// Seams tried at each look.
const SEAMS: usize = 3;

/// Looks for a patch that lets a copy lie; ways added. The number of the look makes it differ from others.
pub(super) fn look(copy: &CopyToLay, item: usize, number: u64, table: &mut Table<'_>) -> usize {
    let mut added = 0;
    let allowance = copy.new_seams.allowance.0;
    let draw = (item as u64) << 8 | number;
    for (kind, (rooms, _)) in kinds(copy, table.offcuts).into_iter().enumerate() {
        let Some(whole) = whole_way(item, &rooms, table) else {
            continue;
        };
        let seams = table.search.seams_off(item, whole, allowance, draw);
        for seam in seams.into_iter().take(SEAMS) {
            let out = turned(copy.whole.grain) * Point::new(seam.out.x, seam.out.y);
            let Some(made) = patch_beyond(copy, out.to_vec2(), seam.level) else {
                continue;
            };
            // The main part lies where the whole would; the patch where it finds a place.
            let places = [Some(seam.placed), None];
            added += usize::from(table.offer(copy, item, (&made, kind), &places));
            if table.search.best().not_placed.binary_search(&item).is_err() {
                return added;
            }
        }
    }
    added
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
