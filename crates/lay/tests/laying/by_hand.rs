//! By hand: what is free under the hand is free in the check; parts snap until they touch; grain and right side limit the hand.

use std::sync::Arc;

use petitoile_core::Degrees;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::{LayPlan, Placed};
use petitoile_core::piece::{Face, Side};
use petitoile_lay::FaultKind;
use petitoile_lay::by_hand::{Table, moved_by};

use crate::small::{self, copy, part, placed};

/// Asks about the small table without one of its parts.
fn on_table<T>(plan: &LayPlan, ask: impl FnOnce(&Table<'_>) -> T) -> T {
    let (to_lay, offcuts) = (small::to_lay(), small::table());
    ask(&Table {
        to_lay: &to_lay,
        offcuts: &offcuts,
        plan,
    })
}

fn left_at(x: f64, y: f64) -> Placed {
    placed(&copy("sleeve", Side::Left), x, y)
}

#[test]
fn a_held_part_is_free_or_is_told_what_it_touches_and_by_how_much() {
    let plan = small::plan();
    on_table(&plan, |table| {
        assert_eq!(table.faults(&left_at(51.0, 10.0)), [], "where it lies");
        assert_eq!(table.faults(&left_at(95.0, 30.0)), []);
        let over = table.faults(&left_at(48.0, 10.0));
        assert_eq!(over.len(), 1);
        assert_eq!(
            over[0].kind,
            FaultKind::Overlaps(part("sleeve", Side::Right))
        );
        assert!((over[0].by.0 - 2.0).abs() < 1e-3);
        let out = table.faults(&left_at(103.0, 30.0));
        assert!((out[0].by.0 - 3.0).abs() < 1e-3 && out[0].kind == FaultKind::OverEdge);
    });
}

#[test]
fn a_part_comes_to_an_offcut_the_right_side_up_and_along_the_grain() {
    let (to_lay, plan) = (small::to_lay(), LayPlan::default());
    for (face, mirrored) in [(Face::Right, true), (Face::Wrong, false)] {
        let mut offcut = small::offcut();
        offcut.face = face;
        offcut.grain = Degrees(30.0);
        let offcuts = [Arc::new(offcut)];
        let table = Table {
            to_lay: &to_lay,
            offcuts: &offcuts,
            plan: &plan,
        };
        let laid = table
            .laid_at(
                &part("sleeve", Side::Left),
                "blue A",
                Point::new(40.0, 40.0),
            )
            .unwrap();
        assert_eq!(laid.mirrored, mirrored);
        assert_eq!(table.off_grain(&laid), Some(Degrees(0.0)));
        assert_eq!(table.faults(&laid), []);
    }
    on_table(&plan, |table| {
        assert_eq!(
            table.laid_at(&part("sleeve", Side::Left), "red", Point::ORIGIN),
            None
        );
        assert_eq!(
            table.laid_at(&part("hood", Side::Left), "blue A", Point::ORIGIN),
            None
        );
    });
}

#[test]
fn a_part_turns_as_far_as_the_grain_allows_about_its_middle() {
    on_table(&LayPlan::default(), |table| {
        let laid = table
            .laid_at(&part("band", Side::Whole), "blue A", Point::new(50.0, 50.0))
            .unwrap();
        let turned = table.turned_by(&laid, Degrees(1.5)).unwrap();
        assert!((table.off_grain(&turned).unwrap().0 - 1.5).abs() < 1e-9);
        let at_the_end = table.turned_by(&turned, Degrees(3.0)).unwrap();
        assert!((table.off_grain(&at_the_end).unwrap().0 - 2.0).abs() < 1e-9);
        assert_eq!(table.faults(&at_the_end), []);
        // Upside down where it may; a sleeve may not.
        let over = table.turned_by(&laid, Degrees(170.0)).unwrap();
        assert!((table.off_grain(&over).unwrap().0 - 178.0).abs() < 1e-9);
        assert_eq!(table.faults(&over), []);
        let sleeve = table
            .laid_at(
                &part("sleeve", Side::Right),
                "blue A",
                Point::new(50.0, 30.0),
            )
            .unwrap();
        let kept = table.turned_by(&sleeve, Degrees(170.0)).unwrap();
        assert!((table.off_grain(&kept).unwrap().0 - 2.0).abs() < 1e-9);
        let forced = table.turned_over_end(&sleeve).unwrap();
        assert_eq!(
            table.faults(&forced)[0].kind,
            FaultKind::UpsideDown { nap: false }
        );
        let middle = |placed: &Placed| {
            let outline = table.outline(placed).unwrap();
            let (low, high) = outline.iter().fold((f64::MAX, f64::MIN), |(low, high), p| {
                (low.min(p.x), high.max(p.x))
            });
            (low + high) / 2.0
        };
        assert!((middle(&forced) - 50.0).abs() < 1e-9 && (middle(&turned) - 50.0).abs() < 1e-9);
    });
}

#[test]
fn a_part_may_be_flipped_only_where_both_sides_are_alike() {
    on_table(&LayPlan::default(), |table| {
        let laid = table
            .laid_at(
                &part("sleeve", Side::Right),
                "blue A",
                Point::new(40.0, 40.0),
            )
            .unwrap();
        assert!(!table.may_flip(&laid));
        let flipped = table.flipped(&laid).unwrap();
        assert_eq!(table.faults(&flipped)[0].kind, FaultKind::WrongSide);
        assert_eq!(
            table.flipped(&flipped).map(|twice| twice.mirrored),
            Some(laid.mirrored)
        );
    });
    let mut offcut = small::offcut();
    offcut.sides_alike = true;
    let (to_lay, offcuts, plan) = (small::to_lay(), [Arc::new(offcut)], LayPlan::default());
    let table = Table {
        to_lay: &to_lay,
        offcuts: &offcuts,
        plan: &plan,
    };
    let laid = table
        .laid_at(
            &part("sleeve", Side::Right),
            "blue A",
            Point::new(40.0, 40.0),
        )
        .unwrap();
    assert!(table.may_flip(&laid));
    assert_eq!(table.faults(&table.flipped(&laid).unwrap()), []);
}

#[test]
fn a_part_snaps_until_it_touches_and_out_of_what_it_overlaps() {
    let mut plan = small::plan();
    plan.placed.truncate(1);
    on_table(&plan, |table| {
        // 2 mm too far right of the sleeve at 10 to 30 mm: it goes to 31, one gap away.
        let near = table.snapped(&left_at(53.0, 10.0), 4.0).unwrap();
        assert!((near.moved.0 - 51.0).abs() < 1e-4, "{:?}", near.moved);
        assert_eq!(table.faults(&near), []);
        // 3 mm into it: the same place.
        let out = table.snapped(&left_at(48.0, 12.0), 4.0).unwrap();
        assert!((out.moved.0 - 51.0).abs() < 1e-4, "{:?}", out.moved);
        assert_eq!(table.faults(&out), []);
        // Into the corner between the sleeve and the margin at the lower edge.
        let corner = table.snapped(&left_at(52.0, 6.5), 4.0).unwrap();
        assert!(
            (corner.moved.0 - 51.0).abs() < 1e-3 && (corner.moved.1 - 5.0).abs() < 1e-3,
            "{:?}",
            corner.moved
        );
        assert_eq!(table.faults(&corner), []);
        // Nothing near: it stays.
        assert_eq!(
            table.snapped(&left_at(60.0, 30.0), 3.0).unwrap().moved,
            (60.0, 30.0)
        );
        // No free place within reach.
        assert_eq!(table.snapped(&left_at(40.0, 10.0), 3.0), None);
    });
}

#[test]
fn a_part_is_pushed_until_it_touches() {
    let mut plan = small::plan();
    plan.placed.truncate(1);
    on_table(&plan, |table| {
        let to_the_sleeve = table
            .pushed(&left_at(92.0, 21.0), Vec2::new(-1.0, 0.0), 200.0)
            .unwrap();
        assert!(
            (to_the_sleeve.moved.0 - 51.0).abs() < 1e-4,
            "{:?}",
            to_the_sleeve.moved
        );
        let to_the_margin = table
            .pushed(&left_at(92.0, 21.0), Vec2::new(0.0, -2.0), 200.0)
            .unwrap();
        assert!((to_the_margin.moved.1 - 5.0).abs() < 1e-4);
        assert_eq!(table.faults(&to_the_margin), []);
        let some_way = table
            .pushed(&left_at(92.0, 21.0), Vec2::new(-1.0, 0.0), 7.0)
            .unwrap();
        assert!((some_way.moved.0 - 85.0).abs() < 1e-9);
        let out = table
            .pushed(&left_at(45.0, 10.0), Vec2::new(1.0, 0.0), 50.0)
            .unwrap();
        assert!((out.moved.0 - 51.0).abs() < 1e-4, "{:?}", out.moved);
        assert_eq!(table.pushed(&left_at(45.0, 10.0), Vec2::ZERO, 50.0), None);
    });
}

#[test]
fn a_part_is_carried_to_an_offcut_that_shows_its_other_side() {
    let mut behind = small::offcut();
    behind.name = "blue B".to_owned();
    behind.face = Face::Wrong;
    behind.grain = Degrees(-15.0);
    let (to_lay, offcuts, plan) = (
        small::to_lay(),
        [Arc::new(small::offcut()), Arc::new(behind)],
        LayPlan::default(),
    );
    let table = Table {
        to_lay: &to_lay,
        offcuts: &offcuts,
        plan: &plan,
    };
    let laid = table
        .laid_at(
            &part("sleeve", Side::Right),
            "blue A",
            Point::new(40.0, 40.0),
        )
        .unwrap();
    let turned = table.turned_by(&laid, Degrees(1.0)).unwrap();
    let carried = table
        .carried_to(&turned, "blue B", Point::new(30.0, 50.0))
        .unwrap();
    assert!(carried.mirrored && carried.offcut == "blue B");
    assert!((table.off_grain(&carried).unwrap().0 - 1.0).abs() < 1e-9);
    assert_eq!(table.faults(&carried), []);
    assert_eq!(moved_by(&carried, Vec2::ZERO), carried);
}
