//! Which of two plans is kept.

use std::sync::Arc;

use petitoile_core::lay_plan::LayPlan;
use petitoile_core::piece::Side;
use petitoile_lay::{better, check_plan};

use crate::small::{self, copy, placed};

#[test]
fn only_what_lies_without_a_fault_counts() {
    let (to_lay, offcuts) = (small::to_lay(), [Arc::new(small::offcut())]);
    let all = small::plan();
    assert_eq!(check_plan(&to_lay, &offcuts, &all), []);
    let mut less = all.clone();
    less.placed.pop();
    assert!(better(&to_lay, &offcuts, &all, &less));
    assert!(!better(&to_lay, &offcuts, &less, &all));
    assert!(
        !better(&to_lay, &offcuts, &all, &all),
        "the same is no better"
    );
    // Three lie, two of them one over the other: no better than two that lie right.
    let mut over = all.clone();
    over.placed[2].moved = over.placed[0].moved;
    assert!(!better(&to_lay, &offcuts, &over, &less));
    assert!(better(&to_lay, &offcuts, &all, &over));
}

#[test]
fn a_copy_that_comes_first_is_worth_more_than_two_that_come_later() {
    let (mut to_lay, offcuts) = (small::to_lay(), [Arc::new(small::offcut())]);
    to_lay.copies[2].priority = 1;
    let of = |numbers: &[usize]| LayPlan {
        placed: numbers
            .iter()
            .map(|i| small::plan().placed[*i].clone())
            .collect(),
        ..LayPlan::default()
    };
    assert!(better(&to_lay, &offcuts, &of(&[2]), &of(&[0, 1])));
    assert!(!better(&to_lay, &offcuts, &of(&[0, 1]), &of(&[2])));
}

#[test]
fn of_as_many_fewer_seams_then_fewer_offcuts_then_more_left_over_is_better() {
    let to_lay = small::to_lay();
    let mut second = small::offcut();
    second.name = "blue B".to_owned();
    let offcuts = [Arc::new(small::offcut()), Arc::new(second)];
    let whole = small::plan();
    let mut pieced = whole.clone();
    pieced.piecings.push(small::piecing());
    let mut part = pieced.placed[2].clone();
    (part.part, part.moved) = (1, (10.0, 65.0));
    pieced.placed.push(part);
    assert_eq!(check_plan(&to_lay, &offcuts, &pieced), []);
    let mut two = whole.clone();
    two.placed[2].offcut = "blue B".to_owned();
    assert!(better(&to_lay, &offcuts, &whole, &pieced));
    assert!(better(&to_lay, &offcuts, &whole, &two));
    assert!(
        better(&to_lay, &offcuts, &two, &pieced),
        "a seam is worse than an offcut"
    );
    // The band in the middle of the second offcut, or along its edge: that leaves the larger rectangle.
    let band = |y: f64| {
        let mut band = placed(&copy("band", Side::Whole), 20.0, y);
        band.offcut = "blue B".to_owned();
        LayPlan {
            placed: vec![band],
            ..LayPlan::default()
        }
    };
    assert!(better(&to_lay, &offcuts, &band(6.0), &band(40.0)));
    assert!(!better(&to_lay, &offcuts, &band(40.0), &band(6.0)));
}
