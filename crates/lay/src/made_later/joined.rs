//! Strips joined of the usable strips that are left over: of bits of any lengths, each segment where its bit lies.

use petitoile_core::kurbo::{Point, Rect};
use petitoile_core::lay_plan::{PiecingKind, turned};
use petitoile_core::laying::{CopyToLay, PiecedWay, StripShape, joined_from, strip_shape};
use petitoile_core::{Degrees, Mm};

use super::{Table, kinds};
use crate::bridge::{quality, ways::along_grain};
use crate::search::{
    self,
    free_strips::{FreeStrip, StripsAsked, free_strips},
};

/// Bits that are looked for at most.
const MOST_BITS: usize = 10;

/// Bits shorter than this are not worth joining, mm: the strip engine's own figure, see `joined_from`.
const SHORTEST: f64 = 30.0;

/// What the allowance of a slanting join sticks out over the sides and ends of its segment, in allowances: both ends, by the sine
/// of 45 degrees, and a little more.
const SLANTING: f64 = 1.5;

/// Rounding, mm.
const NEAR: f64 = 1e-6;

/// Looks whether a copy can be joined of what is left over, where it does not lie, or lies in more seams; ways added.
pub(super) fn look(copy: &CopyToLay, item: usize, table: &mut Table<'_>) -> usize {
    let Some(strip) = strip_shape(copy) else {
        return 0;
    };
    let Some(below) = worth_less_than(item, table) else {
        return 0;
    };
    let mut added = 0;
    for (kind, (rooms, mirrored)) in kinds(copy, table.offcuts).into_iter().enumerate() {
        let Some((made, places)) = made_of(copy, item, (&strip, mirrored), &rooms, table) else {
            continue;
        };
        if made.cost < below {
            added += usize::from(table.offer(copy, item, (&made, kind), &places));
        }
    }
    added
}

/// What a way must cost less than to be better than how the item lies; `None` when it lies whole or in one seam.
fn worth_less_than(item: usize, table: &Table<'_>) -> Option<u32> {
    let best = table.search.best();
    let Some(placed) = best.placed.iter().find(|placed| placed.item == item) else {
        return Some(u32::MAX);
    };
    let of = table.bridge.items.get(item)?.ways.get(placed.way)?;
    let piecing = of.piecing.as_ref()?;
    let is_poor = piecing.kind == PiecingKind::Strip && piecing.lines.len() > 1;
    let cost = table
        .search
        .problem()
        .items
        .get(item)?
        .ways
        .get(placed.way)?
        .cost;
    is_poor.then_some(cost)
}

/// The way, and where its parts lie.
fn made_of(
    copy: &CopyToLay,
    item: usize,
    (strip, mirrored): (&StripShape, bool),
    rooms: &[usize],
    table: &Table<'_>,
) -> Option<(PiecedWay, Vec<Option<search::Placed>>)> {
    let mut offered = copy.pieced.iter();
    let offered = offered.find(|way| way.piecing.kind == PiecingKind::Strip)?;
    let allowance = offered.piecing.allowance.0;
    let more = if strip.slants {
        SLANTING * allowance
    } else {
        0.0
    };
    let direction = direction(copy, strip, mirrored);
    let best = table.search.best();
    let others = best.placed.iter().filter(|placed| placed.item != item);
    let others: Vec<search::Placed> = others.copied().collect();
    let bits = free_strips(
        table.search.problem(),
        &others,
        &StripsAsked {
            rooms: Some(rooms),
            min_quality: Some(quality(copy.needs)),
            direction_deg: direction,
            width: strip.width.0 + more,
            least: SHORTEST + more,
            most: MOST_BITS,
        },
    );
    let lengths: Vec<Mm> = bits.iter().map(|bit| Mm(bit.length - more)).collect();
    let made = joined_from(copy, &lengths)?;
    let places = places(&made, &bits, direction, mirrored, table.search.problem())?;
    Some((made, places))
}

/// Which way the strip runs where its grain runs along y, degrees from the x axis.
fn direction(copy: &CopyToLay, strip: &StripShape, mirrored: bool) -> f64 {
    let along = turned(Degrees(-copy.whole.grain.0)) * strip.along.to_point();
    let x = if mirrored { -along.x } else { along.x };
    libm::atan2(along.y, x).to_degrees()
}

/// Each part on the shortest bit that takes it, the longest part first; `None` when one finds none.
fn places(
    made: &PiecedWay,
    bits: &[FreeStrip],
    direction: f64,
    mirrored: bool,
    problem: &search::Problem,
) -> Option<Vec<Option<search::Placed>>> {
    let mut parts: Vec<(usize, Rect)> = Vec::new();
    for (number, shape) in made.parts.iter().enumerate() {
        let flipped = along_grain(shape).into_iter();
        let flipped = flipped.map(|p| Point::new(if mirrored { -p.x } else { p.x }, p.y));
        let level = turned(Degrees(-direction));
        let mut points = flipped.map(|p| level * p);
        let first = points.next()?;
        let bounds = points.fold(Rect::from_points(first, first), |bounds, p| {
            bounds.union_pt(p)
        });
        parts.push((number, bounds));
    }
    parts.sort_by(|a, b| b.1.width().total_cmp(&a.1.width()));
    let mut free: Vec<&FreeStrip> = bits.iter().collect();
    free.sort_by(|a, b| a.length.total_cmp(&b.length));
    let mut places = vec![None; made.parts.len()];
    for (number, bounds) in parts {
        let taken = free
            .iter()
            .position(|bit| bit.length >= bounds.width() - NEAR)?;
        let bit = free.remove(taken);
        let at = bit.start.to_vec2() - bit.way(bounds.x0, bounds.y0);
        let place = places.get_mut(number)?;
        *place = Some(search::Placed {
            item: 0,
            way: 0,
            part: number,
            room: bit.room,
            turn_deg: problem.rooms.get(bit.room)?.grain.angle_deg,
            mirrored,
            x: at.x,
            y: at.y,
        });
    }
    Some(places)
}
