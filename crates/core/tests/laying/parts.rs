//! Parts and their allowances: closed forms, and the law that they give the whole back.

use petitoile_core::Mm;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::{PartRef, Piecing, PiecingKind};
use petitoile_core::laying::{LayShape, PartsError, parts, seam_lines, words};
use petitoile_core::units::Degrees;
use proptest::prelude::*;

use super::samples::{area, bounds, copy_of, shape};

/// A seam, from here to there.
type Seam = ((f64, f64), (f64, f64));

fn piecing(kind: PiecingKind, lines: &[Seam], allowance: f64) -> Piecing {
    Piecing {
        of: copy_of("Back"),
        kind,
        lines: lines
            .iter()
            .map(|(a, b)| (Point::from(*a), Point::from(*b)))
            .collect(),
        allowance: Mm(allowance),
    }
}

fn square() -> LayShape {
    shape(&[(-40.0, 0.0), (40.0, 0.0), (40.0, 60.0), (-40.0, 60.0)])
}

#[test]
fn a_rectangle_split_in_the_middle_gives_two_each_an_allowance_wider() {
    let along = piecing(PiecingKind::AlongFold, &[((0.0, 0.0), (0.0, 60.0))], 6.0);
    let cut = parts(&square(), &along).unwrap();
    let told: Vec<_> = cut.iter().map(|part| bounds(&part.outline)).collect();
    assert_eq!(told, [(-40.0, 0.0, 6.0, 60.0), (-6.0, 0.0, 40.0, 60.0)]);
    for part in &cut {
        assert_eq!(part.outline.len(), 4, "{:?}", part.outline);
        assert!((area(&part.outline) - 46.0 * 60.0).abs() < 1e-9);
    }
    let names: Vec<String> = (0..2)
        .map(|part| {
            let of = copy_of("Back");
            words::part(&PartRef { of, part }, Some(&along))
        })
        .collect();
    assert_eq!(names, ["Back, left part", "Back, right part"]);
}

#[test]
fn which_way_a_seam_is_drawn_makes_no_difference() {
    for line in [
        ((0.0, 0.0), (0.0, 60.0)),
        ((0.0, 60.0), (0.0, 0.0)),
        ((0.0, 20.0), (0.0, 21.0)),
    ] {
        let cut = parts(&square(), &piecing(PiecingKind::AlongFold, &[line], 6.0)).unwrap();
        assert_eq!(bounds(&cut[0].outline), (-40.0, 0.0, 6.0, 60.0), "{line:?}");
    }
    let level = piecing(
        PiecingKind::AlongFold,
        &[((-40.0, 20.0), (40.0, 20.0))],
        5.0,
    );
    let cut = parts(&square(), &level).unwrap();
    assert_eq!(bounds(&cut[0].outline), (-40.0, 15.0, 40.0, 60.0));
    let of = PartRef {
        of: copy_of("Band"),
        part: 0,
    };
    assert_eq!(words::part(&of, Some(&level)), "Band, upper part");
}

#[test]
fn a_corner_cut_off_slanting_is_a_triangle_with_a_strip_along_its_seam() {
    // 12 mm from the corner both ways: a triangle of 72 mm2, a seam of 12 sqrt 2.
    let patch = piecing(PiecingKind::Patch, &[((28.0, 0.0), (40.0, 12.0))], 5.0);
    let cut = parts(&square(), &patch).unwrap();
    let seam = 12.0 * std::f64::consts::SQRT_2;
    assert!((area(&cut[1].outline) - (72.0 + 5.0 * seam)).abs() < 1e-9);
    assert!((area(&cut[0].outline) - (80.0 * 60.0 - 72.0 + 5.0 * seam)).abs() < 1e-9);
    let named: Vec<String> = (0..2)
        .map(|part| words::part_of(Some(&patch), part))
        .collect();
    assert_eq!(named, ["main part", "patch"]);
}

#[test]
fn segments_of_a_strip_come_from_left_to_right() {
    let strip = shape(&[(0.0, 0.0), (300.0, 0.0), (300.0, 30.0), (0.0, 30.0)]);
    let lines = [((200.0, 0.0), (200.0, 30.0)), ((100.0, 0.0), (100.0, 30.0))];
    let joined = piecing(PiecingKind::Strip, &lines, 5.0);
    let told: Vec<_> = parts(&strip, &joined)
        .unwrap()
        .iter()
        .map(|part| bounds(&part.outline))
        .map(|b| (b.0, b.2))
        .collect();
    assert_eq!(told, [(0.0, 105.0), (95.0, 205.0), (195.0, 300.0)]);
    assert_eq!(words::part_of(Some(&joined), 1), "part 2 of 3");
}

#[test]
fn seams_that_cannot_be_sewn_are_refused() {
    let no = |lines: &[Seam], allowance: f64| {
        parts(&square(), &piecing(PiecingKind::Patch, lines, allowance)).unwrap_err()
    };
    let beside = ((100.0, 0.0), (100.0, 60.0));
    assert!(matches!(no(&[beside], 5.0), PartsError::Outside { .. }));
    let (down, over) = (((0.0, 0.0), (0.0, 60.0)), ((-40.0, 20.0), (30.0, 24.0)));
    assert!(matches!(no(&[down, over], 5.0), PartsError::Meet { .. }));
    assert!(matches!(
        no(&[down], f64::NAN),
        PartsError::Allowance { .. }
    ));
    // A tongue beside a narrow gap: the allowance would lie in the other leg.
    let legs = shape(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0, 50.0),
        (24.0, 50.0),
        (24.0, 0.0),
        (44.0, 0.0),
        (44.0, 80.0),
        (0.0, 80.0),
    ]);
    let slanting = piecing(PiecingKind::Patch, &[((0.0, 30.0), (20.0, 34.0))], 40.0);
    let why = parts(&legs, &slanting).unwrap_err();
    assert_eq!(
        why.to_string(),
        "Back: beside the new seam there is no room for 40 mm of allowance; move the seam, or make its allowance narrower"
    );
}

/// A star-shaped outline of random corners round the origin, which is well inside.
fn star() -> impl Strategy<Value = LayShape> {
    proptest::collection::vec(20.0..80.0_f64, 5..40).prop_map(|radii| {
        let n = radii.len() as f64;
        let corner = |(i, r): (usize, &f64)| {
            let angle = std::f64::consts::TAU * i as f64 / n;
            Point::new(r * angle.cos(), r * angle.sin())
        };
        LayShape {
            outline: radii.iter().enumerate().map(corner).collect(),
            grain: Degrees(0.0),
            mirrored: false,
            fold: None,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn parts_sewn_together_are_the_whole_again(
        whole in star(),
        angle in 0.0..std::f64::consts::TAU,
        off in (-15.0..15.0_f64, -15.0..15.0_f64),
        // Below a thousandth of a mm nothing is measured.
        allowance in prop_oneof![Just(0.0), 0.01..8.0_f64],
    ) {
        let at = Point::from(off);
        let along = Vec2::new(angle.cos(), angle.sin());
        let line = (at - along, at + along);
        let piecing = Piecing {
            of: copy_of("Back"),
            kind: PiecingKind::Patch,
            lines: vec![line],
            allowance: Mm(allowance),
        };
        let lines = seam_lines(&whole, &piecing).unwrap();
        let sewn = (lines[0].p1 - lines[0].p0).hypot();
        match parts(&whole, &piecing) {
            Ok(cut) => {
                let all: f64 = cut.iter().map(|part| area(&part.outline)).sum();
                let out = all - 2.0 * allowance * sewn - area(&whole.outline);
                prop_assert!(out.abs() < 0.01, "{out} mm2");
                if allowance > 0.1 {
                    // Both sides of the seam are as long: the far edge of each allowance is as long as the seam.
                    for part in &cut {
                        let n = part.outline.len();
                        let is_edge = |i: &usize| {
                            let (a, b) = (part.outline[*i], part.outline[(*i + 1) % n]);
                            let off = |p: Point| along.cross(p - at).abs();
                            let beside = (off(a) - allowance).abs() < 0.01 && (off(b) - allowance).abs() < 0.01;
                            beside && ((b - a).hypot() - sewn).abs() < 0.01
                        };
                        prop_assert!((0..n).any(|i| is_edge(&i)), "{:?}", part.outline);
                    }
                }
            }
            // Spikes of the star may reach into the allowance.
            Err(why) => prop_assert!(matches!(why, PartsError::NoRoom { .. }), "{why}"),
        }
    }
}
