//! The place where a copy almost fits beside what lies there.

use std::sync::Arc;

use petitoile_core::Degrees;
use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::{Point, Rect, Vec2};
use petitoile_core::lay_plan::{CopyRef, LayPlan, PartRef, Placed};
use petitoile_core::laying::ToLay;

use super::Nearest;
use crate::by_hand::{Table, moved_by};
use crate::lying::copy_of;

/// Places looked at along each side of an offcut.
const PLACES: u32 = 22;

/// How many of them are looked at more closely.
const CLOSER: usize = 6;

/// Where that ends, mm.
const FINEST: f64 = 0.02;

/// The place where a copy, cut whole, sticks out or overlaps least. What lies stays. `None` when no offcut is of its cloth.
pub(super) fn find(
    to_lay: &ToLay,
    offcuts: &[Arc<Offcut>],
    plan: &LayPlan,
    of: &CopyRef,
) -> Option<Nearest> {
    let copy = copy_of(to_lay, of)?;
    // It is looked at whole, whatever piecing the plan has for it.
    let mut others = plan.clone();
    others.placed.retain(|placed| placed.of() != *of);
    others.piecings.retain(|piecing| piecing.of != *of);
    let table = Table {
        to_lay,
        offcuts,
        plan: &others,
    };
    let part = PartRef {
        of: of.clone(),
        part: 0,
    };
    let mut best: Option<(f64, Placed)> = None;
    let its = offcuts.iter().filter(|offcut| {
        copy.cloth
            .as_ref()
            .is_none_or(|cloth| *cloth == offcut.cloth)
    });
    for offcut in its {
        for placed in turns(&table, &part, offcut) {
            let found = least_bad(&table, &placed, offcut);
            if let Some(found) =
                found.filter(|found| best.as_ref().is_none_or(|best| found.0 > best.0))
            {
                best = Some(found);
            }
        }
    }
    let (_, placed) = best?;
    let mut faults = table.faults(&placed);
    faults.sort_by(|a, b| b.by.0.total_cmp(&a.by.0));
    let by = faults
        .first()
        .map_or(petitoile_core::Mm(0.0), |fault| fault.by);
    Some(Nearest { placed, by, faults })
}

/// True to the grain and at both ends of what is allowed; upside down, too, where it may.
fn turns(table: &Table<'_>, part: &PartRef, offcut: &Offcut) -> Vec<Placed> {
    let Some(upright) = table.laid_at(part, &offcut.name, Point::ORIGIN) else {
        return Vec::new();
    };
    let limit = table
        .may_turn(&upright)
        .map_or(0.0, |limit| limit.0)
        .min(90.0);
    let mut off = vec![0.0];
    if limit > 0.0 {
        off.extend([limit, -limit]);
    }
    if table.may_lie_upside_down(&upright) {
        let over: Vec<f64> = off.iter().map(|off| off + 180.0).collect();
        off.extend(over);
    }
    off.into_iter()
        .filter_map(|off| table.turned_to(&upright, Degrees(off)))
        .collect()
}

/// The best place of a part on one offcut without turning it, and the room it has there: below 0, by how much it is in the way.
fn least_bad(table: &Table<'_>, placed: &Placed, offcut: &Offcut) -> Option<(f64, Placed)> {
    let probe = table.probe(placed)?;
    let (own, there) = (bounds(&table.outline(placed)?)?, bounds(&offcut.outline)?);
    let at =
        |i: u32, low: f64, high: f64| low + (high - low) * f64::from(i) / f64::from(PLACES - 1);
    // Its middle, or where it is wider than the offcut, from flush with one side to flush with the other.
    let reach = |own: (f64, f64), there: (f64, f64)| {
        let (a, b) = (there.0 - own.0, there.1 - own.1);
        (a.min(b), a.max(b))
    };
    let (x0, x1) = reach((own.x0, own.x1), (there.x0, there.x1));
    let (y0, y1) = reach((own.y0, own.y1), (there.y0, there.y1));
    let mut looked: Vec<(f64, Vec2)> = Vec::new();
    for i in 0..PLACES {
        for j in 0..PLACES {
            let way = Vec2::new(at(i, x0, x1), at(j, y0, y1));
            looked.push((probe.room(way), way));
        }
    }
    looked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let pitch = ((x1 - x0).max(y1 - y0) / f64::from(PLACES - 1)).max(FINEST);
    looked
        .into_iter()
        .take(CLOSER)
        .map(|(room, way)| {
            let (room, way) = closer(&|way| probe.room(way), room, way, pitch);
            (room, moved_by(placed, way))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
}

/// Goes to the better of eight neighbours until none is; then looks nearer.
fn closer(
    room: &impl Fn(Vec2) -> f64,
    mut best: f64,
    mut way: Vec2,
    mut pitch: f64,
) -> (f64, Vec2) {
    const ROUNDS: usize = 200;
    for _ in 0..ROUNDS {
        if pitch < FINEST {
            break;
        }
        let next = (0..8)
            .map(|i| {
                let (sin, cos) = libm::sincos(f64::from(i) * std::f64::consts::FRAC_PI_4);
                way + Vec2::new(cos, sin) * pitch
            })
            .map(|way| (room(way), way))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        match next {
            Some(next) if next.0 > best + 1e-9 => (best, way) = next,
            _ => pitch /= 2.0,
        }
    }
    (best, way)
}

fn bounds(points: &[Point]) -> Option<Rect> {
    let first = points.first()?;
    Some(
        points
            .iter()
            .fold(Rect::from_points(*first, *first), |bounds, p| {
                bounds.union_pt(*p)
            }),
    )
}
