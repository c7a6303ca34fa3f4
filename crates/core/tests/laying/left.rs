//! What is left of cloth that was cut, and the stash that outlasts projects.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::cloth::{Blemish, Cloth, GoodFor, Offcut, Stash};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::fitting::Fitting;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{LayPlan, Placed};
use petitoile_core::laying::{Rests, USEFUL, cut_outline, rests, thickness_told};
use petitoile_core::piece::Role;
use petitoile_core::project::Project;
use petitoile_core::stash::{StashError, left_over};
use petitoile_core::units::{Degrees, LengthUnit};
use proptest::prelude::*;

use super::samples::{self, WHOLE, area, bounds, doll, shape};

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<Point> {
    [
        (x, y),
        (x + width, y),
        (x + width, y + height),
        (x, y + height),
    ]
    .map(Point::from)
    .to_vec()
}

fn offcut(name: &str, width: f64, height: f64) -> Offcut {
    Offcut {
        name: name.to_owned(),
        cloth: "linen".to_owned(),
        outline: rectangle(0.0, 0.0, width, height),
        blemishes: Vec::new(),
        grain: Degrees(7.0),
        grain_doubt: Degrees(1.0),
        face: Default::default(),
        sides_alike: true,
        nap: true,
        margin: Mm(3.0),
        thickness: None,
    }
}

/// Cloth of an offcut, its holes taken off; they lie inside and apart.
fn cloth_of(offcut: &Offcut) -> f64 {
    let holes = offcut.blemishes.iter().filter(|b| b.is_hole);
    area(&offcut.outline) - holes.map(|hole| area(&hole.outline)).sum::<f64>()
}

fn sum(rests: &Rests) -> f64 {
    rests.offcuts.iter().map(cloth_of).sum::<f64>()
        + rests.dropped.iter().map(|d| d.area).sum::<f64>()
}

#[test]
fn a_piece_cut_across_leaves_two_rests_the_larger_first() {
    let cut = vec![rectangle(100.0, 0.0, 50.0, 200.0)];
    let left = rests(&offcut("blue linen", 400.0, 200.0), &cut, USEFUL, &[]);
    let told: Vec<_> = left
        .offcuts
        .iter()
        .map(|rest| (rest.name.as_str(), bounds(&rest.outline)))
        .collect();
    assert_eq!(
        told,
        [
            ("blue linen, rest 1", (150.0, 0.0, 400.0, 200.0)),
            ("blue linen, rest 2", (0.0, 0.0, 100.0, 200.0)),
        ]
    );
    let rest = &left.offcuts[1];
    let kept = (
        rest.cloth.as_str(),
        rest.grain,
        rest.grain_doubt,
        rest.nap,
        rest.sides_alike,
        rest.margin,
    );
    assert_eq!(
        kept,
        ("linen", Degrees(7.0), Degrees(1.0), true, true, Mm(3.0))
    );
    assert_eq!(left.dropped, []);
}

#[test]
fn a_piece_cut_out_of_the_middle_leaves_a_hole() {
    let cut = vec![rectangle(100.0, 50.0, 100.0, 60.0)];
    let left = rests(&offcut("blue linen", 400.0, 200.0), &cut, USEFUL, &[]);
    let [rest] = left.offcuts.as_slice() else {
        panic!("{left:?}")
    };
    assert_eq!(bounds(&rest.outline), (0.0, 0.0, 400.0, 200.0));
    let [hole] = rest.blemishes.as_slice() else {
        panic!("{rest:?}")
    };
    assert!(hole.is_hole);
    assert_eq!(bounds(&hole.outline), (100.0, 50.0, 200.0, 110.0));
    assert!((cloth_of(rest) - (80_000.0 - 6_000.0)).abs() < 0.01);
}

#[test]
fn a_rest_too_narrow_to_be_useful_is_dropped_with_its_size() {
    let cut = vec![rectangle(0.0, 0.0, 400.0, 180.0)];
    let left = rests(&offcut("blue linen", 400.0, 200.0), &cut, USEFUL, &[]);
    assert_eq!(left.offcuts, []);
    let [dropped] = left.dropped.as_slice() else {
        panic!("{left:?}")
    };
    assert_eq!(
        dropped.words(LengthUnit::Millimetre),
        "400 mm by 20 mm, nowhere wider than 20 mm"
    );
    assert!((dropped.area - 8_000.0).abs() < 0.01);
    let kept = rests(&offcut("blue linen", 400.0, 200.0), &cut, Mm(19.0), &[]);
    assert_eq!(kept.offcuts.len(), 1);
}

#[test]
fn a_rest_that_is_mostly_hole_is_not_useful() {
    let mut holed = offcut("blue linen", 200.0, 100.0);
    holed.blemishes.push(Blemish {
        outline: rectangle(10.0, 10.0, 80.0, 80.0),
        is_hole: true,
        good_for: GoodFor::default(),
    });
    let cut = vec![rectangle(100.0, 0.0, 100.0, 100.0)];
    let left = rests(&holed, &cut, USEFUL, &[]);
    assert_eq!(left.offcuts, []);
    assert!(
        (left.dropped[0].area - (10_000.0 - 6_400.0)).abs() < 0.01,
        "{left:?}"
    );
}

#[test]
fn stains_go_with_the_rest_they_lie_on_and_are_cut_where_it_is_cut() {
    let mut stained = offcut("blue linen", 400.0, 200.0);
    let stain = Blemish {
        outline: rectangle(80.0, 20.0, 100.0, 30.0),
        is_hole: false,
        good_for: GoodFor::Inside,
    };
    stained.blemishes.push(stain);
    let left = rests(&stained, &[rectangle(100.0, 0.0, 50.0, 200.0)], USEFUL, &[]);
    let told: Vec<_> = left
        .offcuts
        .iter()
        .map(|rest| {
            (
                rest.blemishes[0].good_for,
                bounds(&rest.blemishes[0].outline),
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            (GoodFor::Inside, (150.0, 20.0, 180.0, 50.0)),
            (GoodFor::Inside, (80.0, 20.0, 100.0, 50.0)),
        ]
    );
}

#[test]
fn a_rest_of_a_rest_gets_the_next_free_number() {
    let taken = ["blue linen, rest 1", "blue linen, rest 2"];
    let cut = vec![rectangle(100.0, 0.0, 50.0, 200.0)];
    let left = rests(
        &offcut("blue linen, rest 1", 400.0, 200.0),
        &cut,
        USEFUL,
        &taken,
    );
    let names: Vec<_> = left.offcuts.iter().map(|rest| rest.name.as_str()).collect();
    assert_eq!(names, ["blue linen, rest 3", "blue linen, rest 4"]);
}

#[test]
fn an_outline_that_is_no_place_takes_nothing_from_the_cloth() {
    let mut broken = rectangle(10.0, 10.0, 20.0, 20.0);
    broken[1].x = f64::NAN;
    let mut holed = offcut("blue", 200.0, 100.0);
    holed.blemishes.push(Blemish {
        outline: broken.clone(),
        is_hole: true,
        good_for: GoodFor::Inside,
    });
    let left = rests(&holed, std::slice::from_ref(&broken), USEFUL, &[]);
    assert!((sum(&left) - 20_000.0).abs() < 0.01);
    holed.outline = broken;
    assert_eq!(rests(&holed, &[], USEFUL, &[]), Rests::default());
}

fn placed_at(x: f64, y: f64, turn: f64, mirrored: bool) -> Placed {
    Placed {
        piece: "Cuff".to_owned(),
        copy: WHOLE,
        number: 0,
        part: 0,
        offcut: "blue linen".to_owned(),
        turn: Degrees(turn),
        moved: (x, y),
        mirrored,
        pinned: false,
        as_cut: None,
    }
}

#[test]
fn what_is_cut_is_the_outline_mirrored_turned_and_moved() {
    let cuff = shape(&[(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (0.0, 20.0)]);
    let cut = cut_outline(&placed_at(100.0, 50.0, 90.0, true), &cuff);
    assert!((area(&cut) - 600.0).abs() < 1e-9, "counter-clockwise again");
    // (40, 10) is mirrored to (-40, 10), turned to (-10, -40), moved to (90, 10).
    let near = |p: &Point| (p.x - 90.0).hypot(p.y - 10.0) < 1e-9;
    assert!(cut.iter().any(near), "{cut:?}");
}

#[test]
fn an_offcut_from_the_stash_brings_the_thickness_of_its_cloth() {
    let stash = Stash {
        cloths: vec![Cloth {
            name: "linen".to_owned(),
            thickness: Mm(0.32),
            source: String::new(),
        }],
        offcuts: vec![
            offcut("of a known cloth", 100.0, 80.0),
            Offcut {
                thickness: Some(Mm(0.4)),
                ..offcut("measured itself", 100.0, 80.0)
            },
        ],
    };
    let (_, taken) = stash
        .taken(&["of a known cloth", "measured itself"])
        .unwrap();
    assert_eq!(taken[0].thickness, Some(Mm(0.32)));
    assert_eq!(taken[1].thickness, Some(Mm(0.4)));
}

#[test]
fn cloth_thicker_than_is_reckoned_with_is_told_with_the_change_that_reckons_with_it() {
    let made = samples::finished(vec![samples::rectangle("Front", 60.0, 40.0)], |fitting| {
        let cloth = Cloth {
            name: "linen".to_owned(),
            thickness: Mm(0.3),
            source: String::new(),
        };
        fitting.cloths.insert(Role::Shell, cloth);
    });
    let fitting = &made.filled.adapted.fitting;
    let with = |thickness: f64| Offcut {
        thickness: Some(Mm(thickness)),
        ..offcut("blue", 100.0, 80.0)
    };
    let unit = LengthUnit::Millimetre;
    assert!(thickness_told(fitting, [&with(0.32)], unit).is_empty());
    let told = thickness_told(fitting, [&with(0.45), &with(0.4)], unit);
    assert_eq!(told.len(), 1);
    assert_eq!(
        told[0].what,
        "blue is 0.45 mm thick; the fitting reckons with 0.3 mm of linen."
    );
    let Some(Edit::Fitting {
        change: FittingEdit::SetCloth(Role::Shell, Some(cloth)),
        ..
    }) = &told[0].remedy
    else {
        panic!("a change of the cloth");
    };
    assert_eq!(cloth.thickness, Mm(0.45));
    let other = Offcut {
        cloth: "silk".to_owned(),
        ..with(0.9)
    };
    assert!(thickness_told(fitting, [&other], unit).is_empty());
}

#[test]
fn the_stash_gives_offcuts_out_and_takes_the_rests_back() {
    let linen = Cloth {
        name: "linen".to_owned(),
        thickness: Mm(0.3),
        source: String::new(),
    };
    let stash = Stash::default().with(
        &[
            offcut("blue linen", 400.0, 200.0),
            offcut("red linen", 100.0, 100.0),
        ],
        std::slice::from_ref(&linen),
    );
    assert_eq!(stash.cloths, std::slice::from_ref(&linen));
    let (stash, taken) = stash.taken(&["blue linen", "blue linen"]).unwrap();
    assert_eq!((stash.offcuts.len(), taken.len()), (1, 1));
    assert_eq!(
        stash.taken(&["red linen", "blue linen"]).unwrap_err(),
        StashError::Missing("blue linen".to_owned())
    );

    let cuff = shape(&[(0.0, 0.0), (50.0, 0.0), (50.0, 200.0), (0.0, 200.0)]);
    let mut placed = placed_at(100.0, 0.0, 0.0, false);
    placed.as_cut = Some(cut_outline(&placed, &cuff));
    let mut fitting = Fitting::new("Smock for the doll", "Smock", Arc::new(doll()));
    fitting.lay_plan = Some(LayPlan {
        placed: vec![placed, placed_at(300.0, 0.0, 0.0, false)],
        ..LayPlan::default()
    });
    let project = Project {
        fittings: vec![Arc::new(fitting)],
        offcuts: taken.into_iter().map(Arc::new).collect(),
        ..Project::default()
    };
    let left = left_over(&project, USEFUL);
    let stash = stash.with(&left.offcuts, &[linen]);
    let names: Vec<_> = stash.offcuts.iter().map(|o| o.name.as_str()).collect();
    assert_eq!(
        names,
        ["red linen", "blue linen, rest 1", "blue linen, rest 2"]
    );
    let all: f64 = stash.offcuts.iter().map(cloth_of).sum();
    assert!(
        (all - (10_000.0 + 80_000.0 - 10_000.0)).abs() < 0.01,
        "what lies there uncut is still cloth"
    );
    let again = stash.with(&[offcut("red linen", 50.0, 50.0)], &[]);
    assert_eq!(again.offcuts.last().unwrap().name, "red linen (2)");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn areas_of_the_rests_add_up(
        places in proptest::collection::vec((0usize..3, 0usize..2, -30.0..30.0_f64, any::<bool>()), 0..4),
        useful in 1.0..60.0_f64,
    ) {
        // Pieces turned at random, each in a field of its own, so that they lie apart; fields reach beyond the cloth, holes not.
        let mut cloth = offcut("blue linen", 330.0, 215.0);
        cloth.blemishes.push(Blemish {
            outline: rectangle(104.0, 104.0, 4.0, 4.0),
            is_hole: true,
            good_for: GoodFor::default(),
        });
        let cuff = shape(&[(-45.0, -20.0), (40.0, -22.0), (35.0, 20.0), (0.0, 5.0), (-40.0, 21.0)]);
        let mut seen = Vec::new();
        let mut cut = Vec::new();
        for (column, row, turn, mirrored) in places {
            if seen.contains(&(column, row)) {
                continue;
            }
            seen.push((column, row));
            let at = (55.0 + 110.0 * column as f64, 55.0 + 105.0 * row as f64);
            cut.push(cut_outline(&placed_at(at.0, at.1, turn, mirrored), &cuff));
        }
        let gone: f64 = cut.iter().map(|outline| area(outline)).sum();
        let left = rests(&cloth, &cut, Mm(useful), &[]);
        let out = sum(&left) - (330.0 * 215.0 - 16.0 - gone);
        prop_assert!(out.abs() < 0.01, "{out} mm2");
        for rest in &left.offcuts {
            prop_assert!(area(&rest.outline) > 0.0);
        }
    }
}
