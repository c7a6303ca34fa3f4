//! What the maker chose by hand is kept; what no longer works is laid whole.

use std::sync::Arc;

use petitoile_core::LengthUnit;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{LayChange, LayPlan, Piecing};
use petitoile_core::laying::{parts, tally};
use petitoile_core::piece::Side;
use petitoile_lay::by_hand::Table;
use petitoile_lay::lying::{broken_piecing, outline_on_offcut};
use petitoile_lay::{Job, JobOptions, check_plan, lies};

use crate::small::{self, copy};

fn laid(before: &LayPlan) -> LayPlan {
    let (to_lay, offcuts) = (small::to_lay(), [Arc::new(small::offcut())]);
    let mut job = Job::new(&to_lay, &offcuts, Some(before), JobOptions { seed: 1 }).unwrap();
    job.step(50);
    let plan = job.best();
    assert_eq!(check_plan(&to_lay, &offcuts, &plan), []);
    plan
}

#[test]
fn a_piecing_chosen_by_hand_stays_though_there_is_room_for_the_whole() {
    let band = copy("band", Side::Whole);
    let by_search = LayPlan {
        piecings: vec![small::piecing()],
        ..LayPlan::default()
    };
    assert_eq!(laid(&by_search).piecings, [], "the search may think again");
    let by_hand = LayChange::Piece(band.clone(), Some(small::piecing()));
    let by_hand = laid(&LayPlan::default().changed(&by_hand).unwrap());
    assert_eq!(by_hand.chosen(&band), Some(&small::piecing()));
    let of_band = by_hand.placed.iter().filter(|placed| placed.of() == band);
    assert_eq!(of_band.count(), 2);
    assert_eq!(
        laid(&by_hand).chosen(&band),
        Some(&small::piecing()),
        "and again"
    );
}

#[test]
fn a_copy_whose_piecing_no_longer_works_lies_whole_and_is_told() {
    let band = copy("band", Side::Whole);
    let (to_lay, offcuts) = (small::to_lay(), [Arc::new(small::offcut())]);
    let mut plan = small::plan();
    plan.piecings.push(Piecing {
        lines: vec![(Point::new(500.0, 0.0), Point::new(500.0, 10.0))],
        ..small::piecing()
    });
    let the_band = &to_lay.copies[2];
    assert!(parts(&the_band.whole, &plan.piecings[0]).is_err());
    assert!(lies(&to_lay, &plan, &band));
    assert!(outline_on_offcut(&to_lay, &plan, &plan.placed[2]).is_some());
    assert!(broken_piecing(the_band, &plan).is_some());
    assert_eq!(check_plan(&to_lay, &offcuts, &plan), []);
    let told = tally(&to_lay, Some(&plan));
    assert_eq!(told.findings(Some(&plan), LengthUnit::Millimetre).len(), 1);
    assert_eq!(told.sums().1, 3, "all three lie");
    // Pinned, it stays when all is laid again.
    plan.placed[2].pinned = true;
    let again = laid(&plan);
    assert!(again.placed.contains(&plan.placed[2]));
    assert_eq!(again.piecings, []);
}

#[test]
fn a_pinned_part_stays_pinned_when_it_is_carried_to_another_offcut() {
    let to_lay = small::to_lay();
    let mut second = small::offcut();
    second.name = "blue B".to_owned();
    let offcuts = [Arc::new(small::offcut()), Arc::new(second)];
    let mut plan = small::plan();
    plan.placed[2].pinned = true;
    let table = Table {
        to_lay: &to_lay,
        offcuts: &offcuts,
        plan: &plan,
    };
    let carry = |i: usize| {
        let held = &plan.placed[i];
        table
            .carried_to(held, "blue B", Point::new(40.0, 40.0))
            .unwrap()
    };
    assert!(carry(2).pinned);
    assert!(!carry(0).pinned);
}
