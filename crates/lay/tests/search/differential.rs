//! The collision core against areas: 20,000 poses, decided in f64 by the area two outlines have in common.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;
use kurbo::{Point, Vec2};
use petitoile_lay::search::collision::CorePair;

use crate::made_up::{Dice, outline};

fn area(polygon: &[[f64; 2]]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum::<f64>()
        * 0.5
}

/// Area two outlines have in common, mm2, from the library that `check_plan` is built on.
fn common_area(one: &[Point], other: &[Point]) -> f64 {
    let plain = |polygon: &[Point]| {
        polygon
            .iter()
            .map(|point| [point.x, point.y])
            .collect::<Vec<_>>()
    };
    plain(one)
        .overlay(&plain(other), OverlayRule::Intersect, FillRule::NonZero)
        .iter()
        .flatten()
        .map(|contour| area(contour))
        .sum()
}

/// A thin line of difference between f32 and f64: outlines that only just touch or miss may be told either way.
const THIN: f64 = 0.01;

#[test]
fn the_collision_core_and_f64_areas_agree_on_20_000_poses() {
    let mut dice = Dice(6);
    let (mut apart, mut overlapping, mut thin) = (0, 0, 0);
    for _ in 0..200 {
        let sizes = (dice.between(10.0, 60.0), dice.between(10.0, 60.0));
        let standing = outline(&mut dice, Point::ZERO, sizes.0);
        let asking = outline(&mut dice, Point::ZERO, sizes.1);
        let mut core = CorePair::new(&standing, &asking, 400.0).unwrap();
        for _ in 0..100 {
            let turn_deg = dice.between(-180.0, 180.0);
            let shift = Vec2::new(dice.between(-80.0, 80.0), dice.between(-80.0, 80.0));
            let told = core.collide(turn_deg, shift);
            let (sin, cos) = turn_deg.to_radians().sin_cos();
            let lies: Vec<Point> = asking
                .iter()
                .map(|p| Point::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y) + shift)
                .collect();
            let common = common_area(&standing, &lies);
            if told {
                overlapping += 1;
                if common <= 0.0 {
                    thin += 1;
                    let nearest = crate::plain_check::edge_distance(&standing, &lies);
                    assert!(nearest < THIN, "told to collide, {nearest} mm apart");
                }
            } else {
                apart += 1;
                assert!(common < 1e-6, "told to lie apart, {common} mm2 in common");
            }
        }
    }
    assert_eq!(apart + overlapping, 20_000);
    assert!(
        apart > 4_000 && overlapping > 4_000,
        "both cases are tried: {apart}, {overlapping}"
    );
    assert!(thin < 20, "{thin} of them only just touch");
}
