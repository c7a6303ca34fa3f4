//! The ways a copy can be cut and laid, as the search is offered them.
//!
//! Whether a part may lie upside down, or either side up, depends on the offcut; the search knows such freedom only of the part.
//! So each way is offered once for every kind of offcut there is, with the freedom of that kind and only on offcuts that give it.

use std::sync::Arc;

use petitoile_core::Degrees;
use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{Piecing, turned};
use petitoile_core::laying::{CopyToLay, LayShape};

use super::{WayOf, quality};
use crate::search::{Mirror, Part, Way};

/// What an offcut lets a part do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Freedom {
    /// Lie upside down.
    half_turn: bool,
    /// Lie either side up.
    either_side: bool,
}

impl Freedom {
    fn of(copy: &CopyToLay, offcut: &Offcut) -> Self {
        Self {
            half_turn: copy.upside_down && !offcut.nap,
            either_side: offcut.sides_alike,
        }
    }

    fn is_given_by(self, other: Self) -> bool {
        (other.half_turn || !self.half_turn) && (other.either_side || !self.either_side)
    }
}

/// One way to cut a copy, before the search is told of it.
pub(crate) struct Cut<'a> {
    pub(crate) piecing: Option<&'a Piecing>,
    pub(crate) shapes: &'a [LayShape],
    pub(crate) cost: u32,
}

/// Whole first, then pieced, each on every kind of offcut.
pub(super) fn all(copy: &CopyToLay, offcuts: &[Arc<Offcut>]) -> Vec<(WayOf, Way)> {
    let whole = Cut {
        piecing: None,
        shapes: std::slice::from_ref(&copy.whole),
        cost: 0,
    };
    let pieced = copy.pieced.iter().map(|way| Cut {
        piecing: Some(&way.piecing),
        shapes: &way.parts,
        cost: way.cost,
    });
    std::iter::once(whole)
        .chain(pieced)
        .flat_map(|cut| on_every_kind(copy, &cut, offcuts))
        .collect()
}

/// The same way on every kind of offcut; first the kind of which there is most cloth.
pub(crate) fn on_every_kind(
    copy: &CopyToLay,
    cut: &Cut<'_>,
    offcuts: &[Arc<Offcut>],
) -> Vec<(WayOf, Way)> {
    let of_its_cloth = |offcut: &Offcut| {
        copy.cloth
            .as_ref()
            .is_none_or(|cloth| *cloth == offcut.cloth)
    };
    let mut kinds: Vec<(Freedom, f64)> = Vec::new();
    for offcut in offcuts.iter().filter(|offcut| of_its_cloth(offcut)) {
        let freedom = Freedom::of(copy, offcut);
        let area = area(&offcut.outline);
        match kinds.iter_mut().find(|kind| kind.0 == freedom) {
            Some(kind) => kind.1 += area,
            None => kinds.push((freedom, area)),
        }
    }
    kinds.sort_by(|a, b| b.1.total_cmp(&a.1));
    kinds
        .iter()
        .map(|(freedom, _)| {
            let rooms: Vec<usize> = (0..offcuts.len())
                .filter(|room| {
                    offcuts.get(*room).is_some_and(|offcut| {
                        of_its_cloth(offcut) && freedom.is_given_by(Freedom::of(copy, offcut))
                    })
                })
                .collect();
            let doubt = rooms
                .iter()
                .filter_map(|room| offcuts.get(*room))
                .map(|offcut| offcut.grain_doubt.0.abs())
                .fold(f64::INFINITY, f64::min);
            way(copy, cut, *freedom, &rooms, doubt)
        })
        .collect()
}

fn way(
    copy: &CopyToLay,
    cut: &Cut<'_>,
    freedom: Freedom,
    rooms: &[usize],
    doubt: f64,
) -> (WayOf, Way) {
    let turns = if freedom.half_turn {
        vec![0.0, 180.0]
    } else {
        vec![0.0]
    };
    let part = |shape: &LayShape| Part {
        outline: along_grain(shape),
        turns: turns.clone(),
        tolerance_deg: (copy.grain_tolerance.0.abs() + doubt).min(180.0),
        mirror: match (freedom.either_side, shape.mirrored) {
            (true, _) => Mirror::Either,
            (false, true) => Mirror::Always,
            (false, false) => Mirror::Never,
        },
        min_quality: Some(quality(copy.needs)),
        rooms: Some(rooms.to_vec()),
    };
    let of = WayOf {
        piecing: cut.piecing.cloned(),
        grains: cut.shapes.iter().map(|shape| shape.grain.0).collect(),
    };
    let way = Way {
        parts: cut.shapes.iter().map(part).collect(),
        cost: cut.cost,
    };
    (of, way)
}

/// A shape turned so that its grain runs along y.
pub(crate) fn along_grain(shape: &LayShape) -> Vec<Point> {
    let turn = turned(Degrees(-shape.grain.0));
    shape.outline.iter().map(|point| turn * *point).collect()
}

/// Area of an outline, mm2, whichever way round it goes.
pub(crate) fn area(outline: &[Point]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let twice: f64 = outline
        .iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum();
    twice.abs() / 2.0
}
