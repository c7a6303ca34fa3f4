//! What shows that not everything can lie, whatever the search does.

use std::collections::BTreeSet;
use std::sync::Arc;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use petitoile_core::Mm;
use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::{LayPlan, Placed};
use petitoile_core::laying::{CopyToLay, ToLay};

use super::Impossible;
use crate::bridge::area;
use crate::lying::{copy_of, outline_on_offcut, shapes_of};

/// Directions in which a piece and an offcut are measured, over half a turn.
const DIRECTIONS: u32 = 12;

/// Turns of a piece that are looked at.
const TURNS: u32 = 400;

/// An area must be larger by this share to count: rounding.
const ROUNDING: f64 = 1e-6;

/// All proofs that can be found; empty when there is none.
pub(super) fn all(to_lay: &ToLay, offcuts: &[Arc<Offcut>], plan: &LayPlan) -> Vec<Impossible> {
    // What is cut or pinned lies where it lies, whatever its copy would ask of the cloth now.
    let is_fixed = |copy: &&CopyToLay| {
        plan.placed
            .iter()
            .any(|placed| is_fixed(placed) && placed.of() == copy.of)
    };
    let free = || to_lay.copies.iter().filter(|copy| !is_fixed(copy));
    let mut proofs: Vec<Impossible> = free().filter_map(|copy| no_cloth(copy, offcuts)).collect();
    proofs.extend(free().filter_map(|copy| too_large(copy, offcuts)));
    let taken = taken(to_lay, offcuts, plan);
    let cloths: BTreeSet<&String> = taken.iter().filter_map(|taken| taken.cloth).collect();
    for cloth in cloths {
        let of_it = taken.iter().filter(|taken| taken.cloth == Some(cloth));
        let there = offcuts.iter().filter(|offcut| offcut.cloth == *cloth);
        proofs.extend(too_little(Some(cloth), of_it, there));
    }
    if taken.iter().any(|taken| taken.cloth.is_none()) {
        proofs.extend(too_little(None, taken.iter(), offcuts.iter()));
    }
    proofs
}

fn is_fixed(placed: &Placed) -> bool {
    placed.pinned || placed.as_cut.is_some()
}

/// Cloth that something takes.
struct Taken<'a> {
    /// `None`: of any cloth.
    cloth: Option<&'a String>,
    mm2: f64,
}

/// What every copy takes at least. What is cut, as it was cut, and what is pinned, from the offcut where it lies; nothing
/// where that offcut is used up. What is free, cut whole: pieced it would take more.
fn taken<'a>(to_lay: &'a ToLay, offcuts: &'a [Arc<Offcut>], plan: &LayPlan) -> Vec<Taken<'a>> {
    let fixed: Vec<&Placed> = plan.placed.iter().filter(|one| is_fixed(one)).collect();
    let lies_fixed = fixed.iter().filter_map(|placed| {
        let offcut = offcuts.iter().find(|one| one.name == placed.offcut)?;
        Some(Taken {
            cloth: Some(&offcut.cloth),
            mm2: area(&outline_on_offcut(to_lay, plan, placed)?),
        })
    });
    let free = to_lay.copies.iter().flat_map(|copy| {
        let of_it: Vec<&&Placed> = fixed.iter().filter(|one| one.of() == copy.of).collect();
        let shapes: Vec<f64> = if of_it.is_empty() {
            vec![area(&copy.whole.outline)]
        } else {
            let shapes = shapes_of(copy, plan);
            let still = (0..shapes.len()).filter(|i| of_it.iter().all(|one| one.part != *i));
            still
                .filter_map(|i| Some(area(&shapes.get(i)?.outline)))
                .collect()
        };
        let cloth = copy.cloth.as_ref();
        shapes.into_iter().map(move |mm2| Taken { cloth, mm2 })
    });
    lies_fixed.chain(free).collect()
}

fn no_cloth(copy: &CopyToLay, offcuts: &[Arc<Offcut>]) -> Option<Impossible> {
    let cloth = copy.cloth.clone()?;
    let none = offcuts.iter().all(|offcut| offcut.cloth != cloth);
    none.then(|| Impossible::NoCloth {
        cloth,
        of: copy.of.clone(),
    })
}

/// In some direction the copy is wider than the offcut, however it is turned within its tolerance.
fn too_large(copy: &CopyToLay, offcuts: &[Arc<Offcut>]) -> Option<Impossible> {
    if !copy.pieced.is_empty() {
        return None;
    }
    let its = offcuts.iter().filter(|offcut| {
        copy.cloth
            .as_ref()
            .is_none_or(|cloth| *cloth == offcut.cloth)
    });
    let by = its
        .map(|offcut| too_large_for(copy, offcut))
        .fold(f64::INFINITY, f64::min);
    (by > 0.0 && by.is_finite()).then(|| Impossible::TooLarge {
        of: copy.of.clone(),
        by: Mm(by),
    })
}

fn too_large_for(copy: &CopyToLay, offcut: &Offcut) -> f64 {
    let tolerance = (copy.grain_tolerance.0.abs() + offcut.grain_doubt.0.abs()).min(180.0);
    // An upside-down piece is as wide as an upright one. Either side up: the mirrored one is measured, too.
    let sides: &[bool] = if offcut.sides_alike {
        &[false, true]
    } else {
        &[false]
    };
    let mirrored_here = copy.whole.mirrored != (offcut.face == petitoile_core::piece::Face::Wrong);
    (0..DIRECTIONS)
        .map(|i| {
            let degrees = f64::from(i) * 180.0 / f64::from(DIRECTIONS);
            let room =
                width(&offcut.outline, degrees + offcut.grain.0) - 2.0 * offcut.margin.0.max(0.0);
            let needs = sides
                .iter()
                .map(|other| least_width(copy, mirrored_here != *other, degrees, tolerance))
                .fold(f64::INFINITY, f64::min);
            needs - room
        })
        .fold(f64::NEG_INFINITY, f64::max)
}

/// Width of a copy in a direction against its grain, in the turn where it is least; surely not more than that. Between two
/// looks the width changes by no more than the turn times the diameter.
fn least_width(copy: &CopyToLay, mirrored: bool, degrees: f64, tolerance: f64) -> f64 {
    let points: Vec<Point> = copy
        .whole
        .outline
        .iter()
        .map(|p| Point::new(if mirrored { -p.x } else { p.x }, p.y))
        .collect();
    let grain = if mirrored {
        -copy.whole.grain.0
    } else {
        copy.whole.grain.0
    };
    let step = 2.0 * tolerance / f64::from(TURNS);
    let least = (0..=TURNS)
        .map(|i| width(&points, degrees + grain - tolerance + f64::from(i) * step))
        .fold(f64::INFINITY, f64::min);
    let diameter = libm::hypot(width(&points, 0.0), width(&points, 90.0));
    least - diameter * step.to_radians() / 2.0
}

fn width(points: &[Point], degrees: f64) -> f64 {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    let across = Vec2::new(cos, sin);
    let (low, high) = points
        .iter()
        .map(|p| p.to_vec2().dot(across))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
    high - low
}

fn too_little<'a>(
    cloth: Option<&String>,
    taken: impl Iterator<Item = &'a Taken<'a>>,
    offcuts: impl Iterator<Item = &'a Arc<Offcut>>,
) -> Option<Impossible> {
    let pieces_mm2: f64 = taken.map(|taken| taken.mm2).sum();
    let mut there = offcuts.peekable();
    there.peek()?;
    let cloth_mm2: f64 = there.map(|offcut| usable_area(offcut)).sum();
    (pieces_mm2 > cloth_mm2 * (1.0 + ROUNDING)).then(|| Impossible::TooLittle {
        cloth: cloth.cloned(),
        pieces_mm2,
        cloth_mm2,
    })
}

/// Area of an offcut without its holes, mm2.
fn usable_area(offcut: &Offcut) -> f64 {
    let contour = |points: &[Point]| points.iter().map(|p| [p.x, p.y]).collect::<Vec<[f64; 2]>>();
    let mut left = vec![vec![contour(&offcut.outline)]];
    for hole in offcut.blemishes.iter().filter(|blemish| blemish.is_hole) {
        left = left.overlay(
            &contour(&hole.outline),
            OverlayRule::Difference,
            FillRule::EvenOdd,
        );
    }
    left.iter()
        .map(|shape| {
            let area_of = |contour: &Vec<[f64; 2]>| {
                area(
                    &contour
                        .iter()
                        .map(|p| Point::new(p[0], p[1]))
                        .collect::<Vec<Point>>(),
                )
            };
            let outer = shape.first().map_or(0.0, area_of);
            outer - shape.iter().skip(1).map(area_of).sum::<f64>()
        })
        .sum()
}

/// Share by which the offcuts must grow at least so that the pieces are not larger than the cloth, percent.
pub(super) fn least_growth(to_lay: &ToLay, offcuts: &[Arc<Offcut>], plan: &LayPlan) -> f64 {
    let most = all(to_lay, offcuts, plan)
        .iter()
        .filter_map(|proof| match proof {
            Impossible::TooLittle {
                pieces_mm2,
                cloth_mm2,
                ..
            } => Some(pieces_mm2 / cloth_mm2),
            Impossible::TooLarge { of, by } => {
                let wide = width(&copy_of(to_lay, of)?.whole.outline, 0.0);
                Some((1.0 + by.0 / wide.max(1.0)).powi(2))
            }
            Impossible::NoCloth { .. } => None,
        })
        .fold(1.0, f64::max);
    (most.sqrt() - 1.0) * 100.0
}
